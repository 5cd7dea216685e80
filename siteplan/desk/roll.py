"""A table of everything on the plan: for screen readers, and for whoever likes lists better."""

from collections import defaultdict
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QTimer
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
)

from siteplan.desk import signals, things
from siteplan.desk.canvas.shapes import shape
from siteplan.desk.session import Session
from siteplan.desk.text import length, tr
from siteplan.desk.widgets import open_at, plain_label
from siteplan.desk.window import Window
from siteplan.plan import Plan
from siteplan.plan.base import Model
from siteplan.rules.findings import Finding, Review
from siteplan.scene import Scene

_SETTLE_MS = 150
_HEAD_WORDS = ("Name", "Kind", "Position", "From the generator", "State")
_NOTHING = "–"


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing: its key, and what each column says of it."""

    key: str
    cells: tuple[str, str, str, str, str]


def entries(plan: Plan, scene: Scene | None, review: Review) -> list[Entry]:
    """Return every thing of a plan in the order of the document, the lot first."""
    states = _states(plan, review)
    found = []
    for key in (things.LOT, *things.ids(plan)):
        part = things.get(plan, key)
        if part is not None:
            place, away = _place(plan, scene, part)
            name, kind = things.label(part), things.kind_name(part)
            found.append(Entry(key, (name, kind, place, away, states.get(key, _NOTHING))))
    return found


def _place(plan: Plan, scene: Scene | None, part: Model) -> tuple[str, str]:
    """Return where a thing is, by its middle, and how far its nearest point is from the set."""
    found = shape(plan, part)
    if found is None or found.is_empty:
        return _NOTHING, _NOTHING
    middle = found.centroid
    place = tr("{x} east, {y} north", x=length(middle.x), y=length(middle.y))
    standing = None if scene is None else scene.standing
    if standing is None or part is standing.placement:
        return place, _NOTHING
    return place, length(standing.reach.distance(found))


def _states(plan: Plan, review: Review) -> dict[str, str]:
    """Return what the review says of each thing: the worst finding, else what is open, or met."""
    findings: dict[str, list[Finding]] = defaultdict(list)
    for one in review.findings:
        for key in one.subjects:
            findings[key].append(one)
    if plan.placement is not None:
        # Findings do not name the machine's own place, which all of them are about.
        findings[plan.placement.id] = list(review.findings)
    said = {key: signals.word("MET") for one in review.met for key in one.subjects}
    said |= {key: signals.word("UNJUDGED") for one in review.unjudged for key in one.subjects}
    return said | {key: _worst(found) for key, found in findings.items() if found}


def _worst(findings: list[Finding]) -> str:
    # A review has its worst finding first.
    word = signals.word(findings[0].signal)
    count = len(findings)
    return f"{word}, {tr('1 finding') if count == 1 else tr('{count} findings', count=count)}"


class Roll(QDialog):
    """The table in a window of its own; what is chosen in it is selected everywhere."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window, self._session = window, window.session
        self._entries: list[Entry] = []
        self.setModal(False)
        open_at(self, 1040, 560)
        self.hint = plain_label(muted=True, wrap=True)
        self.table = QTableWidget(0, len(_HEAD_WORDS))
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        # Tab leaves the table; the arrows go through it.
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(max(28, self.fontMetrics().height() + 10))
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        column = QVBoxLayout(self)
        column.addWidget(self.hint)
        column.addWidget(self.table)
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self._settle.timeout.connect(self.refresh)
        self._connect(self._session)
        self.refresh()

    def _connect(self, session: Session) -> None:
        session.review_changed.connect(self._later)
        session.manner_changed.connect(self._later)
        session.selection_changed.connect(self._show_selection)
        self.table.itemSelectionChanged.connect(self._choose)
        self.table.itemActivated.connect(self._numbers)

    def _later(self) -> None:
        if self.isVisible():
            self._settle.start()

    def refresh(self) -> None:
        """Show the plan and what is said of it as it is now."""
        session = self._session
        self.setWindowTitle(tr("Table of everything"))
        self.table.setAccessibleName(tr("Everything on the plan"))
        self.hint.setText(
            tr("Choosing a row selects the thing on the drawing. Enter goes to its exact numbers.")
        )
        self.table.setHorizontalHeaderLabels([tr(one) for one in _HEAD_WORDS])
        self._entries = entries(session.plan, session.scene, session.review)
        self.table.blockSignals(True)
        self.table.setRowCount(len(self._entries))
        for row, entry in enumerate(self._entries):
            for column, words in enumerate(entry.cells):
                self.table.setItem(row, column, QTableWidgetItem(words))
        self.table.blockSignals(False)
        self._show_selection()

    def _show_selection(self) -> None:
        keys = [entry.key for entry in self._entries]
        chosen = self._session.selection[-1] if self._session.selection else None
        self.table.blockSignals(True)
        if chosen in keys:
            self.table.selectRow(keys.index(chosen))
        else:
            self.table.clearSelection()
        self.table.blockSignals(False)

    def _choose(self) -> None:
        row = self.table.currentRow()
        if 0 <= row < len(self._entries) and self.table.selectedItems():
            self._session.select(self._entries[row].key)

    def _numbers(self) -> None:
        self._choose()
        self._window.activateWindow()
        self._window.take_numbers()

    def changeEvent(self, event: QEvent) -> None:
        """Follow the window's text size."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.table.resizeRowsToContents()


def open_roll(window: Window) -> Roll:
    """Open the table of everything, or bring it to the front."""
    roll = window.findChild(Roll) or Roll(window)
    roll.show()
    roll.refresh()
    roll.activateWindow()
    roll.table.setFocus()
    return roll
