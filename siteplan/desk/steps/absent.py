"""What is not there at all: the user says so, and the rules that ask for it are answered."""

from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from siteplan.desk.flow import WrappingTick
from siteplan.desk.session import Session
from siteplan.desk.text import tr
from siteplan.plan import Plan
from siteplan.plan.edits import with_fields
from siteplan.rules.findings import Met, Unjudged
from siteplan.scene.setting import INTAKE_KINDS

# What can be said to be absent, and the rules that ask for it.
NONE_RULES: dict[str, tuple[str, ...]] = {
    "pool": ("pool",),
    "standing-water": ("standing-water",),
    "deck": ("deck",),
    "tent": ("tent",),
    "driveway": ("vehicle-path",),
    "walk": ("walk-kept-free",),
    "brush": ("brush",),
    "tree": ("tree-overhead",),
    "gas": ("gas-regulator", "gas-regulator-intake"),
    "cylinder": ("gas-cylinder", "gas-cylinder-opening"),
    "unit": ("outdoor-unit",),
    "drop": ("service-drop", "service-drop-opening"),
    "intake": ("separation-intake",),
    "well": ("window-well",),
    "inlet": (
        "transfer-equipment",
        "neutral-bond",
        "shared-neutral",
        "inlet-disconnect",
        "inlet-enclosure",
        "inlet-sign",
        "feeder-size",
        "transfer-size",
        "electrician",
        "permit",
    ),
    "wall-outlet": ("wall-outlet-gfci",),
}
# The kinds of thing that are drawn for each, where the kind has another name.
NONE_KINDS: dict[str, frozenset[str]] = {
    "brush": frozenset({"brush", "hedge"}),
    "gas": frozenset({"gas-regulator", "gas-meter"}),
    "cylinder": frozenset({"gas-cylinder"}),
    "unit": frozenset({"outdoor-unit"}),
    "drop": frozenset({"service-drop"}),
    "intake": INTAKE_KINDS,
    "well": frozenset({"window-well"}),
    "inlet": frozenset({"power-inlet"}),
    "wall-outlet": frozenset({"through-wall-outlet"}),
}
NONE_LABELS: dict[str, str] = {
    "pool": "No pool",
    "standing-water": "No standing water, even in heavy rain",
    "deck": "No deck",
    "tent": "No tent or membrane structure",
    "driveway": "No driveway",
    "walk": "No walk",
    "brush": "No brush or hedge",
    "tree": "No tree",
    "gas": "No gas to the house",
    "cylinder": "No gas cylinder",
    "unit": "No air-conditioner outdoor unit",
    "drop": "No overhead service conductors",
    "intake": "No air intake, room air conditioner or cooler",
    "well": "No window well",
    "inlet": "No power inlet",
    "wall-outlet": "No through-wall outlet",
}


class NoneHere(QWidget):
    """A tick for each thing that is not drawn: it is not there."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        self.boxes: dict[str, QCheckBox] = {}
        for name, words in NONE_LABELS.items():
            box = WrappingTick(tr(words))
            box.clicked.connect(self._state)
            self.boxes[name] = box
            column.addWidget(box)

    def refresh(self) -> None:
        """Show a tick for all that is not drawn, set where it is stated to be absent."""
        review, stated = self._session.review, self._session.plan.none_here
        outcomes: list[Unjudged | Met] = [one for one in review.unjudged if one.not_drawn]
        # A statement that is followed is met with nothing checked.
        outcomes += [one for one in review.met if one.checked == 0 and one.rule in stated]
        asked = {one.rule for one in outcomes}
        for name, box in self.boxes.items():
            asks = any(rule in asked for rule in NONE_RULES[name])
            box.setVisible(asks or self._not_yet(name))
            box.setChecked(all(rule in stated for rule in NONE_RULES[name]))

    def _not_yet(self, name: str) -> bool:
        """Whether a thing is not drawn, on a plan where no generator stands that asks for it."""
        plan = self._session.plan
        if plan.machine is not None and plan.placement is not None:
            return False
        things = (*plan.surroundings, *plan.fixtures, *plan.openings)
        return not {one.kind for one in things} & NONE_KINDS.get(name, frozenset({name}))

    def _state(self) -> None:
        stated = tuple(
            rule for name, box in self.boxes.items() if box.isChecked() for rule in NONE_RULES[name]
        )

        def change(plan: Plan) -> Plan:
            return with_fields(plan, none_here=stated)

        self._session.edit(tr("Say what is not there"), change)
