"""What the steps show of the power path: legs as bars, cords in figures, ways side by side."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QFrame, QSizePolicy, QVBoxLayout, QWidget

from siteplan.desk.text import manner, say, tr
from siteplan.desk.widgets import plain_label
from siteplan.plan.labels import label
from siteplan.power.receptacles import LINE_TO_NEUTRAL_V
from siteplan.rules.findings import SIGNALS, Signal
from siteplan.rules.power.buy import CordToBuy, lines_of
from siteplan.rules.power.report import CordRow, LoadRow, PowerReport
from siteplan.rules.power.says import gauge_text
from siteplan.rules.power.span import Span
from siteplan.rules.power.ways import Compared, part_text
from siteplan.words import Kind, Quantity, length

SYMBOLS: dict[Signal, str] = {"DANGER": "⬢", "WARNING": "▲", "CAUTION": "△", "NOTICE": "●"}
_WORDS: dict[Signal, str] = {
    "DANGER": "DANGER", "WARNING": "WARNING", "CAUTION": "CAUTION", "NOTICE": "NOTICE",
}  # fmt: skip
_BAR_PX, _GAP_PX, _TEXT_PX = 14, 8, 18
# The bar's length that stands for what one leg gives; what is over it runs on beyond the mark.
_FULL_SHARE = 0.8


class LegBars(QWidget):
    """The two legs as bars against what one leg gives, running and while a motor starts."""

    def __init__(self) -> None:
        super().__init__()
        self._rows: list[tuple[str, float, float]] = []
        self._limit_w = 0.0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setVisible(False)

    def show_report(self, report: PowerReport) -> None:
        """Show the legs as they would be with the suggestion followed."""
        sums = report.suggested_legs or report.legs
        limit_w = report.rated_w.most / 2.0
        known = sums is not None and 0.0 < limit_w < float("inf")
        self.setVisible(known)
        if sums is None or not known:
            return
        self._limit_w = limit_w
        self._rows = [("A", sums.a_w, sums.start_a_w), ("B", sums.b_w, sums.start_b_w)]
        self.setAccessibleName("; ".join(self._words(*row) for row in self._rows))
        self.setFixedHeight(len(self._rows) * (_BAR_PX + _TEXT_PX + _GAP_PX))
        self.update()

    def sizeHint(self) -> QSize:
        """Return a size for both bars with their texts."""
        return QSize(200, 2 * (_BAR_PX + _TEXT_PX + _GAP_PX))

    def _words(self, leg: str, run_w: float, start_w: float) -> str:
        over = "  ▲ " + tr("too much") if run_w > self._limit_w else ""
        return (
            tr(
                "Leg {leg}: {run} of {limit}; start {start}",
                leg=leg,
                run=Quantity(run_w, "power", "up"),
                limit=Quantity(self._limit_w, "power", "down"),
                start=Quantity(start_w, "power", "up"),
            )
            + over
        )

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint a bar for each leg, its start lighter, and the mark of what one leg gives."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        full = self.width() * _FULL_SHARE
        y = 0.0
        for leg, run_w, start_w in self._rows:
            painter.setPen(self.palette().color(QPalette.ColorRole.Text))
            box = QRectF(0, y, self.width(), _TEXT_PX)
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, self._words(leg, run_w, start_w))
            self._paint_bar(painter, y + _TEXT_PX, full, (run_w, start_w))
            y += _TEXT_PX + _BAR_PX + _GAP_PX

    def _paint_bar(
        self, painter: QPainter, y: float, full: float, watts: tuple[float, float]
    ) -> None:
        accent = self.palette().color(QPalette.ColorRole.Highlight)
        soft = self.palette().color(QPalette.ColorRole.Highlight)
        soft.setAlphaF(0.3)
        painter.setPen(Qt.PenStyle.NoPen)
        for value, colour in ((watts[1], soft), (watts[0], accent)):
            painter.setBrush(colour)
            wide = min(float(self.width()), full * value / self._limit_w)
            painter.drawRoundedRect(QRectF(0, y, wide, _BAR_PX), 2, 2)
        painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Text), 2.0))
        painter.drawLine(int(full), int(y) - 2, int(full), int(y) + _BAR_PX + 2)


class Cards(QWidget):
    """A column of framed cards, each a title and lines of text."""

    def __init__(self) -> None:
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self._shown: list[tuple[str, tuple[str, ...]]] = []

    def show_cards(self, cards: Sequence[tuple[str, tuple[str, ...]]]) -> None:
        """Show these cards; what is shown already stays."""
        if list(cards) == self._shown:
            return
        self._shown = list(cards)
        while (item := self._column.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                old.hide()
                old.deleteLater()
        for title, lines in cards:
            self._column.addWidget(_card(title, lines))
        self.setVisible(bool(cards))

    @property
    def texts(self) -> list[str]:
        """What the cards say, one text each."""
        return ["\n".join((title, *lines)) for title, lines in self._shown]


def _card(title: str, lines: Sequence[str]) -> QFrame:
    frame = QFrame()
    frame.setProperty("role", "card")
    column = QVBoxLayout(frame)
    column.setContentsMargins(8, 6, 8, 6)
    column.setSpacing(3)
    column.addWidget(plain_label(title, bold=True, wrap=True))
    for line in lines:
        column.addWidget(plain_label(line, wrap=True))
    return frame


def cord_card(row: CordRow) -> tuple[str, tuple[str, ...]]:
    """Return a cord in figures: gauge, lengths, current, loss and what it crosses."""
    cord = row.cord
    size = tr("gauge not entered") if cord.gauge_awg is None else say(gauge_text(cord.gauge_awg))
    lines = [_lengths(row), _carries(row), _loses(row), *buy_lines(row.buy)]
    if row.crossings:
        kinds = dict.fromkeys(tr(_CROSSED_WORDS[one.kind]) for one in row.crossings)
        lines.append(tr("Crosses: {what}", what=", ".join(kinds)))
    return f"{say(label(cord))} · {size}", tuple(lines)


def buy_lines(buy: CordToBuy) -> list[str]:
    """Return which cord to buy, and what else is to be known of it."""
    return [say(one) for one in lines_of(buy)]


_CROSSED_WORDS = {
    "driveway": "driveway",
    "walk": "walk",
    "pool": "pool",
    "standing-water": "standing water",
    "doorway": "door step",
}
_TROUBLE_WORDS = {
    "no-end": "No end is entered.",
    "no-way": "No way leads there.",
    "way-in-unknown": "How it goes into the house is not entered.",
}


def _lengths(row: CordRow) -> str:
    if row.trouble is not None:
        return tr(_TROUBLE_WORDS[row.trouble])
    assert row.needed_m is not None  # noqa: S101 - a cord with a way has a length
    needed = length(row.needed_m, "up")
    if row.stock_m is None:
        return tr("Needs {needed}; none so long is sold.", needed=needed)
    return tr("Needs {needed}; sold as {stock}.", needed=needed, stock=length(row.stock_m, "up"))


def _carries(row: CordRow) -> str:
    may = _figure(row.ampacity_a, "current", "down")
    return tr("Carries {amps}, may carry {limit}.", amps=_figure(row.current_a, "current"),
              limit=may)  # fmt: skip


def _loses(row: CordRow) -> str:
    return tr(
        "Loses {run} running, {start} at the hardest start.",
        run=_figure(row.drop, "percent"),
        start=_figure(row.start_drop, "percent"),
    )


def _figure(span: Span, kind: Kind, side: str = "up") -> str:
    """Return a figure in the reader's manner, or what stands for one that is not known."""
    if span.missing and span.least != span.most:
        return tr("not known")
    scale = 100.0 if kind == "percent" else 1.0
    return manner().show(Quantity(scale * span.most, kind, "up" if side == "up" else "down"))


def way_card(one: Compared, *, chosen: bool) -> tuple[str, tuple[str, ...]]:
    """Return a way to bring the power in: what it reaches, gives and loses, and what it lacks."""
    way = one.way
    title = say(one.title)
    if chosen:
        title = tr("{way} (as planned)", way=title)
    whole = len(way.serves) + len(way.refuses)
    lines = []
    if way.outlet is not None:
        lines.append(
            tr(
                "{served} of {whole} loads; {run} of {limit}.",
                served=len(way.serves),
                whole=whole,
                run=Quantity(way.run_w, "power", "up"),
                limit=Quantity(way.limit_w, "power", "down"),
            )
        )
        if way.serves:
            # With nothing on it no voltage is lost, which says nothing about the way.
            lost = Quantity(100.0 * way.drop_total, "percent", "up")
            lines.append(tr("Loses {lost} of the voltage.", lost=lost))
    for remark in sorted(one.remarks, key=lambda each: SIGNALS.index(each.signal)):
        word = tr(_WORDS[remark.signal])
        lines.append(f"{SYMBOLS[remark.signal]} {word}: {say(remark.text)}")
    return title, tuple(lines)


def part_lines(report: PowerReport) -> tuple[str, ...]:
    """Return what is bought for the way planned, one line each."""
    return tuple(say(part_text(one)) for one in report.parts)


def load_detail(row: LoadRow) -> str:
    """Return a load in few words: watts running and starting, leg, place in switching on."""
    load = row.load
    watts = f"{load.running_w:.0f}"
    if load.starting_w is not None:
        watts += f"/{load.starting_w:.0f}"
    leg: str = "A+B" if load.volts > LINE_TO_NEUTRAL_V else row.leg or ""
    if not leg and row.suggested is not None:
        leg = f"{row.suggested}?"
    return " · ".join(part for part in (f"{watts} W", leg, f"#{row.place}") if part)


def sum_words(report: PowerReport) -> str:
    """Return what the loads take, what the generator gives, and whether each motor starts."""
    told = [say(one) for one in report.sums]
    order = tr("Switch on in the order of the numbers, #1 first.")
    motors = [f"– {say(one)}" for one in report.motors]
    return "\n".join([" ".join([*told, order]), *motors])
