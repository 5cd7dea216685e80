"""The findings, worst first; then what could not be judged, then what was met."""

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from siteplan.desk import signals
from siteplan.desk.palette import Palette, scaled
from siteplan.desk.text import say, tr
from siteplan.rules import missing
from siteplan.rules.book import titled
from siteplan.rules.findings import Finding, Met, Review, Unjudged
from siteplan.words import held_together

Outcome = Finding | Met | Unjudged
Index = QModelIndex | QPersistentModelIndex
_PAD, _GAP, _SYMBOL = 12, 6, 16
_TOP = QModelIndex()


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the list: its state, what is said, and the outcome it stands for.

    A row without a state is a heading.
    """

    state: signals.State | None
    what: str
    do: str = ""
    outcome: Outcome | None = None


def rows(review: Review) -> list[Row]:
    """Return the rows of a review in the order in which they are shown.

    Checks that want the same data are one row.
    """
    found = [Row(one.signal, say(one.what), say(one.do), one) for one in review.findings]
    open_questions = missing.grouped(review.unjudged)
    if open_questions:
        found.append(Row(None, tr("Not judged")))
        found += [
            Row("UNJUDGED", _begun(say(one.text)), "", one.outcomes[0]) for one in open_questions
        ]
    if review.met:
        found.append(Row(None, tr("Checked and met")))
        found += [Row("MET", say(titled(one.rule, one.what)), "", one) for one in review.met]
    return found


def _begun(words: str) -> str:
    return words[:1].upper() + words[1:]


class FindingsModel(QAbstractListModel):
    """The rows as Qt's views want them; screen readers get word and sentence as one text."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[Row] = []

    def show(self, new: list[Row]) -> None:
        """Take other rows; rows that stay are not touched."""
        if [row.state for row in new] != [row.state for row in self.rows] or len(new) != len(
            self.rows
        ):
            self.beginResetModel()
            self.rows = new
            self.endResetModel()
            return
        old, self.rows = self.rows, new
        for place, (one, other) in enumerate(zip(old, new, strict=True)):
            if one.what != other.what or one.do != other.do:
                index = self.index(place)
                self.dataChanged.emit(index, index)

    def rowCount(self, parent: Index = _TOP) -> int:
        """Return how many rows there are."""
        return 0 if parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401
        """Return the text of a row."""
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        row = self.rows[index.row()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            word = "" if row.state is None else f"{signals.word(row.state)}: "
            return f"{word}{row.what} {row.do}".strip()
        return row if role == Qt.ItemDataRole.UserRole else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Let headings be passed over."""
        heading = index.isValid() and self.rows[index.row()].state is None
        return Qt.ItemFlag.ItemIsEnabled if heading else super().flags(index)


class _Cards(QStyledItemDelegate):
    """Paints a row as a card: a band with symbol and word, then the sentences."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self.palette = palette
        self._heights: dict[tuple[str, str, int, str], int] = {}

    def _fonts(self, option: QStyleOptionViewItem) -> tuple[QFont, QFont]:
        font: QFont = option.font
        return scaled(font, 0.9, bold=True), font

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the room a card needs at the list's width."""
        row: Row = index.data(Qt.ItemDataRole.UserRole)
        width = self._width(option)
        font = self._fonts(option)[1]
        key = (row.what, row.do, width, font.toString())
        if key not in self._heights:
            if len(self._heights) > 2000:
                self._heights.clear()
            self._heights[key] = self._height(row, width, option)
        return QSize(width, self._heights[key])

    def _width(self, option: QStyleOptionViewItem) -> int:
        view = option.widget
        return view.viewport().width() if isinstance(view, QListView) else 300

    def _height(self, row: Row, width: int, option: QStyleOptionViewItem) -> int:
        bold, font = self._fonts(option)
        room = width - 2 * _PAD - 6
        if row.state is None:
            return QFontMetrics(bold).height() + 18
        height = _tall(row.what, font, room)
        if row.state in ("MET", "UNJUDGED"):
            return _tall(row.what, font, room - _SYMBOL - _GAP - 4) + 2 * _GAP + 4
        if row.do:
            height += _tall(row.do, font, room) + _GAP
        return height + _band(bold) + 2 * _GAP + 14

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one card."""
        row: Row = index.data(Qt.ItemDataRole.UserRole)
        state: QStyle.StateFlag = option.state
        box = QRectF(option.rect).adjusted(1, 2, -1, -6)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        if row.state is None:
            self._paint_heading(painter, row, box, option)
        elif row.state in ("MET", "UNJUDGED"):
            self._paint_line(painter, row, box.adjusted(0, 0, 0, 4), option, chosen=chosen)
        else:
            self._paint_card(painter, row, box, option, chosen=chosen)
        painter.restore()

    def _paint_heading(
        self, painter: QPainter, row: Row, box: QRectF, option: QStyleOptionViewItem
    ) -> None:
        painter.setFont(self._fonts(option)[0])
        painter.setPen(QColor(self.palette.muted))
        low = box.adjusted(4, 0, 0, 0)
        flags = Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft
        painter.drawText(low, flags, row.what)

    def _frame(self, painter: QPainter, box: QRectF, *, chosen: bool) -> None:
        edge = self.palette.accent if chosen else self.palette.border
        painter.setPen(QPen(QColor(edge), 2.0 if chosen else self.palette.width))
        painter.setBrush(QColor(self.palette.raised))
        painter.drawRoundedRect(box, 7, 7)

    def _paint_card(
        self,
        painter: QPainter,
        row: Row,
        box: QRectF,
        option: QStyleOptionViewItem,
        *,
        chosen: bool,
    ) -> None:
        if row.state is None:
            return
        bold, font = self._fonts(option)
        panel = signals.PANELS[row.state]
        self._frame(painter, box, chosen=chosen)
        band = QRectF(box.left() + 1, box.top() + 1, box.width() - 2, _band(bold))
        painter.save()
        painter.setClipRect(band)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(panel.colour))
        painter.drawRoundedRect(band.adjusted(0, 0, 0, 8), 6, 6)
        painter.restore()
        symbol = QRectF(band.left() + _PAD - 2, band.center().y() - _SYMBOL / 2, _SYMBOL, _SYMBOL)
        signals.paint_symbol(painter, row.state, symbol)
        painter.setFont(bold)
        painter.setPen(QColor(panel.letters))
        words = band.adjusted(_PAD + _SYMBOL + _GAP, 0, -_PAD, 0)
        painter.drawText(words, Qt.AlignmentFlag.AlignVCenter, signals.word(row.state))
        room = box.adjusted(_PAD, band.height() + _GAP + 2, -_PAD, 0)
        painter.setFont(font)
        painter.setPen(QColor(self.palette.text))
        flags = Qt.TextFlag.TextWordWrap
        used = painter.drawText(room, flags, held_together(row.what))
        if row.do:
            painter.setPen(QColor(self.palette.muted))
            painter.drawText(
                room.adjusted(0, used.height() + _GAP, 0, 0), flags, held_together(row.do)
            )

    def _paint_line(
        self,
        painter: QPainter,
        row: Row,
        box: QRectF,
        option: QStyleOptionViewItem,
        *,
        chosen: bool,
    ) -> None:
        if row.state is None:
            return
        _, font = self._fonts(option)
        if chosen:
            self._frame(painter, box.adjusted(0, 0, 0, -2), chosen=True)
        plate = QRectF(box.left() + 8, box.top() + _GAP - 2, _SYMBOL + 2, _SYMBOL + 2)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(signals.PANELS[row.state].colour))
        painter.drawRoundedRect(plate, 4, 4)
        signals.paint_symbol(painter, row.state, plate.adjusted(3, 3, -3, -3))
        painter.setFont(font)
        painter.setPen(QColor(self.palette.text))
        room = box.adjusted(_PAD + _SYMBOL + _GAP + 2, _GAP - 2, -_PAD, 0)
        painter.drawText(room, Qt.TextFlag.TextWordWrap, held_together(row.what))


def _band(bold: QFont) -> int:
    return QFontMetrics(bold).height() + 8


def _tall(words: str, font: QFont, width: int) -> int:
    words, flag = held_together(words), Qt.TextFlag.TextWordWrap
    return QFontMetrics(font).boundingRect(0, 0, width, 10_000, flag, words).height()


class FindingsList(QListView):
    """The list of findings.

    Signals
    -------
    picked(outcome): a row was chosen.
    """

    picked = Signal(object)

    def __init__(self, palette: Palette, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.findings = FindingsModel()
        self.cards = _Cards(palette)
        self.setModel(self.findings)
        self.setItemDelegate(self.cards)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        # Always there, so that its coming does not change how the cards wrap.
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setAccessibleName(tr("Findings, worst first"))
        self.setMouseTracking(True)
        self.clicked.connect(self._pick)
        self.activated.connect(self._pick)

    def show_review(self, review: Review, *, standing: bool) -> None:
        """Show a review; before a generator stands on the plan there is nothing to show."""
        self.findings.show(rows(review) if standing else [])
        always, never = Qt.ScrollBarPolicy.ScrollBarAlwaysOn, Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        self.setVerticalScrollBarPolicy(always if standing else never)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the rows, or what an empty list says."""
        super().paintEvent(event)
        if self.findings.rows:
            return
        painter = QPainter(self.viewport())
        painter.setPen(QColor(self.cards.palette.muted))
        room = self.viewport().rect().adjusted(8, 8, -12, -8)
        painter.drawText(
            room,
            Qt.TextFlag.TextWordWrap,
            tr("Findings appear here, worst first, as soon as the generator stands on the plan."),
        )

    def restyle(self, palette: Palette) -> None:
        """Take other colours."""
        self.cards.palette = palette
        self.viewport().update()

    def _pick(self, index: QModelIndex) -> None:
        row: Row | None = index.data(Qt.ItemDataRole.UserRole)
        if row is not None and row.outcome is not None:
            self.picked.emit(row.outcome)


def counts(review: Review) -> str:
    """Return how many findings there are, how many rules are met, and how much is not judged.

    What is missing counts once, however many rules wait for it: as the list shows it.
    """
    found, met = len(review.findings), len(review.met)
    parts = (
        tr("1 finding") if found == 1 else tr("{count} findings", count=found),
        tr("1 met") if met == 1 else tr("{count} met", count=met),
        tr("{count} not judged", count=missing.open_count(review)),
    )
    return ", ".join(parts)


def summary(review: Review) -> str:
    """Return one line that says how many findings there are of each signal word."""
    counted: dict[signals.State, int] = {}
    for one in review.findings:
        counted[one.signal] = counted.get(one.signal, 0) + 1
    parts = [f"{count} {signals.word(signal)}" for signal, count in counted.items()]
    return ", ".join(parts) if parts else tr("No finding")
