"""Walls and buildings as screens: which of them a straight path is cut by, and the ways round.

Everything stands on flat ground. Thin walls that meet end to end at one height are one screen,
so that a fence drawn in many pieces is not left through its joints.
"""

from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
import numpy.typing as npt

from siteplan.sound.checks import Array, Numbers, numbers, shaped

Rows = npt.NDArray[np.intp]
Mask = npt.NDArray[np.bool_]

# Ends of walls this close are joined.
_JOINT_M = 0.001

ON_THE_WALL_M: Final = 0.01
"""A point this close to a wall is on it, and a path that ends there is not cut by it."""


@dataclass(frozen=True)
class Outline:
    """A run of points in plan: a row of walls, or the ring of a building.

    Attributes
    ----------
    points : ndarray, shape (v, 2)
        Corners [m]; a closed outline does not repeat its first.
    height_m : float
        Height over the ground [m].
    closed : bool
        Whether the last point joins the first.
    numbers : tuple of int
        Which wall (or building) each of its edges belongs to.
    solid : bool
        Whether it is a building, with no open air inside.
    """

    points: Array
    height_m: float
    closed: bool
    numbers: tuple[int, ...]
    solid: bool = False

    @cached_property
    def edges(self) -> Array:
        """Its edges [m], shape (k, 2, 2)."""
        ends = np.roll(self.points, -1, axis=0)
        pairs = np.stack([self.points, ends], axis=1)
        return np.asarray(pairs if self.closed else pairs[:-1])

    @property
    def outward(self) -> int:
        """On which hand of its edges the open air is: 1 left, -1 right, 0 both sides."""
        if not self.solid:
            return 0
        x, y = self.points.T
        twice_area = float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))
        return -1 if twice_area > 0.0 else 1

    @cached_property
    def hull(self) -> Array:
        """The corners of its convex hull [m], counter-clockwise, shape (h, 2)."""
        return convex_hull(self.points)


@dataclass(frozen=True)
class Screens:
    """All walls and buildings of a place, prepared once for any number of paths.

    Build it with `Screens.build`. Obstacles are numbered: walls as they were given, then
    buildings.
    """

    rows: tuple[Outline, ...]
    buildings: tuple[Outline, ...]
    wall_count: int

    @classmethod
    def build(
        cls,
        walls: Numbers = (),
        wall_heights_m: Numbers = (),
        buildings: "tuple[Numbers, ...] | list[Numbers]" = (),
        building_heights_m: Numbers = (),
    ) -> "Screens":
        """Return the screens of a place.

        Parameters
        ----------
        walls : array_like, shape (m, 2, 2)
            Both ends of each wall or fence in plan [m]. Only such as weigh 10 kg/m² or more and
            have no gaps: slats, hedges and mesh screen nothing and are left out by the caller.
        wall_heights_m : array_like, shape (m,)
            Heights over the ground [m], 0 to 200.
        buildings : sequence of array_like, each of shape (v, 2)
            The outline of each building [m], three corners or more.
        building_heights_m : array_like, shape (b,)
            Eave heights [m], 0 to 200.

        Raises
        ------
        OutOfRangeError
            If a number is not finite or a height is outside its range.
        ValueError
            If shapes do not match.
        """
        ends = shaped("wall [m]", walls, (2, 2))
        rings = [shaped("building [m]", ring, (2,)) for ring in buildings]
        low = numbers("wall height [m]", wall_heights_m, 0.0, 200.0)
        high = numbers("building height [m]", building_heights_m, 0.0, 200.0)
        if low.shape != (len(ends),) or high.shape != (len(rings),):
            msg = "each wall and each building needs one height"
            raise ValueError(msg)
        if any(len(ring) < 3 for ring in rings):
            msg = "a building has at least three corners"
            raise ValueError(msg)
        outlines = tuple(
            Outline(ring, float(h), True, (len(ends) + i,) * len(ring), solid=True)
            for i, (ring, h) in enumerate(zip(rings, high, strict=True))
        )
        return cls(tuple(_joined_walls(ends, low)), outlines, len(ends))

    @cached_property
    def edges(self) -> Array:
        """Every vertical face in plan [m], walls and sides of buildings, shape (k, 2, 2)."""
        parts = [outline.edges for outline in (*self.rows, *self.buildings)]
        return np.concatenate(parts) if parts else np.zeros((0, 2, 2))

    @cached_property
    def edge_heights_m(self) -> Array:
        """The height of every face [m], shape (k,)."""
        outlines = (*self.rows, *self.buildings)
        return np.array([o.height_m for o in outlines for _ in o.edges], dtype=np.float64)

    @cached_property
    def edge_outward(self) -> Rows:
        """For every face, on which hand the open air is: 1 left, -1 right, 0 both; shape (k,)."""
        outlines = (*self.rows, *self.buildings)
        return np.array([o.outward for o in outlines for _ in o.edges], dtype=np.intp)

    def indoors(self, points: Array) -> Mask:
        """Return which points in plan, shape (n, 2), lie inside a building and not on its wall."""
        found = np.zeros(len(points), dtype=bool)
        for building in self.buildings:
            found |= _enclosed(points, building.edges)
        return found

    @cached_property
    def row_edges(self) -> Array:
        """The edges of the rows of walls [m], shape (m, 2, 2)."""
        parts = [row.edges for row in self.rows]
        return np.concatenate(parts) if parts else np.zeros((0, 2, 2))


NO_SCREENS = Screens((), (), 0)


def _enclosed(points: Array, edges: Array) -> Mask:
    """Return which points lie inside a ring of edges, by the parity of the edges to their east."""
    offset = points[:, np.newaxis] - edges[:, 0]
    along = edges[:, 1] - edges[:, 0]
    rises = (edges[:, 0, 1] > points[:, 1:]) != (edges[:, 1, 1] > points[:, 1:])
    across = along[:, 0] * offset[..., 1] - along[:, 1] * offset[..., 0]
    east = rises & (across * along[:, 1] > 0.0)
    length = np.maximum(np.hypot(*along.T), 1e-9)
    share = np.clip(np.einsum("nkc,kc->nk", offset, along) / length**2, 0.0, 1.0)
    gap = np.hypot(*np.moveaxis(offset - share[..., np.newaxis] * along, -1, 0))
    odd = np.count_nonzero(east, axis=1) % 2 == 1
    return np.asarray(odd & (gap.min(axis=1) > ON_THE_WALL_M))


def convex_hull(points: Array) -> Array:
    """Return the corners of the convex hull, counter-clockwise, without points on its sides."""
    ordered = sorted({(float(x), float(y)) for x, y in points})
    if len(ordered) < 3:
        return np.array(ordered)
    lower, upper = _half_hull(ordered), _half_hull(ordered[::-1])
    return np.array(lower[:-1] + upper[:-1])


def _half_hull(ordered: list[tuple[float, float]]) -> list[tuple[float, float]]:
    kept: list[tuple[float, float]] = []
    for point in ordered:
        while len(kept) > 1 and _turn(kept[-2], kept[-1], point) <= 0.0:
            kept.pop()
        kept.append(point)
    return kept


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _joined_walls(walls: Array, heights: Array) -> list[Outline]:
    """Return the walls as rows; a joint of three walls or more ends the rows that meet there."""
    joints = _Joints(walls, heights)
    rows = []
    while joints.left:
        first = min(joints.left)
        joints.left.discard(first)
        ahead = joints.follow(first, 1)
        behind = joints.follow(first, 0)[::-1]
        points = [p for _, p in behind] + [*walls[first]] + [p for _, p in ahead]
        owners = (*(n for n, _ in behind), first, *(n for n, _ in ahead))
        closed = len(owners) > 2 and bool(np.hypot(*(points[0] - points[-1])) < 2 * _JOINT_M)
        corners = np.array(points[:-1] if closed else points)
        rows.append(Outline(corners, float(heights[first]), closed, owners))
    return rows


class _Joints:
    """Which walls run on into which."""

    def __init__(self, walls: Array, heights: Array) -> None:
        # What two walls that run on into each other share: a place and a height.
        marks = np.concatenate(
            [walls, np.broadcast_to(heights[:, np.newaxis, np.newaxis], (len(walls), 2, 1))],
            axis=2,
        )
        self._walls = walls
        self._marks = [
            tuple(tuple(end) for end in wall) for wall in np.rint(marks / _JOINT_M).tolist()
        ]
        self.left = set(range(len(walls)))
        self._at: dict[tuple[float, ...], list[int]] = defaultdict(list)
        for number, ends in enumerate(self._marks):
            for end in ends:
                self._at[end].append(number)

    def follow(self, number: int, end: int) -> list[tuple[int, Array]]:
        """Return the walls that go on from one end of a wall, each with its far end."""
        found: list[tuple[int, Array]] = []
        while True:
            mark = self._marks[number][end]
            onward = [other for other in self._at[mark] if other in self.left]
            if len(self._at[mark]) != 2 or len(onward) != 1:
                return found
            number = onward[0]
            self.left.discard(number)
            end = 1 if self._marks[number][0] == mark else 0
            found.append((number, self._walls[number, end]))
