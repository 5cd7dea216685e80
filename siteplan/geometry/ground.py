"""Ground one can walk: solids made ready for route finding.

Overlapping and touching solids become one; courtyards stay free ground; outside a boundary
is solid too. The turning corners of a shortest route are the corners where a solid bulges.
"""

from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from siteplan.geometry.arrays import BoolArray, FloatArray, IntArray, ShapeArray, Shapes
from siteplan.geometry.clearance import shape_array

GRID_M = 0.001
"""Solids are snapped together on a grid of this size where they meet (the project's own figure)."""
SINK_M = 1e-6
"""Walls are sunk this deep into their solid, so that a line along a wall stays free."""
_THIN_M = 0.005
_FAR_M = 100_000.0
_STRAIGHT = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """Solids as numbers.

    Attributes
    ----------
    solid : BaseGeometry
        All that cannot be walked.
    corners, before, after : FloatArray
        Turning corners and their neighbours along the outline [m], each of shape (n, 2).
    walls : FloatArray
        Edges (w, 2, 2) [m], solid to the left, sunk by `SINK_M`.
    """

    solid: BaseGeometry
    corners: FloatArray
    before: FloatArray
    after: FloatArray
    walls: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class _Rings:
    """Vertices of oriented rings, solid to the left, and which vertex follows which."""

    at: FloatArray
    before: IntArray
    after: IntArray


def lay_ground(
    obstacles: Shapes, boundary: BaseGeometry | None = None, grid_m: float = GRID_M
) -> Ground:
    """Make solids ready for route finding.

    Parameters
    ----------
    obstacles : array of geometries
        Polygons; a line, such as a fence, is taken 1 cm thick. Missing ones are left out.
    boundary : Polygon, optional
        Ground that must not be left.
    grid_m : float
        Where solids meet they are snapped on this grid [m]: gaps under half of it close.
    """
    parts = _polygons(obstacles, boundary)
    solid = _united(parts, grid_m)
    rings = _rings(solid)
    pinched = _pinches(rings.at)
    if len(pinched):
        # Two solids that meet in one point leave no way between them.
        plugs = shapely.buffer(shapely.points(pinched), grid_m, quad_segs=1)
        solid = shapely.get_parts([shapely.union_all(np.concatenate([solid, plugs]))])
        rings = _rings(solid)
    whole = MultiPolygon(list(solid))
    shapely.prepare(whole)
    bulge = _bulging(rings) & ~_on_frame(rings.at, boundary, parts)
    walls = _sunk_walls(rings)
    before, after = rings.at[rings.before[bulge]], rings.at[rings.after[bulge]]
    return Ground(whole, rings.at[bulge], before, after, walls)


def _polygons(obstacles: Shapes, boundary: BaseGeometry | None) -> ShapeArray:
    shapes = shapely.get_parts(shape_array(obstacles))
    flat = shapely.get_dimensions(shapes)
    lines = shapely.buffer(shapes[flat == 1], _THIN_M, cap_style="square", join_style="mitre")
    parts = np.concatenate([shapes[flat == 2], lines])
    if boundary is not None:
        outside = _frame(boundary, parts).difference(boundary)
        parts = np.concatenate([parts, shapely.get_parts([outside])])
    parts = np.where(shapely.is_valid(parts), parts, shapely.make_valid(parts, method="structure"))
    parts = shapely.get_parts(parts)
    solid: ShapeArray = parts[shapely.area(parts) > 0.0]
    return solid


def _frame(boundary: BaseGeometry, parts: ShapeArray) -> Polygon:
    low_x, low_y, high_x, high_y = shapely.total_bounds([*parts, boundary]).tolist()
    frame: Polygon = box(low_x - _FAR_M, low_y - _FAR_M, high_x + _FAR_M, high_y + _FAR_M)
    return frame


def _united(parts: ShapeArray, grid_m: float) -> ShapeArray:
    """Return polygons that do not touch; those that stood alone keep their exact corners."""
    if len(parts) < 2:
        return parts
    tree = shapely.STRtree(parts)
    one, other = tree.query(parts, predicate="dwithin", distance=2.0 * grid_m)
    touching = np.zeros(len(parts), dtype=np.bool_)
    touching[one[one != other]] = True
    if not touching.any():
        return parts
    merged = shapely.union_all(parts[touching], grid_size=grid_m)
    return np.concatenate([parts[~touching], _restored(merged, parts[touching], grid_m)])


def _restored(merged: BaseGeometry, originals: ShapeArray, grid_m: float) -> ShapeArray:
    """Give the corners that snapping moved their exact places back."""
    exact = shapely.get_coordinates(originals)
    cells, first = np.unique(np.rint(exact / grid_m), axis=0, return_index=True)
    place = {(x, y): i for (x, y), i in zip(cells.tolist(), first.tolist(), strict=True)}

    def put_back(snapped: FloatArray) -> FloatArray:
        found = np.array([place.get((x, y), -1) for x, y in np.rint(snapped / grid_m).tolist()])
        return np.where((found >= 0)[:, None], exact[found], snapped)

    restored = shapely.transform(merged, put_back)
    kept = restored if restored.is_valid else merged
    apart: ShapeArray = shapely.get_parts([kept])
    return apart


def _rings(solid: ShapeArray) -> _Rings:
    """Return the outlines with the solid to the left and no repeated vertices."""
    polygons = shapely.orient_polygons(shapely.get_parts(solid))
    rings = shapely.get_rings(shapely.remove_repeated_points(polygons))
    at, ring = shapely.get_coordinates(rings, return_index=True)
    last = np.append(ring[1:] != ring[:-1], True) if len(ring) else np.zeros(0, dtype=np.bool_)
    at, ring = at[~last], ring[~last]
    index = np.arange(len(at))
    _, first, count = np.unique(ring, return_index=True, return_counts=True)
    before, after = index - 1, index + 1
    before[first], after[first + count - 1] = first + count - 1, first
    return _Rings(at, before, after)


def _pinches(at: FloatArray) -> FloatArray:
    places, count = np.unique(at, axis=0, return_counts=True)
    return np.asarray(places[count > 1], dtype=np.float64)


def _bulging(rings: _Rings) -> BoolArray:
    """Tell at which vertices a taut line can turn."""
    x0, y0 = (rings.at - rings.at[rings.before]).T
    x1, y1 = (rings.at[rings.after] - rings.at).T
    turn = x0 * y1 - y0 * x1
    bulging: BoolArray = turn > _STRAIGHT * np.hypot(x0, y0) * np.hypot(x1, y1)
    return bulging


def _on_frame(at: FloatArray, boundary: BaseGeometry | None, parts: ShapeArray) -> BoolArray:
    """Tell which vertices belong to the outer frame round the boundary, out of reach."""
    if boundary is None or not len(at):
        return np.zeros(len(at), dtype=np.bool_)
    low, high = np.reshape(shapely.total_bounds(parts), (2, 2))
    edge: BoolArray = ((at <= low + 1.0) | (at >= high - 1.0)).any(axis=1)
    return edge


def _sunk_walls(rings: _Rings) -> FloatArray:
    """Return the edges, each vertex moved into the solid along its bisector."""
    inward = _left(rings.at[rings.after] - rings.at)
    middle = inward[rings.before] + inward
    size = np.maximum(np.hypot(middle[:, 0], middle[:, 1]), _STRAIGHT)
    # A mitre; at a spike its length is held, and the walls beside it stay inside all the same.
    reach = np.minimum(2.0 / size, 4.0) / size
    sunk = rings.at + SINK_M * reach[:, None] * middle
    return np.stack([sunk, sunk[rings.after]], axis=1)


def _left(along: FloatArray) -> FloatArray:
    """Return the unit vectors to the left of edges."""
    turned = np.column_stack([-along[:, 1], along[:, 0]])
    unit: FloatArray = turned / np.hypot(along[:, 0], along[:, 1])[:, None]
    return unit
