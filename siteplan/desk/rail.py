"""The rail of steps: one row per step in the order of the job; the open one shows its panel."""

from collections.abc import Callable

from PySide6.QtCore import QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QAbstractButton,
    QFrame,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from siteplan.desk import icons, signals
from siteplan.desk.palette import Palette, scaled
from siteplan.desk.steps.table import State, Step, steps
from siteplan.plan import Plan
from siteplan.rules.findings import Review

_HEIGHT_PX = 44
_LEAST_PANEL_LINES = 11


class _Row(QAbstractButton):
    """One step: its number or symbol, its title, what is missing, its count."""

    def __init__(self, step: Step, palette: Palette) -> None:
        super().__init__()
        self.step, self.palette_in_use = step, palette
        self.state = State("")
        self.worst: signals.State | None = None
        self.setCheckable(True)
        self.setText(step.title)
        self.setAccessibleName(step.title)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def sizeHint(self) -> QSize:
        """Return the room a row needs."""
        return QSize(240, max(_HEIGHT_PX, round(self.fontMetrics().height() * 2.5)))

    def show_state(self, state: State, worst: signals.State | None) -> None:
        """Show how far the step is."""
        if (state, worst) != (self.state, self.worst):
            self.state, self.worst = state, worst
            self.setAccessibleDescription(
                ", ".join(one for one in (state.count, state.missing) if one)
            )
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the row."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        palette, box = self.palette_in_use, QRectF(self.rect())
        if self.isChecked() or self.underMouse():
            tint = QColor(palette.accent_soft)
            if not self.isChecked():
                tint.setAlphaF(0.5)
            painter.fillRect(box, tint)
        if self.isChecked():
            painter.fillRect(QRectF(0, 0, 4, box.height()), QColor(palette.accent))
        if self.hasFocus():
            painter.setPen(QPen(QColor(palette.accent), 2.0))
            painter.drawRect(box.adjusted(1, 1, -1, -1))
        self._paint_words(painter, palette, box)

    def _paint_words(self, painter: QPainter, palette: Palette, box: QRectF) -> None:
        ink = palette.accent if self.isChecked() else palette.text
        side = max(22.0, self.fontMetrics().height() * 1.2)
        icon = icons.pixmap(self.step.symbol, ink, round(side), self.devicePixelRatioF())
        painter.drawPixmap(QRectF(16, (box.height() - side) / 2, side, side).toRect(), icon)
        left, right = 28.0 + side, box.width() - 14
        right -= self._paint_count(painter, palette, right, box.height())
        title = scaled(self.font(), 1.0, bold=self.isChecked())
        painter.setFont(title)
        painter.setPen(QColor(palette.text))
        top, flag = box, Qt.AlignmentFlag.AlignVCenter
        if self.state.missing:
            top, flag = (
                QRectF(0, 0, box.width(), box.height() / 2 + 2),
                Qt.AlignmentFlag.AlignBottom,
            )
        title_words = painter.fontMetrics().elidedText(
            self.step.title, Qt.TextElideMode.ElideRight, int(right - left)
        )
        painter.drawText(QRectF(left, top.top(), right - left, top.height()), flag, title_words)
        if self.state.missing:
            painter.setFont(scaled(self.font(), 0.85))
            painter.setPen(QColor(palette.muted))
            low = QRectF(left, box.height() / 2 + 3, right - left, box.height() / 2 - 3)
            words = painter.fontMetrics().elidedText(
                self.state.missing, Qt.TextElideMode.ElideRight, int(low.width())
            )
            painter.drawText(low, Qt.AlignmentFlag.AlignTop, words)

    def _paint_count(
        self, painter: QPainter, palette: Palette, right: float, height: float
    ) -> float:
        if not self.state.count:
            return 0.0
        painter.setFont(scaled(self.font(), 0.85, bold=True))
        tall = max(20.0, painter.fontMetrics().height() + 4.0)
        wide = max(tall + 2, painter.fontMetrics().horizontalAdvance(self.state.count) + 14.0)
        plate = QRectF(right - wide, (height - tall) / 2, wide, tall)
        colour, letters = palette.border, palette.text
        if palette.name == "contrast":
            colour, letters = palette.text, palette.window
        if self.worst is not None:
            panel = signals.PANELS[self.worst]
            colour, letters = panel.colour, panel.letters
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(colour))
        painter.drawRoundedRect(plate, tall / 2, tall / 2)
        painter.setPen(QColor(letters))
        painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, self.state.count)
        return wide + 8


class Rail(QFrame):
    """The steps.

    Signals
    -------
    step_chosen(name): another step is open.
    """

    step_chosen = Signal(str)

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self.setObjectName("side")
        outside = QVBoxLayout(self)
        outside.setContentsMargins(1, 6, 1, 6)
        # With large letters the rows alone may be taller than the window.
        self._scroll = scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inside = QWidget()
        scroll.setWidget(inside)
        outside.addWidget(scroll)
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._rows: dict[str, _Row] = {}
        self._panels: dict[str, QWidget] = {}
        self._panel: QWidget | None = None
        for step in steps():
            row = _Row(step, palette)
            row.clicked.connect(self._opener(step.name))
            self._rows[step.name] = row
            self._column.addWidget(row)
        self._column.addStretch(1)
        self.current = ""

    def _opener(self, name: str) -> Callable[[], None]:
        return lambda: self.open(name)

    @property
    def names(self) -> list[str]:
        """Names of the steps, in order."""
        return list(self._rows)

    def row(self, name: str) -> QAbstractButton:
        """Return the row of a step."""
        return self._rows[name]

    def panel(self, name: str) -> QWidget | None:
        """Return the panel of a step, if it was made."""
        return self._panels.get(name)

    def give_panel(self, name: str, panel: QWidget) -> None:
        """Take the panel of a step."""
        self._panels[name] = panel
        # A panel that was never opened must go with the rail, too.
        panel.setParent(self)
        panel.setMinimumHeight(_LEAST_PANEL_LINES * self.fontMetrics().height())
        panel.hide()
        if self.current == name:
            self.current = ""
            self.open(name)

    def open(self, name: str) -> None:
        """Open a step: its panel unfolds under its row."""
        for other, row in self._rows.items():
            row.setChecked(other == name)
        if name == self.current:
            return
        self.current = name
        if self._panel is not None:
            self._panel.hide()
            self._column.removeWidget(self._panel)
            self._panel = None
        panel = self._panels.get(name)
        if panel is not None:
            self._column.insertWidget(self.names.index(name) + 1, panel, 100)
            panel.show()
            self._panel = panel
        QTimer.singleShot(0, self, self._show_current)
        self.step_chosen.emit(name)

    def _show_current(self) -> None:
        """Bring the open step into view, its row above all."""
        row = self._rows.get(self.current)
        if row is None:
            return
        if self._panel is not None:
            self._scroll.ensureWidgetVisible(self._panel, 0, 0)
        self._scroll.ensureWidgetVisible(row, 0, 0)

    def show_plan(self, plan: Plan, review: Review) -> None:
        """Show how far each step is."""
        for name, row in self._rows.items():
            worst = signals.of(review.worst) if name == "check" and review.findings else None
            row.show_state(row.step.state(plan, review), worst)

    def restyle(self, palette: Palette) -> None:
        """Take other colours."""
        for row in self._rows.values():
            row.palette_in_use = palette
            row.update()
