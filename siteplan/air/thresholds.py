"""Limits to show beside an estimate, symptoms, and the time a curve takes to reach a level."""

from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt

from siteplan.air.checks import FloatArray, within
from siteplan.air.source import ppm_from_mg_m3

Unit = Literal["ppm", "mg/m3"]
Audience = Literal["public", "work"]
Known = Literal["read", "read-second-hand", "memory"]

CAUTION = (
    "Screening estimate, outside the published range of the dispersion formulas, uncertain by a"
    " factor of 10; CO alarms on every floor are still needed; local code and licensed practice"
    " govern."
)
"""Stands on every screen, page and file that shows a figure of this package."""

SHOWN_PPM = (70.0, 150.0, 400.0)
"""Levels whose time is shown [ppm]: the alarm points of UL 2034."""
CAUTION_PERCENT, DANGER_PERCENT, SEVERE_PERCENT = 2.0, 4.0, 10.0
"""COHb [%] that raises a warning: the aim of the WHO's guidelines (from memory), the end point of
AEGL-2 (from memory), and the level UL 2034 alarms are set to (read)."""
LOWER_EXPLOSIVE_PERCENT = 12.5
"""Lower explosive limit of CO in air [% by volume] (NIOSH, read)."""


class Limit(NamedTuple):
    """A published concentration that should not be passed over a time.

    Attributes
    ----------
    name : str
        Who set it.
    value : float
        Concentration, in `unit`.
    unit : str
        "ppm" or "mg/m3", as published.
    minutes : float
        Averaging time [min]; 0 for a ceiling.
    audience : str
        "public", or "work" for healthy adults at work.
    source : str
        Id of the cited work.
    known : str
        How the figure is known.
    """

    name: str
    value: float
    unit: Unit
    minutes: float
    audience: Audience
    source: str
    known: Known

    @property
    def ppm(self) -> float:
        """The value in ppm at 25 °C and 1 atm."""
        return self.value if self.unit == "ppm" else ppm_from_mg_m3(self.value)


LIMITS: tuple[Limit, ...] = (
    Limit("NAAQS", 9.0, "ppm", 480.0, "public", "naaqs-co", "read"),
    Limit("NAAQS", 35.0, "ppm", 60.0, "public", "naaqs-co", "read"),
    Limit("WHO indoor 2010", 100.0, "mg/m3", 15.0, "public", "who-indoor-2010", "memory"),
    Limit("WHO indoor 2010", 35.0, "mg/m3", 60.0, "public", "who-indoor-2010", "memory"),
    Limit("WHO indoor 2010", 10.0, "mg/m3", 480.0, "public", "who-indoor-2010", "memory"),
    Limit("WHO indoor 2010", 7.0, "mg/m3", 1440.0, "public", "who-indoor-2010", "memory"),
    Limit("WHO 2021", 4.0, "mg/m3", 1440.0, "public", "who-2021", "memory"),
    Limit("WHO Europe 2000", 60.0, "mg/m3", 30.0, "public", "who-europe-2000", "read-second-hand"),
    Limit("AEGL-2", 420.0, "ppm", 10.0, "public", "aegl-co", "memory"),
    Limit("AEGL-2", 150.0, "ppm", 30.0, "public", "aegl-co", "memory"),
    Limit("AEGL-2", 83.0, "ppm", 60.0, "public", "aegl-co", "memory"),
    Limit("AEGL-2", 33.0, "ppm", 240.0, "public", "aegl-co", "memory"),
    Limit("AEGL-2", 27.0, "ppm", 480.0, "public", "aegl-co", "memory"),
    Limit("AEGL-3", 1700.0, "ppm", 10.0, "public", "aegl-co", "memory"),
    Limit("AEGL-3", 600.0, "ppm", 30.0, "public", "aegl-co", "memory"),
    Limit("AEGL-3", 330.0, "ppm", 60.0, "public", "aegl-co", "memory"),
    Limit("AEGL-3", 150.0, "ppm", 240.0, "public", "aegl-co", "memory"),
    Limit("AEGL-3", 130.0, "ppm", 480.0, "public", "aegl-co", "memory"),
    Limit("NIOSH REL", 35.0, "ppm", 480.0, "work", "niosh-co", "read"),
    Limit("NIOSH ceiling", 200.0, "ppm", 0.0, "work", "niosh-co", "read"),
    Limit("NIOSH IDLH", 1200.0, "ppm", 0.0, "work", "niosh-co", "memory"),
    Limit("OSHA PEL", 50.0, "ppm", 480.0, "work", "osha-co", "read"),
    Limit("ACGIH TLV", 25.0, "ppm", 480.0, "work", "acgih-co", "read-second-hand"),
)
"""Limits as published. No AEGL-1 is set for CO. Emergency guidance for workers is left out: it
does not fit a household."""


class AlarmPoint(NamedTuple):
    """When a household CO alarm must sound at a constant concentration.

    Attributes
    ----------
    ppm : float
        Concentration [ppm].
    not_before_min, not_after_min : float
        Earliest and latest time of the alarm [min]; latest is infinite where none is wanted.
    """

    ppm: float
    not_before_min: float
    not_after_min: float


ALARM_POINTS: tuple[AlarmPoint, ...] = (
    AlarmPoint(30.0, 30.0 * 1440.0, np.inf),
    AlarmPoint(70.0, 60.0, 240.0),
    AlarmPoint(150.0, 10.0, 50.0),
    AlarmPoint(400.0, 4.0, 15.0),
)
"""Source: UL 2034, as printed in alarm manuals (read second-hand). Below 70 ppm an alarm may stay
silent while sensitive people fall ill."""


class Symptom(NamedTuple):
    """What people feel between two COHb levels [%]; individual variation is large."""

    low_percent: float
    high_percent: float
    effect: str
    source: str
    known: Known


SYMPTOMS: tuple[Symptom, ...] = (
    Symptom(0.5, 0.8, "background of a non-smoker", "nrc-co", "read"),
    Symptom(
        2.5, 4.0, "heart patients: chest pain sooner under effort", "aegl-co", "read-second-hand"
    ),
    Symptom(4.0, 10.0, "healthy adults: breathless under effort", "nrc-co", "read"),
    Symptom(10.0, 15.0, "headache", "nrc-co", "read"),
    Symptom(15.0, 20.0, "headache and confusion", "clinical-co", "read-second-hand"),
    Symptom(
        20.0,
        40.0,
        "nausea, fatigue, disorientation, irritability",
        "clinical-co",
        "read-second-hand",
    ),
    Symptom(
        40.0,
        60.0,
        "hallucination, collapse, convulsions, coma, often death",
        "clinical-co",
        "read-second-hand",
    ),
    Symptom(60.0, 100.0, "death", "clinical-co", "read-second-hand"),
)
"""Sources: NRC (nap.edu record 12040, p. 10), AEGL for CO, clinical reviews. Most deaths were found
at 40 to 59 % (mean 51 ± 12 %, read second-hand), so a lower band is no assurance."""


def symptom_at(cohb_percent: float) -> Symptom | None:
    """Return the symptoms at a COHb level [%], or None between background and the first of them.

    Raises
    ------
    OutOfRangeError
        If the level is not within 0 to 100.
    """
    level = float(within("COHb [%]", cohb_percent, 0.0, 100.0))
    reached = [row for row in SYMPTOMS if row.low_percent <= level]
    if not reached or (level > reached[-1].high_percent):
        return None
    return reached[-1]


def minutes_to_level(minutes: npt.ArrayLike, curve: npt.ArrayLike, level: float) -> FloatArray:
    """Return when a curve first reaches a level.

    Parameters
    ----------
    minutes : array_like, shape (n,)
        Rising times [min].
    curve : array_like, shape (..., n)
        Values at these times.
    level : float
        In the unit of the curve.

    Returns
    -------
    ndarray, shape (...)
        Minutes, by straight lines between the times; infinity if the level is never reached.
    """
    times, values = np.asarray(minutes, dtype=np.float64), np.asarray(curve, dtype=np.float64)
    reached = values >= level
    after = np.argmax(reached, axis=-1)
    before = np.maximum(after - 1, 0)

    def at(index: npt.NDArray[np.intp]) -> FloatArray:
        return np.take_along_axis(values, index[..., np.newaxis], axis=-1)[..., 0]

    rise = at(after) - at(before)
    share = np.where(rise > 0.0, (level - at(before)) / np.where(rise > 0.0, rise, 1.0), 1.0)
    crossed = times[before] + share * (times[after] - times[before])
    return np.asarray(np.where(reached.any(axis=-1), crossed, np.inf))


def highest_mean(minutes: npt.ArrayLike, curve: npt.ArrayLike, window_min: float) -> FloatArray:
    """Return the highest mean of a curve over any stretch of a given length.

    Parameters
    ----------
    minutes : array_like, shape (n,)
        Rising times [min], at least two.
    curve : array_like, shape (..., n)
        Values at these times, joined by straight lines.
    window_min : float
        Length of the stretch [min]; 0 gives the highest value. A window longer than the curve
        counts as long as the curve, which gives the higher mean.

    Returns
    -------
    ndarray, shape (...)
        The highest mean over windows that end at one of the times.
    """
    times, values = np.asarray(minutes, dtype=np.float64), np.asarray(curve, dtype=np.float64)
    window = min(float(within("window [min]", window_min, 0.0, 1e7)), float(times[-1] - times[0]))
    if window == 0.0:
        return np.asarray(values.max(axis=-1))
    areas = np.cumsum((values[..., 1:] + values[..., :-1]) / 2.0 * np.diff(times), axis=-1)
    areas = np.concatenate([np.zeros_like(areas[..., :1]), areas], axis=-1)
    ends = times >= times[0] + window * (1.0 - 1e-12)
    begins = np.maximum(times[ends] - window, times[0])
    before = np.clip(np.searchsorted(times, begins, side="right") - 1, 0, times.size - 2)
    since = begins - times[before]
    slope = np.diff(values)[..., before] / np.diff(times)[before]
    begun = areas[..., before] + since * (values[..., before] + slope * since / 2.0)
    return np.asarray(((areas[..., ends] - begun) / window).max(axis=-1))


def limits_passed(
    minutes: npt.ArrayLike, curves_ppm: npt.ArrayLike, audience: Audience = "public"
) -> tuple[tuple[Limit, ...], ...]:
    """Return the limits whose averaged concentration each curve passes.

    Parameters
    ----------
    minutes : array_like, shape (n,)
        Rising times [min], at least two.
    curves_ppm : array_like, shape (k, n)
        CO [ppm].
    audience : str
        Whose limits.

    Returns
    -------
    tuple of tuple of Limit
        For each curve, in the order of `LIMITS`.
    """
    curves = np.asarray(curves_ppm, dtype=np.float64)
    asked = [limit for limit in LIMITS if limit.audience == audience]
    over = [highest_mean(minutes, curves, limit.minutes) > limit.ppm for limit in asked]
    return tuple(
        tuple(limit for limit, passes in zip(asked, over, strict=True) if passes[row])
        for row in range(len(curves))
    )
