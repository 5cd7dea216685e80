"""Cords as they lie: which way, how long, and what they cross."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Literal, NamedTuple

import numpy as np
import shapely
from shapely import LineString, Point, Polygon

from siteplan.geometry.arrays import ShapeArray
from siteplan.geometry.routes import NoWayRoundError, RouteGraph
from siteplan.plan.around import Barrier, Fixture, Ground
from siteplan.plan.document import Plan
from siteplan.plan.lot import Opening
from siteplan.plan.machine import Cord
from siteplan.scene.around import fixture_xy, shapes
from siteplan.scene.setting import Setting, opening_ends
from siteplan.scene.walls import outward_normal

XY = tuple[float, float]

# Solids farther than this from the lot (or the machine, without a lot) do not steer a cord.
_STEERING_REACH_M = 10.0
_STEERING_REACH_NO_LOT_M = 60.0
# Heights a cord climbs where the plan does not say: figures of this program's own, on the long
# side of what is usual, so that a cord is never reckoned shorter than it must be.
MACHINE_RISE_M = 0.6
UNKNOWN_INLET_HEIGHT_M = 1.5
UNKNOWN_SILL_M = 1.0
# A way drawn by hand along a wall may cut into it this much and is still outside [m].
_TOUCH_M = 0.1
# A cord's end is set this far off the wall, so that it never starts inside it.
_OFF_WALL_M = 0.02
# A fence is taken 1 cm thick: a line farther off than this from every solid is free for sure.
_CLEAR_M = 0.015
# A shortest way round water or along a drive runs on its rim, which is no crossing.
_RIM_M = 0.01
_DOOR_KINDS = frozenset({"door", "garage-door"})
_OPEN_SIDED = frozenset({"carport", "covered-porch"})
_WATER = frozenset({"pool", "standing-water"})

CrossedKind = Literal["driveway", "walk", "pool", "standing-water", "doorway"]
_CROSSED: Mapping[str, CrossedKind] = {
    "driveway": "driveway",
    "walk": "walk",
    "pool": "pool",
    "standing-water": "standing-water",
}
Trouble = Literal["no-end", "no-way", "way-in-unknown"]


class Crossing(NamedTuple):
    """Something a cord crosses, and the middle of where it does [m]."""

    kind: CrossedKind
    subject: str
    at: XY


class CordRun(NamedTuple):
    """One cord as it lies.

    Attributes
    ----------
    cord : Cord
        What was entered.
    outdoors, indoors : tuple of points
        Its way over the ground and through the house, from the machine [m].
    plan_m : float
        Length of the way on the plan [m]; nan if there is none.
    rise_m : float
        What it climbs and comes down: at the machine, over sills, to the inlet [m].
    crossings : tuple of Crossing
        What it crosses outdoors.
    trouble : str or None
        Why there is no way, if there is none.
    """

    cord: Cord
    outdoors: tuple[XY, ...]
    indoors: tuple[XY, ...]
    plan_m: float
    rise_m: float
    crossings: tuple[Crossing, ...]
    trouble: Trouble | None = None

    @property
    def laid_m(self) -> float:
        """Length that lies between both plugs, without slack [m]."""
        return self.plan_m + self.rise_m


@dataclass(frozen=True)
class Yard:
    """The ground a cord can lie on: a setting, with the graph of ways round its solids."""

    setting: Setting

    @cached_property
    def solids(self) -> ShapeArray:
        """Buildings, fences, pools and standing water near the lot."""
        solids = shapes([*self._houses(), *self._barriers(), *self._waters()])
        return solids[shapely.distance(solids, self._centre) <= self._reach_m]

    @cached_property
    def graph(self) -> RouteGraph:
        """Ways round these solids."""
        return RouteGraph.build(self.solids)

    def way(self, here: XY, there: XY) -> tuple[XY, ...]:
        """Return the shortest way round the solids; it is straight where nothing is near it.

        Raises
        ------
        NoWayRoundError
            If there is none.
        """
        straight = LineString([here, there])
        if here != there and not shapely.dwithin(self.solids, straight, _CLEAR_M).any():
            return (here, there)
        return self.graph.route(here, there).points

    @cached_property
    def crossed(self) -> tuple[tuple[CrossedKind, str, Polygon], ...]:
        """Kind, id and area of what a cord may cross: grounds first, then steps of doors."""
        plan = self.setting.plan
        grounds: list[tuple[CrossedKind, str, Polygon]] = [
            (_CROSSED[one.kind], one.id, Polygon(one.outline).buffer(-_RIM_M, join_style="mitre"))
            for one in plan.surroundings
            if isinstance(one, Ground) and one.kind in _CROSSED
        ]
        steps: list[tuple[CrossedKind, str, Polygon]] = [
            ("doorway", one.id, _apron(one, plan))
            for one in plan.openings
            if one.kind in _DOOR_KINDS
        ]
        found = (*grounds, *steps)
        shapely.prepare([ground for _, _, ground in found])
        return found

    @property
    def _centre(self) -> shapely.geometry.base.BaseGeometry:
        lot = self.setting.lot
        return shapely.MultiPolygon(list(self.setting.walls)) if lot is None else lot

    @property
    def _reach_m(self) -> float:
        return _STEERING_REACH_NO_LOT_M if self.setting.lot is None else _STEERING_REACH_M

    def _houses(self) -> Iterator[Polygon]:
        for one, walls in zip(self.setting.plan.buildings, self.setting.walls, strict=True):
            if one.kind not in _OPEN_SIDED:
                yield walls

    def _barriers(self) -> Iterator[LineString]:
        for one in self.setting.plan.surroundings:
            if isinstance(one, Barrier):
                yield LineString(one.path)

    def _waters(self) -> Iterator[Polygon]:
        for one in self.setting.plan.surroundings:
            if isinstance(one, Ground) and one.kind in _WATER:
                yield Polygon(one.outline)


def lay(cord: Cord, start: XY, plan: Plan, yard: Yard) -> CordRun:
    """Return a cord as it lies from the machine at `start` to its end."""
    end, rise_end = _end(cord, plan)
    rise = MACHINE_RISE_M + rise_end
    if end is None:
        return _no_way(cord, "no-end")
    gate = _gate(cord, plan)
    if gate is None and _in_a_house(end, yard.setting):
        return _no_way(cord, "way-in-unknown")
    if gate is not None:
        rise += 2.0 * (UNKNOWN_SILL_M if gate.sill_m is None else gate.sill_m)
    target = end if gate is None else _threshold(gate, plan, outside=True)
    try:
        outdoors = _outdoors(cord, start, target, yard)
    except NoWayRoundError:
        return _no_way(cord, "no-way")
    if cord.routing == "drawn" and _through_a_house(outdoors, yard.setting):
        return _no_way(cord, "way-in-unknown")
    indoors = () if gate is None else (_threshold(gate, plan, outside=False), end)
    length = _length(outdoors) + (_length((outdoors[-1], *indoors)) if indoors else 0.0)
    crossings = tuple(_crossings(outdoors, yard, gate))
    return CordRun(cord, outdoors, indoors, length, rise, crossings)


def _no_way(cord: Cord, trouble: Trouble) -> CordRun:
    return CordRun(cord, (), (), float("nan"), 0.0, (), trouble)


def _end(cord: Cord, plan: Plan) -> tuple[XY | None, float]:
    """Return where the cord ends and how high above ground that is [m]."""
    for fixture in plan.fixtures:
        if fixture.id == cord.to:
            height = fixture.height_m
            if height is None:
                height = UNKNOWN_INLET_HEIGHT_M
            return _off_wall(fixture, plan), height
    for load in plan.loads:
        if load.id == cord.to and load.at is not None:
            return load.at, 0.0
    return cord.end, 0.0


def _off_wall(fixture: Fixture, plan: Plan) -> XY:
    x, y = fixture_xy(fixture, plan)
    if fixture.on is None:
        return (x, y)
    building = plan.building(fixture.on.building)
    if building is None:
        return (x, y)
    nx, ny = outward_normal(building, fixture.on.wall)
    return (x + nx * _OFF_WALL_M, y + ny * _OFF_WALL_M)


def _gate(cord: Cord, plan: Plan) -> Opening | None:
    if not cord.passes:
        return None
    return next((one for one in plan.openings if one.id == cord.passes[0].opening), None)


def _threshold(opening: Opening, plan: Plan, *, outside: bool) -> XY:
    building = plan.building(opening.building)
    assert building is not None  # noqa: S101 - the document checks this reference
    (ax, ay), (bx, by) = opening_ends(opening, building)
    nx, ny = outward_normal(building, opening.wall)
    off = _OFF_WALL_M if outside else -_OFF_WALL_M
    return ((ax + bx) / 2.0 + nx * off, (ay + by) / 2.0 + ny * off)


def _in_a_house(place: XY, setting: Setting) -> bool:
    around = shapely.contains_properly(setting.walls, Point(place))
    return any(
        one.kind not in _OPEN_SIDED
        for one, holds in zip(setting.plan.buildings, around, strict=True)
        if holds
    )


def _through_a_house(way: tuple[XY, ...], setting: Setting) -> bool:
    """Whether a way drawn by hand goes through a wall, more than a touch of a corner."""
    line = LineString(way)
    houses = [
        walls
        for one, walls in zip(setting.plan.buildings, setting.walls, strict=True)
        if one.kind not in _OPEN_SIDED
    ]
    within = shapely.length(shapely.intersection(line, shapes(houses)))
    return bool((within > _TOUCH_M).any())


def _outdoors(cord: Cord, start: XY, target: XY, yard: Yard) -> tuple[XY, ...]:
    stops = [start, *cord.waypoints, target]
    if cord.routing == "drawn":
        return tuple(stops)
    way: list[XY] = [start]
    for here, there in pairwise(stops):
        way += yard.way(here, there)[1:]
    return tuple(way)


def _length(points: tuple[XY, ...]) -> float:
    steps = np.diff(np.asarray(points), axis=0)
    return float(np.hypot(*steps.T).sum())


def _crossings(way: tuple[XY, ...], yard: Yard, gate: Opening | None) -> Iterator[Crossing]:
    if len(way) < 2:
        return
    line = LineString(way)
    for kind, subject, ground in yard.crossed:
        if gate is not None and subject == gate.id:
            continue
        # The grounds are prepared, so that those far off cost next to nothing.
        if not ground.intersects(line):
            continue
        shared = line.intersection(ground)
        if shared.length > 0.0:
            yield Crossing(kind, subject, _middle(shared))


# A step out of the door; a cord nearer than this is stepped on.
_APRON_M = 0.9


def _apron(opening: Opening, plan: Plan) -> Polygon:
    building = plan.building(opening.building)
    assert building is not None  # noqa: S101 - the document checks this reference
    (ax, ay), (bx, by) = opening_ends(opening, building)
    nx, ny = outward_normal(building, opening.wall)
    out = (nx * _APRON_M, ny * _APRON_M)
    return Polygon([(ax, ay), (bx, by), (bx + out[0], by + out[1]), (ax + out[0], ay + out[1])])


def _middle(shared: shapely.geometry.base.BaseGeometry) -> XY:
    place = (
        shared.interpolate(0.5, normalized=True)
        if shared.geom_type == "LineString"
        else (shared.centroid)
    )
    return (float(place.x), float(place.y))
