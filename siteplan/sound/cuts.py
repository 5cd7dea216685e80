"""Where straight paths are cut by screens, and how much longer the ways over and round are.

A screen is taken by itself: what stands before or behind it is left out, so each way round is
no longer than the true one and a screen is never credited with more than it gives.
"""

from dataclasses import dataclass, fields

import numpy as np

from siteplan.sound.checks import Array
from siteplan.sound.screening import least_detour_m
from siteplan.sound.screens import ON_THE_WALL_M, Mask, Outline, Rows, Screens

# Of two corners seen in one direction the nearer is touched first.
_NEARER_FIRST = 1e-9
_NOTHING_BELOW_M = float(least_detour_m(1.0)[0])


@dataclass(frozen=True)
class Cuts:
    """One row for each pair of a receiver and a screen between it and the source; p rows.

    Attributes
    ----------
    receiver, obstacle : ndarray of int, shape (p,)
        Which pair.
    height_m, above_m : ndarray, shape (p,)
        Height of the screen over the ground and over the line of sight [m].
    detour_m, to_source_m, to_receiver_m, depth_m : ndarray, shape (p,)
        The way over the top: z, dss, dsr and e of ISO 9613-2 [m].
    side_detours_m, side_depths_m : ndarray, shape (p, 2)
        The ways round both ends: z and e [m]; z is infinite where there is none.
    side_reaches_m : ndarray, shape (p, 2)
        How far the screen reaches to both sides of the path [m].
    """

    receiver: Rows
    obstacle: Rows
    height_m: Array
    above_m: Array
    detour_m: Array
    to_source_m: Array
    to_receiver_m: Array
    depth_m: Array
    side_detours_m: Array
    side_depths_m: Array
    side_reaches_m: Array

    def kept(self, mask: Mask) -> "Cuts":
        """Return only the rows of a mask."""
        return Cuts(*(getattr(self, field.name)[mask] for field in fields(self)))


@dataclass(frozen=True)
class Sight:
    """The straight paths from one source to n receivers, in plan."""

    source: Array
    receivers: Array

    @property
    def legs(self) -> Array:
        """Vectors from source to receivers in plan [m], shape (n, 2)."""
        return np.asarray(self.receivers[:, :2] - self.source[:2])

    @property
    def lengths_m(self) -> Array:
        """Distances in plan [m], shape (n,)."""
        return np.asarray(np.hypot(*self.legs.T))

    def across_m(self, points: Array) -> Array:
        """Return how far points lie to the left of each path [m], shape (n, v)."""
        x, y = (points - self.source[:2]).T
        legs = self.legs / np.maximum(self.lengths_m, 1e-9)[:, np.newaxis]
        return np.asarray(np.outer(legs[:, 0], y) - np.outer(legs[:, 1], x))

    def along_m(self, points: Array) -> Array:
        """Return how far along each path points lie [m], shape (n, v)."""
        x, y = (points - self.source[:2]).T
        legs = self.legs / np.maximum(self.lengths_m, 1e-9)[:, np.newaxis]
        return np.asarray(np.outer(legs[:, 0], x) + np.outer(legs[:, 1], y))

    def by_way_of_m(self, points: Array) -> Array:
        """Return the length in plan from source to receivers by way of points [m], (n, v)."""
        near = np.hypot(*(points - self.source[:2]).T)
        offset = self.receivers[:, np.newaxis, :2] - points
        return np.asarray(near + np.hypot(offset[..., 0], offset[..., 1]))

    def crossings_m(self, across: Array, along: Array) -> tuple[Mask, Array]:
        """Return whether and where [m] each straight line meets edges, given both ends of each.

        The ends come as pairs along the last axis: shape (n, k, 2) gives (n, k). Lines run on
        beyond source and receiver.
        """
        left = across >= 0.0
        span = across[..., 0] - across[..., 1]
        share = np.divide(across[..., 0], span, out=np.zeros_like(span), where=span != 0.0)
        where = along[..., 0] + share * (along[..., 1] - along[..., 0])
        return left[..., 0] != left[..., 1], where

    def between(self, where: Array, slack_m: float) -> Mask:
        """Return which places along the paths [m] lie between source and receiver."""
        end = self.lengths_m[:, np.newaxis] + slack_m
        return np.asarray((where > -slack_m) & (where < end))


def find_cuts(source: Array, receivers: Array, screens: Screens, top_m: float) -> Cuts:
    """Return every screen that could weaken the sound on the way to every receiver.

    Parameters
    ----------
    source : ndarray, shape (3,)
        Source: place in plan and height [m].
    receivers : ndarray, shape (n, 3)
        Receivers [m].
    screens : Screens
        Walls and buildings.
    top_m : float
        Height of the source that a screen must hide [m].
    """
    sight = Sight(np.array([source[0], source[1], top_m]), receivers)
    parts = [_cuts_of_rows(sight, screens)]
    parts += [_cuts_of_building(sight, building) for building in screens.buildings]
    joined = Cuts(*(np.concatenate([getattr(p, f.name) for p in parts]) for f in fields(Cuts)))
    # Below this no band is weakened.
    return joined.kept(joined.detour_m > _NOTHING_BELOW_M)


def _over_the_top(
    sight: Sight, receiver: Rows, height: Array, first: Array, last: Array
) -> tuple[Array, Array, Array, Array, Array]:
    """Return the columns of `Cuts` from `above_m` to `depth_m`, for the way over the top [m].

    Parameters
    ----------
    first, last : ndarray, shape (p,)
        Where along the path the first and the last edge lie [m].
    """
    hs, hr = sight.source[2], sight.receivers[receiver, 2]
    whole = sight.lengths_m[receiver]
    # An end above the roof sees past the edge on its own side.
    first, last = np.where(hs >= height, last, first), np.where(hr >= height, first, last)
    depth = np.maximum(last - first, 0.0)
    near, far = np.hypot(first, height - hs), np.hypot(whole - last, hr - height)
    above = height - (hs + (hr - hs) * np.stack([first, last]) / whole).min(axis=0)
    straight = np.hypot(whole, hr - hs)
    return above, np.sign(above) * (near + depth + far - straight), near, far, depth


def _side_detours(sight: Sight, receiver: Rows, plan_lengths: Array) -> Array:
    """Return how much longer ways round are [m], from their lengths in plan, shape (p, 2)."""
    rise = (sight.receivers[receiver, 2] - sight.source[2])[:, np.newaxis]
    straight = np.hypot(sight.lengths_m[receiver][:, np.newaxis], rise)
    return np.asarray(np.maximum(np.hypot(plan_lengths, rise) - straight, 0.0))


def _cuts_of_rows(sight: Sight, screens: Screens) -> Cuts:
    rows = screens.rows
    ends = screens.row_edges.reshape(-1, 2)
    by_edge = (len(sight.receivers), len(screens.row_edges), 2)
    across, along = sight.across_m(ends).reshape(by_edge), sight.along_m(ends).reshape(by_edge)
    met, where = sight.crossings_m(across, along)
    receiver, edge = np.nonzero(met & sight.between(where, -ON_THE_WALL_M))
    ways = sight.by_way_of_m(ends).reshape(by_edge)
    reaches = across.copy()
    _run_on(rows, met & sight.between(where, ON_THE_WALL_M), ways, reaches)
    owner = np.array([number for row in rows for number in row.numbers], dtype=np.intp)
    height = np.array([row.height_m for row in rows for _ in row.numbers], dtype=np.float64)[edge]
    at = where[receiver, edge]
    return Cuts(
        receiver,
        owner[edge],
        height,
        *_over_the_top(sight, receiver, height, at, at),
        _side_detours(sight, receiver, ways[receiver, edge]),
        np.zeros((len(edge), 2)),
        np.abs(reaches[receiver, edge]),
    )


def _run_on(rows: tuple[Outline, ...], met: Mask, ways: Array, reaches: Array) -> None:
    """Carry the ways round from the ends of each wall to the ends of the row it belongs to.

    A way round that clears every further corner of a row is at least as long as the way by any
    one of them. It holds where the path meets the row once; where it meets it again, a wall is
    left by itself.
    """
    start = 0
    for row in rows:
        edges = slice(start, start + len(row.numbers))
        start = edges.stop
        if len(row.numbers) == 1:
            continue
        once = np.count_nonzero(met[:, edges], axis=1) == 1
        if row.closed:
            ways[once, edges] = reaches[once, edges] = np.inf
        else:
            _furthest(ways, reaches, once, edges)


def _furthest(ways: Array, reaches: Array, once: Mask, edges: slice) -> None:
    for end, turn in ((0, slice(None)), (1, slice(None, None, -1))):
        way = ways[once, edges, end][:, turn]
        ways[once, edges, end] = np.maximum.accumulate(way, axis=1)[:, turn]
        own = reaches[once, edges, end]
        most = np.maximum.accumulate(own[:, turn], axis=1)[:, turn]
        least = np.minimum.accumulate(own[:, turn], axis=1)[:, turn]
        reaches[once, edges, end] = np.where(own >= 0.0, most, least)


def _cuts_of_building(sight: Sight, building: Outline) -> Cuts:
    v = len(building.points)
    pairs = np.stack([np.arange(v), np.roll(np.arange(v), -1)], axis=1)
    across, along = sight.across_m(building.points), sight.along_m(building.points)
    met, where = sight.crossings_m(across[:, pairs], along[:, pairs])
    crossed = met & sight.between(where, -ON_THE_WALL_M)
    count = np.count_nonzero(crossed, axis=1)
    # An odd number means that an end is inside or on the wall: no credit.
    hidden = (count > 0) & (count % 2 == 0)
    hidden &= (sight.source[2] < building.height_m) | (sight.receivers[:, 2] < building.height_m)
    receiver = np.nonzero(hidden)[0]
    first = np.where(crossed, where, np.inf).min(axis=1, initial=np.inf)
    last = np.where(crossed, where, -np.inf).max(axis=1, initial=-np.inf)
    height = np.full(len(receiver), building.height_m)
    over = _over_the_top(sight, receiver, height, first[receiver], last[receiver])
    lengths, depths = _ways_round(sight, building, receiver, crossed, where)
    left, right = (side[receiver].max(axis=1, initial=0.0) for side in (across, -across))
    return Cuts(
        receiver,
        np.full(len(receiver), building.numbers[0], dtype=np.intp),
        height,
        *over,
        _side_detours(sight, receiver, lengths),
        depths,
        np.stack([left, right], axis=1),
    )


def _ways_round(
    sight: Sight, building: Outline, receiver: Rows, crossed: Mask, where: Array
) -> tuple[Array, Array]:
    """Return length in plan and depth of the ways round a building [m], each (p, 2)."""
    lengths, depths = _taut_strings(sight, building.hull, receiver)
    enclosed = _inside(sight.source[np.newaxis, :2], building.hull)[0]
    nook = _inside(sight.receivers[receiver, :2], building.hull) | enclosed
    # In a nook a string round the hull would be too long; any way must still clear the first face.
    face = np.where(crossed, where, np.inf)[receiver].argmin(axis=1)
    ways = sight.by_way_of_m(building.points)[receiver]
    ends = np.stack([face, (face + 1) % len(building.points)], axis=1)
    short = np.take_along_axis(ways, ends, axis=1)
    nooks = nook[:, np.newaxis]
    return np.where(nooks, short, lengths), np.where(nooks, 0.0, depths)


def _inside(points: Array, hull: Array) -> Mask:
    """Return which points lie in or on a convex outline."""
    side = np.roll(hull, -1, axis=0) - hull
    offset = points[:, np.newaxis] - hull
    turn = side[:, 0] * offset[..., 1] - side[:, 1] * offset[..., 0]
    return np.asarray((turn >= -_NEARER_FIRST).all(axis=1))


def _taut_strings(sight: Sight, hull: Array, receiver: Rows) -> tuple[Array, Array]:
    """Return lengths and depths in plan [m] of strings pulled taut round a convex outline."""
    across, along = sight.across_m(hull)[receiver], sight.along_m(hull)[receiver]
    rest = sight.lengths_m[receiver][:, np.newaxis] - along
    near, far = np.hypot(across, along), np.hypot(across, rest)
    sides = np.roll(hull, -1, axis=0) - hull
    steps = np.hypot(*sides.T)
    mark, whole = np.cumsum(steps) - steps, steps.sum()
    rows = np.arange(len(receiver))
    lengths, depths = np.empty((2, len(receiver), 2))
    for way, side in enumerate((1.0, -1.0)):
        first = (np.arctan2(side * across, along) - _NEARER_FIRST * near).argmax(axis=1)
        last = (np.arctan2(side * across, rest) - _NEARER_FIRST * far).argmax(axis=1)
        depths[:, way] = (side * (mark[first] - mark[last])) % whole
        lengths[:, way] = near[rows, first] + depths[:, way] + far[rows, last]
    return lengths, depths
