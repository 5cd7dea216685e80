"""How thin exhaust becomes on its way to an opening, by each published method apart.

The methods differ by a factor of about ten at the distances of a house lot. That spread is part
of the result; the largest governs, and no method can certify a distance.
"""

import math

import numpy as np
import numpy.typing as npt

from siteplan.air.checks import FloatArray, positive, within
from siteplan.air.plume import Stability, Terrain, Width, briggs_width, gaussian_plume
from siteplan.air.source import flow_m3_s

WIND_FLOOR_M_S = 0.5
"""No method is given less wind [m/s] (common practice: instrument threshold)."""
TURBULENCE_B1 = 0.059
"""Wilson-Lamb distance factor for 15° of wind wandering (from memory)."""
INITIAL_SPREAD_M = 0.25
"""Plume width at the machine [m], about half its size (proposal)."""
CAVITY_FACTOR = 0.5
"""K of the cavity box: Murphy and Campe 1974, point source on the building (from memory)."""
STILL_DIFFUSIVITY_M2_S = 0.05
"""Least eddy diffusivity outdoors in a calm [m²/s]; 0.05 to 0.5 (common practice, no source)."""
_NEAREST_M = 1e-3


def _path(path_m: npt.ArrayLike) -> FloatArray:
    return np.maximum(within("path to the opening [m]", path_m, 0.0, 1e5), _NEAREST_M)


def floored_wind_m_s(wind_m_s: float) -> float:
    """Return the wind [m/s, 0 to 100], raised to the floor of 0.5 m/s.

    Raises
    ------
    OutOfRangeError
        If the wind is outside its range.
    """
    return max(float(within("wind speed [m/s]", wind_m_s, 0.0, 100.0)), WIND_FLOOR_M_S)


def distance_factor(wander_deg: float = 15.0) -> float:
    """Return B1 = 0.027 + 0.0021 × standard deviation of wind direction [deg, 0 to 30].

    Source: Wilson and Lamb 1994 and ASHRAE HVAC Applications, "Building air intake and exhaust
    design" (from memory).

    Raises
    ------
    OutOfRangeError
        If the wandering is outside 0 to 30.
    """
    return 0.027 + 0.0021 * float(within("wandering of the wind [deg]", wander_deg, 0.0, 30.0))


def stretched_string_dilution(
    path_m: npt.ArrayLike,
    exhaust_m3_s: float,
    wind_m_s: float,
    *,
    wander_deg: float = 15.0,
    exhaust_m_s: float = 0.0,
    upward: bool = False,
) -> FloatArray:
    """Return the least dilution of an exhaust at an opening.

    Parameters
    ----------
    path_m : array_like
        Stretched-string distance round the building, exhaust edge to opening edge [m].
    exhaust_m3_s : float
        Exhaust flow [m³/s], above 0.
    wind_m_s : float
        Wind at eave height [m/s]; raised to 0.5.
    wander_deg : float
        Standard deviation of wind direction [deg], 0 to 30.
    exhaust_m_s : float
        Exhaust speed [m/s].
    upward : bool
        True for an uncapped vertical exhaust; others get no credit for their jet.

    Returns
    -------
    ndarray
        Dilution, 1 and more: (sqrt(Do) + sqrt(Ds))², Do = 1 + 13 β Ve/UH, Ds = B1 UH S²/Qe.

    Raises
    ------
    OutOfRangeError
        If an argument is outside its range.

    Notes
    -----
    Source: Wilson and Lamb 1994; ASHRAE HVAC Applications, older editions (from memory). Made for
    exhausts on a building; full-scale tests found it conservative close to the vent and no one
    method of eleven clearly best (abstracts read).
    """
    flow = positive("exhaust flow [m³/s]", exhaust_m3_s, 100.0)
    wind = floored_wind_m_s(wind_m_s)
    jet = 1.0 + (13.0 * exhaust_m_s / wind if upward else 0.0)
    along = distance_factor(wander_deg) * wind * _path(path_m) ** 2 / flow
    return np.asarray((math.sqrt(jet) + np.sqrt(along)) ** 2)


def stretched_string_ppm(rate_g_h: float, path_m: npt.ArrayLike, wind_m_s: float) -> FloatArray:
    """Return CO at an opening by the distance term alone: q/(0.059 U S²), without the jet's credit.

    Parameters
    ----------
    rate_g_h : float
        CO rate [g/h].
    path_m : array_like
        Stretched-string distance [m].
    wind_m_s : float
        Wind [m/s]; raised to 0.5.

    Returns
    -------
    ndarray
        CO [ppm], not capped. Source and validity: as `stretched_string_dilution`.
    """
    spread = TURBULENCE_B1 * floored_wind_m_s(wind_m_s) * _path(path_m) ** 2
    return np.asarray(1e6 * flow_m3_s(rate_g_h) / spread)


def separation_m(flow_l_s: float, dilution: float, exhaust_m_s: float = 0.0) -> float:
    """Return the exhaust-to-intake separation of ASHRAE 62.1.

    Parameters
    ----------
    flow_l_s : float
        Exhaust flow [L/s].
    dilution : float
        Dilution wanted, 1 and more; 15 and 50 for exhaust classes 3 and 4.
    exhaust_m_s : float
        Exhaust speed [m/s]: positive away from the intake, negative at it, 0 capped or otherwise.

    Returns
    -------
    float
        L = 0.04 sqrt(Q) (sqrt(DF) - U/2) [m], not below 0.

    Raises
    ------
    OutOfRangeError
        If flow or dilution is outside its range.

    Notes
    -----
    Source: ASHRAE 62.1 Appendix F to 2016, Appendix B from 2019 (from memory). It holds no wind
    speed: it stands for about 10 m/s, so in light air it promises about ten times too much
    dilution. Made for dilutions up to 50. It may give one more reason to warn, nothing else.
    """
    flow = float(within("exhaust flow [L/s]", flow_l_s, 0.0, 1e6))
    thinned = math.sqrt(float(within("dilution", dilution, 1.0, 1e6)))
    return max(0.04 * math.sqrt(flow) * (thinned - exhaust_m_s / 2.0), 0.0)


def _widened(width: Width) -> Width:
    return Width(
        np.hypot(width.across_m, INITIAL_SPREAD_M), np.hypot(width.upright_m, INITIAL_SPREAD_M)
    )


def plume_ppm(
    rate_g_h: float,
    path_m: npt.ArrayLike,
    wind_m_s: float,
    stability: Stability = "D",
    terrain: Terrain = "urban",
) -> FloatArray:
    """Return CO on the axis of a ground-level plume with the machine's size added to its width.

    Parameters
    ----------
    rate_g_h : float
        CO rate [g/h].
    path_m : array_like
        Distance along the path [m].
    wind_m_s : float
        Wind [m/s]; raised to 0.5.
    stability, terrain : str
        As for `siteplan.air.plume.briggs_width`.

    Returns
    -------
    ndarray
        CO [ppm], not capped.

    Notes
    -----
    Source: Gaussian plume with Briggs 1973 widths (read second-hand); the initial spread of 0.25 m
    in quadrature is a proposal. Below 100 m it is outside the published range.
    """
    width = _widened(briggs_width(_path(path_m), stability, terrain))
    return 1e6 * gaussian_plume(flow_m3_s(rate_g_h), floored_wind_m_s(wind_m_s), width)


def handbook_plume_ppm(rate_g_h: float, path_m: npt.ArrayLike, wind_m_s: float) -> FloatArray:
    """Return CO on the axis of a plume that widens by 0.071 of the distance both ways.

    Parameters and result as for `plume_ppm`. Source: ASHRAE HVAC Applications 2007 and 2011 (from
    memory), with the machine's size as initial spread. Shown beside the others, in no band.
    """
    grown = 0.071 * _path(path_m)
    width = _widened(Width(grown, grown))
    return 1e6 * gaussian_plume(flow_m3_s(rate_g_h), floored_wind_m_s(wind_m_s), width)


def cavity_ppm(
    rate_g_h: float, wind_m_s: float, frontal_area_m2: float, factor: float = CAVITY_FACTOR
) -> float:
    """Return the mean CO in the recirculating air behind a building.

    Parameters
    ----------
    rate_g_h : float
        CO rate [g/h].
    wind_m_s : float
        Wind [m/s]; raised to 0.5.
    frontal_area_m2 : float
        Area of the wall that faces the wind, width × height [m²], above 0.
    factor : float
        K: 0.5 Murphy and Campe 1974; 1.5 SCREEN3; 0.5 to 2 Gifford (all from memory).

    Returns
    -------
    float
        q/(K U A) [ppm]. The plume itself near the opening is stronger: take the larger.

    Raises
    ------
    OutOfRangeError
        If the area is not above 0.
    """
    area = positive("frontal area [m²]", frontal_area_m2, 1e5)
    return 1e6 * flow_m3_s(rate_g_h) / (factor * floored_wind_m_s(wind_m_s) * area)


def recirculation_length_m(face_width_m: float, face_height_m: float) -> float:
    """Return how far air recirculates behind a building [m]: smaller^0.67 × larger^0.33.

    Source: ASHRAE HVAC Applications, "Building air intake and exhaust design" (from memory).

    Raises
    ------
    OutOfRangeError
        If a side is not above 0.
    """
    sides = (face_width_m, face_height_m)
    smaller, larger = sorted(positive("side of the wall [m]", side, 1e4) for side in sides)
    return float(smaller**0.67 * larger**0.33)


def still_air_ppm(
    rate_g_h: float, path_m: npt.ArrayLike, diffusivity_m2_s: float = STILL_DIFFUSIVITY_M2_S
) -> FloatArray:
    """Return the steady CO around a point source on the ground in a calm.

    Parameters
    ----------
    rate_g_h : float
        CO rate [g/h].
    path_m : array_like
        Distance [m].
    diffusivity_m2_s : float
        Eddy diffusivity [m²/s], above 0.

    Returns
    -------
    ndarray
        q/(2 π K r) [ppm]. Source: diffusion theory, half space (from memory); K common practice.

    Raises
    ------
    OutOfRangeError
        If the diffusivity is not above 0.
    """
    diffusivity = positive("eddy diffusivity [m²/s]", diffusivity_m2_s, 100.0)
    reach = 2.0 * np.pi * diffusivity * _path(path_m)
    return np.asarray(1e6 * flow_m3_s(rate_g_h) / reach)


def confined_ppm(
    rate_g_h: float, minutes: npt.ArrayLike, volume_m3: float, air_changes_per_h: float
) -> FloatArray:
    """Return CO in an enclosed yard, alcove, porch, carport or window well.

    Parameters
    ----------
    rate_g_h : float
        CO rate [g/h]; use the rate at reduced oxygen.
    minutes : array_like
        Time since the start [min].
    volume_m3 : float
        Volume [m³], above 0.
    air_changes_per_h : float
        Exchange [1/h], above 0; 1 to 5 (common practice, no source).

    Returns
    -------
    ndarray
        q/(n V) (1 - exp(-n t)) [ppm]: a well-mixed box (derived). Such a place is a danger
        whatever the figure.

    Raises
    ------
    OutOfRangeError
        If volume or exchange is not above 0.
    """
    exchange = positive("air changes [1/h]", air_changes_per_h, 1000.0)
    volume = positive("volume [m³]", volume_m3, 1e6)
    hours = within("time [min]", minutes, 0.0, 1e7) / 60.0
    steady = 3600e6 * flow_m3_s(rate_g_h) / (exchange * volume)
    return np.asarray(steady * -np.expm1(-exchange * hours))
