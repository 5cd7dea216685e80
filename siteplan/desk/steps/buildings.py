"""Buildings: by dimensions as a rectangle, L or U, or by clicking corners."""

from siteplan.desk import making
from siteplan.desk.forms.editors import Choice
from siteplan.desk.forms.outline import size_of
from siteplan.desk.labels import kind_label
from siteplan.desk.steps.base import (
    LengthField,
    StepPanel,
    ThingList,
    entry,
    labelled,
    side_by_side,
)
from siteplan.desk.text import size, tr
from siteplan.desk.tools.outline import Corners

KINDS = (
    "dwelling",
    "attached-garage",
    "detached-garage",
    "carport",
    "covered-porch",
    "shed",
    "other",
)


class BuildingsPanel(StepPanel):
    """Draw the buildings, the neighbours' too."""

    def build(self) -> None:
        """Make the panel's contents."""
        self.words(tr("Draw the house and everything roofed, the neighbours' too."))
        self.kind: str = "dwelling"
        self.shape: making.Outline = "rectangle"
        self.kinds = Choice([(one, kind_label(one)) for one in KINDS], self._set_kind)
        self.shapes = Choice(
            [("rectangle", tr("Rectangle")), ("L", tr("L shape")), ("U", tr("U shape"))],
            self._set_shape,
        )
        self.kinds.show_value("dwelling")
        self.shapes.show_value("rectangle")
        self.column.addLayout(
            side_by_side(labelled(tr("Kind"), self.kinds), labelled(tr("Outline"), self.shapes))
        )
        self.width_field = LengthField(self.session, tr("Width"), ("40'", "12 m"))
        self.depth_field = LengthField(self.session, tr("Depth"), ("28'", "8.5 m"))
        self.column.addLayout(
            side_by_side(
                labelled(tr("Width"), self.width_field), labelled(tr("Depth"), self.depth_field)
            )
        )
        self.width_field.returnPressed.connect(self.depth_field.setFocus)
        self.depth_field.returnPressed.connect(self.add_typed)
        self.button(tr("Add by these dimensions"), self.add_typed, main=True)
        self.button(tr("Click its corners"), self.draw_corners)
        self.list = ThingList(self.session, tr("Buildings"))
        self.column.addWidget(self.list)

    def _set_kind(self, value: object) -> None:
        self.kind = str(value)

    def _set_shape(self, value: object) -> None:
        self.shape = "L" if value == "L" else "U" if value == "U" else "rectangle"

    def refresh(self) -> None:
        """Show the plan as it is now."""
        plan = self.session.plan
        self.list.show_things(
            [
                entry(plan, one.id, f"{size(size_of(one)[0])} × {size(size_of(one)[1])}")
                for one in plan.buildings
            ]
        )

    def add_typed(self) -> None:
        """Add a building of the typed size."""
        width = self.width_field.length_m()
        depth = self.depth_field.length_m() if width is not None else None
        if width is None or depth is None:
            return
        at = making.building_place(self.session.plan, self.kind, width, depth)
        outline = making.shape_outline(self.shape, width, depth, at)
        self.add(tr("Add building"), lambda plan: making.add_building(plan, self.kind, outline))
        self.canvas.show_if_hidden(outline)

    def draw_corners(self) -> None:
        """Take the tool for clicking corners."""

        def made(points: tuple[tuple[float, float], ...]) -> None:
            self.add(tr("Add building"), lambda plan: making.add_building(plan, self.kind, points))

        self.canvas.take_tool(Corners(self.canvas, kind_label(self.kind), made))
