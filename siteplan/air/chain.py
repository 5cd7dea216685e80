"""The whole way from exhaust to blood, for one or many openings."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from siteplan.air.bands import INDICATIVE_WIND_M_S, Band, outdoor_ppm
from siteplan.air.blood import START_PERCENT, Activity, cohb_percents, hold_peak
from siteplan.air.checks import FloatArray, positive, within
from siteplan.air.entry import Exchange, room_ppm
from siteplan.air.source import RAW_CEILING_PPM, SourceRate
from siteplan.air.thresholds import CAUTION, minutes_to_level

PEOPLE: tuple[Activity, ...] = ("public", "heavy", "child")
"""Whose blood is followed: the general public, the upper band of activity, and a small child."""
STEP_MINUTES = 1.0


class Course(NamedTuple):
    """One band over time, for n openings and t times.

    Attributes
    ----------
    outdoor : Band
        CO outside each opening, shape (n,), with every method.
    minutes : ndarray, shape (t,)
        Times from the start of the run [min], from 0.
    room_ppm : ndarray, shape (n, t)
        CO in the room behind each opening [ppm].
    cohb_percent : mapping of activity to ndarray, shape (n, t)
        COHb [%] with its peak held: it never falls.
    """

    outdoor: Band
    minutes: FloatArray
    room_ppm: FloatArray
    cohb_percent: Mapping[Activity, FloatArray]

    @property
    def upper_percent(self) -> FloatArray:
        """COHb of whoever is worst off at each time [%], shape (n, t)."""
        return np.asarray(np.max(list(self.cohb_percent.values()), axis=0))

    def minutes_to_ppm(self, level_ppm: float) -> FloatArray:
        """Return when each room reaches a level [min], shape (n,); infinity for never."""
        return minutes_to_level(self.minutes, self.room_ppm, level_ppm)

    def minutes_to_percent(self, percent: float, activity: Activity = "public") -> FloatArray:
        """Return when a person behind each opening reaches a COHb level [min], shape (n,)."""
        return minutes_to_level(self.minutes, self.cohb_percent[activity], percent)


class Exposure(NamedTuple):
    """Both bands for n openings, with the caution that goes with every figure."""

    indicative: Course
    worst: Course
    caution: str = CAUTION

    @property
    def ranking(self) -> npt.NDArray[np.intp]:
        """Openings from worst to least, by peak room CO in the worst band, then outdoors."""
        rooms = self.worst.room_ppm.max(axis=-1)
        order: npt.NDArray[np.intp] = np.lexsort((-self.indicative.outdoor.ppm, -rooms))
        return order


def _held_over_steps(curve: FloatArray) -> FloatArray:
    """Return the mean of each step's two ends, the first value standing for itself."""
    before = np.concatenate([curve[..., :1], curve[..., :-1]], axis=-1)
    return np.asarray((before + curve) / 2.0)


def _course(band: Band, minutes: FloatArray, room: FloatArray, cohb: FloatArray) -> Course:
    held = hold_peak(cohb)
    by_person = dict(zip(PEOPLE, held, strict=True))
    return Course(band, minutes, room, MappingProxyType(by_person))


def follow(
    rate: SourceRate,
    path_m: npt.ArrayLike,
    exchanges: Sequence[Exchange],
    *,
    run_minutes: float = 480.0,
    after_minutes: float = 0.0,
    wind_m_s: float = INDICATIVE_WIND_M_S,
    cavity_area_m2: float | None = None,
    raw_ppm: float = RAW_CEILING_PPM,
    start_percent: float = START_PERCENT,
) -> Exposure:
    """Follow CO from the exhaust through each opening into the blood of those behind it.

    Parameters
    ----------
    rate : SourceRate
        CO rate of the machine.
    path_m : array_like, shape (n,)
        Stretched-string distance from exhaust to the nearest edge of each opening [m].
    exchanges : sequence of Exchange, length n
        Air changes of the room behind each opening.
    run_minutes : float
        Planned run [min], above 0 to 14 400; the whole of it, and at least 8 h where unknown.
    after_minutes : float
        Time followed after the run [min]; the room then clears slowly, and no warning clears.
    wind_m_s : float
        A known wind [m/s]; it can only raise the indicative band.
    cavity_area_m2 : float, optional
        Frontal area of the building the machine stands behind, within its recirculation [m²].
    raw_ppm : float
        CO of the raw exhaust [ppm].
    start_percent : float
        COHb before the run [%].

    Returns
    -------
    Exposure
        Both bands at steps of a minute, and the caution to print.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range, or there are not as many exchanges as paths.

    Notes
    -----
    The chain is a proposal made of published parts, each with its own source. It may raise a
    warning or its severity; it never permits a distance. A machine that is roofed or confined is a
    danger without any estimate.
    """
    paths = np.atleast_1d(within("path to the opening [m]", path_m, 0.0, 1e5))
    within("number of exchanges", len(exchanges), paths.size, paths.size)
    run = positive("run [min]", run_minutes, 14_400.0)
    total = run + float(within("time after the run [min]", after_minutes, 0.0, 14_400.0))
    minutes = np.append(np.arange(0.0, total, STEP_MINUTES), total)
    outdoor = outdoor_ppm(
        rate.indicative_g_h,
        paths,
        worst_rate_g_h=rate.worst_g_h,
        wind_m_s=wind_m_s,
        cavity_area_m2=cavity_area_m2,
        raw_ppm=raw_ppm,
    )
    outside = np.stack([outdoor.indicative.ppm, outdoor.worst.ppm])
    air_changes = np.asarray(exchanges, dtype=np.float64).reshape(-1, 2).T
    rooms = room_ppm(minutes, outside, air_changes, run_minutes=run)
    cohb = cohb_percents(minutes, _held_over_steps(rooms), PEOPLE, start_percent)
    return Exposure(
        _course(outdoor.indicative, minutes, rooms[0], cohb[:, 0]),
        _course(outdoor.worst, minutes, rooms[1], cohb[:, 1]),
    )
