"""Ground where walls, fences and hedges stand round the machine, cell by cell.

How walled in a place is has no shape of its own to draw. So ground is divided into cells,
and a cell is left open only where an upper bound for every place in it stays under the
limit; the rest is divided again, and what cannot be told at the finest size is barred.
Bounds: from any place within δ of a cell's middle, a wall reaches no farther than the
middle's reach + δ, its ends lie within asin(δ/distance) of where the middle sees them, and
across the machine they shift by δ at most.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from siteplan.geometry.arrays import BoolArray, FloatArray, IntArray, ShapeArray

_PROBES = 8
_TURNS = 30
_FULL = 2.0 * math.pi
_BEARINGS = 4 * _TURNS
_STEP = _FULL / _BEARINGS
# A wall looks at sides less than 45° off, as the rule on walled sides has it: its tolerance
# of 1e-9 on the cosine is 1.4e-9 here.
_FACING = math.pi / 4.0 - 1.2e-9
_LOOKS = _TURNS + 1
_COARSEST_M = 2.0
FINEST_M = 0.125
# A cell of this size whose middle is barred is barred whole.
_BARRED_WHOLE_M = 0.5
_CHUNK = 600
_HALVES = np.array([[-0.25, -0.25], [0.25, -0.25], [-0.25, 0.25], [0.25, 0.25]])


@dataclass(frozen=True, slots=True, eq=False)
class Walls:
    """Pieces of wall, how far off each still counts, and the machine among them.

    Attributes
    ----------
    segments : FloatArray
        Both ends [m], shape (w, 2, 2).
    reach_m : FloatArray
        From the machine's middle [m], shape (w,).
    size_m : float
        The machine's longer side [m].
    turn_deg : float
        Bearing its four sides are counted from [°].
    built : BoolArray
        Whether it is a building's wall, the building to its left: only its outer side counts.
    aside_m : float
        How far beside the middle reach is still measured straight out [m].
    """

    segments: FloatArray
    reach_m: FloatArray
    size_m: float
    turn_deg: float
    built: BoolArray
    aside_m: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """Upper bounds for all places of some cells, shape (cells,) each."""

    share: FloatArray
    cornered: BoolArray
    flanked: BoolArray


Test = Callable[[Seen], BoolArray]


def barred_cells(
    ground: BaseGeometry, walls: Walls, barred: Test, finest_m: float = FINEST_M
) -> BaseGeometry:
    """Return the part of some ground that walls bar, or that cannot be told to be open.

    Parameters
    ----------
    ground : geometry
        Area to look at; nothing is said of the rest.
    walls : Walls
        The walls that count.
    barred : callable
        Tells from what is seen which cells are barred.
    finest_m : float
        Size of cell at which what cannot be told is barred [m].
    """
    parts = shapely.get_parts([ground])
    parts = parts[(shapely.get_dimensions(parts) == 2) & ~shapely.is_empty(parts)]
    if not len(parts) or len(walls.segments) < 2:
        return shapely.Polygon()
    whole = shapely.MultiPolygon(list(parts))
    shapely.prepare(whole)
    tree = shapely.STRtree(_lines(walls.segments))
    size, middle = _COARSEST_M, _grid(whole, _COARSEST_M)
    found: list[ShapeArray] = []
    while len(middle):
        middle = middle[shapely.intersects(whole, _boxes(middle, size))]
        doubtful = middle[_tell(middle, size * math.sqrt(0.5), walls, tree, barred)]
        last = size <= finest_m
        if last or size <= _BARRED_WHOLE_M:
            shut = np.full(len(doubtful), last)
            if not last:
                shut = _tell(doubtful, 0.0, walls, tree, barred)
            found.append(_boxes(doubtful[shut], size))
            doubtful = doubtful[~shut]
        middle = (doubtful[:, None] + _HALVES * size).reshape(-1, 2)
        size /= 2.0
    return shapely.union_all(np.concatenate(found)) if found else shapely.Polygon()


def _lines(segments: FloatArray) -> ShapeArray:
    return np.asarray(shapely.linestrings(segments), dtype=np.object_)


def _grid(whole: BaseGeometry, size: float) -> FloatArray:
    low_x, low_y, high_x, high_y = whole.bounds
    x = np.arange(low_x + size / 2.0, high_x + size / 2.0, size)
    y = np.arange(low_y + size / 2.0, high_y + size / 2.0, size)
    places: FloatArray = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    return places


def _boxes(middle: FloatArray, size: float) -> ShapeArray:
    # Neighbours overlap by a hair, so that no gap is left between them.
    half = size / 2.0 + 1e-9
    x, y = middle[:, 0], middle[:, 1]
    return np.asarray(shapely.box(x - half, y - half, x + half, y + half), dtype=np.object_)


def _tell(
    middle: FloatArray, within_m: float, walls: Walls, tree: shapely.STRtree, barred: Test
) -> BoolArray:
    """Tell for which cells the bound does not show that they are open."""
    told = np.zeros(len(middle), dtype=np.bool_)
    for cells, found in _seen_in_parts(middle, within_m, walls, tree):
        told[cells] = barred(found)
    return told


def seen_from(places: FloatArray, walls: Walls) -> Seen:
    """Return what is walled as seen from places (m, 2) [m], as the rules find it."""
    whole = Seen(np.zeros(len(places)), *np.zeros((2, len(places)), dtype=np.bool_))
    if len(walls.segments) > 1:
        tree = shapely.STRtree(_lines(walls.segments))
        for cells, found in _seen_in_parts(places, 0.0, walls, tree):
            whole.share[cells], whole.cornered[cells] = found.share, found.cornered
            whole.flanked[cells] = found.flanked
    return whole


def _seen_in_parts(
    middle: FloatArray, within_m: float, walls: Walls, tree: shapely.STRtree
) -> Iterator[tuple[IntArray, Seen]]:
    """Yield which cells have two or more walls about them, and what is seen there."""
    if not len(middle):
        return
    farthest = float(_radius_m(walls, within_m).max())
    cell, wall = tree.query(shapely.points(middle), predicate="dwithin", distance=farthest)
    order = np.argsort(cell, kind="stable")
    cell, wall = cell[order], wall[order]
    cells, first, count = np.unique(cell, return_index=True, return_counts=True)
    cells, first, count = (one[count > 1] for one in (cells, first, count))
    for start in range(0, len(cells), _CHUNK):
        part = slice(start, start + _CHUNK)
        rank = np.arange(int(count[part].max()))
        there = rank < count[part, None]
        index = wall[np.where(there, first[part, None] + rank, 0)]
        yield cells[part], seen(middle[cells[part]], within_m, walls, (index, there))


def seen(
    middle: FloatArray, within_m: float, walls: Walls, which: tuple[IntArray, BoolArray]
) -> Seen:
    """Return upper bounds of what is walled for all places near some middles.

    Parameters
    ----------
    middle : FloatArray
        Places [m], shape (m, 2).
    within_m : float
        How far from them the bounds hold [m]; at 0 they are what the rules themselves find.
    walls : Walls
        The walls that count.
    which : tuple of arrays
        Index of the walls each place is tried against, and which entries count, (m, k) each.
    """
    index, there = which
    pieces, near = _cut(walls.segments[index] - middle[:, None, None], walls, index, within_m)
    near &= there & ~(walls.built[index] & (_depth_m(pieces) > within_m))
    away = np.where(near, _distance_m(pieces), np.inf)
    # Round a wall that passes within the cell any bearing may be walled.
    share, extent = _spans(pieces, near, within_m, around=near & (away < within_m))
    nearest = away.min(axis=1) - within_m
    aside = np.arcsin(np.clip(walls.size_m / 2.0 / np.maximum(nearest, 1e-9), 0.0, 1.0))
    # Two sides at a right angle can only be walled if walls stretch over nearly a quarter turn.
    cornered = extent >= math.pi / 2.0 - 2.0 * aside
    flanked = cornered.copy()
    hard = np.flatnonzero(cornered)
    if len(hard):
        part = _Part(pieces[hard], near[hard], walls.built[index[hard]])
        cornered[hard], flanked[hard] = _sides(part, within_m, walls)
    return Seen(share, cornered, flanked)


def _cut(
    moved: FloatArray, walls: Walls, index: IntArray, within_m: float
) -> tuple[FloatArray, BoolArray]:
    """Return the pieces of walls within reach, seen from each middle, and which there are."""
    reach = _radius_m(walls, within_m)[index]
    start, along = moved[:, :, 0], moved[:, :, 1] - moved[:, :, 0]
    length2 = np.maximum((along**2).sum(axis=2), 1e-18)
    share = -(start * along).sum(axis=2) / length2
    over = reach**2 - (start**2).sum(axis=2)
    half2 = share**2 + over / length2
    half = np.sqrt(np.maximum(half2, 0.0))
    ends = np.clip(np.stack([share - half, share + half], axis=2), 0.0, 1.0)
    pieces = start[:, :, None] + ends[..., None] * along[:, :, None]
    near = (half2 >= 0.0) & (share - half <= 1.0) & (share + half >= 0.0)
    return pieces, near


def _radius_m(walls: Walls, within_m: float) -> FloatArray:
    """Return how far from a middle a wall may be met [m], shape (w,)."""
    aside = walls.aside_m + within_m if walls.aside_m > 0.0 else 0.0
    return np.hypot(walls.reach_m + within_m, aside)


def _depth_m(pieces: FloatArray) -> FloatArray:
    """Return how far each middle lies on the left of each piece of wall [m]."""
    along = pieces[:, :, 1] - pieces[:, :, 0]
    length = np.maximum(np.hypot(along[..., 0], along[..., 1]), 1e-12)
    start = pieces[:, :, 0]
    depth: FloatArray = (along[..., 1] * start[..., 0] - along[..., 0] * start[..., 1]) / length
    return depth


def _distance_m(pieces: FloatArray) -> FloatArray:
    start, along = pieces[:, :, 0], pieces[:, :, 1] - pieces[:, :, 0]
    length2 = np.maximum((along**2).sum(axis=2), 1e-18)
    share = np.clip(-(start * along).sum(axis=2) / length2, 0.0, 1.0)
    nearest = start + share[..., None] * along
    return np.asarray(np.hypot(nearest[..., 0], nearest[..., 1]), dtype=np.float64)


def _spans(
    pieces: FloatArray, near: BoolArray, within_m: float, around: BoolArray
) -> tuple[FloatArray, FloatArray]:
    """Return the share of bearings walled, and the smallest angle that holds all walls [rad]."""
    x, y = pieces[..., 0], pieces[..., 1]
    sweep = np.arctan2(x[..., 0] * y[..., 1] - x[..., 1] * y[..., 0], (x[..., 0] * x[..., 1])
                       + y[..., 0] * y[..., 1])  # fmt: skip
    away = np.maximum(np.hypot(x, y), 1e-12)
    doubt = np.where(within_m >= away, math.pi, np.arcsin(np.clip(within_m / away, 0.0, 1.0)))
    begin = np.arctan2(y[..., 0], x[..., 0])
    low = np.minimum(begin - doubt[..., 0], begin + sweep - doubt[..., 1])
    high = np.maximum(begin + doubt[..., 0], begin + sweep + doubt[..., 1])
    high = np.where(around, low + _FULL, np.minimum(high, low + _FULL))
    low, high = np.where(near, low, 0.0), np.where(near, high, 0.0)
    turn = np.floor(low / _FULL) * _FULL
    low, high = low - turn, high - turn
    low = np.concatenate([low, low - _FULL], axis=1)
    high = np.concatenate([high, high - _FULL], axis=1)
    empty = ~np.concatenate([near, near], axis=1) | (high <= 0.0)
    low = np.where(empty, _FULL, np.clip(low, 0.0, _FULL))
    high = np.where(empty, _FULL, np.clip(high, 0.0, _FULL))
    order = np.argsort(low, axis=1)
    low, high = np.take_along_axis(low, order, 1), np.take_along_axis(high, order, 1)
    reached = np.maximum.accumulate(high, axis=1)
    before = np.concatenate([np.zeros((len(low), 1)), reached[:, :-1]], axis=1)
    gaps = np.maximum(low - before, 0.0)
    open_rad = gaps.sum(axis=1) + _FULL - reached[:, -1]
    inner = np.where(low < _FULL, gaps, 0.0)[:, 1:].max(axis=1, initial=0.0)
    seam = _FULL - np.where(low < _FULL, high, 0.0).max(axis=1) + low[:, 0]
    return 1.0 - open_rad / _FULL, _FULL - np.maximum(inner, seam)


class _Part(NamedTuple):
    """Pieces of wall round some middles, which there are, and which are a building's."""

    pieces: FloatArray
    near: BoolArray
    built: BoolArray


def _sides(part: _Part, within_m: float, walls: Walls) -> tuple[BoolArray, BoolArray]:
    """Tell where two adjoining sides are walled in some turn, and where any two are."""
    masks = np.zeros(len(part.pieces) * _BEARINGS, dtype=np.uint8)
    cell, wall = np.nonzero(part.near)
    picked = part.pieces[cell, wall], part.built[cell, wall]
    for place, hit in _probed(*picked, within_m, walls):
        row = cell[:, None] * _BEARINGS + place
        np.bitwise_or.at(masks, row.ravel(), hit.ravel())
    covered = _BITS[masks] * 2 >= _PROBES
    sides = covered.reshape(len(part.pieces), 4, _TURNS)
    count = sides.sum(axis=1)
    corner = (sides & np.roll(sides, 1, axis=1)).any(axis=1)
    return ((count >= 2) & corner).any(axis=1), (count >= 2).any(axis=1)


def _probed(
    pieces: FloatArray, built: BoolArray, within_m: float, walls: Walls
) -> Iterator[tuple[IntArray, IntArray]]:
    """Yield for either face of pieces of wall the bearings it looks at and the probes that meet it.

    Bearings by number, of 120; probes across the machine as bits; shapes (n, k) each.
    """
    along = pieces[:, 1] - pieces[:, 0]
    length = np.maximum(np.hypot(along[:, 0], along[:, 1]), 1e-12)
    normal = np.stack([along[:, 1], -along[:, 0]], axis=1) / length[:, None]
    right = np.stack([normal[:, 1], -normal[:, 0]], axis=1)
    depth = (normal * pieces[:, 0]).sum(axis=1)
    aside = (pieces * right[:, None]).sum(axis=2)
    for face in (1.0, -1.0):
        # Where the wall's line passes within the cell, either face may look at it.
        looks = (face * depth >= -within_m) & ~(built & (face > 0.0))
        bearing = np.arctan2(face * normal[:, 0], face * normal[:, 1])
        low = (bearing - _FACING - math.radians(walls.turn_deg)) / _STEP
        place = np.ceil(low).astype(np.int64)[:, None] + np.arange(_LOOKS)
        turn = (place - low[:, None]) * _STEP - _FACING
        ends = (face * aside[:, None, :], face * depth[:, None, None])
        hit = _bits(ends, turn[..., None], within_m, walls.size_m / _PROBES)
        yield place % _BEARINGS, np.where(looks[:, None] & (turn <= _FACING), hit, 0)


def _bits(
    ends: tuple[FloatArray, FloatArray], turn: FloatArray, within_m: float, step_m: float
) -> IntArray:
    """Return which probes may meet a piece of wall, as bits.

    `ends` lie beside and before a machine that looks straight at the wall [m]; it is turned
    from that by `turn` [rad].
    """
    aside, depth = ends
    across = aside * np.cos(turn) - depth * np.sin(turn)
    ahead = (depth * np.cos(turn) + aside * np.sin(turn)).max(axis=2) >= -within_m
    first = np.ceil((across.min(axis=2) - within_m) / step_m + (_PROBES - 1) / 2.0)
    last = np.floor((across.max(axis=2) + within_m) / step_m + (_PROBES - 1) / 2.0)
    met = ahead & (last >= first) & (last >= 0) & (first < _PROBES)
    low = np.clip(first, 0, _PROBES).astype(np.int64)
    high = np.clip(last, -1, _PROBES - 1).astype(np.int64)
    bits: IntArray = np.where(met, (1 << (high + 1)) - (1 << low), 0).astype(np.uint8)
    return bits


_BITS = np.array([one.bit_count() for one in range(1 << _PROBES)])
