"""Exact shortest routes round solids, by a graph of the corners that see each other.

A shortest route is taut: it turns only at corners where a solid bulges, and touches each
of those without cutting in. So only lines that are tangent at both ends are kept, and of
those the ones no wall cuts. The search itself is a plain array Dijkstra: at the size of a
lot it costs less than loading a graph library does (0.1 s, measured).
"""

from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from siteplan.errors import SiteplanError
from siteplan.geometry.arrays import XY, BoolArray, FloatArray, IntArray, Shapes, as_points
from siteplan.geometry.ground import GRID_M, Ground, lay_ground
from siteplan.geometry.sight import sees

_TANGENT = 1e-9
_WHAT_TEXTS = {
    None: "no way round",
    "start": "the start lies inside something solid",
    "goal": "the goal lies inside something solid",
}
_NUDGE_M = 2.0 * GRID_M


class NoWayRoundError(SiteplanError):
    """There is no route: something solid encloses one end.

    Attributes
    ----------
    solid_end : {"start", "goal"} or None
        The end that itself lies within a solid or off the lot; None if both lie on free
        ground and are shut off from each other.
    """

    def __init__(self, solid_end: str | None) -> None:
        self.solid_end = solid_end
        super().__init__(_WHAT_TEXTS[solid_end])


class Route(NamedTuple):
    """A polyline and its length.

    Attributes
    ----------
    length_m : float
        Along the route [m].
    points : tuple of (float, float)
        From start to goal with every turning corner [m, m]. An end that lay up to 2 mm
        inside a wall is told where it was moved to, on the wall.
    """

    length_m: float
    points: tuple[XY, ...]


@dataclass(frozen=True, eq=False)
class RouteGraph:
    """The corners of some solids and which see each other; build once, ask often.

    Attributes
    ----------
    ground : Ground
        The solids as numbers.
    legs_m : FloatArray
        Straight distance between each two corners that see each other [m], inf for the
        others, shape (n, n).
    """

    ground: Ground
    legs_m: FloatArray = field(repr=False)

    @classmethod
    def build(
        cls,
        obstacles: Shapes,
        boundary: BaseGeometry | None = None,
        grid_m: float = GRID_M,
    ) -> "RouteGraph":
        """Return the graph of solids.

        Parameters
        ----------
        obstacles : array of geometries
            Polygons may touch and overlap; holes in them are free ground (courtyards). A
            line is taken 1 cm thick. To keep a cord off the walls, pass them buffered with
            mitred corners.
        boundary : Polygon, optional
            Ground that must not be left.
        grid_m : float
            Where solids meet they are snapped on this grid [m]: gaps under half of it close.
        """
        ground = lay_ground(obstacles, boundary, grid_m)
        corners = ground.corners
        tangent = _tangent(ground, corners)
        near, far = np.nonzero(np.triu(tangent & tangent.T, k=1))
        seen = sees(corners, corners, (near, far), ground.walls)
        near, far = near[seen], far[seen]
        legs = np.full((len(corners), len(corners)), np.inf)
        legs[near, far] = legs[far, near] = np.hypot(*(corners[near] - corners[far]).T)
        return cls(ground, legs)

    def tree(self, start: XY) -> "RouteTree":
        """Return all shortest routes from one place.

        Raises
        ------
        NoWayRoundError
            If the place lies inside a solid or outside the boundary.
        """
        return RouteTree(self, _on_free_ground(self.ground, start, "start"))

    def route(self, start: XY, goal: XY) -> Route:
        """Return the shortest route between two places.

        Raises
        ------
        NoWayRoundError
            If there is none.
        """
        begin = _on_free_ground(self.ground, start, "start")
        end = _on_free_ground(self.ground, goal, "goal")
        if self.in_sight(begin, np.array([end]))[0]:
            return _route([begin, end])
        corners = self.ground.corners
        last_m = self.legs_from_m(end)
        ahead_m = np.hypot(*(corners - np.asarray(end)).T)
        found = _search(self.legs_m, self.legs_from_m(begin), ahead_m, last_m)
        return _route([begin, *_way(found, last_m, corners), end])

    def legs_from_m(self, place: XY) -> FloatArray:
        """Return the straight distance to each corner a taut route from here can turn at [m].

        inf for the others, shape (n,).
        """
        corners = self.ground.corners
        at = as_points(place)
        tangent = np.flatnonzero(_tangent(self.ground, at)[:, 0])
        seen = tangent[sees(at, corners, (np.zeros_like(tangent), tangent), self.ground.walls)]
        legs = np.full(len(corners), np.inf)
        legs[seen] = np.hypot(*(corners[seen] - at).T)
        return legs

    def in_sight(self, place: XY, targets: FloatArray) -> BoolArray:
        """Tell which targets (t, 2) can be reached from a place in a straight line."""
        pairs = np.zeros(len(targets), dtype=np.int64), np.arange(len(targets))
        return sees(as_points(place), targets, pairs, self.ground.walls)


@dataclass(frozen=True, eq=False)
class RouteTree:
    """All shortest routes from one place.

    Attributes
    ----------
    graph : RouteGraph
    start : tuple of float
        Where the routes begin [m, m].
    """

    graph: RouteGraph
    start: XY

    @property
    def corner_m(self) -> FloatArray:
        """Length of the shortest route that can turn at each corner [m]; inf if shut off."""
        return self._search[0]

    @cached_property
    def _search(self) -> tuple[FloatArray, IntArray]:
        first_m = self.graph.legs_from_m(self.start)
        return _search(self.graph.legs_m, first_m, np.zeros_like(first_m), first_m + np.inf)

    def to(self, goal: XY) -> Route:
        """Return the shortest route to a place.

        Raises
        ------
        NoWayRoundError
            If there is none.
        """
        end = _on_free_ground(self.graph.ground, goal, "goal")
        if self.graph.in_sight(self.start, np.array([end]))[0]:
            return _route([self.start, end])
        last_m = self.graph.legs_from_m(end)
        way = _way(self._search, last_m, self.graph.ground.corners)
        return _route([self.start, *way, end])

    def lengths_m(self, places: npt.ArrayLike) -> FloatArray:
        """Return the length of the shortest route to each of many places [m], shape (n,).

        inf where there is none: shut off, within a solid or outside the boundary. Costs far
        less than as many calls of `to`.
        """
        ground = self.graph.ground
        at, deep = _freed(ground, as_points(places))
        place, corner = np.nonzero(_tangent(ground, at).T & np.isfinite(self.corner_m))
        seen = sees(at, ground.corners, (place, corner), ground.walls)
        place, corner = place[seen], corner[seen]
        last_m = np.hypot(*(at[place] - ground.corners[corner]).T)
        length = np.full(len(at), np.inf)
        np.minimum.at(length, place, self.corner_m[corner] + last_m)
        straight = np.hypot(*(at - np.asarray(self.start)).T)
        length = np.where(self.graph.in_sight(self.start, at), straight, length)
        return np.where(deep, np.inf, length)

    def past(self, corner: int, end: XY) -> Route:
        """Return the shortest route to a corner (by index), carried on straight to an end."""
        way = _turns(self._search[1], corner, self.graph.ground.corners)
        return _route([self.start, *way, end])


def shortest_route(
    start: XY, goal: XY, obstacles: Shapes, boundary: BaseGeometry | None = None
) -> Route:
    """Return the exact shortest route between two places round obstacles.

    Parameters
    ----------
    start, goal : tuple of float
        Places [m, m]. On a wall is allowed; up to 2 mm inside one is moved onto it.
    obstacles : array of geometries
        Polygons may touch and overlap; holes in them are free ground (courtyards). A line,
        such as a fence, is taken 1 cm thick.
    boundary : Polygon, optional
        Ground the route must not leave.

    Returns
    -------
    Route
        Exact, except that gaps under 0.5 mm count as closed and corners where two solids
        cross are rounded to 1 mm.

    Raises
    ------
    NoWayRoundError
        If something solid encloses one end.
    """
    return RouteGraph.build(obstacles, boundary).route(start, goal)


def _tangent(ground: Ground, places: FloatArray) -> BoolArray:
    """Tell whether the line from each corner to each place leaves the corner's solid aside.

    Shape (corners, places). True when both neighbours of the corner lie on one side.
    """
    x, y = (places[None, :, k] - ground.corners[:, k, None] for k in (0, 1))
    room = _TANGENT * np.hypot(x, y)
    before, after = (
        (x * dy[:, None] - y * dx[:, None]) / np.hypot(dx, dy)[:, None]
        for dx, dy in ((ground.before - ground.corners).T, (ground.after - ground.corners).T)
    )
    split = ((before > room) & (after < -room)) | ((before < -room) & (after > room))
    aside: BoolArray = ~split
    return aside


def _search(
    legs_m: FloatArray, first_m: FloatArray, ahead_m: FloatArray, last_m: FloatArray
) -> tuple[FloatArray, IntArray]:
    """Return length and preceding corner of the shortest routes from a place to the corners.

    `first_m` leads from the place to the corners, `last_m` from them to a goal; `ahead_m` is
    a lower bound of what remains (Hart, Nilsson and Raphael 1968; with zeros Dijkstra 1959).
    Stops once no shorter route to the goal is left; with no goal (inf) goes through all.
    A corner reached straight from the place has -1 before it.
    """
    length, before = first_m.copy(), np.full(len(first_m), -1)
    promise = first_m + ahead_m
    best = np.inf
    while len(promise):
        corner = int(np.argmin(promise))
        if promise[corner] >= best:
            break
        best = min(best, length[corner] + last_m[corner])
        promise[corner] = np.inf
        through = length[corner] + legs_m[corner]
        shorter = np.flatnonzero(through < length)
        length[shorter] = through[shorter]
        promise[shorter] = through[shorter] + ahead_m[shorter]
        before[shorter] = corner
    return length, before


def _way(found: tuple[FloatArray, IntArray], last_m: FloatArray, corners: FloatArray) -> list[XY]:
    """Return the corners a shortest route turns at on its way to a goal."""
    total = found[0] + last_m
    last = int(np.argmin(total)) if len(total) else -1
    if last < 0 or not np.isfinite(total[last]):
        raise NoWayRoundError(None)
    return _turns(found[1], last, corners)


def _turns(before: IntArray, corner: int, corners: FloatArray) -> list[XY]:
    turns: list[XY] = []
    while corner >= 0:
        x, y = corners[corner].tolist()
        turns.append((x, y))
        corner = int(before[corner])
    return turns[::-1]


def _freed(ground: Ground, places: FloatArray) -> tuple[FloatArray, BoolArray]:
    """Return places, those within a solid moved onto its wall, and which lay too deep for it."""
    moved, deep = places.copy(), np.zeros(len(places), dtype=np.bool_)
    inside = shapely.contains_xy(ground.solid, places[:, 0], places[:, 1])
    if inside.any():
        lines = shapely.shortest_line(shapely.points(places[inside]), ground.solid.boundary)
        moved[inside] = shapely.get_coordinates(lines)[1::2]
        deep = np.hypot(*(moved - places).T) > _NUDGE_M
    return moved, deep


def _on_free_ground(ground: Ground, place: XY, end: str) -> XY:
    """Return the place, moved onto the wall if it lay a hair inside."""
    moved, deep = _freed(ground, as_points(place))
    if deep[0]:
        raise NoWayRoundError(end)
    x, y = moved[0].tolist()
    return (x, y)


def _route(points: list[XY]) -> Route:
    at = np.asarray(points)
    return Route(float(np.hypot(*np.diff(at, axis=0).T).sum()), tuple(points))
