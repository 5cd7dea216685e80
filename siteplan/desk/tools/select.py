"""Select, move, turn and reshape: the tool in the hand when no other is."""

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen

from siteplan.desk import things
from siteplan.desk.canvas import snap
from siteplan.desk.canvas.frame import Frame, Point
from siteplan.desk.canvas.handles import Handle, handles, opening_slid, pulled
from siteplan.desk.canvas.shapes import nearest_wall
from siteplan.desk.making import ON_WALL
from siteplan.desk.palette import Palette
from siteplan.desk.session import Edit
from siteplan.desk.text import tr
from siteplan.desk.tools.base import Tool, draw_guides
from siteplan.plan import Plan, edits
from siteplan.plan.around import OnWall
from siteplan.plan.errors import EditError
from siteplan.plan.lot import Building, Lot, Opening
from siteplan.plan.machine import Cord, Placement
from siteplan.units import M_PER_IN

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas

_DRAG_PX = 4.0
_HANDLE_PX = 12.0
# A moved building is bent to a wall within so many pixels, but never by more than this [m].
_SNAP_PX, _SNAP_MOST_M = 8.0, 0.45
_WALL_CATCH_M = 1.0
_NUDGE_M = {"feet": M_PER_IN, "metres": 0.01}
_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


class Select(Tool):
    """Click to select, drag to move, pull handles to reshape; drag the ground to push it."""

    name = "select"
    cursor = Qt.CursorShape.ArrowCursor

    def __init__(self, canvas: "Canvas") -> None:
        super().__init__(canvas)
        self._handle: Handle | None = None
        self._grabbed: tuple[str, ...] = ()
        self._from: Point = (0.0, 0.0)
        self._origin: Plan | None = None
        self._pixel = QPointF()
        self._band: tuple[Point, Point] | None = None
        # Walls that the moved building stands against or in line with.
        self._guides: tuple[tuple[Point, Point], ...] = ()

    def hint(self) -> str:
        """Return one line that says what to do next."""
        if not self.session.selection:
            return tr("Click a thing to select it; drag the ground to move the view.")
        part = things.get(self.session.plan, self.session.selection[-1])
        if isinstance(part, Placement):
            return tr("Drag to move, pull the round handle or press [ and ] to turn.")
        return tr("Drag to move, arrow keys to nudge, Delete to remove.")

    # -- the mouse -------------------------------------------------------------

    def press(self, at: Point, event: QMouseEvent) -> None:
        """Take hold of a handle or a thing."""
        self._from, self._pixel, self._origin = at, event.position(), None
        shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        self._handle = None if shift else self._handle_at(event.position())
        if self._handle is not None:
            self._grabbed = self.session.selection
            return
        key = self.canvas.picker.at(at, self.canvas.tolerance_m, self.session.selection)
        if key is None:
            self._press_ground(at, shift=shift)
        elif shift:
            self.session.toggle(key)
            self._grabbed = ()
        else:
            if key not in self.session.selection:
                self.session.select(key)
            # The lot stays put under a dragging hand; its corners have handles.
            self._grabbed = () if key == things.LOT else self.session.selection

    def _press_ground(self, at: Point, *, shift: bool) -> None:
        self._grabbed = ()
        if shift:
            self._band = (at, at)
        else:
            self.session.select()
            self.canvas.begin_pan(self._pixel)

    def _handle_at(self, pixel: QPointF) -> Handle | None:
        if len(self.session.selection) != 1:
            return None
        frame = self.canvas.frame
        found = [
            (math.dist((pixel.x(), pixel.y()), (spot.x(), spot.y())), handle)
            for handle in handles(self.session.plan, self.session.selection[0], frame.px_per_m)
            for spot in (frame.to_px(handle.at),)
        ]
        near = min(found, key=lambda one: one[0], default=None)
        return near[1] if near is not None and near[0] <= _HANDLE_PX else None

    def move(self, at: Point, event: QMouseEvent) -> None:
        """Drag what is held."""
        if self._band is not None:
            self._band = (self._band[0], at)
            self.refresh()
            return
        if not event.buttons() & Qt.MouseButton.LeftButton or not self._grabbed:
            self._show_cursor(at, event)
            return
        if self._origin is None:
            moved = event.position() - self._pixel
            if math.hypot(moved.x(), moved.y()) < _DRAG_PX:
                return
            self._origin = self.session.plan
            self.session.begin_gesture()
        free = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        self._drag(at, free=free)

    def _show_cursor(self, at: Point, event: QMouseEvent) -> None:
        over = self._handle_at(event.position()) or self.canvas.picker.at(
            at, self.canvas.tolerance_m, self.session.selection
        )
        shape = self.cursor if over is None else Qt.CursorShape.PointingHandCursor
        if self.canvas.viewport.cursor().shape() != shape:
            self.canvas.viewport.setCursor(shape)

    def _drag(self, at: Point, *, free: bool) -> None:
        origin = self._origin
        if origin is None:
            return
        system = self.session.manner.system
        if self._handle is not None:
            key, handle = self._grabbed[0], self._handle
            to = at if free else snap.place(at, system)
            self._try(tr("Reshape"), lambda _: pulled(origin, key, handle, to))
            return
        step = (at[0] - self._from[0], at[1] - self._from[1])
        keys = self._grabbed
        self._guides = ()
        if not free:
            step, self._guides = self._helped(origin, keys, step)
        self._try(tr("Move"), lambda _: moved(origin, keys, step, at))

    def _helped(
        self, origin: Plan, keys: tuple[str, ...], step: Point
    ) -> tuple[Point, tuple[tuple[Point, Point], ...]]:
        """Return the step that puts things at whole inches and walls against walls."""
        system = self.session.manner.system
        part = things.get(origin, keys[0])
        at: Point | None = getattr(part, "at", None) if len(keys) == 1 else None
        if at is not None:
            to = snap.place((at[0] + step[0], at[1] + step[1]), system)
            return (to[0] - at[0], to[1] - at[1]), ()
        step = snap.place(step, system)
        if not isinstance(part, Building):
            return step, ()
        reach = min(_SNAP_PX / self.canvas.frame.px_per_m, _SNAP_MOST_M)
        found = snap.wall_step(origin, keys, step, reach)
        return found.at, found.guides

    def _try(self, title: str, change: Edit) -> None:
        # A place that cannot be is passed over silently: the thing waits at the last good one.
        try:
            after = change(self.session.plan)
        except EditError:
            return
        self.session.edit(title, lambda _: after)

    def release(self, at: Point, event: QMouseEvent) -> None:
        """Let go."""
        if self._band is not None:
            found = self.canvas.picker.inside(*self._band)
            self._band = None
            self.session.select(*dict.fromkeys((*self.session.selection, *found)))
            self.refresh()
        if self._origin is not None:
            self._origin = None
            self.session.end_gesture()
        self._handle, self._grabbed, self._guides = None, (), ()
        self.canvas.hand.update()

    def double(self, at: Point, event: QMouseEvent) -> None:
        """Go to the exact numbers of what is under the pointer."""
        self.press(at, event)
        if self.session.selection:
            self.canvas.numbers_wanted.emit()

    # -- the keyboard ----------------------------------------------------------

    def cancel(self) -> None:
        """Put back what is being dragged, or select nothing."""
        if self._origin is not None:
            self._origin, self._grabbed, self._handle = None, (), None
            self.session.cancel_gesture()
        else:
            self.session.select()

    def finish(self) -> None:
        """Go to the exact numbers."""
        if self.session.selection:
            self.canvas.numbers_wanted.emit()

    def key(self, event: QKeyEvent) -> bool:
        """Nudge with the arrows, turn with the brackets."""
        arrow = _ARROWS.get(Qt.Key(event.key()))
        if arrow is not None:
            return self._nudge(
                arrow, large=bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            )
        if event.key() in (Qt.Key.Key_BracketLeft, Qt.Key.Key_BracketRight):
            self._turn(-5.0 if event.key() == Qt.Key.Key_BracketLeft else 5.0)
            return True
        return super().key(event)

    def _nudge(self, arrow: Point, *, large: bool) -> bool:
        keys = self.session.selection
        if not keys:
            self.canvas.pan(-40 * arrow[0], 40 * arrow[1])
            return True
        far = _NUDGE_M[self.session.manner.system] * (12 if large else 1)
        step = (arrow[0] * far, arrow[1] * far)
        self.session.edit(tr("Nudge"), lambda plan: moved(plan, keys, step, None))
        return True

    def _turn(self, by_deg: float) -> None:
        placement = self.session.plan.placement
        if placement is None or placement.id not in self.session.selection:
            return
        self.session.edit(
            tr("Turn"), lambda plan: edits.stand(plan, placement.at, placement.turn_deg + by_deg)
        )

    def paint(self, painter: QPainter, frame: Frame, palette: Palette) -> None:
        """Paint the rubber band, and the walls that a moved building catches."""
        draw_guides(painter, self._guides, frame, palette)
        if self._band is None:
            return
        fill = QColor(palette.accent)
        fill.setAlphaF(0.12)
        painter.setPen(QPen(QColor(palette.accent), 1.2, Qt.PenStyle.DashLine))
        painter.setBrush(fill)
        painter.drawRect(
            QRectF(frame.to_px(self._band[0]), frame.to_px(self._band[1])).normalized()
        )


def moved(plan: Plan, keys: tuple[str, ...], step: Point, pointer: Point | None) -> Plan:
    """Return the plan with these things moved by a step; a lone opening follows the pointer.

    Raises
    ------
    EditError
        If it cannot be.
    """
    if len(keys) == 1:
        part = things.get(plan, keys[0])
        if isinstance(part, Placement) and plan.placement is part:
            return edits.stand(plan, (part.at[0] + step[0], part.at[1] + step[1]))
        if isinstance(part, Opening):
            return _opening_moved(plan, part, step, pointer)
        if isinstance(part, Lot):
            outline = tuple((x + step[0], y + step[1]) for x, y in part.outline)
            return edits.with_fields(plan, lot=edits.changed(part, outline=outline))
        if isinstance(part, Cord):
            points = tuple((x + step[0], y + step[1]) for x, y in part.waypoints)
            return edits.put_cord(plan, edits.changed(part, waypoints=points))
    return _all_moved(plan, keys, step, pointer)


def _all_moved(plan: Plan, keys: tuple[str, ...], step: Point, pointer: Point | None) -> Plan:
    parts = [part for key in keys if (part := edits.find(plan, key)) is not None]
    buildings = {part.id for part in parts if isinstance(part, Building)}
    for part in parts:
        if isinstance(part, Opening) or _hangs_on(part, buildings):
            continue
        new = edits.moved(part, lambda point: (point[0] + step[0], point[1] + step[1]))
        if pointer is not None and len(parts) == 1:
            new = _hung(plan, new, pointer)
        plan = things.replaced(plan, part.id, new)
    return plan


def _hangs_on(part: edits.Thing, buildings: set[str]) -> bool:
    on = getattr(part, "on", None)
    return on is not None and on.building in buildings


def _hung(plan: Plan, part: edits.Thing, pointer: Point) -> edits.Thing:
    # What belongs on a wall catches the wall it is dragged along.
    if getattr(part, "kind", None) not in ON_WALL:
        return part
    found = nearest_wall(plan, pointer, _WALL_CATCH_M)
    if found is None:
        return part
    building, wall, along, _ = found
    place = things.wall_place(building, wall, along)
    on = OnWall(building=building.id, wall=wall, offset_m=along)
    return edits.changed(part, at=place, on=on)


def _opening_moved(plan: Plan, opening: Opening, step: Point, pointer: Point | None) -> Plan:
    if pointer is not None:
        return opening_slid(plan, opening, pointer)
    building = plan.building(opening.building)
    if building is None:
        return plan
    start = building.outline[opening.wall]
    end = building.outline[(opening.wall + 1) % len(building.outline)]
    long = math.dist(start, end)
    along = (step[0] * (end[0] - start[0]) + step[1] * (end[1] - start[1])) / long
    offset = min(max(0.0, opening.offset_m + along), max(0.0, long - opening.width_m))
    return edits.put(plan, edits.changed(opening, offset_m=offset))
