"""Guards of the ranges in which the formulas of this package hold."""

import numpy as np
import numpy.typing as npt

from siteplan.errors import OutOfRangeError

Array = npt.NDArray[np.float64]
Numbers = npt.ArrayLike


def numbers(quantity: str, values: Numbers, low: float, high: float) -> Array:
    """Return the values as an array of floats after checking that all lie in a range.

    Raises
    ------
    OutOfRangeError
        If one is outside the range, infinite or not a number.
    """
    array = np.asarray(values, dtype=np.float64)
    bad = ~((array >= low) & (array <= high))
    if bad.any():
        raise OutOfRangeError(quantity, float(array[bad].flat[0]), low, high)
    return array


def shaped(quantity: str, values: Numbers, tail: tuple[int, ...]) -> Array:
    """Return finite values as an array of shape (n, *tail); an empty list gives (0, *tail).

    Raises
    ------
    OutOfRangeError
        If a value is infinite, not a number or larger than a thousand kilometres.
    ValueError
        If the values do not come in groups of that shape.
    """
    array = numbers(quantity, values, -1e6, 1e6)
    if array.size == 0:
        return np.zeros((0, *tail))
    if array.shape[1:] != tail:
        msg = f"{quantity} has the shape {array.shape}; wanted is (n, {', '.join(map(str, tail))})"
        raise ValueError(msg)
    return array
