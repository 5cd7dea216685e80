"""Finding a place: the zone, the best places, placements side by side, tapes."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QDialog,
    QHeaderView,
    QListWidget,
    QListWidgetItem,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from siteplan.desk import making
from siteplan.desk.actions import call_plain
from siteplan.desk.dialogs import Dialogs
from siteplan.desk.flow import WrappingTick
from siteplan.desk.session import Session
from siteplan.desk.steps.base import button
from siteplan.desk.text import manner, say, tr, why
from siteplan.desk.widgets import open_at, plain_label
from siteplan.errors import SiteplanError
from siteplan.plan import Plan, edits
from siteplan.suggest import Spots, compare, spots
from siteplan.suggest.say import (
    ANYWHERE_TEXT,
    HOUSE_FIRST,
    NO_ENGINE_TEXT,
    about,
    binding_text,
    headline,
)
from siteplan.suggest.side_by_side import COMPARE_TITLES, cells

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas

_MOST_BINDING = 3
_MOST_TOLD = 3
_ROW_INSET_PX = 10


class Places(QWidget):
    """Asks for the best places, lists them, and stands the machine at one."""

    def __init__(self, session: Session, canvas: "Canvas", dialogs: Dialogs) -> None:
        super().__init__()
        self._session, self._canvas, self._dialogs = session, canvas, dialogs
        self.found: Spots | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        self.tick = WrappingTick(tr("Show where it can stand"))
        self.tick.toggled.connect(canvas.ways.want)
        self.key = plain_label(muted=True, wrap=True)
        self.tick.toggled.connect(call_plain(self._show_key))
        self.ask = button(tr("Find the best places"), self.look)
        self.words = plain_label(wrap=True)
        self.list = _Whole()
        self.list.setAccessibleName(tr("Best places"))
        self.list.setObjectName("things")
        self.list.setWordWrap(True)
        self.list.setSpacing(2)
        self.list.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.currentRowChanged.connect(self._choose)
        self.here = button(tr("Stand it here"), self.stand)
        self.side_by_side = button(tr("Places side by side"), self.show_table)
        for one in (
            self.tick,
            self.key,
            self.ask,
            self.words,
            self.list,
            self.here,
            self.side_by_side,
        ):
            column.addWidget(one)
        self.refresh()

    def refresh(self) -> None:
        """Show what still holds for the plan as it is now."""
        plan = self._session.plan
        if self.found is not None and not self._canvas.ways.spots:
            # The ground changed, so what was found holds no more.
            self.found = None
        self.tick.setEnabled(plan.machine is not None)
        self.ask.setEnabled(plan.machine is not None)
        self._show_key()
        self.words.setVisible(self.found is not None)
        self.list.setVisible(self.found is not None and bool(self.found.places))
        self.here.setVisible(self.list.isVisibleTo(self) and self._standing())
        self.side_by_side.setVisible(len(plan.placements) > 1 and plan.machine is not None)

    def _show_key(self) -> None:
        """Say what the colours mean, or what must come first."""
        machine = self._session.plan.machine
        chosen = self._canvas.ways.chosen
        if machine is None:
            self.key.setText(tr("Choose the kind of generator below first."))
        elif not self._session.plan.has_home:
            self.key.setText(say(HOUSE_FIRST))
        elif chosen is not None:
            text = tr(
                "Tinted: it can stand there, turned as at place {number}. Stronger: better "
                "still. Each arrow shows where the exhaust blows; another place may need "
                "another turn, so it may lie outside the tint.",
                number=chosen + 1,
            )
            self.key.setText(text)
        elif self._session.plan.placement is None:
            text = tr(
                "Tinted: it can stand there, with the exhaust turned well. Stronger: better "
                "still. Rest the pointer to read what bars a place."
            )
            self.key.setText(text)
        else:
            text = tr(
                "Tinted: it can stand there, turned as it is now. Stronger: better still. "
                "Rest the pointer to read what bars a place."
            )
            self.key.setText(text)
        self.key.setVisible(machine is None or self.tick.isChecked())

    def _standing(self) -> bool:
        row = self.list.currentRow()
        places = () if self.found is None else self.found.places
        return 0 <= row < len(places) and places[row].stands

    def look(self) -> None:
        """Look for the best places."""
        plan = self._session.plan
        try:
            found = spots(plan, scene=self._session.scene)
        except SiteplanError as error:
            self._session.refused.emit(why(error))
            return
        self.found = found
        self._canvas.ways.show_spots(found.places)
        self.tick.setChecked(True)
        self.words.setText("\n\n".join(_said(plan, found)))
        self.list.clear()
        for number, spot in enumerate(found.places, start=1):
            lines = [say(text) for text in about(plan, spot)]
            bad = [f"{tr(one.signal)}: {say(one.what)}" for one in spot.findings[:2]]
            first, *more = lines
            told = [f"{number}  {first}", " ".join(more), *bad]
            self.list.addItem(QListWidgetItem("\n".join(one for one in told if one)))
        # The panel scrolls; a list that scrolls inside it would hide the other places.
        self.list.fit_contents()
        if found.places:
            self.list.setCurrentRow(0)
            self._canvas.show_if_hidden(tuple(one.at for one in found.places))
        self.refresh()

    def _choose(self, row: int) -> None:
        if self.found is not None and 0 <= row < len(self.found.places):
            self._canvas.ways.show_spots(self.found.places, row)
            self._show_key()
            self.here.setVisible(self._standing())

    def stand(self) -> None:
        """Stand the machine at the chosen place, its exhaust as told."""
        if self.found is None or not self._standing():
            return
        spot = self.found.places[self.list.currentRow()]

        def change(plan: Plan) -> Plan:
            after, _ = making.stand_machine(plan, spot.at)
            return edits.stand(after, spot.at, spot.turn_deg)

        self._session.edit(tr("Stand the generator"), change)

    def show_table(self) -> None:
        """Show the placements side by side."""
        self._dialogs.show(table_dialog(self, self._session))


class _Whole(QListWidget):
    """A list as tall as all of its rows."""

    def fit_contents(self) -> None:
        """Take the height of the rows at the present width."""
        room = self.viewport().width() - 2 * _ROW_INSET_PX - 2 * self.spacing()
        metrics, tall = self.fontMetrics(), 6
        for row in range(self.count()):
            item = self.item(row)
            words = metrics.boundingRect(
                0, 0, room, 10_000, Qt.TextFlag.TextWordWrap, item.text()
            ).height()
            item.setSizeHint(QSize(0, words + _ROW_INSET_PX))
            tall += words + _ROW_INSET_PX + 2 * self.spacing()
        self.setFixedHeight(tall)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Wrap anew, and take the new height."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.fit_contents()


def _said(plan: Plan, found: Spots) -> list[str]:
    said = [say(headline(found)), *_wrong_anywhere(found)]
    if not found.stands:
        said += [say(binding_text(plan, one)) for one in found.binding[:_MOST_BINDING]]
    if not found.passes:
        said += [say(one.text) for one in found.changes]
    if not found.stands:
        said.append(say(NO_ENGINE_TEXT))
    return said


def _wrong_anywhere(found: Spots) -> list[str]:
    """Return what is wrong wherever the machine stands, in one paragraph if there is any."""
    if not found.anywhere:
        return []
    lines = [say(ANYWHERE_TEXT)]
    lines += [f"{tr(one.signal)}: {say(one.what)}" for one in found.anywhere[:_MOST_TOLD]]
    if len(found.anywhere) > _MOST_TOLD:
        lines.append(tr("and {count} more", count=len(found.anywhere) - _MOST_TOLD))
    return ["\n".join(lines)]


def table_dialog(parent: QWidget, session: Session) -> QDialog:
    """Return the placements side by side, a column each."""
    dialog = QDialog(parent)
    dialog.setWindowTitle(tr("Places side by side"))
    plan = session.plan
    rows = compare(plan, session.scene)
    table = QTableWidget(len(COMPARE_TITLES), len(rows))
    table.setAccessibleName(tr("Places side by side"))
    table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
    table.setVerticalHeaderLabels([tr(one) for one in COMPARE_TITLES])
    table.horizontalHeader().hide()
    for column, row in enumerate(rows):
        for line, cell in enumerate(cells(plan, row)):
            table.setItem(line, column, QTableWidgetItem(manner().show(cell)))
    table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
    table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
    layout = QVBoxLayout(dialog)
    layout.addWidget(table)
    layout.addWidget(button(tr("Close"), dialog.accept))
    open_at(dialog, 640, 520)
    return dialog
