"""Names for the arrays that shapes and numbers travel in."""

from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np
from shapely.geometry.base import BaseGeometry

if TYPE_CHECKING:
    # Only for annotations: importing it costs every start of the program 15 ms.
    import numpy.typing as npt

# Spelt out for the same reason.
FloatArray: TypeAlias = np.ndarray[Any, np.dtype[np.float64]]
IntArray: TypeAlias = np.ndarray[Any, np.dtype[np.int64]]
BoolArray: TypeAlias = np.ndarray[Any, np.dtype[np.bool_]]
ShapeArray: TypeAlias = np.ndarray[Any, np.dtype[np.object_]]
"""An array of shapely geometries; missing ones may be None."""
Shapes: TypeAlias = ShapeArray | list[BaseGeometry] | tuple[BaseGeometry, ...]
XY: TypeAlias = tuple[float, float]
"""A place [m, m]: x to the right of the sheet, y up it."""


def as_points(values: "npt.ArrayLike") -> FloatArray:
    """Return places [m] as an array of shape (n, 2)."""
    return np.asarray(values, dtype=np.float64).reshape(-1, 2)


def as_segments(values: "npt.ArrayLike") -> FloatArray:
    """Return both ends of walls or lines [m] as an array of shape (n, 2, 2)."""
    return np.asarray(values, dtype=np.float64).reshape(-1, 2, 2)
