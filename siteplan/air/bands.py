"""The two bands of CO outdoors at an opening, and the spread of the methods they are made of."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt

from siteplan.air.checks import FloatArray, within
from siteplan.air.dilution import (
    WIND_FLOOR_M_S,
    cavity_ppm,
    floored_wind_m_s,
    handbook_plume_ppm,
    plume_ppm,
    still_air_ppm,
    stretched_string_ppm,
)
from siteplan.air.source import RAW_CEILING_PPM

Method = Literal[
    "stretched-string", "urban-plume", "cavity", "rural-plume", "still-air", "handbook-plume"
]

INDICATIVE_WIND_M_S = 1.0
"""Wind of the indicative band [m/s]; a proposal: light air, and never raised."""


class Band(NamedTuple):
    """One band of an estimate: what governs, and every method beside it.

    Attributes
    ----------
    ppm : ndarray
        The largest of the band's methods, capped at the raw exhaust [ppm].
    by_method_ppm : mapping
        Each method by name, also those that are in no band [ppm], capped likewise.
    """

    ppm: FloatArray
    by_method_ppm: Mapping[Method, FloatArray]


class Outdoor(NamedTuple):
    """CO in the outdoor air at openings, as two bands."""

    indicative: Band
    worst: Band

    @property
    def spread(self) -> FloatArray:
        """Largest over smallest of all methods in both bands, per opening."""
        every = np.stack(
            [
                values
                for band in (self.indicative, self.worst)
                for values in band.by_method_ppm.values()
            ]
        )
        smallest = np.maximum(every.min(axis=0), np.finfo(np.float64).tiny)
        return np.asarray(every.max(axis=0) / smallest)


_INDICATIVE: tuple[Method, ...] = ("stretched-string", "urban-plume", "cavity")
_WORST: tuple[Method, ...] = (*_INDICATIVE, "rural-plume", "still-air")
_BY_DISTANCE: dict[Method, Callable[[float, FloatArray, float], FloatArray]] = {
    "stretched-string": stretched_string_ppm,
    "urban-plume": plume_ppm,
    "rural-plume": lambda rate, path, wind: plume_ppm(rate, path, wind, "F", "rural"),
    "still-air": lambda rate, path, _wind_m_s: still_air_ppm(rate, path),
    "handbook-plume": handbook_plume_ppm,
}


def _every_method(
    rate_g_h: float, path: FloatArray, wind: float, cavity_area_m2: float | None
) -> dict[Method, FloatArray]:
    found = {name: method(rate_g_h, path, wind) for name, method in _BY_DISTANCE.items()}
    if cavity_area_m2 is not None:
        found["cavity"] = np.full_like(path, cavity_ppm(rate_g_h, wind, cavity_area_m2))
    return found


def indicative_ppm(
    rate_g_h: float, path_m: npt.ArrayLike, wind_m_s: float = INDICATIVE_WIND_M_S
) -> FloatArray:
    """Return the indicative band of `outdoor_ppm` alone, without the methods that do not govern.

    Parameters
    ----------
    rate_g_h : float
        CO rate [g/h], 0 to 100 000.
    path_m : array_like
        Stretched-string distance of each opening [m], 0 and more.
    wind_m_s : float
        Wind [m/s], taken as there.

    Returns
    -------
    ndarray, shape of path_m
        CO [ppm], capped at the raw exhaust.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.
    """
    light = min(floored_wind_m_s(wind_m_s), INDICATIVE_WIND_M_S)
    rate = float(within("CO rate [g/h]", rate_g_h, 0.0, 1e5))
    path = within("path to the opening [m]", path_m, 0.0, 1e5)
    every = [_BY_DISTANCE[name](rate, path, light) for name in _INDICATIVE if name != "cavity"]
    return np.asarray(np.minimum(np.max(every, axis=0), RAW_CEILING_PPM))


def _band(found: Mapping[Method, FloatArray], governing: tuple[Method, ...], cap: float) -> Band:
    capped = {name: np.minimum(values, cap) for name, values in found.items()}
    largest = np.max([capped[name] for name in governing if name in capped], axis=0)
    return Band(np.asarray(largest), MappingProxyType(capped))


def outdoor_ppm(
    rate_g_h: float,
    path_m: npt.ArrayLike,
    *,
    worst_rate_g_h: float | None = None,
    wind_m_s: float = INDICATIVE_WIND_M_S,
    cavity_area_m2: float | None = None,
    raw_ppm: float = RAW_CEILING_PPM,
) -> Outdoor:
    """Return CO at openings in an indicative and a worst band, with the spread of methods.

    Parameters
    ----------
    rate_g_h : float
        CO rate for the indicative band [g/h], 0 to 100 000.
    path_m : array_like
        Stretched-string distance of each opening [m], 0 and more.
    worst_rate_g_h : float, optional
        Rate for the worst band [g/h]; never below rate_g_h.
    wind_m_s : float
        Wind for the indicative band [m/s]. More than 1 m/s counts as 1, less than 0.5 as 0.5: a
        known wind can raise the estimate and never lower it.
    cavity_area_m2 : float, optional
        Frontal area of the building if the machine stands within its recirculation length [m²].
    raw_ppm : float
        CO in the raw exhaust [ppm, 0 to 100 000]: the cap.

    Returns
    -------
    Outdoor
        `indicative`: the largest of stretched-string, urban class D plume and cavity at 1 m/s.
        `worst`: these with rural class F plume and still air, at 0.5 m/s. No credit for plume
        rise, exhaust pointed away, height, fences, hedges or a closed sash.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.

    Notes
    -----
    The choice of methods and winds is a proposal; each method names its own source. Every distance
    below 100 m is outside the published range of the plume widths.
    """
    rate = float(within("CO rate [g/h]", rate_g_h, 0.0, 1e5))
    worst_rate = max(rate, float(within("CO rate [g/h]", worst_rate_g_h or 0.0, 0.0, 1e5)))
    path = within("path to the opening [m]", path_m, 0.0, 1e5)
    cap = float(within("CO in raw exhaust [ppm]", raw_ppm, 0.0, RAW_CEILING_PPM))
    light = min(floored_wind_m_s(wind_m_s), INDICATIVE_WIND_M_S)
    indicative = _every_method(rate, path, light, cavity_area_m2)
    worst = _every_method(worst_rate, path, WIND_FLOOR_M_S, cavity_area_m2)
    return Outdoor(_band(indicative, _INDICATIVE, cap), _band(worst, _WORST, cap))
