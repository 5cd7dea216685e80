"""Which pairs of places see each other past solid walls: all pairs in one pass.

Each wall is tried only against the lines of sight within its own span of bearings, found
by bisection in the sorted bearings; so a few walls are tried per line, not all of them.
"""

import math

import numpy as np

from siteplan.geometry.arrays import BoolArray, FloatArray, IntArray

# Rounding of bearings plus the offset that keeps the places apart stays below this [rad].
_PAD = 1e-12
# Room for bearings 0..2π and for a span that runs past the seam.
_STRIDE = 16.0
_FULL = 2.0 * math.pi
_CHUNK = 150_000


def sees(
    sources: FloatArray, targets: FloatArray, pairs: tuple[IntArray, IntArray], walls: FloatArray
) -> BoolArray:
    """Tell for each pair whether no wall stands between its source and its target.

    Parameters
    ----------
    sources, targets : FloatArray
        Places [m], shapes (s, 2) and (t, 2), outside every solid.
    pairs : tuple of IntArray
        Index into sources and into targets of each pair, each of shape (p,).
    walls : FloatArray
        Edges of solids (w, 2, 2) [m], solid to the left of each, closed round every solid.
        Only walls that turn their outer side to the source are tried: a line of sight that
        meets a solid enters it through one of those.

    Returns
    -------
    BoolArray
        Shape (p,).
    """
    from_index, to_index = pairs
    offset = targets[to_index] - sources[from_index]
    keys = from_index * _STRIDE + _bearing(offset[:, 0], offset[:, 1])
    order = np.argsort(keys, kind="stable")
    keys, ends = keys[order], targets[to_index[order]]
    hidden = np.zeros(len(keys), dtype=np.bool_)
    rows = max(1, _CHUNK // max(1, len(walls)))
    for first in range(0, len(sources), rows):
        part = slice(*np.searchsorted(keys, [first * _STRIDE, (first + rows) * _STRIDE]))
        if part.start < part.stop:
            chunk = sources[first : first + rows]
            _hide(hidden[part], keys[part] - first * _STRIDE, ends[part], chunk, walls)
    seen = np.empty(len(keys), dtype=np.bool_)
    seen[order] = ~hidden
    return seen


def _bearing(x: FloatArray, y: FloatArray) -> FloatArray:
    return np.mod(np.arctan2(x, y), _FULL)


def _hide(
    hidden: BoolArray, keys: FloatArray, ends: FloatArray, sources: FloatArray, walls: FloatArray
) -> None:
    """Mark the lines of sight that a wall cuts; `keys` are sorted."""
    row, wall, start, sweep = _outer_spans(sources, walls)
    low, high = _ranges(keys, row * _STRIDE, start, start + sweep)
    count = high - low
    wall = np.repeat(np.concatenate([wall, wall]), count)
    line = np.arange(len(wall)) + np.repeat(low - np.cumsum(count) + count, count)
    a, b, end = walls[wall, 0], walls[wall, 1], ends[line]
    beyond = (b[:, 0] - a[:, 0]) * (end[:, 1] - a[:, 1]) > (b[:, 1] - a[:, 1]) * (
        end[:, 0] - a[:, 0]
    )
    hidden[line[beyond]] = True


def _outer_spans(
    sources: FloatArray, walls: FloatArray
) -> tuple[IntArray, IntArray, FloatArray, FloatArray]:
    """Return the spans of all walls seen from their outer side, by source and wall."""
    ax, ay = (walls[:, 0, k] - sources[:, k, None] for k in (0, 1))
    bx, by = (walls[:, 1, k] - sources[:, k, None] for k in (0, 1))
    clockwise: FloatArray = bx * ay - by * ax
    row, wall = np.nonzero(clockwise > 0.0)
    ax, ay, bx, by = (v[row, wall] for v in (ax, ay, bx, by))
    sweep = np.arctan2(clockwise[row, wall], ax * bx + ay * by) + 2.0 * _PAD
    return row, wall, np.mod(_bearing(ax, ay) - _PAD, _FULL), sweep


def _ranges(
    keys: FloatArray, base: FloatArray, start: FloatArray, stop: FloatArray
) -> tuple[IntArray, IntArray]:
    """Return where in the sorted keys each span begins and ends, on this turn and the next."""
    low = np.concatenate([base + start, base])
    high = np.concatenate([base + np.minimum(stop, _FULL + _PAD), base + stop - _FULL])
    first = np.searchsorted(keys, low, side="left")
    return first, np.maximum(np.searchsorted(keys, high, side="right"), first)
