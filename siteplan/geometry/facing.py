"""The places of an outline that face a point: nearer to it than any place beside them."""

import numpy as np
import shapely
from shapely import Polygon

from siteplan.geometry.arrays import XY, FloatArray

# A line to a place on an outline may cut into it this much by rounding [m].
_ROUNDING_M = 1e-6


def facing_places(solid: Polygon, point: XY) -> FloatArray:
    """Return each place of an outline that is nearest to a point among those beside it.

    One for an outline without inside corners; of others, one for each wing or wall that the
    point lies before. Places hidden behind another part of the outline are left out.

    Parameters
    ----------
    solid : Polygon
        Without holes [m].
    point : tuple of float
        Outside it [m, m]; from within it nothing is seen.

    Returns
    -------
    FloatArray
        Shape (n, 2) [m].
    """
    ring = shapely.get_coordinates(solid.exterior)[:-1]
    ring = ring if solid.exterior.is_ccw else ring[::-1]
    along, before = np.roll(ring, -1, axis=0) - ring, ring - np.roll(ring, 1, axis=0)
    toward = np.asarray(point) - ring
    share = (toward * along).sum(axis=1) / np.square(along).sum(axis=1)
    outside = along[:, 0] * toward[:, 1] - along[:, 1] * toward[:, 0] < 0.0
    feet = outside & (share > 0.0) & (share < 1.0)
    outward = before[:, 0] * along[:, 1] - before[:, 1] * along[:, 0] > 0.0
    past = ((toward * before).sum(axis=1) >= 0.0) & (share <= 0.0)
    places = np.concatenate([ring[feet] + share[feet, None] * along[feet], ring[outward & past]])
    lines = shapely.linestrings(np.stack([np.broadcast_to(point, places.shape), places], axis=1))
    seen: FloatArray = places[shapely.length(shapely.intersection(lines, solid)) <= _ROUNDING_M]
    return seen
