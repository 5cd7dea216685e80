"""Names for the arrays that shapes and numbers travel in."""

from typing import TypeAlias

import numpy as np
import numpy.typing as npt
from shapely.geometry.base import BaseGeometry

FloatArray: TypeAlias = npt.NDArray[np.float64]
IntArray: TypeAlias = npt.NDArray[np.int64]
BoolArray: TypeAlias = npt.NDArray[np.bool_]
ShapeArray: TypeAlias = npt.NDArray[np.object_]
"""An array of shapely geometries; missing ones may be None."""
Shapes: TypeAlias = ShapeArray | list[BaseGeometry] | tuple[BaseGeometry, ...]
XY: TypeAlias = tuple[float, float]
"""A place [m, m]: x to the right of the sheet, y up it."""
