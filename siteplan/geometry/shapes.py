"""Small questions about outlines: do they cross themselves, how large are they, where is a door."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString

from siteplan.errors import OutOfRangeError
from siteplan.geometry.arrays import XY, FloatArray, Shapes, as_points
from siteplan.geometry.clearance import shape_array
from siteplan.units import LENGTH_TOLERANCE_M

Fault = Literal["too few corners", "corner twice", "crosses itself", "no area"]


@dataclass(frozen=True, slots=True)
class RingFault:
    """Why corners make no outline.

    Attributes
    ----------
    kind : str
        "too few corners", "corner twice", "crosses itself" or "no area".
    at : tuple of float
        Where to look [m, m].
    corners : tuple of int
        Index of the corners, or of the first corners of the edges, at fault.
    """

    kind: Fault
    at: XY
    corners: tuple[int, ...]


def ring_fault(corners: npt.ArrayLike) -> RingFault | None:
    """Return why corners make no outline, or None if they do.

    Parameters
    ----------
    corners : array_like
        Shape (n, 2) [m], not closed: the last corner is joined to the first.
    """
    ring = as_points(corners)
    if len(ring) < 3:
        return RingFault("too few corners", _xy(ring[0]) if len(ring) else (0.0, 0.0), ())
    steps = np.hypot(*(np.roll(ring, -1, axis=0) - ring).T)
    twice = np.flatnonzero(steps <= LENGTH_TOLERANCE_M)
    if len(twice):
        first = int(twice[0])
        return RingFault("corner twice", _xy(ring[first]), (first, (first + 1) % len(ring)))
    if abs(signed_area_m2(ring)) <= LENGTH_TOLERANCE_M * float(steps.max()):
        return _crossing(ring) or RingFault("no area", _xy(ring[0]), ())
    return _crossing(ring)


def signed_area_m2(corners: npt.ArrayLike) -> float:
    """Return the area of a ring [m²], negative if it runs clockwise (shoelace formula)."""
    ring = as_points(corners)
    x, y = (ring - ring[:1]).T
    return float(0.5 * np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


def counter_clockwise(corners: npt.ArrayLike) -> FloatArray:
    """Return the corners (n, 2), turned round if they run clockwise."""
    ring = as_points(corners)
    return ring if signed_area_m2(ring) >= 0.0 else ring[::-1]


def on_wall(start: XY, end: XY, offset_m: float, width_m: float) -> LineString:
    """Return an opening as a segment on its wall.

    Parameters
    ----------
    start, end : tuple of float
        The wall [m, m].
    offset_m : float
        From the start of the wall to the near side of the opening [m].
    width_m : float
        Of the opening [m]; together with the offset no longer than the wall.

    Raises
    ------
    OutOfRangeError
        If the opening does not lie on the wall.
    """
    a, b = as_points([start, end])
    length = float(np.hypot(*(b - a)))
    _check("offset [m]", offset_m, length)
    _check("offset and width [m]", offset_m + width_m, length)
    _check("width [m]", width_m, length)
    along = (b - a) / length if length > 0.0 else b - a
    return LineString([a + offset_m * along, a + min(offset_m + width_m, length) * along])


def segments(shapes: Shapes) -> FloatArray:
    """Return all edges of shapes, shape (n, 2, 2) [m]; a point is an edge of no length."""
    parts = shapely.get_parts(shape_array(shapes))
    flat = shapely.get_dimensions(parts) == 2
    lines = np.concatenate([parts[~flat], shapely.get_rings(parts[flat])])
    at, line = shapely.get_coordinates(lines, return_index=True)
    same = line[1:] == line[:-1]
    points = shapely.get_coordinates(parts[shapely.get_dimensions(parts) == 0])
    joined = np.stack([at[:-1][same], at[1:][same]], axis=1)
    return np.concatenate([joined, np.stack([points, points], axis=1)])


def _check(quantity: str, value: float, length_m: float) -> None:
    if not -LENGTH_TOLERANCE_M <= value <= length_m + LENGTH_TOLERANCE_M:
        raise OutOfRangeError(quantity, value, 0.0, length_m)


def _crossing(ring: FloatArray) -> RingFault | None:
    """Return the first two edges that meet elsewhere than at the corner they share."""
    count = len(ring)
    edges = shapely.linestrings(np.stack([ring, np.roll(ring, -1, axis=0)], axis=1))
    one, other = shapely.STRtree(edges).query(edges, predicate="intersects")
    for first, second in sorted(zip(one.tolist(), other.tolist(), strict=True)):
        if first >= second:
            continue
        meeting = edges[first].intersection(edges[second])
        neighbours = second - first == 1 or second - first == count - 1
        if not neighbours or meeting.length > LENGTH_TOLERANCE_M:
            at = shapely.get_coordinates(meeting)[0]
            return RingFault("crosses itself", _xy(at), (first, second))
    return None


def _xy(point: FloatArray) -> XY:
    return (float(point[0]), float(point[1]))
