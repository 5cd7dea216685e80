"""Where levels are taken: along a boundary, and before windows."""

from typing import Final

import numpy as np

from siteplan.errors import OutOfRangeError
from siteplan.sound.checks import Array, Numbers, numbers, shaped

BOUNDARY_HEIGHT_M: Final = 1.5
"""Ear height at the boundary (common practice)."""

BOUNDARY_STEP_M: Final = 0.5
"""Largest distance between points along the boundary (proposal)."""

WINDOW_HEIGHT_M: Final = 1.5
STOREY_M: Final = 2.5
"""Ground-floor window and the step to the next storey: an upper window is at 4.0 m (proposal)."""

OFF_THE_WALL_M: Final = 0.5
"""How far before a window its level is taken, so that its own wall is behind it (proposal)."""


def along_boundary(
    corners_m: Numbers, *, step_m: float = BOUNDARY_STEP_M, height_m: float = BOUNDARY_HEIGHT_M
) -> Array:
    """Return receivers along a closed boundary, its corners among them.

    Parameters
    ----------
    corners_m : array_like, shape (v, 2)
        Corners of the lot [m]; the last side runs back to the first.
    step_m : float
        Largest distance between neighbouring receivers [m], 0.05 to 100.
    height_m : float
        Their height over the ground [m], 0 to 200.

    Returns
    -------
    ndarray, shape (n, 3)

    Raises
    ------
    OutOfRangeError
        If a number is outside its range or there are fewer than two corners.
    """
    corners = shaped("corner of the boundary [m]", corners_m, (2,))
    step = float(numbers("step along the boundary [m]", step_m, 0.05, 100.0))
    height = float(numbers("receiver height [m]", height_m, 0.0, 200.0))
    if len(corners) < 2:
        raise OutOfRangeError("corners of the boundary", len(corners), 2, np.inf)
    sides = np.roll(corners, -1, axis=0) - corners
    counts = np.maximum(1, np.ceil(np.hypot(*sides.T) / step - 1e-9).astype(int))
    shares = np.concatenate([np.arange(count) / count for count in counts])
    side = np.repeat(np.arange(len(corners)), counts)
    points = corners[side] + shares[:, np.newaxis] * sides[side]
    return np.column_stack([points, np.full(len(points), height)])


def before_windows(places_m: Numbers, outward: Numbers, storeys: Numbers) -> Array:
    """Return receivers half a metre before windows.

    Parameters
    ----------
    places_m : array_like, shape (n, 2)
        Middles of the windows on the wall [m].
    outward : array_like, shape (n, 2)
        Directions out of the building, of any length but nought.
    storeys : array_like, shape (n,)
        0 for the ground floor, 1 for the next.

    Returns
    -------
    ndarray, shape (n, 3)

    Raises
    ------
    OutOfRangeError
        If a number is outside its range or a direction has no length.
    """
    places = shaped("window [m]", places_m, (2,))
    normal = shaped("direction out of the building", outward, (2,))
    length = numbers("length of a direction", np.hypot(*normal.T), 1e-9, 1e7)
    points = places + OFF_THE_WALL_M * normal / length[:, np.newaxis]
    return np.column_stack([points, window_heights_m(storeys)])


def window_heights_m(storeys: Numbers) -> Array:
    """Return the heights of windows over the ground [m]; storey 0 is the ground floor.

    Raises
    ------
    OutOfRangeError
        If a storey is below 0 or above 60.
    """
    return np.asarray(WINDOW_HEIGHT_M + STOREY_M * numbers("storey", storeys, 0, 60))
