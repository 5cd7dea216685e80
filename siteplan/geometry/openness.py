"""How open or how walled in a place is: blocked bearings, free reach, sky seen, walled sides.

These figures describe a place; none of them permits a shorter distance. No published
threshold for carbon monoxide was found for any of them.

Walls are segments, an array of shape (n, 2, 2) [m]; bearings run clockwise from +y.
"""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from siteplan.errors import OutOfRangeError
from siteplan.geometry.arrays import XY, BoolArray, FloatArray, IntArray, as_segments

if TYPE_CHECKING:
    # Only for annotations: importing it costs every start of the program 15 ms.
    import numpy.typing as npt

RAYS = 720
_FARTHEST_M = 10_000.0
# Directions tried for the four sides: every 3°.
_TURNS = 30
# Places across the machine at which a side is probed.
_PROBES = 8
_WALLED_FROM = 0.5
# No wall that looks at a side is this narrow there, unless it is that short itself [m].
_END_ON_M = 1e-12
# A wall belongs to one side only: the one its face looks at within 45°.
_FACING = math.sqrt(0.5) + 1e-9


@dataclass(frozen=True, slots=True)
class SidesWalled:
    """On how many of its four sides a place is walled, however the four sides are turned.

    Attributes
    ----------
    count : int
        0 to 4.
    adjoining : bool
        Whether two of the walled sides meet in a corner; True for 3 and 4, False for the
        two sides of a passage.
    bearing_deg : float
        Bearing of the first of the four sides in the turn that gave the count [°].
    walled : tuple of bool
        Which of the four sides, clockwise from that bearing.
    """

    count: int
    adjoining: bool
    bearing_deg: float
    walled: tuple[bool, bool, bool, bool]


def horizon(point: XY, walls: "npt.ArrayLike", reach_m: float, rays: int = RAYS) -> FloatArray:
    """Return how far each ray runs before it meets a wall [m], shape (rays,).

    Ray k has bearing (k + ½)·360°/rays, so that rays miss the corners of walls that lie
    along the axes. A ray that meets nothing within `reach_m` runs infinitely far.
    Each wall is tried only against the rays within its own span.
    """
    near = _relative(point, walls, reach_m)
    owner, ray = _spans(near, rays)
    run = _run_m(near[owner], _bearings(rays)[ray])
    free = np.full(rays, np.inf)
    np.minimum.at(free, ray, run)
    free[free > reach_m] = np.inf
    return free


def blocked_share(point: XY, walls: "npt.ArrayLike", reach_m: float) -> float:
    """Return the share of all bearings that meet a wall within reach, 0 to 1.

    Exact: every wall is cut to the circle of `reach_m` [m] and the spans are united. Pass
    only the walls that are tall enough to count. Common practice, no source; no threshold
    on it is published, so it informs and never permits.

    Parameters
    ----------
    point : tuple of float
        Where one stands [m, m].
    walls : array_like
        Ends of each wall [m], shape (n, 2, 2).
    reach_m : float
        How far a wall counts [m], over 0.
    """
    start, sweep = _span(_cut_to_circle(_relative(point, walls, reach_m), reach_m))
    return _united(start, sweep) / (2.0 * math.pi)


def open_ratio(point: XY, walls: "npt.ArrayLike", reach_m: float, rays: int = RAYS) -> float:
    """Return the area seen within reach over the area of the full circle, 0 to 1.

    The mean of r²/R² over all bearings (after Benedikt 1979, Environment and Planning B
    6(1) 47-65, known from its abstract). With 720 rays within 0.3 % of the exact polygon.
    """
    free = np.minimum(horizon(point, walls, reach_m, rays), reach_m)
    return float(np.mean(np.square(free))) / reach_m**2


def sky_view(
    point: XY, walls: "npt.ArrayLike", heights_m: "npt.ArrayLike", reach_m: float, rays: int = RAYS
) -> float:
    """Return the sky view factor on level ground: the mean of cos² of the horizon's height.

    `heights_m` [m] is the top of each wall above the point, shape (n,). Visible share of
    the hemisphere weighted by the cosine (after Oke 1981, from memory).
    """
    segments = as_segments(walls)
    tops = np.broadcast_to(np.asarray(heights_m, dtype=np.float64), len(segments))
    kept = _away_m(segments - np.asarray(point)) <= reach_m
    near, tops = segments[kept] - np.asarray(point), tops[kept]
    owner, ray = _spans(near, rays)
    run = _run_m(near[owner], _bearings(rays)[ray])
    slope = np.zeros(rays)
    with np.errstate(divide="ignore"):
        np.maximum.at(slope, ray, np.where(run <= reach_m, np.maximum(tops[owner], 0.0) / run, 0))
    return float(np.mean(1.0 / (1.0 + np.square(slope))))


def sides_walled(
    centre_xy: XY,
    size_m: float,
    walls: "npt.ArrayLike",
    reach_m: "npt.ArrayLike",
    turn_deg: float = 0.0,
) -> SidesWalled:
    """Tell on how many of its four sides a machine has a wall within reach.

    A wall stands on a side when its face looks at that side within 45° and it covers
    about half the machine's width or more there. So an inside corner counts two sides wherever the
    machine points, a passage two opposite ones, an alcove three, a courtyard four. Of all
    turns of the four sides, in steps of 3° from `turn_deg`, the most walled one is told;
    therefore one more wall never lowers the answer. Common practice, no source.

    Parameters
    ----------
    centre_xy : tuple of float
        Middle of the machine [m, m].
    size_m : float
        Its width across [m]; with sides that differ pass the longer one.
    walls : array_like
        Segments (n, 2, 2) [m] tall enough to count.
    reach_m : array_like
        From the middle of the machine, straight out to a side [m]; one, or one for each wall.
    turn_deg : float
        Any bearing fixed to the plan, such as the machine's front [°].
    """
    if not 0.0 < size_m <= _FARTHEST_M:
        raise OutOfRangeError("size [m]", size_m, 0.0, _FARTHEST_M)
    moved: FloatArray = as_segments(walls) - centre_xy
    reach = np.broadcast_to(_checked_reach(reach_m), len(moved))
    kept = _away_m(moved) <= reach
    bearings = math.radians(turn_deg) + _steps(4 * _TURNS)
    walled = _covered(moved[kept], bearings, size_m, reach[kept]) >= _WALLED_FROM
    sides: BoolArray = walled.reshape(4, _TURNS).T
    counts = sides.sum(axis=1)
    corner = (sides & np.roll(sides, 1, axis=1)).any(axis=1)
    best = int(np.argmax(2 * counts + corner))
    front, right, rear, left = (bool(side) for side in sides[best])
    turned = math.degrees(bearings[best]) % 360.0
    return SidesWalled(int(counts[best]), bool(corner[best]), turned, (front, right, rear, left))


def wall_distances(point: XY, walls: "npt.ArrayLike") -> FloatArray:
    """Return how far each wall, shape (n, 2, 2), is from a place [m], shape (n,)."""
    return _away_m(as_segments(walls) - np.asarray(point))


def _steps(count: int) -> FloatArray:
    return np.arange(count) * (2.0 * math.pi / count)


def _bearings(rays: int) -> FloatArray:
    return (np.arange(rays) + 0.5) * (2.0 * math.pi / rays)


def _relative(point: XY, walls: "npt.ArrayLike", reach_m: float) -> FloatArray:
    """Return the walls that come within reach, seen from the point."""
    _checked_reach(reach_m)
    moved: FloatArray = as_segments(walls) - np.asarray(point)
    return moved[_away_m(moved) <= reach_m]


def _checked_reach(reach_m: "npt.ArrayLike") -> FloatArray:
    reach = np.asarray(reach_m, dtype=np.float64)
    wrong = ~((reach > 0.0) & (reach <= _FARTHEST_M))
    if wrong.any():
        raise OutOfRangeError("reach [m]", float(reach[wrong].flat[0]), 0.0, _FARTHEST_M)
    return reach


def _away_m(walls: FloatArray) -> FloatArray:
    """Return how far walls are from the origin [m]."""
    start, along = walls[:, 0], walls[:, 1] - walls[:, 0]
    length2 = np.einsum("ij,ij->i", along, along)
    share = -np.einsum("ij,ij->i", start, along) / np.where(length2 > 0.0, length2, 1.0)
    nearest = start + np.clip(share, 0.0, 1.0)[:, None] * along
    away: FloatArray = np.hypot(nearest[:, 0], nearest[:, 1])
    return away


def _span(walls: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return bearing of the first end and clockwise sweep [rad] of walls seen from the origin."""
    (x0, y0), (x1, y1) = walls[:, 0].T, walls[:, 1].T
    sweep = np.arctan2(x1 * y0 - x0 * y1, x0 * x1 + y0 * y1)
    start = np.where(sweep >= 0.0, np.arctan2(x0, y0), np.arctan2(x1, y1))
    return start, np.abs(sweep)


def _spans(walls: FloatArray, rays: int) -> tuple[IntArray, IntArray]:
    """Return every pair of a wall and a ray within its span, as two index arrays."""
    start, sweep = _span(walls)
    step = 2.0 * math.pi / rays
    first = np.ceil(start / step - 0.5).astype(np.int64)
    count = np.floor((start + sweep) / step - 0.5).astype(np.int64) - first + 1
    owner = np.repeat(np.arange(len(walls)), count)
    rank = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
    return owner, (first[owner] + rank) % rays


def _run_m(walls: FloatArray, bearings: FloatArray) -> FloatArray:
    """Return how far from the origin each bearing meets its own wall [m], element by element."""
    (x0, y0), (dx, dy) = walls[:, 0].T, (walls[:, 1] - walls[:, 0]).T
    across = np.sin(bearings) * dy - np.cos(bearings) * dx
    offset = x0 * dy - y0 * dx
    # A ray along a wall has no crossing of its own; the wall's neighbours stop it.
    run = np.divide(offset, across, out=np.full(len(across), np.inf), where=across != 0.0)
    return np.maximum(run, 0.0)


def _cut_to_circle(walls: FloatArray, radius_m: float) -> FloatArray:
    """Return the parts of walls within a circle about the origin."""
    start, along = walls[:, 0], walls[:, 1] - walls[:, 0]
    length2 = np.einsum("ij,ij->i", along, along)
    length2 = np.where(length2 > 0.0, length2, 1.0)
    middle = -np.einsum("ij,ij->i", start, along) / length2
    over = radius_m**2 - np.einsum("ij,ij->i", start, start)
    half = np.sqrt(np.maximum(middle**2 + over / length2, 0.0))
    shares = np.clip(np.column_stack([middle - half, middle + half]), 0.0, 1.0)
    cut: FloatArray = start[:, None] + shares[:, :, None] * along[:, None]
    return cut


def _united(start: FloatArray, sweep: FloatArray) -> float:
    """Return the length of the union of arcs on the full circle [rad]."""
    start = np.mod(start, 2.0 * math.pi)
    # An arc over the seam appears a second time, one turn earlier.
    begin = np.concatenate([start, start - 2.0 * math.pi])
    end = np.clip(begin + np.concatenate([sweep, sweep]), 0.0, 2.0 * math.pi)
    begin = np.clip(begin, 0.0, 2.0 * math.pi)
    order = np.argsort(begin)
    begin, end = begin[order], end[order]
    reached = np.concatenate([[0.0], np.maximum.accumulate(end)[:-1]])
    return float(np.sum(np.maximum(end - np.maximum(begin, reached), 0.0)))


def _covered(
    walls: FloatArray, bearings: FloatArray, size_m: float, reach_m: FloatArray
) -> FloatArray:
    """Return for each bearing the share of the machine's width that faces a wall there."""
    out = np.column_stack([np.sin(bearings), np.cos(bearings)])
    right = np.column_stack([out[:, 1], -out[:, 0]])
    across, ahead = walls @ right.T, walls @ out.T  # (walls, ends, bearings)
    probes = ((np.arange(_PROBES) + 0.5) / _PROBES - 0.5) * size_m
    u0, u1 = across[:, 0, :, None], across[:, 1, :, None]
    v0, v1 = ahead[:, 0, :, None], ahead[:, 1, :, None]
    # A wall seen end on has no width; next to none of it would overflow the share.
    end_on = np.abs(u1 - u0) <= _END_ON_M
    width = np.where(end_on, 1.0, u1 - u0)
    share = (probes - u0) / width
    depth = v0 + share * (v1 - v0)
    met = (
        (share >= 0.0)
        & (share <= 1.0)
        & ~end_on
        & (depth >= 0.0)
        & (depth <= reach_m[:, None, None])
    )
    met &= _faces(walls, out)[:, :, None]
    return np.asarray(met.any(axis=0).mean(axis=1), dtype=np.float64)


def _faces(walls: FloatArray, out: FloatArray) -> BoolArray:
    """Tell which walls look at which outward directions within 45°, shape (walls, bearings)."""
    along = walls[:, 1] - walls[:, 0]
    normal = np.column_stack([along[:, 1], -along[:, 0]])
    normal *= np.where(np.einsum("ij,ij->i", normal, walls[:, 0]) >= 0.0, 1.0, -1.0)[:, None]
    length = np.hypot(normal[:, 0], normal[:, 1])
    facing: BoolArray = normal @ out.T > _FACING * length[:, None]
    return facing
