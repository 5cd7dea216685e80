"""Place things by one click: the generator, openings and fixtures on walls, trees; run cords."""

import math
from collections.abc import Callable
from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtGui import QMouseEvent, QPainter
from shapely import Polygon

from siteplan.desk.canvas import snap
from siteplan.desk.canvas.frame import Frame, Point
from siteplan.desk.canvas.shapes import nearest_wall
from siteplan.desk.making import NEW_MACHINE, Spot
from siteplan.desk.palette import Palette
from siteplan.desk.text import length, tr
from siteplan.desk.tools.base import Tool, draw_line, draw_tag, span
from siteplan.geometry.clearance import footprint
from siteplan.plan.rings import wall_length_m

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas

_WALL_REACH_PX = 60.0


class OnWallTool(Tool):
    """Place an opening or a fixture on the wall nearest the pointer."""

    name = "on-wall"

    def __init__(
        self, canvas: "Canvas", what: str, width_m: float, made: Callable[[Spot], None]
    ) -> None:
        super().__init__(canvas)
        self.what, self._width_m, self._made = what, width_m, made
        self._spot: Spot | None = None
        self._at: Point | None = None

    def hint(self) -> str:
        """Return one line that says what to do next."""
        return tr("{what}: click its place on a wall; Escape ends.", what=self.what)

    def move(self, at: Point, event: QMouseEvent) -> None:
        """Show where it would go."""
        self._at = at
        reach = _WALL_REACH_PX / self.canvas.frame.px_per_m
        found = nearest_wall(self.session.plan, at, reach)
        if found is None:
            self._spot = None
        else:
            building, wall, along, _ = found
            long = wall_length_m(building.outline, wall)
            near = min(max(0.0, along - self._width_m / 2), max(0.0, long - self._width_m))
            near = min(snap.fine(near, self.session.manner.system), max(0.0, long - self._width_m))
            self._spot = Spot(building.id, wall, max(0.0, near), min(self._width_m, long))
        self.canvas.hand.update()

    def press(self, at: Point, event: QMouseEvent) -> None:
        """Place it; the tool stays in the hand for the next one."""
        self.move(at, event)
        if self._spot is None:
            self.session.refused.emit(tr("Click nearer to a wall."))
        else:
            self._made(self._spot)

    def paint(self, painter: QPainter, frame: Frame, palette: Palette) -> None:
        """Paint where it would go, with the distance from the corner."""
        if self._spot is None:
            return
        ends = self._spot.ends(self.session.plan)
        if ends:
            pixels = [frame.to_px(one) for one in ends[1:]]
            draw_line(painter, [frame.to_px(ends[0]), pixels[0]], palette)
            draw_line(painter, pixels, palette)
            draw_tag(painter, pixels[0], span(ends[0], ends[1]), palette)


class Spotted(Tool):
    """Place something anywhere by one click."""

    name = "spot"

    def __init__(self, canvas: "Canvas", what: str, made: Callable[[Point], None]) -> None:
        super().__init__(canvas)
        self.what, self._made = what, made
        self._at: Point | None = None

    def hint(self) -> str:
        """Return one line that says what to do next."""
        return tr("{what}: click its place.", what=self.what)

    def move(self, at: Point, event: QMouseEvent) -> None:
        """Show where it would go."""
        self._at = snap.place(at, self.session.manner.system)
        self.canvas.hand.update()

    def press(self, at: Point, event: QMouseEvent) -> None:
        """Place it."""
        self.canvas.take_tool()
        self._made(snap.place(at, self.session.manner.system))

    def paint(self, painter: QPainter, frame: Frame, palette: Palette) -> None:
        """Paint a dot where it would go."""
        if self._at is not None:
            draw_line(painter, [frame.to_px(self._at)], palette)


class Stand(Spotted):
    """Stand the generator."""

    name = "generator"

    def paint(self, painter: QPainter, frame: Frame, palette: Palette) -> None:
        """Paint the machine's frame at the pointer."""
        if self._at is None:
            return
        machine = self.session.plan.machine or NEW_MACHINE
        ring: Polygon = footprint(self._at, machine.width_m, machine.length_m, 0.0)
        pixels = [frame.to_px((x, y)) for x, y in ring.exterior.coords[:-1]]
        draw_line(painter, pixels, palette, closed=True)


class RunCord(Tool):
    """Run a cord from the machine: click the bends, end at an inlet, outlet or appliance."""

    name = "cord"

    def __init__(
        self, canvas: "Canvas", made: Callable[[tuple[Point, ...], str | None], None]
    ) -> None:
        super().__init__(canvas)
        self._made = made
        self.points: tuple[Point, ...] = ()
        self._at: Point | None = None

    def hint(self) -> str:
        """Return one line that says what to do next."""
        return tr("Cord: click its bends; click an inlet or outlet, or press Enter, to end it.")

    def move(self, at: Point, event: QMouseEvent) -> None:
        """Show the cord so far."""
        self._at = snap.place(at, self.session.manner.system)
        self.canvas.hand.update()

    def press(self, at: Point, event: QMouseEvent) -> None:
        """Bend, or end at a thing that takes a cord."""
        ends = {one.id for one in self.session.plan.fixtures}
        ends |= {one.id for one in self.session.plan.loads}
        key = self.canvas.picker.at(at, self.canvas.tolerance_m, among=ends)
        if key is not None:
            self._end(self.points, key)
        else:
            self.points = (*self.points, snap.place(at, self.session.manner.system))
            self.refresh()

    def double(self, at: Point, event: QMouseEvent) -> None:
        """End here."""
        self.finish()

    def finish(self) -> None:
        """End at the last bend."""
        if self.points:
            self._end(self.points, None)

    def _end(self, points: tuple[Point, ...], key: str | None) -> None:
        self.points = ()
        self.canvas.take_tool()
        self._made(points, key)

    def paint(self, painter: QPainter, frame: Frame, palette: Palette) -> None:
        """Paint the cord in the making."""
        placement = self.session.plan.placement
        if placement is None or self._at is None:
            return
        points = (placement.at, *self.points, self._at)
        draw_line(painter, [frame.to_px(one) for one in points], palette)
        words = span(points[-2], points[-1])
        if self.points:
            whole = sum(math.dist(*leg) for leg in pairwise(points))
            words = tr("{leg}; {whole} in all", leg=words, whole=length(whole))
        draw_tag(painter, frame.to_px(self._at), words, palette)
