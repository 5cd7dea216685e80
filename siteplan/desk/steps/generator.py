"""The generator: its size and exhaust, where it stands, and other places to compare."""

from typing import TYPE_CHECKING

from siteplan.desk import making, things
from siteplan.desk.forms.editors import Choice
from siteplan.desk.forms.form import PartForm
from siteplan.desk.session import Session
from siteplan.desk.steps.base import StepPanel, ThingList, entry
from siteplan.desk.steps.places import Places
from siteplan.desk.text import length, tr
from siteplan.desk.tools.place import Stand
from siteplan.plan import edits
from siteplan.plan.machine import Placement
from siteplan.plan.starts import machine_starts

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas
    from siteplan.desk.window import Window

_QUICK = ("name", "width_m", "length_m", "exhaust_side", "fuel", "rated_w", "starting_w", "neutral")


class GeneratorPanel(StepPanel):
    """Describe the machine and stand it."""

    def __init__(self, session: Session, canvas: "Canvas", window: "Window") -> None:
        self._window = window
        super().__init__(session, canvas)

    def build(self) -> None:
        """Make the panel's contents."""
        self.intro = self.words("")
        self.stand = self.button(tr("Click where it stands"), self.click, main=True)
        self.another = self.button(tr("Compare another place"), self.click_another)
        self.finding = Places(self.session, self.canvas, self._window.files.dialogs)
        self.column.addWidget(self.finding)
        self.places_title = self.heading(tr("Places"))
        self.places = ThingList(self.session, tr("Places"))
        self.column.addWidget(self.places)
        self.review_this = self.button(tr("Review the chosen place"), self.choose)
        self.heading(tr("The machine"))
        self.kind_note = self.words(tr("Begin with the kind that is most like yours."))
        self.kinds = Choice(
            [(one.id, tr(one.title)) for one in machine_starts().values()], self._describe
        )
        self.kinds.setPlaceholderText(tr("Kind of generator"))
        self.column.addWidget(self.kinds)
        self.kinds.setAccessibleName(tr("Kind of generator"))
        self.form = PartForm(self.session, things.MACHINE, _QUICK)
        self.column.addWidget(self.form)
        self.all = self.button(
            tr("All data of the machine"), lambda: self.session.select(things.MACHINE)
        )

    def refresh(self) -> None:
        """Show the plan as it is now."""
        plan = self.session.plan
        has = plan.machine is not None
        self.form.setVisible(has)
        self.all.setVisible(has)
        self.kind_note.setVisible(not has)
        self.kinds.setVisible(not has)
        if not has:
            self.kinds.show_value(None)
        standing = plan.placement is not None
        self.stand.setText(tr("Move it by a click") if standing else tr("Click where it stands"))
        self.another.setVisible(standing)
        several = len(plan.placements) > 1
        self.places_title.setVisible(standing)
        self.review_this.setVisible(several and self._chosen() is not None)
        if not standing:
            self.intro.setText(tr("Stand it in the open, far from every door, window and vent."))
        else:
            self.intro.setText(tr("Drag it on the drawing; the findings follow your hand."))
        self.places.show_things([entry(plan, one.id, self._detail(one)) for one in plan.placements])
        self.form.refresh()
        self.finding.refresh()

    def _detail(self, placement: Placement) -> str:
        reviewed = placement is self.session.plan.placement
        place = tr("{x} east, {y} north", x=length(placement.at[0]), y=length(placement.at[1]))
        return tr("under review, {place}", place=place) if reviewed else place

    def _chosen(self) -> str | None:
        current = self.session.plan.placement
        for key in self.session.selection:
            part = things.get(self.session.plan, key)
            if isinstance(part, Placement) and part is not current:
                return key
        return None

    def choose(self) -> None:
        """Take the selected placement under review."""
        key = self._chosen()
        if key is not None:
            self.session.edit(
                tr("Review another place"), lambda plan: edits.with_fields(plan, chosen=key)
            )

    def _describe(self, name: object) -> None:
        start = machine_starts()[str(name)]
        machine = edits.changed(start.machine, name=tr(start.title))
        self.session.edit(
            tr("Describe the machine"), lambda plan: edits.with_fields(plan, machine=machine)
        )

    def click(self) -> None:
        """Take the tool for standing the machine."""

        def made(at: tuple[float, float]) -> None:
            self.add(tr("Stand the generator"), lambda plan: making.stand_machine(plan, at))

        self.canvas.take_tool(Stand(self.canvas, tr("Generator"), made))

    def click_another(self) -> None:
        """Take the tool for standing it at another place as well."""

        def made(at: tuple[float, float]) -> None:
            self.add(tr("Another place"), lambda plan: making.add_placement(plan, at))

        self.canvas.take_tool(Stand(self.canvas, tr("Generator"), made))
