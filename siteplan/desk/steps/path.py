"""The power path: inlet, panel and outlets, transfer equipment, and the cords."""

from collections.abc import Callable

from siteplan.desk import making, things
from siteplan.desk.forms.form import PartForm
from siteplan.desk.labels import kind_label
from siteplan.desk.making import PATH_FIXTURES
from siteplan.desk.steps.base import StepPanel, ThingList, entry
from siteplan.desk.steps.power_views import Cards, buy_lines, cord_card, part_lines, way_card
from siteplan.desk.text import length, say, tr
from siteplan.desk.tools.place import OnWallTool, RunCord
from siteplan.desk.widgets import plain_label
from siteplan.plan import edits
from siteplan.plan.machine import Cord
from siteplan.rules import power_report
from siteplan.rules.power.report import PowerReport

_FIXTURE_WIDTH_M = 0.3


class PathPanel(StepPanel):
    """Run the power from the machine to what needs it."""

    def build(self) -> None:
        """Make the panel's contents."""
        self.words(tr("How the power gets in: an inlet with transfer equipment, or cords alone."))
        self.heading(tr("On the wall"))
        self.buttons([(kind_label(one), self._on_wall(one)) for one in PATH_FIXTURES])
        self.fixtures = ThingList(self.session, tr("On the wall"))
        self.column.addWidget(self.fixtures)
        self.heading(tr("Cords"))
        self.button(tr("Run a cord"), self.run_cord, main=True)
        self.cords = ThingList(self.session, tr("Cords"))
        self.column.addWidget(self.cords)
        self.route = self.button(tr("Lead it the shortest way round"), self.route_it)
        self.figures = Cards()
        self.column.addWidget(self.figures)
        self.heading(tr("Transfer equipment"))
        self.describe = self.button(tr("Describe it"), self._begin)
        self.form = PartForm(
            self.session,
            things.TRANSFER,
            ("kind", "switches_neutral", "by_licensed_electrician", "permit"),
        )
        self.column.addWidget(self.form)
        self.all = self.button(
            tr("All data of the transfer equipment"),
            lambda: self.session.select(things.TRANSFER),
        )
        self.heading(tr("Ways to bring the power in"))
        self.assumed = self.words("")
        self.ways = Cards()
        self.column.addWidget(self.ways)
        self.parts_heading = self.heading(tr("Parts for the way planned"))
        self.parts = plain_label("", wrap=True)
        self.column.addWidget(self.parts)
        self.session.selection_changed.connect(self._follow)

    def refresh(self) -> None:
        """Show the plan as it is now."""
        plan = self.session.plan
        self.fixtures.show_things(
            [entry(plan, one.id) for one in plan.fixtures if one.kind in PATH_FIXTURES]
        )
        cords = plan.placement.cords if plan.placement else ()
        self.cords.show_things([entry(plan, one.id, self._detail(one)) for one in cords])
        has = plan.transfer is not None
        self.describe.setVisible(not has)
        self.form.setVisible(has)
        self.all.setVisible(has)
        self.form.refresh()
        self._follow()
        scene = self.session.scene
        if scene is not None and scene.plan is plan:
            self._show_report(power_report(scene))

    def _show_report(self, report: PowerReport) -> None:
        cards = [cord_card(row) for row in report.cords]
        # Before a cord is run, the one that would lead to the house is told.
        cards = cards or [(tr("Which cord?"), tuple(buy_lines(one))) for one in report.buys]
        self.figures.show_cards(cards)
        found = report.comparison
        self.ways.show_cards(
            [way_card(one, chosen=one.way.kind == report.chosen) for one in found.ways]
        )
        self.assumed.setText(" ".join(say(one) for one in found.assumed))
        self.assumed.setVisible(bool(found.assumed))
        self.parts.setText("\n".join(part_lines(report)))
        self.parts_heading.setVisible(bool(report.parts))

    def _follow(self) -> None:
        """Offer the shortest way for a selected cord that was led by hand."""
        self.route.setVisible(self._led_by_hand() is not None)

    def _led_by_hand(self) -> Cord | None:
        placement = self.session.plan.placement
        cords = () if placement is None else placement.cords
        return next(
            (
                one
                for one in cords
                if one.id in self.session.selection and (one.waypoints or one.routing == "drawn")
            ),
            None,
        )

    def route_it(self) -> None:
        """Lead the selected cord the shortest way round, its bends forgotten."""
        cord = self._led_by_hand()
        if cord is None:
            return
        led = edits.changed(cord, waypoints=(), routing="routed")
        self.session.edit(
            tr("Lead it the shortest way round"), lambda plan: edits.put_cord(plan, led)
        )

    def _detail(self, cord: Cord) -> str:
        if cord.to is not None:
            return tr("to {what}", what=things.label_of(self.session.plan, cord.to))
        if cord.pieces_m:
            return length(sum(cord.pieces_m))
        return tr("free end")

    def _begin(self) -> None:
        self.session.edit(tr("Transfer equipment"), lambda plan: making.set_transfer(plan)[0])

    def _on_wall(self, kind: str) -> Callable[[], None]:
        def made(spot: making.Spot) -> None:
            self.add(tr("Place"), lambda plan: making.add_fixture_on_wall(plan, kind, spot))
            self.canvas.take_tool()

        return lambda: self.canvas.take_tool(
            OnWallTool(self.canvas, kind_label(kind), _FIXTURE_WIDTH_M, made)
        )

    def run_cord(self) -> None:
        """Take the tool for running a cord."""
        if self.session.plan.placement is None:
            self.session.refused.emit(tr("Stand the generator first."))
            return

        def made(points: tuple[tuple[float, float], ...], to: str | None) -> None:
            self.add(tr("Run a cord"), lambda plan: making.add_cord(plan, points, to))

        self.canvas.take_tool(RunCord(self.canvas, made))
