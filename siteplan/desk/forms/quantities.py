"""Numbers as people write them in a form, and back to SI."""

import re
from fractions import Fraction

from siteplan.errors import Said, UnitTextError
from siteplan.units import L_PER_GAL, M_PER_IN, System, fahrenheit, parse_length

_SIXTEENTHS = 16
_NUMBER = re.compile(r"^\s*([-+]?(?:\d+(?:[.,]\d*)?|[.,]\d+))\s*([^\d\s]*.*?)\s*$")
_GAUGES = {1: "0", 0: "1/0", -1: "2/0", -2: "3/0", -3: "4/0"}


def exact_length(value_m: float, system: System) -> str:
    """Return a length [m] to the nearest sixteenth of an inch, or to the millimetre."""
    if system == "metres":
        return f"{_short(value_m, 3)} m"
    sign = "-" if value_m < 0 else ""
    parts = round(abs(value_m) / M_PER_IN * _SIXTEENTHS)
    whole, rest = divmod(parts, 12 * _SIXTEENTHS)
    inches, fraction = divmod(rest, _SIXTEENTHS)
    words = f"{inches}" if inches else ""
    if fraction:
        words = f"{words} {Fraction(fraction, _SIXTEENTHS)}".strip()
    if not words:
        return f"{sign}{whole}'" if whole else '0"'
    return f"{sign}{whole}' {words}\"" if whole else f'{sign}{words}"'


def _short(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    return (text.rstrip("0").rstrip(".") if "." in text else text) or "0"


_SUFFIX = {
    "angle": "°",
    "power": " W",
    "current": " A",
    "level": " dB(A)",
    "share": " %",
}


def show(value: float | str, quantity: str, system: System) -> str:
    """Return a value of the document as the text of a form's field."""
    if isinstance(value, str):
        return value
    if quantity == "length":
        return exact_length(value, system)
    if quantity in ("volume", "temperature"):
        return _customary(value, quantity) if system == "feet" else _metric(value, quantity)
    if quantity == "gauge":
        return f"{_gauge_words(int(value))} AWG"
    if quantity == "share":
        return f"{_short(value * 100, 1)} %"
    return f"{_short(value, 3)}{_SUFFIX.get(quantity, '')}"


def _customary(value: float, quantity: str) -> str:
    if quantity == "volume":
        return f"{_short(value / L_PER_GAL, 2)} gal"
    return f"{_short(fahrenheit(value), 1)} °F"


def _metric(value: float, quantity: str) -> str:
    return f"{_short(value, 2)} L" if quantity == "volume" else f"{_short(value, 1)} °C"


def _gauge_words(gauge: int) -> str:
    return _GAUGES[gauge] if gauge in _GAUGES and gauge <= 0 else str(gauge)


def read(words: str, quantity: str, system: System) -> float:
    """Return the value [SI] that was typed into a field.

    Raises
    ------
    UnitTextError
        If the text is no such quantity.
    """
    if quantity == "length":
        return parse_length(words, system)
    if quantity == "gauge":
        return float(_read_gauge(words))
    match = _NUMBER.match(words)
    if match is None:
        raise UnitTextError(words[:40], "a number")
    return _convert(float(match[1].replace(",", ".")), match[2].lower(), quantity, system, words)


def _convert(value: float, unit: str, quantity: str, system: System, words: str) -> float:
    known = _UNITS.get(quantity, {})
    if unit and known and unit not in known:
        raise UnitTextError(
            words[:40], Said("a number with one of {units}", {"units": ", ".join(known)})
        )
    if quantity == "volume":
        return value * known[unit or ("gal" if system == "feet" else "l")]
    if quantity == "temperature":
        in_f = unit.endswith("f") or (not unit and system == "feet")
        return (value - 32.0) / 1.8 if in_f else value
    return value * known.get(unit, known.get("", 1.0))


_UNITS: dict[str, dict[str, float]] = {
    "volume": {"gal": L_PER_GAL, "gallons": L_PER_GAL, "l": 1.0, "litres": 1.0, "liters": 1.0},
    "power": {"w": 1.0, "watts": 1.0, "kw": 1000.0},
    "current": {"a": 1.0, "amps": 1.0},
    "level": {"db": 1.0, "db(a)": 1.0, "dba": 1.0},
    "share": {"%": 0.01, "": 0.01},
    "angle": {"°": 1.0, "deg": 1.0},
    "temperature": {"°f": 1.0, "f": 1.0, "°c": 1.0, "c": 1.0},
}


def _read_gauge(words: str) -> int:
    text = words.lower().replace("awg", "").replace("ga.", "").strip().lstrip("#")
    for gauge, name in _GAUGES.items():
        if gauge <= 0 and text == name:
            return gauge
    if not text.lstrip("-").isdigit():
        raise UnitTextError(words[:40], "a wire size such as 12 AWG or 2/0")
    return int(text)
