"""The night in a window of its own: levels, fuel, the hours as a bar, and the cards."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QPainter, QPaintEvent, QPalette, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QHeaderView,
    QScrollArea,
    QTableWidget,
    QTableWidgetItem,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from siteplan.desk.session import Session
from siteplan.desk.text import manner, say, tr
from siteplan.desk.widgets import open_at, plain_label
from siteplan.drawing.sound import level
from siteplan.rules import cards, night_words
from siteplan.rules.night import NightPlan, night_plan
from siteplan.rules.sound import LEFT_OUT_TEXT, LEVELS_NOTE_TEXT, Heard, SoundReport, levels
from siteplan.rules.sound_words import heard_line
from siteplan.words import Quantity, Text, length

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas

_VERDICT_WORDS = {"within": "within", "close": "too close to tell", "above": "above"}
_SIGNS = {"within": "✓", "close": "●", "above": "●", None: "?"}
_HEAD_WORDS = ("Place", "Distance", "Level", "By day", "By night")
_SHOWN_H = 24.0
_BAR_PX, _ROW_PX, _EVERY_H = 20, 26, 3


class HoursBar(QWidget):
    """The first day of an outage: running, resting to refuel, standing still, quiet hours."""

    def __init__(self) -> None:
        super().__init__()
        self._night = NightPlan()
        self.setFixedHeight(3 * _ROW_PX)

    def show_night(self, night: NightPlan) -> None:
        """Show another outage."""
        self._night = night
        self.setVisible(bool(night.stretches))
        stops = ", ".join(f"{night.clock(one.stop_h)}–{night.clock(one.start_h, later=True)}"
                          for one in night.stops)  # fmt: skip
        self.setAccessibleName(tr("The hours of the outage. Stops: {stops}", stops=stops or "–"))
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the bars over the hours of the clock."""
        night = self._night
        if not night.stretches:
            return
        painter = QPainter(self)
        metrics = painter.fontMetrics()
        names = (tr("Generator"), tr("Quiet hours"))
        left = max(metrics.horizontalAdvance(name) for name in names) + 10.0
        shown = min(_SHOWN_H, night.hours)
        per_h = (self.width() - left - 14.0) / shown

        def box(begin: float, end: float, row: int) -> QRectF:
            low, high = min(begin, shown), min(end, shown)
            return QRectF(left + low * per_h, row * _ROW_PX, (high - low) * per_h, _BAR_PX)

        text = self.palette().color(QPalette.ColorRole.Text)
        accent = self.palette().color(QPalette.ColorRole.Highlight)
        soft = self.palette().color(QPalette.ColorRole.Dark)
        painter.setPen(text)
        for row, name in enumerate(names):
            painter.drawText(QRectF(0, row * _ROW_PX, left, _BAR_PX),
                             Qt.AlignmentFlag.AlignVCenter, name)  # fmt: skip
            painter.drawRect(box(0.0, shown, row))
        for one in night.stretches:
            if one.start_h < shown and one.kind == "run":
                painter.fillRect(box(one.start_h, one.end_h, 0), accent)
        for low, high in night.quiet:
            if low < shown:
                painter.fillRect(box(low, high, 1), soft)
        painter.setPen(QPen(text, 1.0))
        hour = -(night.start_min / 60.0) % _EVERY_H
        while hour <= shown + 1e-9:
            x = left + hour * per_h
            painter.drawLine(int(x), 2 * _ROW_PX - 4, int(x), 2 * _ROW_PX + 2)
            painter.drawText(QRectF(x - 20, 2 * _ROW_PX, 40, _ROW_PX),
                             Qt.AlignmentFlag.AlignHCenter, night.clock(hour)[:2])  # fmt: skip
            hour += _EVERY_H


class NightWindow(QDialog):
    """Levels, fuel and hours on one page, the cards on the next."""

    def __init__(self, session: Session, canvas: "Canvas", parent: QWidget | None) -> None:
        super().__init__(parent)
        self._session = session
        self.layer = canvas.sound_layer()
        self.setModal(False)
        open_at(self, 720, 720)
        self.lines = QCheckBox()
        self.lines.setChecked(self.layer.wanted)
        self.lines.toggled.connect(self.layer.want)
        self.table = QTableWidget(0, len(_HEAD_WORDS))
        self.table.verticalHeader().hide()
        self.table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        self.table.setWordWrap(True)
        self.heard, self.power, self.note, self.refuel, self.fuel, self.hours, self.saved = (
            plain_label(wrap=True) for _ in range(7)
        )
        self.bar = HoursBar()
        self.tabs = QTabWidget()
        self.tabs.addTab(_scrolled(self._night_page()), "")
        self.cards = QVBoxLayout()
        held = QWidget()
        held.setLayout(self.cards)
        self.tabs.addTab(_scrolled(held), "")
        whole = QVBoxLayout(self)
        whole.addWidget(self.tabs)
        session.review_changed.connect(self.refresh)
        session.manner_changed.connect(self.refresh)

    def _night_page(self) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setSpacing(10)
        for one in (self.heard, self.power, self.table, self.lines, self.note, self.bar,
                    self.refuel, self.fuel, self.hours, self.saved):  # fmt: skip
            column.addWidget(one)
        column.addStretch(1)
        return page

    def refresh(self) -> None:
        """Show the plan as it is now; a drag waits until the hand lets go."""
        scene = self._session.scene
        if scene is None or not self.isVisible() or self._session.in_gesture:
            return
        self.setWindowTitle(tr("Noise, fuel and the night"))
        self.tabs.setTabText(0, tr("Levels and hours"))
        self.tabs.setTabText(1, tr("Cards"))
        self.lines.setText(tr("Show lines of equal level on the drawing"))
        self._show_levels(levels(scene))
        self._show_night(night_plan(scene))
        self._show_cards()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Wrap the names of places for the new width."""
        super().resizeEvent(event)
        self._fit_rows()

    def _fit_rows(self) -> None:
        self.table.resizeRowsToContents()
        head = self.table.horizontalHeader()
        tall = sum(self.table.rowHeight(row) for row in range(self.table.rowCount()))
        self.table.setFixedHeight(min(340, tall + head.height() + 6))

    def closeEvent(self, event: QCloseEvent) -> None:
        """Leave the lines on the drawing as they are chosen."""
        self.layer.wait()
        event.accept()

    def _show_levels(self, report: SoundReport) -> None:
        places = (*report.sides, *report.windows, *(() if report.ring is None else (report.ring,)))
        self.power.setText(_power(report))
        if self._session.scene is not None:
            self.heard.setText(say(heard_line(self._session.scene)))
        self.table.setHorizontalHeaderLabels([tr(one) for one in _HEAD_WORDS])
        head = self.table.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        head.setMinimumSectionSize(13 * self.fontMetrics().averageCharWidth())
        self.table.setRowCount(len(places))
        for row, one in enumerate(places):
            for column, words in enumerate(_cells(one)):
                self.table.setItem(row, column, QTableWidgetItem(words))
        self._fit_rows()
        # The first column gets its width only when the page has been laid out.
        QTimer.singleShot(0, self, self._fit_rows)
        self.table.setVisible(bool(places))
        left = tr(LEFT_OUT_TEXT, count=report.left_out) + " " if report.left_out else ""
        self.note.setText(left + say(Text(LEVELS_NOTE_TEXT)))

    def _show_night(self, night: NightPlan) -> None:
        plan = self._session.plan
        self.bar.show_night(night)
        self.refuel.setText(say(night_words.refuel_line(night, plan.outage.quiet_from)))
        self.refuel.setVisible(not night.missing)
        if night.missing:
            self.fuel.setText(say(night_words.missing_line(night)))
            self.hours.setText("")
            self.saved.setText("")
            return
        self.fuel.setText(_lines(say(one) for one in night_words.fuel_lines(night, plan)))
        told = [f"{clock}  {say(one)}" for clock, one in night_words.hour_lines(night, plan)]
        self.hours.setText("\n".join(told))
        self.saved.setText(_lines(say(one) for one in night_words.saving_lines(night, plan)))

    def _show_cards(self) -> None:
        while (item := self.cards.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                old.hide()
                old.deleteLater()
        self.cards.addWidget(plain_label(tr(cards.GOVERNS_TEXT), muted=True, wrap=True))
        for card in cards.cards(self._session.plan):
            self.cards.addWidget(plain_label(tr(card.title), bold=True, scale=1.15, wrap=True))
            steps = [
                f"{'☐' if card.mark == 'box' else f'{number}.'}  {say(one)}"
                for number, one in enumerate(card.steps, start=1)
            ]
            words = "\n".join([*steps, *(say(one) for one in card.notes)])
            self.cards.addWidget(plain_label(words, wrap=True))
        self.cards.addStretch(1)


def _scrolled(page: QWidget) -> QScrollArea:
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setWidget(page)
    return area


def _lines(sentences: Iterable[str]) -> str:
    return "\n".join(f"– {one}" for one in sentences)


def _power(report: SoundReport) -> str:
    if report.power_dba is None:
        return tr("No generator stands on the plan yet.")
    power = Quantity(report.power_dba, "level", "up")
    if report.rating_assumed:
        return tr("The generator's sound rating is missing; a sound power of {power} is assumed.",
                  power=power)  # fmt: skip
    band = Quantity(report.uncertainty_db, "count", "up")
    return tr("Sound power {power}; each level may be off by {band} dB.", power=power, band=band)


def _cells(one: Heard) -> tuple[str, ...]:
    return (
        say(one.name),
        manner().show(length(one.distance_m)),
        level(one, manner()),
        _verdict(one, night=False),
        _verdict(one, night=True),
    )


def _verdict(one: Heard, *, night: bool) -> str:
    limit = one.limits.night_dba if night else one.limits.day_dba
    if limit is None:
        return tr("no limit entered")
    found = one.verdict(night=night)
    word = tr("not judged") if found is None else tr(_VERDICT_WORDS[found])
    shown = Quantity(limit, "level", "down")
    sign = _SIGNS[found]
    if found in ("close", "above"):
        sign = f"{sign} {tr('NOTICE')}:"
    return tr("{sign} {word}, limit {limit}", sign=sign, word=word, limit=shown)
