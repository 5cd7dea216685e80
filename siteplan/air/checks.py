"""Range checks that the formulas of this package share."""

from collections.abc import Collection

import numpy as np
import numpy.typing as npt

from siteplan.errors import OutOfRangeError, SiteplanError

FloatArray = npt.NDArray[np.float64]


class UnknownNameError(SiteplanError, ValueError):
    """A name that is not one of those a function knows."""


def within(quantity: str, values: npt.ArrayLike, low: float, high: float) -> FloatArray:
    """Return the values as an array of floats, all of them within low to high.

    Raises
    ------
    OutOfRangeError
        Naming the first value outside, or not a number.
    """
    array = np.asarray(values, dtype=np.float64)
    if isinstance(values, float) and low <= values <= high:
        # Single numbers are most of the calls, and array comparisons most of their time.
        return array
    bad = ~((array >= low) & (array <= high))
    if bad.any():
        raise OutOfRangeError(quantity, float(array[bad].flat[0]), low, high)
    return array


def positive(quantity: str, value: float, high: float) -> float:
    """Return the value, which is above 0 and at most high.

    Raises
    ------
    OutOfRangeError
        If it is not.
    """
    if not 0.0 < value <= high:
        raise OutOfRangeError(quantity, value, 0.0, high)
    return value


def known(what: str, name: str, names: Collection[str]) -> None:
    """Check that a name is one of the names known.

    Raises
    ------
    UnknownNameError
        Listing the names, if it is not.
    """
    if name not in names:
        raise UnknownNameError(f"'{name}' is no {what}; known are {', '.join(sorted(names))}")
