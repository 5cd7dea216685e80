"""Shapes of selectable things, in metres, for picking and for showing what is selected."""

import math

from shapely import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from siteplan.desk import things
from siteplan.geometry.clearance import footprint
from siteplan.plan import Plan
from siteplan.plan.around import Barrier, Ground, OutdoorUnit, ServiceDrop, Shelter, Tree
from siteplan.plan.base import Model
from siteplan.plan.lot import Building, Lot, Opening
from siteplan.plan.machine import Cord, Placement
from siteplan.scene.setting import opening_ends

XY = tuple[float, float]
_FIXTURE_M = 0.2


def cord_line(plan: Plan, cord: Cord) -> tuple[XY, ...]:
    """Return the points of a cord: from the machine by its waypoints to its end."""
    placement = plan.placement
    if placement is None:
        return ()
    points: list[XY] = [placement.at, *cord.waypoints]
    if (end := cord_end(plan, cord)) is not None:
        points.append(end)
    return tuple(points)


def cord_end(plan: Plan, cord: Cord) -> XY | None:
    """Return where a cord ends: at its inlet or appliance, else at its free end."""
    target = None if cord.to is None else things.get(plan, cord.to)
    at: XY | None = getattr(target, "at", None)
    return at or cord.end


def shape(plan: Plan, part: Model) -> BaseGeometry | None:
    """Return the shape of a thing on the lot, or None if it has no place."""
    if isinstance(part, Lot):
        return Polygon(part.outline).exterior
    if isinstance(part, Building | Ground | Shelter):
        return Polygon(part.outline)
    if isinstance(part, Opening):
        building = plan.building(part.building)
        return None if building is None else LineString(opening_ends(part, building))
    if isinstance(part, Placement) and plan.machine is not None:
        machine = plan.machine
        return footprint(part.at, machine.width_m, machine.length_m, part.turn_deg)
    return _small_shape(plan, part)


def _small_shape(plan: Plan, part: Model) -> BaseGeometry | None:
    if isinstance(part, Barrier):
        return LineString(part.path)
    if isinstance(part, Tree):
        return Point(part.at).buffer(part.crown_m / 2)
    if isinstance(part, ServiceDrop):
        return LineString([part.at, part.to])
    if isinstance(part, OutdoorUnit):
        return Point(part.at).buffer(part.width_m / 2, cap_style="square")
    if isinstance(part, Cord):
        points = cord_line(plan, part)
        return LineString(points) if len(points) > 1 else None
    at: XY | None = getattr(part, "at", None)
    return None if at is None else Point(at).buffer(_FIXTURE_M)


def extent(plan: Plan) -> tuple[XY, ...]:
    """Return corners of what is drawn [m], or nothing for an empty plan."""
    bounds = [
        found.bounds
        for key in (things.LOT, *things.ids(plan))
        if (part := things.get(plan, key)) is not None and (found := shape(plan, part)) is not None
    ]
    if not bounds:
        return ()
    left, low = min(one[0] for one in bounds), min(one[1] for one in bounds)
    right, high = max(one[2] for one in bounds), max(one[3] for one in bounds)
    return ((left, low), (right, high))


def nearest_wall(plan: Plan, point: XY, reach_m: float) -> tuple[Building, int, float, XY] | None:
    """Return the nearest wall within reach: building, wall, distance along it, and the place."""
    best: tuple[float, Building, int, float, XY] | None = None
    for building in plan.buildings:
        corners = building.outline
        for index, start in enumerate(corners):
            end = corners[(index + 1) % len(corners)]
            long = math.dist(start, end)
            along = _along(point, start, end, long)
            place = _between(start, end, along / long)
            gap = math.dist(point, place)
            if gap <= reach_m and (best is None or gap < best[0]):
                best = (gap, building, index, along, place)
    return None if best is None else best[1:]


def _along(point: XY, start: XY, end: XY, long: float) -> float:
    dot = (point[0] - start[0]) * (end[0] - start[0]) + (point[1] - start[1]) * (end[1] - start[1])
    return min(long, max(0.0, dot / long))


def _between(start: XY, end: XY, share: float) -> XY:
    return (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
