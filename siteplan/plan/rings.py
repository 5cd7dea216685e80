"""Plain arithmetic on rings of points, for checking a document without a geometry engine."""

import math
from collections.abc import Sequence

Ring = Sequence[tuple[float, float]]
Wall = tuple[tuple[float, float], tuple[float, float]]
SMALLEST_AREA_M2 = 0.01
# A corner nearer than this to a foreign wall counts as touching it: half a millimetre.
_TOUCH_M = 5e-4


def signed_area_m2(ring: Ring) -> float:
    """Return the ring's area [m²], positive when it runs counter-clockwise."""
    x0, y0 = ring[0]
    total = 0.0
    for (ax, ay), (bx, by) in zip(ring, [*ring[1:], ring[0]], strict=True):
        total += (ax - x0) * (by - y0) - (bx - x0) * (ay - y0)
    return total / 2.0


def wall(ring: Ring, index: int) -> Wall:
    """Return the two corners of wall `index`; the last wall closes the ring."""
    return ring[index], ring[(index + 1) % len(ring)]


def wall_length_m(ring: Ring, index: int) -> float:
    """Return the length of wall `index` [m]."""
    start, end = wall(ring, index)
    return math.dist(start, end)


def crossing(ring: Ring) -> tuple[float, float] | None:
    """Return a place where the ring crosses or touches itself, or None if it is simple.

    Repeated corners count as touching.
    """
    count = len(ring)
    walls = [wall(ring, index) for index in range(count)]
    for a, b in walls:
        if math.dist(a, b) < _TOUCH_M:
            return a
    west = [min(a[0], b[0]) for a, b in walls]
    order = sorted(range(count), key=west.__getitem__)
    for rank, one in enumerate(order):
        east = max(walls[one][0][0], walls[one][1][0]) + _TOUCH_M
        for other in order[rank + 1 :]:
            if west[other] > east:
                break
            if place := _clash(walls, min(one, other), max(one, other)):
                return place
    return None


def _clash(walls: Sequence[Wall], first: int, second: int) -> tuple[float, float] | None:
    (a, b), (c, d) = walls[first], walls[second]
    if second == first + 1:
        return _doubles_back(a, b, d)
    if first == 0 and second == len(walls) - 1:
        return _doubles_back(b, a, c)
    return _meets(a, b, c, d)


def _doubles_back(
    far_one: tuple[float, float], shared: tuple[float, float], far_two: tuple[float, float]
) -> tuple[float, float] | None:
    # Two walls that share a corner are wrong only if one folds back along the other.
    if _gap_m(far_two, shared, far_one) < _TOUCH_M:
        return far_two
    if _gap_m(far_one, shared, far_two) < _TOUCH_M:
        return far_one
    return None


def _gap_m(
    point: tuple[float, float], start: tuple[float, float], end: tuple[float, float]
) -> float:
    dx, dy = end[0] - start[0], end[1] - start[1]
    squared = dx * dx + dy * dy
    if squared == 0.0:
        return math.dist(point, start)
    along = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / squared
    along = min(1.0, max(0.0, along))
    return math.dist(point, (start[0] + along * dx, start[1] + along * dy))


def _turn(origin: tuple[float, float], one: tuple[float, float], two: tuple[float, float]) -> float:
    return (one[0] - origin[0]) * (two[1] - origin[1]) - (one[1] - origin[1]) * (two[0] - origin[0])


def _meets(
    a: tuple[float, float],
    b: tuple[float, float],
    c: tuple[float, float],
    d: tuple[float, float],
) -> tuple[float, float] | None:
    if max(a[1], b[1]) + _TOUCH_M < min(c[1], d[1]) or max(c[1], d[1]) + _TOUCH_M < min(a[1], b[1]):
        return None
    t1, t2, t3, t4 = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    if t1 * t2 < 0 and t3 * t4 < 0:
        share = t3 / (t3 - t4)
        return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
    for point, start, end in ((c, a, b), (d, a, b), (a, c, d), (b, c, d)):
        if _gap_m(point, start, end) < _TOUCH_M:
            return point
    return None
