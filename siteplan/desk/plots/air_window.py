"""The window of the carbon monoxide estimate; its caution is always in sight."""

from pathlib import Path

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QDialog,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QScrollArea,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from siteplan.air.blood import Activity
from siteplan.desk import signals, things
from siteplan.desk.canvas.view import Canvas
from siteplan.desk.dialogs import Dialogs
from siteplan.desk.palette import scaled
from siteplan.desk.plots import air_graphs
from siteplan.desk.plots.graph import Graph
from siteplan.desk.plots.wind_layer import NAME, wind_brush
from siteplan.desk.session import Session
from siteplan.desk.steps.base import button
from siteplan.desk.text import manner, say, tr, why
from siteplan.desk.widgets import open_at
from siteplan.errors import SiteplanError
from siteplan.plan import edits
from siteplan.rules import carbon_monoxide_words as words
from siteplan.rules.carbon_monoxide import COEstimate, OpeningEstimate, estimate
from siteplan.rules.carbon_monoxide_wind import wind_from_file
from siteplan.words import Value, length

_SETTLE_MS = 150
_HEAD_WORDS = ("Opening", "Way", "Outdoors", "Blood after the run", "10 % is reached", "Downwind")


class Caution(QWidget):
    """The caution in its panel: symbol, word, colour and sentence."""

    def __init__(self) -> None:
        super().__init__()
        policy = self.sizePolicy()
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setMinimumHeight(62)
        self.refresh()

    def refresh(self) -> None:
        """Take the reader's language."""
        self.setAccessibleName(f"{signals.word('CAUTION')}. {tr(words.CAUTION_TEXT)}")
        self.update()

    def sizeHint(self) -> QSize:
        """Return the room it needs."""
        return QSize(600, 62)

    def heightForWidth(self, width: int) -> int:
        """Return the height that the sentence takes, so that none of it is cut off."""
        bold = QFontMetrics(scaled(self.font(), 1.05, bold=True))
        room = width - bold.horizontalAdvance(signals.word("CAUTION")) - 80
        flags = int(Qt.TextFlag.TextWordWrap.value)
        box = self.fontMetrics().boundingRect(0, 0, room, 0, flags, tr(words.CAUTION_TEXT))
        return max(62, box.height() + 16)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the panel."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        panel = signals.PANELS["CAUTION"]
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(panel.colour))
        painter.drawRoundedRect(box, 8, 8)
        signals.paint_symbol(painter, "CAUTION", QRectF(14, box.center().y() - 13, 26, 26))
        painter.setPen(QColor(panel.letters))
        painter.setFont(scaled(self.font(), 1.05, bold=True))
        word = signals.word("CAUTION")
        wide = painter.fontMetrics().horizontalAdvance(word)
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.drawText(QRectF(50, 0, wide + 8, box.height()), middle, word)
        painter.setFont(self.font())
        room = QRectF(50 + wide + 18, 4, box.width() - wide - 80, box.height() - 8)
        flags = int(middle.value) | int(Qt.TextFlag.TextWordWrap.value)
        painter.drawText(room, flags, tr(words.CAUTION_TEXT))


class AirWindow(QDialog):
    """Ranking of the openings, plots over time and by distance, wind, and what it stands on."""

    def __init__(
        self, session: Session, canvas: Canvas, dialogs: Dialogs, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._session, self._canvas, self._dialogs = session, canvas, dialogs
        self.found: COEstimate | None = None
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self._settle.timeout.connect(self.refresh)
        self.setModal(False)
        open_at(self, 1280, 800)
        self._build()
        session.review_changed.connect(self._later)
        session.manner_changed.connect(self._later)
        self.refresh()

    def _build(self) -> None:
        palette = self._canvas.palette_in_use
        self.caution = Caution()
        self.table = QTableWidget(0, len(_HEAD_WORDS))
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.itemSelectionChanged.connect(self._show_chosen)
        head = self.table.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        head.setMinimumSectionSize(13 * self.fontMetrics().averageCharWidth())
        self.room, self.blood = Graph(palette, log_y=True), Graph(palette)
        self.distance = Graph(palette, log_x=True, log_y=True)
        self.basis = self._label()
        self.tabs = QTabWidget()
        self.tabs.addTab(_row(self.room, self.blood), "")
        self.tabs.addTab(self.distance, "")
        self.tabs.addTab(self._wind(), "")
        self.tabs.addTab(_scrolled(self.basis), "")
        self.details = self._label()
        split = QSplitter(Qt.Orientation.Vertical)
        split.addWidget(_row(self.table, _scrolled(self.details), shares=(5, 3)))
        split.addWidget(self.tabs)
        split.setSizes([280, 420])
        split.setChildrenCollapsible(False)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(12, 12, 12, 12)
        whole.addWidget(self.caution)
        whole.addWidget(split, 1)

    def _label(self) -> QLabel:
        made = QLabel()
        made.setTextFormat(Qt.TextFormat.PlainText)
        made.setWordWrap(True)
        made.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        return made

    def _wind(self) -> QWidget:
        self.wind = self._label()
        self.on_plan = QCheckBox()
        self.on_plan.toggled.connect(self._show_rose)
        self.read = button("", self.read_wind)
        self.type_in = button("", lambda: self._session.select(things.WIND))
        self.forget = button("", self.forget_wind)
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(16, 14, 16, 14)
        column.addWidget(self.wind)
        column.addWidget(self.on_plan)
        for one in (self.read, self.type_in, self.forget):
            column.addWidget(one, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        return page

    # -- what is shown -----------------------------------------------------------

    def _later(self) -> None:
        if self.isVisible():
            self._settle.start()

    def refresh(self) -> None:
        """Estimate anew and show it; a drag waits until the hand rests."""
        scene = self._session.scene
        self.found = None if scene is None else estimate(scene)
        self._name()
        self.caution.refresh()
        self._fill()
        self._show_chosen()
        if self.found is not None:
            air_graphs.show_distance(self.distance, self.found, self._canvas.palette_in_use)
        self._show_rose()

    def _name(self) -> None:
        self.setWindowTitle(tr("Carbon monoxide estimate"))
        names = (tr("Over time"), tr("By distance"), tr("Wind"), tr("What it stands on"))
        for index, name in enumerate(names):
            self.tabs.setTabText(index, name)
        self.table.setHorizontalHeaderLabels([tr(one) for one in _HEAD_WORDS])
        self.table.setAccessibleName(tr("Openings, most carbon monoxide first"))
        self.on_plan.setText(tr("Show where the wind blows to on the drawing"))
        self.read.setText(tr("Read wind from a weather file (EPW or TMY3)…"))
        self.type_in.setText(tr("Type the wind in"))
        self.forget.setText(tr("Forget the wind"))
        for graph, name in (
            (self.room, tr("Air in the room over the run")),
            (self.blood, tr("Carbon monoxide in the blood over the run")),
            (self.distance, tr("Air outdoors by distance, each method")),
        ):
            graph.setAccessibleName(name)

    def _fill(self) -> None:
        chosen = self.chosen()
        kept = None if chosen is None else chosen.opening.id
        found = self.found
        rows = () if found is None else found.openings
        cells = () if found is None else [_cells(one, found.person) for one in rows]
        self.table.blockSignals(True)
        self.table.setRowCount(len(rows))
        for row, texts in enumerate(cells):
            for column, text in enumerate(texts):
                self.table.setItem(row, column, QTableWidgetItem(text))
        place = next((row for row, one in enumerate(rows) if one.opening.id == kept), 0)
        if rows:
            self.table.selectRow(place)
        self.table.blockSignals(False)
        self.basis.setText(self._basis())
        windy = self._session.plan.wind is not None
        self.on_plan.setEnabled(windy)
        self.forget.setEnabled(windy)
        self.wind.setText("" if self.found is None else say(words.wind(self.found)))

    def _basis(self) -> str:
        found = self.found
        if found is None:
            return tr("No generator stands on the plan yet.")
        told = [say(one) for one in words.basis(found)]
        if not found.openings:
            told.append(say(words.nothing_within(found)))
        told += [say(words.alarm(one)) for one in found.alarm_points]
        return "\n\n".join(told)

    def chosen(self) -> OpeningEstimate | None:
        """Return the opening whose curves are shown."""
        row = self.table.currentRow()
        rows = () if self.found is None else self.found.openings
        return rows[row] if 0 <= row < len(rows) else None

    def _show_chosen(self) -> None:
        one = self.chosen()
        self.room.setVisible(one is not None)
        self.blood.setVisible(one is not None)
        if one is None:
            self.details.setText(self._basis().split("\n\n", 1)[0])
            return
        palette = self._canvas.palette_in_use
        air_graphs.show_room(self.room, one, palette)
        air_graphs.show_blood(self.blood, one, palette)
        told = [say(words.headline(one)), *(say(text) for text in words.details(one))]
        self.details.setText("\n".join(told))

    def _show_rose(self) -> None:
        wanted = self.on_plan.isChecked() and self.isVisible()
        brush = wind_brush(self._session.scene, self._session.manner) if wanted else None
        self._canvas.hand.set_brush(NAME, brush)

    # -- wind ----------------------------------------------------------------------

    def read_wind(self) -> None:
        """Ask for a weather file and put its wind into the plan."""
        kinds = f"{tr('Hourly weather')} (*.epw *.csv *.EPW *.CSV)"
        path = self._dialogs.open_path(self, Path.home(), kinds)
        if path is None:
            return
        try:
            wind = wind_from_file(path)
        except (SiteplanError, OSError) as error:
            self._dialogs.tell(self, why(error))
            return
        self._session.edit(tr("Wind"), lambda plan: edits.with_fields(plan, wind=wind))

    def forget_wind(self) -> None:
        """Take the wind out of the plan."""
        self._session.edit(tr("Wind"), lambda plan: edits.with_fields(plan, wind=None))

    # -- the window itself -----------------------------------------------------------

    def changeEvent(self, event: QEvent) -> None:
        """Follow the window's colours."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self._later()

    def done(self, result: int) -> None:
        """Leave nothing on the drawing."""
        self._canvas.hand.set_brush(NAME, None)
        super().done(result)


def _cells(one: OpeningEstimate, person: Activity) -> tuple[str, ...]:
    usual, worst = one.indicative, one.worst
    return (
        f"{say(one.label)} · {tr(words.STATE_WORDS[one.state])}",
        manner().show(length(one.path_m)),
        _both(words.ppm(usual.outdoor_ppm), words.ppm(worst.outdoor_ppm)),
        _both(
            words.percent(usual.peak_percent[person]),
            words.percent(worst.peak_percent[person]),
        ),
        _both(
            words.when(usual.minutes_to_severe[person]),
            words.when(worst.minutes_to_severe[person]),
        ),
        "–" if one.downwind_share is None else manner().show(words.share(one.downwind_share)),
    )


def _both(usual: Value, worst: Value) -> str:
    return f"{manner().show(usual)} – {manner().show(worst)}"


def _row(left: QWidget, right: QWidget, shares: tuple[int, int] = (1, 1)) -> QWidget:
    made = QWidget()
    row = QHBoxLayout(made)
    row.setContentsMargins(0, 0, 0, 0)
    row.addWidget(left, shares[0])
    row.addWidget(right, shares[1])
    return made


def _scrolled(inner: QWidget) -> QWidget:
    page = QWidget()
    column = QVBoxLayout(page)
    column.setContentsMargins(16, 10, 16, 10)
    column.addWidget(inner)
    column.addStretch(1)
    made = QScrollArea()
    made.setWidgetResizable(True)
    made.setFrameShape(QScrollArea.Shape.NoFrame)
    made.setWidget(page)
    return made
