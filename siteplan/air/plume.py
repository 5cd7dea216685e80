"""Spread of a plume with distance: Briggs and Pasquill-Gifford widths, and the Gaussian plume.

Every width here was published for 100 m and more. Nearer the machine it is an extrapolation.
"""

from collections.abc import Callable
from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt

from siteplan.air.checks import FloatArray, positive
from siteplan.errors import OutOfRangeError

Stability = Literal["A", "B", "C", "D", "E", "F"]
Terrain = Literal["rural", "urban"]

PUBLISHED_FROM_M = 100.0
"""Nearest distance of the published widths [m]; all results nearer are outside their range."""


class Width(NamedTuple):
    """Standard deviations of a plume across the wind and upright [m]."""

    across_m: FloatArray
    upright_m: FloatArray


def _power(slope: float, bend: float = 0.0, exponent: float = 0.0) -> Callable[..., FloatArray]:
    def width(distance_m: FloatArray) -> FloatArray:
        return np.asarray(slope * distance_m * (1.0 + bend * distance_m) ** exponent)

    return width


_BRIGGS: dict[Terrain, dict[Stability, tuple[Callable[..., FloatArray], ...]]] = {
    "rural": {
        "A": (_power(0.22, 1e-4, -0.5), _power(0.20)),
        "B": (_power(0.16, 1e-4, -0.5), _power(0.12)),
        "C": (_power(0.11, 1e-4, -0.5), _power(0.08, 2e-4, -0.5)),
        "D": (_power(0.08, 1e-4, -0.5), _power(0.06, 1.5e-3, -0.5)),
        "E": (_power(0.06, 1e-4, -0.5), _power(0.03, 3e-4, -1.0)),
        "F": (_power(0.04, 1e-4, -0.5), _power(0.016, 3e-4, -1.0)),
    },
    "urban": {
        "A": (_power(0.32, 4e-4, -0.5), _power(0.24, 1e-3, 0.5)),
        "B": (_power(0.32, 4e-4, -0.5), _power(0.24, 1e-3, 0.5)),
        "C": (_power(0.22, 4e-4, -0.5), _power(0.20)),
        "D": (_power(0.16, 4e-4, -0.5), _power(0.14, 3e-4, -0.5)),
        "E": (_power(0.11, 4e-4, -0.5), _power(0.08, 1.5e-3, -0.5)),
        "F": (_power(0.11, 4e-4, -0.5), _power(0.08, 1.5e-3, -0.5)),
    },
}


def briggs_width(
    distance_m: npt.ArrayLike, stability: Stability, terrain: Terrain = "urban"
) -> Width:
    """Return the plume widths of Briggs.

    Parameters
    ----------
    distance_m : array_like
        Distance downwind [m], 0 and more.
    stability : str
        Pasquill class A to F.
    terrain : str
        "urban" or "rural".

    Returns
    -------
    Width
        Standard deviations [m], shape of distance_m.

    Notes
    -----
    Source: Briggs 1973, ATDL contribution 79, as printed in textbooks (read second-hand in two
    places that agree). Published for 100 m to 10 km.
    """
    distance = np.asarray(distance_m, dtype=np.float64)
    across, upright = _BRIGGS[terrain][stability]
    return Width(across(distance), upright(distance))


_GIFFORD_ANGLE: dict[Stability, tuple[float, float]] = {
    "A": (24.167, 2.5334),
    "B": (18.333, 1.8096),
    "C": (12.5, 1.0857),
    "D": (8.3333, 0.72382),
    "E": (6.25, 0.54287),
    "F": (4.1667, 0.36191),
}
# Upper end of the range [km], then a and b of upright = a x**b.
_GIFFORD_UPRIGHT: dict[Stability, tuple[tuple[float, float, float], ...]] = {
    "B": ((0.2, 90.673, 0.93198), (0.4, 98.483, 0.98332)),
    "C": ((np.inf, 61.141, 0.91465),),
    "D": ((0.3, 34.459, 0.86974), (1.0, 32.093, 0.81066), (3.0, 32.093, 0.64403)),
}


def gifford_width(distance_m: float, stability: Stability) -> Width:
    """Return the plume widths of Pasquill and Gifford, as fitted for open country.

    Parameters
    ----------
    distance_m : float
        Distance downwind [m], above 0; class B to 400 m, class D to 3 km.
    stability : str
        "B", "C" or "D": the classes of which the upright width is known here.

    Returns
    -------
    Width
        Standard deviations [m].

    Raises
    ------
    OutOfRangeError
        If the class or the distance is outside the table.

    Notes
    -----
    Source: fit of the Pasquill-Gifford curves, across = 465.116 x tan(c - d ln x), upright = a x^b,
    x in km (Fundamentals of Air Pollution, 3rd ed., Tables 19-4 and 19-5, read).
    """
    distance_km = distance_m / 1000.0
    ranges = _GIFFORD_UPRIGHT.get(stability, ())
    fit = next((row for row in ranges if distance_km <= row[0]), None)
    if fit is None or distance_m <= 0.0:
        top_m = ranges[-1][0] * 1000.0 if ranges else 0.0
        raise OutOfRangeError(f"distance for class {stability} [m]", distance_m, 0.0, top_m)
    start, slope = _GIFFORD_ANGLE[stability]
    angle = np.radians(start - slope * np.log(distance_km))
    across = 465.116 * distance_km * np.tan(angle)
    return Width(np.asarray(across), np.asarray(fit[1] * distance_km ** fit[2]))


def gaussian_plume(
    rate: float,
    wind_m_s: float,
    width: Width,
    *,
    source_height_m: float = 0.0,
    height_m: float = 0.0,
    aside_m: float = 0.0,
) -> FloatArray:
    """Return the concentration in a steady plume over reflecting ground.

    Parameters
    ----------
    rate : float
        Source [unit/s]; the result is in the same unit per m³.
    wind_m_s : float
        Wind speed [m/s], above 0.
    width : Width
        Standard deviations at the distance wanted [m].
    source_height_m, height_m : float
        Height of the plume's axis and of the point [m].
    aside_m : float
        Distance of the point from the plume's axis [m].

    Returns
    -------
    ndarray
        Concentration [unit/m³], shape of the widths.

    Raises
    ------
    OutOfRangeError
        If the wind is not above 0.

    Notes
    -----
    Source: the Gaussian plume equation, e.g. Turner, Workbook of Atmospheric Dispersion Estimates,
    PHS 999-AP-26 (from memory). Holds for flat, open ground and a steady wind of about 1 m/s
    and more.
    """
    across, upright = width
    mirror = np.exp(-((height_m - source_height_m) ** 2) / (2.0 * upright**2)) + np.exp(
        -((height_m + source_height_m) ** 2) / (2.0 * upright**2)
    )
    off_axis = np.exp(-(aside_m**2) / (2.0 * across**2))
    spread = 2.0 * np.pi * positive("wind speed [m/s]", wind_m_s, 100.0) * across * upright
    return np.asarray(rate / spread * off_axis * mirror)
