"""Levels over an area, and the lines of equal level in it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import contourpy
import numpy as np

from siteplan.errors import OutOfRangeError
from siteplan.sound.checks import Array, numbers

MOST_NODES: Final = 6400
"""Grid points of a layer unless a spacing is given: enough for a line 1 mm wide on paper."""


@dataclass(frozen=True)
class Grid:
    """Levels on a rectangular grid.

    Attributes
    ----------
    x_m : ndarray, shape (nx,)
        Eastings [m].
    y_m : ndarray, shape (ny,)
        Northings [m].
    level_dba : ndarray, shape (ny, nx)
        Levels [dB(A)]; not a number where none was modelled.
    """

    x_m: Array
    y_m: Array
    level_dba: Array


@dataclass(frozen=True)
class Contour:
    """One line of equal level.

    Attributes
    ----------
    level_dba : float
        The level [dB(A)].
    points : ndarray, shape (k, 2)
        The line [m]; a closed one repeats its first point.
    """

    level_dba: float
    points: Array


def level_grid(
    bounds_m: tuple[float, float, float, float],
    levels: Callable[[Array], Array],
    *,
    height_m: float = 1.5,
    spacing_m: float | None = None,
) -> Grid:
    """Return levels over an area.

    Parameters
    ----------
    bounds_m : tuple of float
        West, south, east and north edge [m].
    levels : callable
        Gives the levels [dB(A)], shape (n,), at receivers, shape (n, 3) [m].
    height_m : float
        Height of the receivers [m], 0 to 200.
    spacing_m : float, optional
        Largest distance between grid points [m]. Default: such that there are at most 6400.

    Raises
    ------
    OutOfRangeError
        If the area is empty or more than 10 km wide, or the height is outside its range.
    """
    west, south, east, north = (float(v) for v in numbers("edge [m]", bounds_m, -1e6, 1e6))
    width, depth = east - west, north - south
    for side in (width, depth):
        if not 0.0 < side <= 1e4:
            raise OutOfRangeError("side of the area [m]", side, 0.0, 1e4)
    height = float(numbers("receiver height [m]", height_m, 0.0, 200.0))
    step = spacing_m or _default_step(width, depth)
    step = float(numbers("grid spacing [m]", step, 0.05, 1e4))
    x = np.linspace(west, east, 1 + int(np.ceil(width / step)))
    y = np.linspace(south, north, 1 + int(np.ceil(depth / step)))
    xs, ys = np.meshgrid(x, y)
    ears = np.column_stack([xs.ravel(), ys.ravel(), np.full(xs.size, height)])
    return Grid(x, y, np.asarray(levels(ears), dtype=np.float64).reshape(xs.shape))


def _default_step(width: float, depth: float) -> float:
    """Return the spacing s with (width/s + 2)(depth/s + 2) = the number of points."""
    spare, half = MOST_NODES - 4.0, width + depth
    root = np.sqrt(half**2 + spare * width * depth)
    return max(0.05, float((half + root) / spare))


def contour_lines(grid: Grid, levels_dba: Sequence[float]) -> list[Contour]:
    """Return the lines of equal level of a grid, lowest level first.

    Lines stop at the edge of the grid and where no level was modelled. Between grid points the
    level is taken to change evenly.

    Parameters
    ----------
    grid : Grid
        Levels at the crossings of its lines [dB(A)].
    levels_dba : sequence of float
        Which levels to draw [dB(A)].

    Raises
    ------
    OutOfRangeError
        If a level is not a finite number.
    """
    numbers("contour level [dB(A)]", levels_dba, -1000.0, 300.0)
    maker = contourpy.contour_generator(
        grid.x_m, grid.y_m, grid.level_dba, name="serial", line_type=contourpy.LineType.Separate
    )
    return [
        Contour(float(level), np.asarray(line))
        for level in sorted(levels_dba)
        for line in maker.lines(level)
    ]
