"""The place of a region that is nearest on foot, exactly.

The last straight piece of the best route leaves the last corner the route touches, and
nothing it could still bend round stands beside it. So it ends where the region's edge,
piece by piece, comes nearest to that corner: only those feet are tried, nearest first, and
only from corners that can still win.
"""

import numpy as np
import shapely
from shapely import Point
from shapely.geometry.base import BaseGeometry

from siteplan.geometry.arrays import XY, FloatArray, IntArray
from siteplan.geometry.routes import NoWayRoundError, Route, RouteGraph, RouteTree
from siteplan.geometry.shapes import segments

_BATCH = 16


def nearest_by_route(source: XY, region: BaseGeometry, graph: RouteGraph) -> Route:
    """Return the shortest route from a place to the nearest place of a region.

    Parameters
    ----------
    source : tuple of float
        Place [m, m] on free ground.
    region : Polygon or MultiPolygon
        Where the route may end; what of it lies within solids does not count.
    graph : RouteGraph
        Of the solids.

    Returns
    -------
    Route
        Exact; of length 0 if the source lies within the region.

    Raises
    ------
    NoWayRoundError
        If the region is empty, or none of it can be reached.
    """
    tree = graph.tree(source)
    free = shapely.difference(region, graph.ground.solid)
    if free.intersects(Point(tree.start)):
        return Route(0.0, (tree.start,))
    edges = segments([free])
    if not len(edges):
        raise NoWayRoundError(None)
    return _best_end(tree, edges)


def _best_end(tree: RouteTree, edges: FloatArray) -> Route:
    """Try the start, then the corners in the order of their distance on foot."""
    best_m, end = _reach(tree, -1, 0.0, edges, np.inf)
    last = -1
    for corner in _in_order(tree.corner_m):
        walked = float(tree.corner_m[corner])
        if walked >= best_m:
            break
        total, foot = _reach(tree, corner, walked, edges, best_m)
        if total < best_m:
            best_m, end, last = total, foot, corner
    if end is None:
        raise NoWayRoundError(None)
    return tree.past(last, end)


def _in_order(walked_m: FloatArray) -> list[int]:
    order: IntArray = np.argsort(walked_m, kind="stable")
    return [int(corner) for corner in order if np.isfinite(walked_m[corner])]


def _reach(
    tree: RouteTree, corner: int, walked_m: float, edges: FloatArray, best_m: float
) -> tuple[float, XY | None]:
    """Return the whole length to the nearest foot in sight of a corner, if below the best."""
    at = np.asarray(tree.start if corner < 0 else tree.graph.ground.corners[corner])
    feet, distance = _feet(at, edges)
    worth = np.flatnonzero(walked_m + distance < best_m)
    worth = worth[np.argsort(distance[worth], kind="stable")]
    for first in range(0, len(worth), _BATCH):
        batch = worth[first : first + _BATCH]
        seen = batch[tree.graph.in_sight((at[0], at[1]), feet[batch])]
        if len(seen):
            x, y = feet[seen[0]].tolist()
            return walked_m + float(distance[seen[0]]), (x, y)
    return np.inf, None


def _feet(at: FloatArray, edges: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the nearest point of each edge to a place and its distance [m]."""
    start, along = edges[:, 0], edges[:, 1] - edges[:, 0]
    length2 = np.einsum("ij,ij->i", along, along)
    share = np.einsum("ij,ij->i", at - start, along) / np.where(length2 > 0.0, length2, 1.0)
    feet = start + np.clip(share, 0.0, 1.0)[:, None] * along
    return feet, np.hypot(*(feet - at).T)
