"""Sums, averages and frequency weighting of sound levels.

Levels are in [dB] re 20 µPa (pressure) or 1 pW (power); bands are the eight octaves from 63 Hz
to 8 kHz, along the last axis.
"""

from typing import Final

import numpy as np

from siteplan.errors import OutOfRangeError
from siteplan.sound.checks import Array, Numbers, numbers

OCTAVES_HZ: Final[Array] = np.array([63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0])
"""Nominal mid-band frequencies [Hz] (IEC 61260-1, from memory)."""

EXACT_OCTAVES_HZ: Final[Array] = 1000.0 * 10.0 ** (0.3 * np.arange(-4, 4))
"""Exact base-ten mid-band frequencies [Hz] (IEC 61260-1, from memory)."""

A_WEIGHTS_DB: Final[Array] = np.array([-26.2, -16.1, -8.6, -3.2, 0.0, 1.2, 1.0, -1.1])
"""Printed A-weights of the octaves [dB] (IEC 61672-1 table 3, read second-hand)."""

_LEAST_RISE_DB = 3.0


def energy_sum_db(levels_db: Numbers, axis: int = -1) -> Array:
    """Return the level of the sum of incoherent sounds [dB], along one axis.

    Parameters
    ----------
    levels_db : array_like
        Levels [dB]; minus infinity stands for silence.
    axis : int
        The axis summed over.

    Notes
    -----
    ``10 lg Σ 10^(L/10)``, by definition of the level.
    """
    levels = np.asarray(levels_db, dtype=np.float64)
    with np.errstate(divide="ignore"):
        return np.asarray(10.0 * np.log10(np.sum(10.0 ** (levels / 10.0), axis=axis)))


def a_weighted_dba(bands_db: Numbers) -> Array:
    """Return the A-weighted level [dB(A)] of octave bands [dB], shape (..., 8)."""
    return energy_sum_db(np.asarray(bands_db, dtype=np.float64) + A_WEIGHTS_DB)


def a_weighting_db(frequency_hz: Numbers) -> Array:
    """Return the A-weighting [dB] at a frequency [Hz], 1 Hz to 100 kHz.

    Raises
    ------
    OutOfRangeError
        If a frequency is outside that range.

    Notes
    -----
    IEC 61672-1 annex E, constants from memory; the result agrees with the printed table.
    """
    f2 = numbers("frequency [Hz]", frequency_hz, 1.0, 1e5) ** 2
    f1, f_2, f3, f4 = 20.599, 107.653, 737.862, 12194.217
    response = (f4**2 * f2**2) / (
        (f2 + f1**2) * np.sqrt((f2 + f_2**2) * (f2 + f3**2)) * (f2 + f4**2)
    )
    return np.asarray(20.0 * np.log10(response) + 2.0)


def remove_background_db(total_db: float, background_db: float) -> float | None:
    """Return the level of a source alone [dB], or None if the background hides it.

    A source that lifts the level by less than 3 dB over the background cannot be told apart
    from it; that is "not judged", not a low level.

    Parameters
    ----------
    total_db, background_db : float
        Measured levels with and without the source [dB].
    """
    if not total_db - background_db >= _LEAST_RISE_DB:
        return None
    return float(10.0 * np.log10(10.0 ** (total_db / 10.0) - 10.0 ** (background_db / 10.0)))


def leq_db(levels_db: Numbers, durations_s: Numbers, period_s: float | None = None) -> float:
    """Return the equivalent continuous level Leq [dB] of levels held for a time each.

    Parameters
    ----------
    levels_db, durations_s : array_like, shape (n,)
        Levels [dB] and how long each is held [s].
    period_s : float, optional
        The time averaged over [s], at least the sum of the durations; what is left of it counts
        as silence. Default: the sum of the durations.

    Raises
    ------
    OutOfRangeError
        If a duration is negative, all are zero, or the period is shorter than their sum.
    """
    durations = numbers("duration [s]", durations_s, 0.0, 1e12)
    whole = float(durations.sum())
    period = whole if period_s is None else period_s
    if not (period > 0.0 and period >= whole):
        raise OutOfRangeError("averaging time [s]", period, whole, float("inf"))
    energy = 10.0 ** (np.asarray(levels_db, dtype=np.float64) / 10.0)
    with np.errstate(divide="ignore"):
        return float(10.0 * np.log10(np.sum(durations * energy) / period))


def day_night_db(day_db: float, night_db: float) -> float:
    """Return the day-night level Ldn [dB]; night is 22:00 to 07:00 and weighs 10 dB more.

    Notes
    -----
    24 CFR 51.103(a), read.
    """
    return leq_db([day_db, night_db + 10.0], [15.0, 9.0])


def day_evening_night_db(day_db: float, evening_db: float, night_db: float) -> float:
    """Return Lden [dB]: day 07–19, evening 19–23 (+5 dB), night 23–07 (+10 dB).

    Notes
    -----
    Directive 2002/49/EC annex I, from memory.
    """
    return leq_db([day_db, evening_db + 5.0, night_db + 10.0], [12.0, 4.0, 8.0])
