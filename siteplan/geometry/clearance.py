"""Clear distances from the machine to everything else, and the lines that show them.

A verdict always rests on a distance measured here, never on a drawn zone: a zone is a
polygon with chords for arcs and is inexact by nature.
"""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from shapely import Point, Polygon
from shapely.geometry.base import BaseGeometry

from siteplan.errors import OutOfRangeError
from siteplan.geometry.arrays import XY, FloatArray, ShapeArray, Shapes, as_points, as_segments

_LONGEST_SIDE_M = 1000.0


@dataclass(frozen=True, slots=True, eq=False)
class Clearances:
    """Nearest distances from one machine to many targets.

    Attributes
    ----------
    distance_m : FloatArray
        Distance to each target [m], shape (n,); 0 where they overlap, nan where the target
        is missing or empty.
    near_xy, far_xy : FloatArray
        Ends of each shortest line [m], shape (n, 2): on the machine, and on the target;
        nan where there is no distance.
    """

    distance_m: FloatArray
    near_xy: FloatArray
    far_xy: FloatArray


def footprint(centre_xy: XY, width_m: float, length_m: float, turn_deg: float) -> Polygon:
    """Return the rectangle a machine covers on the ground.

    Parameters
    ----------
    centre_xy : tuple of float
        Its middle [m, m].
    width_m, length_m : float
        Size across and along its own front direction [m], over 0 to 1000.
    turn_deg : float
        Clockwise from +y to its front direction [°].

    Returns
    -------
    Polygon
        Counter-clockwise, beginning at the rear left corner.

    Raises
    ------
    OutOfRangeError
        If a side is not a positive length.
    """
    _check_side("width [m]", width_m)
    _check_side("length [m]", length_m)
    along = unit_vector(turn_deg)
    front = 0.5 * length_m * along
    right = 0.5 * width_m * np.array([along[1], -along[0]])
    (centre,) = as_points(centre_xy)
    return Polygon(
        [
            centre - front - right,
            centre - front + right,
            centre + front + right,
            centre + front - right,
        ]
    )


def unit_vector(turn_deg: float) -> FloatArray:
    """Return the unit vector at an angle [°] clockwise from +y, shape (2,)."""
    turn = math.radians(math.fmod(turn_deg, 360.0))
    return np.array([math.sin(turn), math.cos(turn)])


def with_outlet(machine: Polygon, outlet_xy: XY | None) -> BaseGeometry:
    """Return the frame of the machine together with its exhaust outlet.

    An outlet inside the frame, or one that is not known, adds nothing: the frame is then
    nearer, or as near, in every direction that matters.
    """
    if outlet_xy is None:
        return machine
    outlet = Point(outlet_xy)
    return machine if machine.covers(outlet) else shapely.GeometryCollection([machine, outlet])


def distances(source: BaseGeometry | None, targets: Shapes) -> FloatArray:
    """Return the distance [m] from `source` to each target, shape (n,).

    0 where they meet or overlap; nan where either is missing or empty, which means "not
    known" and must never be read as "far".
    """
    shapes = shape_array(targets)
    found = np.asarray(_measured(shapely.distance, source, shapes), dtype=np.float64)
    unknown = ~np.isfinite(found)
    if unknown.any():
        found[unknown] = _measured(shapely.distance, source, _corners(shapes[unknown]))
    # GEOS before 3.15 answers nan for an empty shape, from 3.15 on infinity.
    found[np.isinf(found)] = np.nan
    return found


def witness_lines(source: BaseGeometry | None, targets: Shapes) -> FloatArray:
    """Return the shortest line from `source` to each target [m], shape (n, 2, 2).

    The first point of each lies on the source, the second on the target; nan where either
    is missing or empty. Costs more than `distances`: ask only for the lines to be shown.
    """
    shapes = shape_array(targets)
    ends = _ends(_measured(shapely.shortest_line, source, shapes))
    unknown = np.isnan(ends).any(axis=(1, 2))
    if unknown.any():
        ends[unknown] = _ends(_measured(shapely.shortest_line, source, _corners(shapes[unknown])))
    return ends


def _ends(lines: ShapeArray) -> FloatArray:
    known = ~(shapely.is_missing(lines) | shapely.is_empty(lines))
    ends = np.full((len(lines), 2, 2), np.nan)
    ends[known] = as_segments(shapely.get_coordinates(lines[known]))
    return ends


def _measured(
    how: Callable[..., Any], source: BaseGeometry | None, shapes: ShapeArray
) -> np.ndarray[Any, Any]:
    """Measure; segments of next to no length make GEOS divide by nothing, rightly all the same."""
    with np.errstate(divide="ignore", invalid="ignore", under="ignore"):
        return np.asarray(how(source, shapes))


def _corners(shapes: ShapeArray) -> ShapeArray:
    """Return the corners of shapes alone: GEOS finds no way to a segment too short for a number."""
    return np.asarray(shapely.extract_unique_points(shapes))


def clearances(machine: Polygon, outlet: Point | None, targets: Shapes) -> Clearances:
    """Return distance and shortest line from a machine to each target.

    Measured from the nearer of frame and exhaust outlet, whichever the rule asks for being
    unknown here: the nearer one is the cautious reading.

    Parameters
    ----------
    machine : Polygon
        The frame on the ground, as from `footprint`.
    outlet : Point or None
        Where the exhaust leaves; None or empty if not known.
    targets : array of geometries
        Openings, walls, outlines, boundaries; may be empty, may hold None.
    """
    known = outlet is not None and not outlet.is_empty
    source = with_outlet(machine, (outlet.x, outlet.y) if known and outlet else None)
    lines = witness_lines(source, targets)
    return Clearances(distances(source, targets), lines[:, 0], lines[:, 1])


def shape_array(shapes: Shapes | Iterable[BaseGeometry | None]) -> ShapeArray:
    """Return shapes as a flat object array; unlike `np.array`, also for none or one."""
    if isinstance(shapes, np.ndarray):
        return shapes
    items = list(shapes)
    array = np.empty(len(items), dtype=np.object_)
    array[:] = items
    return array


def _check_side(quantity: str, value: float) -> None:
    if not 0.0 < value <= _LONGEST_SIDE_M:
        raise OutOfRangeError(quantity, value, 0.0, _LONGEST_SIDE_M)
