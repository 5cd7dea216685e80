"""Typing what was measured: a lot by bearings and distances, and a place by tapes."""

from collections.abc import Callable

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QGridLayout,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from siteplan.desk.session import Session
from siteplan.desk.steps.base import LengthField, button
from siteplan.desk.text import manner, say, tr, why
from siteplan.desk.widgets import open_at, plain_label
from siteplan.errors import SiteplanError
from siteplan.geometry.arrays import XY
from siteplan.geometry.survey import Leg, NoTraverseError, traverse
from siteplan.plan import Plan
from siteplan.suggest.placing import corner_by_tapes, lot_by_bearings, stand_by_tapes
from siteplan.suggest.tapes import corner_text, fixed_corners
from siteplan.units import parse_length
from siteplan.words import Quantity

_ROWS = 12
_TAPES = 3
# A deed that closes worse than 1 in 1000 is likely misread (common practice, no source).
_WORTH_A_LOOK = 1000.0


class BearingsDialog(QDialog):
    """A table of bearings and distances, with how well they close told as they are typed."""

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._session = session
        self.setWindowTitle(tr("Boundary by bearings"))
        self.table = QTableWidget(_ROWS, 2)
        self.table.setHorizontalHeaderLabels([tr("Bearing"), tr("Distance")])
        self.table.setAccessibleName(tr("Boundary by bearings"))
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.told = plain_label(wrap=True)
        self.spread = QCheckBox(tr("Spread the gap over the legs by their length"))
        layout = QVBoxLayout(self)
        layout.addWidget(
            plain_label(tr("As the deed has it, leg by leg: N26°10'E, S 75-25-30 E or 153.5."),
                        muted=True, wrap=True)
        )  # fmt: skip
        for one in (self.table, self.told, self.spread):
            layout.addWidget(one)
        layout.addWidget(button(tr("Draw the lot"), self.draw, main=True))
        layout.addWidget(button(tr("Cancel"), self.reject))
        self.table.itemChanged.connect(self._tell)
        open_at(self, 460, 560)
        self._fill()

    def _fill(self) -> None:
        lot = self._session.plan.lot
        for row, leg in enumerate(() if lot is None else lot.legs[:_ROWS]):
            away = manner().show(Quantity(leg.length_m, "length", "near"))
            self.table.setItem(row, 0, QTableWidgetItem(f"{leg.azimuth_deg:g}"))
            self.table.setItem(row, 1, QTableWidgetItem(away))

    def legs(self) -> list[Leg]:
        """Return the legs typed so far.

        Raises
        ------
        SiteplanError
            If a length cannot be read.
        """
        found: list[Leg] = []
        for row in range(self.table.rowCount()):
            cells = [self.table.item(row, column) for column in (0, 1)]
            texts = ["" if cell is None else cell.text().strip() for cell in cells]
            if all(texts):
                found.append((texts[0], parse_length(texts[1], manner().system)))
        return found

    def _tell(self) -> None:
        try:
            found = traverse(self.legs())
        except NoTraverseError:
            self.told.setText("")
            return
        except SiteplanError as error:
            self.told.setText(why(error))
            return
        gap = Quantity(found.closure_m, "length", "up")
        if found.precision == float("inf"):
            said = tr("The legs close.")
        else:
            said = tr("The legs fail to close by {gap}, 1 in {ratio}.",
                      gap=gap, ratio=round(found.precision))  # fmt: skip
        if found.precision < _WORTH_A_LOOK:
            said += " " + tr("Look for a misread leg before you spread the gap.")
        self.told.setText(said)

    def draw(self) -> None:
        """Draw the lot as typed."""
        balance = self.spread.isChecked()
        try:
            legs = self.legs()
            done = self._session.edit(
                tr("Draw the lot"),
                lambda plan: lot_by_bearings(plan, legs, balance=balance)[0],
            )
        except SiteplanError as error:
            self.told.setText(why(error))
            return
        if done:
            self.accept()


class TapesDialog(QDialog):
    """Two or three corners and what a tape reads from each; puts a thing where they meet."""

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._session = session
        self.setWindowTitle(tr("Place by tape"))
        self._targets = targets(session.plan)
        self._corners = corners(session.plan)
        self.target = QComboBox()
        self.target.addItems([name for name, _ in self._targets])
        self.target.setAccessibleName(tr("What is placed"))
        layout = QVBoxLayout(self)
        layout.addWidget(self.target)
        grid = QGridLayout()
        self.rows: list[tuple[QComboBox, LengthField]] = []
        for row in range(_TAPES):
            corner, tape = QComboBox(), LengthField(session, tr("Tape {count}", count=row + 1))
            corner.addItems([name for name, _ in self._corners])
            corner.setCurrentIndex(min(row, len(self._corners) - 1))
            corner.setAccessibleName(tr("From corner"))
            tape.setMinimumWidth(8 * self.fontMetrics().averageCharWidth() + 24)
            grid.addWidget(corner, row, 0)
            grid.addWidget(tape, row, 1)
            self.rows.append((corner, tape))
        layout.addLayout(grid)
        self.told = plain_label(
            tr("Two tapes fix a place; a third one, if given, checks them."), muted=True, wrap=True
        )
        layout.addWidget(self.told)
        layout.addWidget(button(tr("Place it"), self.place, main=True))
        layout.addWidget(button(tr("Cancel"), self.reject))

    def place(self) -> None:
        """Put the thing where the tapes meet."""
        from_xy: list[XY] = []
        tapes: list[float] = []
        for corner, field in self.rows:
            if field.text().strip():
                length = field.length_m()
                if length is None:
                    return
                from_xy.append(self._corners[corner.currentIndex()][1])
                tapes.append(length)
        put = self._targets[self.target.currentIndex()][1]
        misfit = 0.0

        def change(plan: Plan) -> Plan:
            nonlocal misfit
            found = put(plan, from_xy, tapes)
            misfit = found[1]
            return found[0]

        try:
            done = self._session.edit(tr("Place by tape"), change)
        except SiteplanError as error:
            self.told.setText(why(error))
            return
        if done:
            if len(tapes) > 2:
                gap = Quantity(misfit, "length", "up")
                self._session.refused.emit(tr("The tapes agree to within {gap}.", gap=gap))
            self.accept()


_Put = Callable[[Plan, list[XY], list[float]], tuple[Plan, float]]


def targets(plan: Plan) -> list[tuple[str, _Put]]:
    """Return what can be put where tapes meet: the machine, and corners of buildings and lot."""
    found: list[tuple[str, _Put]] = []
    if plan.placement is not None:
        found.append((tr("Generator"), _machine))
    for building, index in fixed_corners(plan):
        found.append((say(corner_text(plan, building, index)), _corner(building.id, index)))
    if plan.lot is not None:
        for index in range(len(plan.lot.outline)):
            name = tr("Corner {number} of the lot", number=index + 1)
            found.append((name, _corner(None, index)))
    return found


def corners(plan: Plan) -> list[tuple[str, XY]]:
    """Return the fixed corners that a tape can start from."""
    found = [
        (say(corner_text(plan, building, index)), building.outline[index])
        for building, index in fixed_corners(plan)
    ]
    outline = () if plan.lot is None else plan.lot.outline
    for index, point in enumerate(outline):
        found.append((tr("Corner {number} of the lot", number=index + 1), point))
    return found


def _machine(plan: Plan, from_xy: list[XY], tapes_m: list[float]) -> tuple[Plan, float]:
    found = stand_by_tapes(plan, from_xy, tapes_m)
    return found.plan, found.fix.misfit_m


def _corner(thing_id: str | None, index: int) -> _Put:
    def put(plan: Plan, from_xy: list[XY], tapes_m: list[float]) -> tuple[Plan, float]:
        found = corner_by_tapes(plan, thing_id, index, from_xy, tapes_m)
        return found.plan, found.fix.misfit_m

    return put
