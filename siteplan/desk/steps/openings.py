"""Openings: by a click on a wall, or by building, wall and distance from its corner."""

from PySide6.QtWidgets import QVBoxLayout

from siteplan.desk import making, things
from siteplan.desk.forms.editors import Choice, Tick
from siteplan.desk.forms.walls import wall_options
from siteplan.desk.labels import kind_label
from siteplan.desk.making import OPENING_SIZES, Spot
from siteplan.desk.steps.base import (
    LengthField,
    StepPanel,
    ThingList,
    entry,
    labelled,
    side_by_side,
)
from siteplan.desk.text import size, tr
from siteplan.desk.tools.place import OnWallTool
from siteplan.plan import edits


class OpeningsPanel(StepPanel):
    """Draw every way by which exhaust can enter."""

    def build(self) -> None:
        """Make the panel's contents."""
        self.words(tr("Every door, window and vent counts: exhaust enters by any of them."))
        self.kind = "window"
        self.building: str | None = None
        self.wall = 0
        self.kinds = Choice([(one, kind_label(one)) for one in OPENING_SIZES], self._set_kind)
        self.kinds.show_value("window")
        self.column.addLayout(labelled(tr("Kind"), self.kinds))
        self.button(tr("Click its place on a wall"), self.click, main=True)
        self.heading(tr("Or by exact numbers"))
        self.buildings = Choice([], self._set_building)
        self.walls = Choice([], self._set_wall)
        # One under the other: a wall is told by its side and its length.
        self.column.addLayout(labelled(tr("Building"), self.buildings))
        self.column.addLayout(labelled(tr("Wall"), self.walls))
        self.offset_field = LengthField(self.session, tr("From its corner"), ("4'", "1.2 m"))
        self.width_field = LengthField(self.session, tr("Width"), ("3'", "0.9 m"))
        self.column.addLayout(
            side_by_side(
                labelled(tr("From its corner"), self.offset_field),
                labelled(tr("Width"), self.width_field),
            )
        )
        self.width_field.returnPressed.connect(self.add_typed)
        self.button(tr("Place it"), self.add_typed)
        self.complete_title = self.heading(tr("Every opening is drawn of"))
        self.complete = QVBoxLayout()
        self.complete.setSpacing(2)
        self.column.addLayout(self.complete)
        self._ticks: dict[str, Tick] = {}
        self.list_title = self.heading(tr("Drawn so far"))
        self.list = ThingList(self.session, tr("Openings"))
        self.column.addWidget(self.list)

    def _set_kind(self, value: object) -> None:
        self.kind = str(value)

    def _set_building(self, value: object) -> None:
        self.building = str(value)
        self.wall = 0
        self.refresh()

    def _set_wall(self, value: object) -> None:
        self.wall = value if isinstance(value, int) else 0

    def refresh(self) -> None:
        """Show the plan as it is now."""
        plan = self.session.plan
        if plan.building(self.building or "") is None:
            self.building = plan.buildings[0].id if plan.buildings else None
        self.buildings.set_options([(one.id, things.label(one)) for one in plan.buildings])
        self.buildings.show_value(self.building)
        chosen = plan.building(self.building or "")
        self.walls.set_options([] if chosen is None else wall_options(chosen))
        self.walls.show_value(self.wall)
        self._refresh_ticks()
        self.list_title.setVisible(bool(plan.openings))
        self.list.show_things(
            [
                entry(plan, one.id, f"{things.label_of(plan, one.building)}, {size(one.width_m)}")
                for one in plan.openings
            ]
        )

    def _refresh_ticks(self) -> None:
        lived = {one.id: one for one in self.session.plan.buildings if one.kind != "shed"}
        self.complete_title.setVisible(bool(lived))
        if list(lived) != list(self._ticks):
            for tick in self._ticks.values():
                tick.hide()
                self.complete.removeWidget(tick)
                tick.deleteLater()
            self._ticks = {key: self._tick(key) for key in lived}
        for key, one in lived.items():
            self._ticks[key].setText(things.label(one))
            self._ticks[key].show_value(one.openings_complete)

    def _tick(self, key: str) -> Tick:
        def commit(value: object) -> None:
            building = self.session.plan.building(key)
            if building is not None:
                new = edits.changed(building, openings_complete=bool(value))
                self.session.edit(tr("Openings complete"), lambda plan: edits.put(plan, new))

        tick = Tick(commit)
        self.complete.addWidget(tick)
        return tick

    def click(self) -> None:
        """Take the tool for placing on walls."""

        def made(spot: Spot) -> None:
            self.add(tr("Add opening"), lambda plan: making.add_opening(plan, self.kind, spot))

        width = OPENING_SIZES[self.kind][0]
        self.canvas.take_tool(OnWallTool(self.canvas, kind_label(self.kind), width, made))

    def add_typed(self) -> None:
        """Place an opening by the typed numbers."""
        if self.building is None:
            self.session.refused.emit(tr("Draw a building first."))
            return
        building = self.building
        offset = self.offset_field.length_m(zero=True)
        width = self.width_field.length_m() if offset is not None else None
        if offset is not None and width is not None:
            spot = Spot(building, self.wall, offset, width)
            self.add(tr("Add opening"), lambda plan: making.add_opening(plan, self.kind, spot))
