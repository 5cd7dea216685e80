"""Looking for places: a sample of the ground, and the exact nearest place on foot."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from siteplan.geometry.arrays import XY, BoolArray, FloatArray, IntArray
from siteplan.geometry.nearest import nearest_by_route
from siteplan.geometry.routes import NoWayRoundError
from siteplan.geometry.zones import OUTWARD
from siteplan.rules.book import rule
from siteplan.scene import Scene
from siteplan.scene.resolve import SIDE_TURN
from siteplan.suggest.bearings import TURNS, Bearings, bearings
from siteplan.suggest.enclosed import seen_from
from siteplan.suggest.ends import End, Ends, Reach, ends_of, reach
from siteplan.suggest.layers import Shape
from siteplan.suggest.zone import StandingZone, standing_zone, stood, walls_about

_SAMPLES = 240
_LOOKED_AT = 7
_SPREAD_M = 3.0
_SIDES = 16


@dataclass(frozen=True, slots=True)
class Try:
    """A place to be confirmed; `gentle` if not even a caution is looked for there."""

    at: XY
    turn_deg: float
    cords: Reach
    gentle: bool


@dataclass(frozen=True)
class Search:
    """A scene in which a place is looked for.

    Attributes
    ----------
    scene : Scene
        With a machine standing somewhere.
    round_zone : StandingZone
        For a round machine as large as this one however it is turned.
    """

    scene: Scene
    round_zone: StandingZone

    @classmethod
    def of(cls, scene: Scene) -> "Search":
        """Return the search, cords of the scene laid from open ground if there is any."""
        standing = scene.standing
        assert standing is not None  # noqa: S101 - the caller placed it
        zone = standing_zone(scene.plan, 0.0, scene, round_shape(scene))
        if not zone.spaced.is_empty:
            middle = zone.spaced.representative_point()
            scene = stood(scene, (middle.x, middle.y), standing.placement.turn_deg)
        return cls(scene, zone)

    @cached_property
    def ends(self) -> Ends:
        """Where the cords must end."""
        return ends_of(self.scene)

    @cached_property
    def places(self) -> FloatArray:
        """A sample of the ground where every distance is kept however the machine is turned."""
        return sampled(self.round_zone.spaced, _SAMPLES)

    @cached_property
    def walled(self) -> BoolArray:
        """Where among the places walls stand round the machine."""
        return walled_at(self.scene, self.places)

    @cached_property
    def ways(self) -> Bearings:
        """How the exhaust may point at the places."""
        return bearings(self.scene, self.places, radius_m(self.scene))

    @cached_property
    def most_room(self) -> BaseGeometry:
        """Ground left for a round machine as wide as this one's shorter side, exhaust aside.

        Where that is empty, no direction of the exhaust finds a place.
        """
        machine = self.scene.plan.machine
        assert machine is not None  # noqa: S101 - the caller placed it
        slim = min(machine.width_m, machine.length_m) / 2.0 * math.cos(math.pi / _SIDES)
        zone = standing_zone(self.scene.plan, 0.0, self.scene, round_shape(self.scene, slim))
        return zone.less_walled(zone.spaced, "WARNING")

    def turn_deg(self, exhaust_deg: float) -> float:
        """Return how the machine is turned when its exhaust points there [°]."""
        machine = self.scene.plan.machine
        assert machine is not None  # noqa: S101 - the caller placed it
        return (exhaust_deg - SIDE_TURN[machine.drawn_side]) % 360.0

    def promising(self) -> Iterator[Try]:
        """Yield the most promising places of the sample, those without any caution first."""
        open_ways = ~self.ways.barred & ~self.walled[:, None]
        advised = self.round_zone.well_spaced(self.round_zone.spaced)
        good = shapely.contains_xy(advised, self.places)
        gentle = open_ways & ~self.ways.cautioned & good[:, None]
        found = 0
        for allowed in (gentle, open_ways & ~gentle.any(axis=1)[:, None]):
            if found >= _LOOKED_AT:
                return
            exhaust = self.ways.best(allowed)
            for row in self._short_first(np.flatnonzero(np.isfinite(exhaust))):
                x, y = self.places[row].tolist()
                found += 1
                turn = self.turn_deg(float(exhaust[row]))
                yield Try((x, y), turn, reach(self.scene, self.ends, (x, y)), allowed is gentle)

    def shortest_exhaust_deg(self, end: End | None) -> float:
        """Return the direction of the exhaust that leaves ground nearest to an end open.

        The one that serves at the nearest place at which distances are kept, if any does;
        else the one that leaves the nearest of the sampled places.
        """
        at = nearest_place(self.scene, self.round_zone.spaced, end)
        if at is not None:
            there = bearings(self.scene, np.array([at]), radius_m(self.scene))
            exhaust = float(there.best(~there.barred)[0])
            if math.isfinite(exhaust):
                return exhaust
        open_ways = ~self.ways.barred & ~self.walled[:, None]
        bound = np.where(open_ways, self._bound_m(self.places)[:, None], np.inf)
        return float(self.ways.exhaust_deg[bound.min(axis=0, initial=np.inf).argmin()])

    def _short_first(self, rows: IntArray) -> Iterator[int]:
        """Yield some of the rows, shortest straight cord first, spread over the ground."""
        taken: list[FloatArray] = []
        for row in rows[np.argsort(self._bound_m(self.places[rows]), kind="stable")].tolist():
            at = self.places[row]
            if all(math.dist(at, other) >= _SPREAD_M for other in taken):
                taken.append(at)
                yield row
            if len(taken) == _LOOKED_AT:
                return

    def _bound_m(self, places: FloatArray) -> FloatArray:
        """Return a lower bound of the cord from places [m]."""
        if not self.ends.choice:
            return np.zeros(len(places))
        ends = np.array([end.at for end in self.ends.choice])
        beyond = np.array([end.beyond_m + end.weight_m for end in self.ends.choice])
        straight = np.hypot(*(places[:, None] - ends[None]).transpose(2, 0, 1)) + beyond
        total: FloatArray = straight.sum(axis=1) if self.ends.all_needed else straight.min(axis=1)
        return total

    def nearest(
        self, exhaust_deg: float, end: End | None, within_m: float = math.inf
    ) -> Iterator[Try]:
        """Yield the exact nearest places to a cord's end, for one direction of the exhaust.

        The nearest that passes, and the nearest without a caution; of ground within a distance
        of the end only, where a place is known that is no farther [m].
        """
        turn = self.turn_deg(exhaust_deg)
        zone = standing_zone(self.scene.plan, turn, self.scene)
        if end is not None and math.isfinite(within_m):
            zone = zone.part(shapely.Point(end.at).buffer(within_m * OUTWARD, quad_segs=16))
        for gentle, region in ((False, zone.allowed), (True, zone.preferred)):
            at = nearest_place(self.scene, region, end)
            if at is not None:
                yield Try(at, turn, reach(self.scene, self.ends, at), gentle)

    def every_turn(self) -> Iterator[Try]:
        """Yield the nearest place for each direction of the exhaust, one by one; slow."""
        for exhaust in np.arange(TURNS) * (360.0 / TURNS):
            end = self.ends.choice[0] if self.ends.choice else None
            yield from self.nearest(float(exhaust), end)


def nearest_place(scene: Scene, region: BaseGeometry, end: End | None) -> XY | None:
    """Return the place of a region with the shortest way to a cord's end; any without an end."""
    if region.is_empty:
        return None
    if end is None:
        middle = region.representative_point()
        return (middle.x, middle.y)
    try:
        return nearest_by_route(end.at, region, scene.yard.graph).points[-1]
    except NoWayRoundError:
        return None


def radius_m(scene: Scene) -> float:
    """Return how far the machine or its outlet reaches from its middle [m]."""
    there = stood(scene, (0.0, 0.0), 0.0).standing
    assert there is not None  # noqa: S101 - stood saw to it
    return Shape(there.frame, there.outlet_xy).radius_m


def round_shape(scene: Scene, radius: float | None = None) -> Shape:
    """Return a round machine that covers this one however it is turned."""
    wide = (radius_m(scene) if radius is None else radius) / math.cos(math.pi / _SIDES)
    turn = np.arange(_SIDES) * (2.0 * math.pi / _SIDES)
    return Shape(
        Polygon(wide * np.column_stack([np.cos(turn), np.sin(turn)])), (0.0, 0.0), any_way=True
    )


def sampled(region: BaseGeometry, count: int) -> FloatArray:
    """Return places of a region on a grid, and some of its corners, shape (n, 2) [m]."""
    if region.is_empty:
        return np.empty((0, 2))
    step = math.sqrt(region.area / count)
    low_x, low_y, high_x, high_y = region.bounds
    x, y = np.meshgrid(np.arange(low_x, high_x, step), np.arange(low_y, high_y, step))
    grid = np.column_stack([x.ravel(), y.ravel()])
    shapely.prepare(region)
    corners = shapely.get_coordinates(region.simplify(step / 2.0))
    corners = corners[shapely.intersects_xy(region, corners)]
    return np.concatenate([grid[shapely.contains_xy(region, grid)], corners[: count // 2]])


def walled_at(scene: Scene, places: FloatArray) -> BoolArray:
    """Tell where walls stand round the machine so that a WARNING is found."""
    sides = seen_from(places, walls_about(scene, "walled-in", 0.0)).cornered
    share = seen_from(places, walls_about(scene, "horizon-blocked", 0.0)).share
    walled: BoolArray = sides | (share > rule("horizon-blocked").figure("warning_share"))
    return walled
