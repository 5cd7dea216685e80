"""Draw by clicking corners: the lot, a building, an area, a fence; lengths may be typed."""

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter

from siteplan.desk.canvas import snap
from siteplan.desk.canvas.frame import Frame, Point
from siteplan.desk.palette import Palette
from siteplan.desk.text import tr, why
from siteplan.desk.tools.base import Tool, draw_guides, draw_line, draw_tag, span
from siteplan.errors import UnitTextError
from siteplan.units import parse_length

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas

Made = Callable[[tuple[Point, ...]], None]


class Corners(Tool):
    """Click corner after corner; the first corner or Enter closes, a number sets a length."""

    name = "corners"

    def __init__(self, canvas: "Canvas", what: str, made: Made, *, closed: bool = True) -> None:
        super().__init__(canvas)
        self.what, self._made, self._closed = what, made, closed
        self.points: tuple[Point, ...] = ()
        self._next = snap.Snapped((0.0, 0.0))
        self._seen = False

    @property
    def _least(self) -> int:
        return 3 if self._closed else 2

    def hint(self) -> str:
        """Return one line that says what to do next."""
        if not self.points:
            return tr("{what}: click the first corner.", what=self.what)
        if len(self.points) < self._least:
            return tr("{what}: click the next corner, or type its length.", what=self.what)
        return tr("{what}: go on, or press Enter to finish.", what=self.what)

    def press(self, at: Point, event: QMouseEvent) -> None:
        """Set a corner."""
        self.move(at, event)
        if self.points and self._closes(self._next.at):
            self.finish()
        elif not self.points or math.dist(self.points[-1], self._next.at) > 1e-3:
            self.points = (*self.points, self._next.at)
            self.refresh()

    def _closes(self, at: Point) -> bool:
        near = math.dist(at, self.points[0]) <= self.canvas.tolerance_m
        return self._closed and len(self.points) >= self._least and near

    def double(self, at: Point, event: QMouseEvent) -> None:
        """Finish: the first press of the two has set the last corner."""
        self.finish()

    def move(self, at: Point, event: QMouseEvent) -> None:
        """Show where the next corner would go."""
        self._seen = True
        if event.modifiers() & Qt.KeyboardModifier.AltModifier:
            self._next = snap.Snapped(at)
        else:
            self._next = snap.corner(
                at,
                self.points,
                self.session.plan,
                self.canvas.tolerance_m,
                self.session.manner.system,
            )
        self.canvas.hand.update()

    def takes_typing(self) -> bool:
        """Say yes once there is a first corner."""
        return bool(self.points)

    def typed(self, words: str) -> bool:
        """Set the next corner at a typed length in the direction of the pointer."""
        try:
            long = parse_length(words, self.session.manner.system)
        except UnitTextError as error:
            self.session.refused.emit(why(error))
            return False
        last, to = self.points[-1], self._next.at
        gap = math.dist(last, to)
        if gap < 1e-9 or long <= 0:
            return False
        at = (last[0] + (to[0] - last[0]) * long / gap, last[1] + (to[1] - last[1]) * long / gap)
        self.points = (*self.points, at)
        self.refresh()
        return True

    def key(self, event: QKeyEvent) -> bool:
        """Backspace takes the last corner back."""
        if event.key() == Qt.Key.Key_Backspace and self.points:
            self.points = self.points[:-1]
            self.refresh()
            return True
        return super().key(event)

    def finish(self) -> None:
        """Make the thing, if there are corners enough."""
        if len(self.points) >= self._least:
            points, self.points = self.points, ()
            self.canvas.take_tool()
            self._made(points)

    def cancel(self) -> None:
        """Throw the corners away, or put the tool down."""
        if self.points:
            self.points = ()
            self.refresh()
        else:
            self.canvas.take_tool()

    def paint(self, painter: QPainter, frame: Frame, palette: Palette) -> None:
        """Paint the outline in the making with the length of the open side."""
        if not self._seen:
            return
        draw_guides(painter, self._next.guides, frame, palette)
        pixels = [frame.to_px(one) for one in (*self.points, self._next.at)]
        draw_line(painter, pixels, palette, closed=self._closed and len(self.points) > 1)
        if self.points:
            draw_tag(painter, pixels[-1], span(self.points[-1], self._next.at), palette)


class Measure(Tool):
    """Measure between any two places."""

    name = "measure"

    def __init__(self, canvas: "Canvas") -> None:
        super().__init__(canvas)
        self.start: Point | None = None
        self.end: Point | None = None
        self._fixed = False

    def hint(self) -> str:
        """Return one line that says what to do next."""
        if self.start is None:
            return tr("Measure: click the first place.")
        return tr("Measure: click the second place; Escape ends.")

    def press(self, at: Point, event: QMouseEvent) -> None:
        """Set one end."""
        at = self._place(at)
        if self.start is None or self._fixed:
            self.start, self.end, self._fixed = at, at, False
        else:
            self.end, self._fixed = at, True
        self.refresh()

    def _place(self, at: Point) -> Point:
        known = snap.known_corners(self.session.plan)
        return snap.nearest(at, known, self.canvas.tolerance_m) or at

    def move(self, at: Point, event: QMouseEvent) -> None:
        """Show the length so far."""
        if self.start is not None and not self._fixed:
            self.end = self._place(at)
            self.canvas.hand.update()

    def measured(self) -> str:
        """Return the length as text, or nothing."""
        return "" if self.start is None or self.end is None else span(self.start, self.end)

    def paint(self, painter: QPainter, frame: Frame, palette: Palette) -> None:
        """Paint the line and its length."""
        if self.start is None or self.end is None:
            return
        pixels = [frame.to_px(self.start), frame.to_px(self.end)]
        draw_line(painter, pixels, palette)
        draw_tag(painter, pixels[1], self.measured(), palette)
