"""Keep-out zones, and the ground left for a machine of a given size and turn.

A zone is drawn: it errs outward by up to 0.07 % of its distance and gives no verdict.
Its parts are buffered one by one and then united: a buffer of merged lines is slower, and
in GEOS up to 3.14 can leave a false hole close to a line.
"""

import numpy as np
import shapely
from shapely import Point, Polygon
from shapely.geometry.base import BaseGeometry

from siteplan.errors import OutOfRangeError
from siteplan.geometry.arrays import XY, FloatArray, ShapeArray, Shapes, as_points
from siteplan.geometry.clearance import shape_array
from siteplan.geometry.shapes import segments

QUAD_SEGS = 64
OUTWARD = 1.0005
"""With 64 chords per quarter circle every drawn edge lies at 1.0003 to 1.0007 of its distance.

The chords of a circle are 0.008 % short, those of a polygon's buffer up to 0.014 %.
"""
_FARTHEST_M = 10_000.0


def keep_out(targets: Shapes, distance_m: float) -> BaseGeometry:
    """Return the ground nearer than a distance [m] to any target, drawn outward.

    Parameters
    ----------
    targets : array of geometries
        Points, lines or polygons; missing and empty ones bar nothing.
    distance_m : float
        0 to 10 000; at 0 only what lies within a polygon is barred.
    """
    shapes = shapely.get_parts(shape_array(targets))
    return _buffered(shapes[~shapely.is_empty(shapes)], distance_m)


def keep_out_of_centre(
    targets: Shapes, distance_m: float, frame: Polygon, outlet_xy: XY | None = None
) -> BaseGeometry:
    """Return where the middle of a machine must not stand, drawn outward.

    There its frame, or its exhaust outlet, would be nearer than a distance to a target.
    Exact but for the arcs: each edge of a target is swept by the turned-round frame
    (Minkowski sum) before it is buffered.

    Parameters
    ----------
    targets : array of geometries
        Points, lines or polygons; missing and empty ones bar nothing.
    distance_m : float
        0 to 10 000 [m].
    frame : Polygon
        The machine with its middle at the origin, as `footprint((0, 0), …)`; convex.
    outlet_xy : tuple of float, optional
        Of the exhaust outlet, from the machine's middle [m, m].
    """
    shapes = shapely.get_parts(shape_array(targets))
    shapes = shapes[~shapely.is_empty(shapes)]
    edges, solids = segments(shapes), shapes[shapely.get_dimensions(shapes) == 2]
    parts = [_swept(edges, shapely.get_coordinates(frame)[:-1]), solids]
    if outlet_xy is not None and not frame.covers(Point(outlet_xy)):
        outlet = as_points(outlet_xy)
        parts += [_swept(edges, outlet), shapely.transform(solids, lambda at: at - outlet)]
    return _buffered(np.concatenate(parts), distance_m)


def room_within(
    lot: BaseGeometry, frame: Polygon, set_back_m: float = 0.0, outlet_xy: XY | None = None
) -> BaseGeometry:
    """Return where the middle of a machine can stand with all of it inside a lot.

    `set_back_m` [m] is the least distance from the lot's edge.
    """
    edge = keep_out_of_centre([lot.boundary], set_back_m, frame, outlet_xy)
    room = lot.difference(edge)
    if outlet_xy is None:
        return room
    return room.intersection(shapely.transform(lot, lambda at: at - np.asarray(outlet_xy)))


def _swept(edges: FloatArray, corners: FloatArray) -> ShapeArray:
    """Return each edge swept by corners turned round the origin: the hull of a few places."""
    places = as_points(edges[:, :, None] - corners)
    owner = np.repeat(np.arange(len(edges)), 2 * len(corners))
    return np.asarray(shapely.convex_hull(shapely.multipoints(places, indices=owner)))


def _buffered(shapes: ShapeArray, distance_m: float) -> BaseGeometry:
    if not 0.0 <= distance_m <= _FARTHEST_M:
        raise OutOfRangeError("distance [m]", distance_m, 0.0, _FARTHEST_M)
    if distance_m == 0.0:
        return shapely.union_all(shapes[shapely.get_dimensions(shapes) == 2])
    if not len(shapes):
        return Polygon()
    zone = shapely.union_all(shapely.buffer(shapes, distance_m * OUTWARD, quad_segs=QUAD_SEGS))
    return _without_false_holes(zone, shapes, distance_m)


def _without_false_holes(zone: BaseGeometry, shapes: ShapeArray, distance_m: float) -> BaseGeometry:
    """Fill the holes that lie nearer to a target than the distance."""
    rings, owner = shapely.get_rings(shapely.get_parts([zone]), return_index=True)
    holes = shapely.polygons(rings[1:][owner[1:] == owner[:-1]])
    if not len(holes):
        return zone
    inside = shapely.point_on_surface(holes)
    (_, _), distance = shapely.STRtree(shapes).query_nearest(
        inside, return_distance=True, all_matches=False
    )
    false = holes[distance < distance_m]
    return shapely.union_all([zone, *false]) if len(false) else zone
