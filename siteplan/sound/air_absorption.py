"""Absorption of sound by the air, ISO 9613-1."""

import numpy as np

from siteplan.sound.checks import Array, Numbers, numbers
from siteplan.sound.levels import EXACT_OCTAVES_HZ

_REFERENCE_K = 293.15
_TRIPLE_POINT_K = 273.16
_REFERENCE_KPA = 101.325
_ZERO_C_K = 273.15


def _water_percent(kelvin: float, humidity_percent: float, pressure: float) -> float:
    exponent = -6.8346 * (_TRIPLE_POINT_K / kelvin) ** 1.261 + 4.6151
    return float(humidity_percent * 10.0**exponent / pressure)


def _relaxations_hz(kelvin: float, water: float, pressure: float) -> tuple[float, float]:
    relative = kelvin / _REFERENCE_K
    oxygen = pressure * (24.0 + 4.04e4 * water * (0.02 + water) / (0.391 + water))
    fall = np.exp(-4.170 * (relative ** (-1.0 / 3.0) - 1.0))
    nitrogen = pressure * relative**-0.5 * (9.0 + 280.0 * water * fall)
    return float(oxygen), float(nitrogen)


def absorption_db_per_m(
    temperature_c: float = 10.0,
    humidity_percent: float = 70.0,
    pressure_kpa: float = _REFERENCE_KPA,
    frequency_hz: Numbers = EXACT_OCTAVES_HZ,
) -> Array:
    """Return the absorption of pure tones by still air [dB/m].

    Parameters
    ----------
    temperature_c : float
        Air temperature [°C], -20 to 50.
    humidity_percent : float
        Relative humidity [%], 1 to 100. Very dry air is outside the method's accuracy.
    pressure_kpa : float
        Air pressure [kPa], 50 to 110.
    frequency_hz : array_like
        Frequencies [Hz], 20 to 20 000. Default: the exact octave mid-bands, which the printed
        tables are made with.

    Returns
    -------
    ndarray
        In the shape of the frequencies.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.

    Notes
    -----
    ISO 9613-1:1993 clause 6, read second-hand; claimed accuracy ±10 % (clause 7.1).
    """
    kelvin = float(numbers("temperature [°C]", temperature_c, -20.0, 50.0)) + _ZERO_C_K
    humidity = float(numbers("relative humidity [%]", humidity_percent, 1.0, 100.0))
    pressure = float(numbers("air pressure [kPa]", pressure_kpa, 50.0, 110.0)) / _REFERENCE_KPA
    f2 = numbers("frequency [Hz]", frequency_hz, 20.0, 20000.0) ** 2
    oxygen, nitrogen = _relaxations_hz(kelvin, _water_percent(kelvin, humidity, pressure), pressure)
    relative = kelvin / _REFERENCE_K
    classical = 1.84e-11 / pressure * relative**0.5
    vibration = 0.01275 * np.exp(-2239.1 / kelvin) / (oxygen + f2 / oxygen)
    vibration = vibration + 0.1068 * np.exp(-3352.0 / kelvin) / (nitrogen + f2 / nitrogen)
    return np.asarray(8.686 * f2 * (classical + relative**-2.5 * vibration))
