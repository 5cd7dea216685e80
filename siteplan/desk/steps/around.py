"""Around the house: fences, areas, roofs without a house, trees and fixed equipment."""

from collections.abc import Callable

from siteplan.desk import making
from siteplan.desk.labels import kind_label
from siteplan.desk.steps.absent import NoneHere
from siteplan.desk.steps.base import StepPanel, ThingList, entry
from siteplan.desk.text import tr
from siteplan.desk.tools.outline import Corners
from siteplan.desk.tools.place import OnWallTool, Spotted

LINES = ("fence", "wall", "hedge")
AREAS = ("deck", "driveway", "walk", "pool", "standing-water", "brush")
ROOFS = ("overhang", "canopy", "tent")
ON_GROUND = ("outdoor-unit", "gas-cylinder", "fuel-store", "service-drop")
ON_WALLS = ("gas-regulator", "gas-meter")
_FIXTURE_WIDTH_M = 0.3


class AroundPanel(StepPanel):
    """Draw what stands around the house."""

    def build(self) -> None:
        """Make the panel's contents."""
        self.heading(tr("Lines"))
        self.buttons([(kind_label(one), self._line(one)) for one in LINES], 3)
        self.heading(tr("Areas"))
        self.buttons([(kind_label(one), self._area(one)) for one in AREAS])
        self.heading(tr("Roofs without a house"))
        self.buttons([(kind_label(one), self._area(one)) for one in ROOFS], 3)
        self.heading(tr("Fixed equipment and trees"))
        entries = [(kind_label(one), self._on_wall(one)) for one in ON_WALLS]
        entries += [(kind_label(one), self._spot(one)) for one in ON_GROUND]
        entries.append((kind_label("tree"), self._tree))
        self.buttons(entries)
        self.heading(tr("Not there at all"))
        self.none_here = NoneHere(self.session)
        self.column.addWidget(self.none_here)
        self.list_title = self.heading(tr("Drawn so far"))
        self.list = ThingList(self.session, tr("Around the house"))
        self.column.addWidget(self.list)

    def refresh(self) -> None:
        """Show the plan as it is now."""
        plan = self.session.plan
        self.none_here.refresh()
        own = (*ON_GROUND, *ON_WALLS)
        keys = [one.id for one in plan.surroundings]
        keys += [one.id for one in plan.fixtures if one.kind in own]
        self.list_title.setVisible(bool(keys))
        self.list.show_things([entry(plan, key) for key in keys])

    def _line(self, kind: str) -> Callable[[], None]:
        def made(points: tuple[tuple[float, float], ...]) -> None:
            self.add(tr("Draw"), lambda plan: making.add_line(plan, kind, points))

        return lambda: self.canvas.take_tool(
            Corners(self.canvas, kind_label(kind), made, closed=False)
        )

    def _area(self, kind: str) -> Callable[[], None]:
        def made(points: tuple[tuple[float, float], ...]) -> None:
            self.add(tr("Draw"), lambda plan: making.add_area(plan, kind, points))

        return lambda: self.canvas.take_tool(Corners(self.canvas, kind_label(kind), made))

    def _on_wall(self, kind: str) -> Callable[[], None]:
        def made(spot: making.Spot) -> None:
            self.add(tr("Place"), lambda plan: making.add_fixture_on_wall(plan, kind, spot))
            self.canvas.take_tool()

        return lambda: self.canvas.take_tool(
            OnWallTool(self.canvas, kind_label(kind), _FIXTURE_WIDTH_M, made)
        )

    def _spot(self, kind: str) -> Callable[[], None]:
        def made(at: tuple[float, float]) -> None:
            self.add(tr("Place"), lambda plan: making.add_fixture(plan, kind, at))

        return lambda: self.canvas.take_tool(Spotted(self.canvas, kind_label(kind), made))

    def _tree(self) -> None:
        def made(at: tuple[float, float]) -> None:
            self.add(tr("Place"), lambda plan: making.add_tree(plan, at))

        self.canvas.take_tool(Spotted(self.canvas, kind_label("tree"), made))
