"""Names for the arrays that shapes and numbers travel in."""

from typing import Any, TypeAlias

import numpy as np
from shapely.geometry.base import BaseGeometry

# Spelt out, since importing numpy.typing costs every start of the program 15 ms.
FloatArray: TypeAlias = np.ndarray[Any, np.dtype[np.float64]]
IntArray: TypeAlias = np.ndarray[Any, np.dtype[np.int64]]
BoolArray: TypeAlias = np.ndarray[Any, np.dtype[np.bool_]]
ShapeArray: TypeAlias = np.ndarray[Any, np.dtype[np.object_]]
"""An array of shapely geometries; missing ones may be None."""
Shapes: TypeAlias = ShapeArray | list[BaseGeometry] | tuple[BaseGeometry, ...]
XY: TypeAlias = tuple[float, float]
"""A place [m, m]: x to the right of the sheet, y up it."""
