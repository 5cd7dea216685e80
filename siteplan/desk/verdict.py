"""The banner over the findings: the worst signal word and how many there are."""

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from siteplan.desk import signals
from siteplan.desk.findings import counts
from siteplan.desk.palette import Palette, scaled
from siteplan.desk.text import tr
from siteplan.rules.findings import Review


class Verdict(QWidget):
    """The worst finding's word, symbol and colour, with the counts."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._palette = palette
        self._state: signals.State | None = None
        self._word = self._counts = ""
        policy = self.sizePolicy()
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.show_review(Review(), standing=False)

    def sizeHint(self) -> QSize:
        """Return the room it needs."""
        return QSize(240, self._usual_height())

    def _usual_height(self) -> int:
        return round(self.fontMetrics().height() * 3.4)

    def heightForWidth(self, width: int) -> int:
        """Return the height that the counts take, so that none is cut off."""
        small = QFontMetrics(scaled(self.font(), 0.85))
        room = QRect(0, 0, width - round(self._left()) - 8, 0)
        wrapped = small.boundingRect(room, int(Qt.TextFlag.TextWordWrap.value), self._counts)
        return self._usual_height() + max(0, wrapped.height() - small.height())

    def _left(self) -> float:
        """Return where the words begin."""
        return 14.0 if self._state is None else 24.0 + self._side()

    def _side(self) -> float:
        return max(26.0, self.fontMetrics().height() * 1.4)

    def minimumSizeHint(self) -> QSize:
        """Return the least room it needs."""
        return self.sizeHint()

    def show_review(self, review: Review, *, standing: bool) -> None:
        """Show the worst of a review; with no generator on the plan there is no verdict."""
        met = counts(review)
        state: signals.State | None
        if not standing:
            state, word, counted = None, tr("No generator yet"), tr("Nothing has been judged.")
        elif review.worst is None and review.unjudged:
            # What could not be judged is no pass.
            state, word, counted = "UNJUDGED", tr("Not all judged"), met
        elif review.worst is None:
            state, word, counted = "MET", tr("No finding"), met
        else:
            state, word, counted = review.worst, signals.word(review.worst), met
        if (state, word, counted) != (self._state, self._word, self._counts):
            self._state, self._word, self._counts = state, word, counted
            self.setAccessibleName(f"{word}. {counted}")
            self.setToolTip(counted)
            self.updateGeometry()
            self.update()

    def restyle(self, palette: Palette) -> None:
        """Take other colours."""
        self._palette = palette
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the banner."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        plain = self._state in (None, "MET", "UNJUDGED")
        colour, letters = self._palette.raised, self._palette.text
        if self._state is not None and not plain:
            panel = signals.PANELS[self._state]
            colour, letters = panel.colour, panel.letters
        painter.setPen(QColor(self._palette.border if plain else colour))
        painter.setBrush(QColor(colour))
        painter.drawRoundedRect(box, 8, 8)
        if self._state is not None:
            side = self._side()
            place = QRectF(14.0, box.center().y() - side / 2, side, side)
            self._paint_symbol(painter, place, plain=plain)
        left, half = self._left(), self._usual_height() / 2
        painter.setPen(QColor(letters))
        painter.setFont(scaled(self.font(), 1.25, bold=True))
        upper = QRectF(left, 0, box.width() - left - 8, half + 2)
        painter.drawText(upper, Qt.AlignmentFlag.AlignBottom, self._word)
        painter.setFont(scaled(self.font(), 0.85))
        lower = QRectF(left, half + 3, box.width() - left - 8, box.height() - half - 4)
        flags = int(Qt.AlignmentFlag.AlignTop.value) | int(Qt.TextFlag.TextWordWrap.value)
        painter.drawText(lower, flags, self._counts)

    def _paint_symbol(self, painter: QPainter, place: QRectF, *, plain: bool) -> None:
        if self._state is None:
            return
        if plain:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(signals.PANELS[self._state].colour))
            painter.drawRoundedRect(place, 6, 6)
            place = place.adjusted(4, 4, -4, -4)
        signals.paint_symbol(painter, self._state, place)
