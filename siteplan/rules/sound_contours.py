"""Lines of equal level over the lot, for drawing; computed apart from the review."""

from collections.abc import Sequence

import numpy as np

from siteplan.geometry.arrays import FloatArray
from siteplan.rules.sound_hearing import Hearing, hearing
from siteplan.scene import Scene
from siteplan.sound.contours import Contour, contour_lines, level_grid

CONTOURS_DBA = (45.0, 50.0, 55.0, 60.0, 65.0, 70.0)
# Round the lot as much as reaches the neighbours' walls, and no more than is heard.
_ROUND_LOT_M, _REACH_M = 15.0, 200.0


def contours(scene: Scene, levels_dba: Sequence[float] = CONTOURS_DBA) -> tuple[Contour, ...]:
    """Return lines of equal level over the lot and around it, 1.5 m over the ground.

    Parameters
    ----------
    scene : Scene
        The resolved plan; without a machine there are no lines.
    levels_dba : sequence of float
        Levels of the lines [dB(A)].

    Notes
    -----
    The same cautious levels as in `levels`. Inside buildings, and nearer than 3 m, none is drawn.
    """
    found = hearing(scene)
    if found is None:
        return ()
    heard = found[0]
    grid = level_grid(_bounds(scene, heard.source), lambda ears: _modelled(heard, ears))
    return tuple(contour_lines(grid, levels_dba))


def _modelled(heard: Hearing, ears: FloatArray) -> FloatArray:
    found = heard.levels(ears)
    return np.where(found.too_near | found.indoors, np.nan, found.level_dba)


def _bounds(scene: Scene, source: FloatArray) -> tuple[float, float, float, float]:
    """Return the lot with the strip around it, and no more than is heard [m]."""
    points = np.array([*(scene.plan.lot.outline if scene.plan.lot else ()), tuple(source)])
    low = np.maximum(points.min(axis=0) - _ROUND_LOT_M, source - _REACH_M)
    high = np.minimum(points.max(axis=0) + _ROUND_LOT_M, source + _REACH_M)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])
