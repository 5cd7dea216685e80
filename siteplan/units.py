"""Conversions between SI and the units of the trade, and lengths as people write them.

Text such as 20' 6" exists only at the edge of the program; everything inside is SI.
"""

import math
import re
from typing import Literal

from siteplan.errors import Said, UnitTextError

System = Literal["feet", "metres"]
Side = Literal["down", "up", "near"]

M_PER_FT = 0.3048
"""International foot, exact. Source: NIST SP 811, appendix B.8 (from memory)."""
M_PER_IN = 0.0254
L_PER_GAL = 3.785411784
"""US liquid gallon, exact. Source: NIST SP 811, appendix B.8 (from memory)."""
KG_PER_LB = 0.45359237
W_PER_HP = 745.699872

# Below this, two lengths on a drawing are the same length (a figure of the project's own).
LENGTH_TOLERANCE_M = 1e-6


def feet(value: float) -> float:
    """Return a length given in feet [ft], in metres [m]."""
    return value * M_PER_FT


def inches(value: float) -> float:
    """Return a length given in inches [in], in metres [m]."""
    return value * M_PER_IN


def fahrenheit(value_c: float) -> float:
    """Return a temperature given in degrees Celsius [°C], in degrees Fahrenheit [°F]."""
    return value_c * 1.8 + 32.0


_NUMBER = r"(?:\d+(?:[.,]\d+)?|[.,]\d+)"
_MIXED = rf"(?:\d+[ -]\d+/\d+|\d+/\d+|{_NUMBER})"
_FOOT = r"(?:'|′|’|ft\.?|feet|foot|pies|pie)"
_INCH = r"(?:\"|″|”|''|in\.?|inches|inch|pulgadas|pulgada|pulg\.?)"
_SIGN = r"(?P<sign>[-+]?)\s*"
# After feet the inch sign may be left out, as in 24' 6; alone it may not.
_FEET_INCHES = re.compile(
    rf"{_SIGN}(?P<ft>{_MIXED})\s*{_FOOT}(?:\s*-?\s*(?P<inch>{_MIXED})\s*{_INCH}?)?", re.IGNORECASE
)
_INCHES = re.compile(rf"{_SIGN}(?P<inch>{_MIXED})\s*{_INCH}", re.IGNORECASE)
_METRIC = re.compile(
    rf"{_SIGN}(?P<value>{_NUMBER})\s*(?P<unit>mm|cm|m|metres|metre|meters|meter|metros|metro)",
    re.IGNORECASE,
)
_BARE = re.compile(rf"{_SIGN}(?P<value>{_MIXED})")
_METRIC_FACTOR = {"mm": 0.001, "cm": 0.01}
# 1,250 is a thousand and more to some and a little over one to others: nobody may guess.
_THOUSANDS_OR_DECIMALS = re.compile(r"(?<!\d)[1-9]\d{0,2},\d{3}(?!\d)")
_SIGNS = str.maketrans(
    {"−": "-", "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8"}
    | {"⅝": " 5/8", "⅞": " 7/8"}
)
_LONGEST_TEXT = 60
_COMMA_TEXT = "clear about its comma; wanted is {wanted}"
_LENGTH_WANTED = "a length such as 24' 6\", 24.5 ft, 294 in or 7.47 m"


def _number(text: str) -> float:
    whole, _, rest = text.replace("-", " ").strip().rpartition(" ")
    total = float(whole) if whole else 0.0
    if "/" in rest:
        top, bottom = rest.split("/")
        if int(bottom) == 0:
            raise UnitTextError(text, "a number")
        return total + int(top) / int(bottom)
    return total + float(rest.replace(",", "."))


def parse_length(text: str, system: System = "feet") -> float:
    """Read a length in any form people write it.

    Parameters
    ----------
    text : str
        For example ``24' 6"``, ``24.5 ft``, ``7.47 m``, ``294 in``, ``7' 3 1/2"``, ``747 cm``.
        A comma is a decimal sign, but ``1,250`` is refused: it may mean either.
    system : str
        What a bare number means: feet, or metres.

    Returns
    -------
    float
        The length [m].

    Raises
    ------
    UnitTextError
        If the text is no length.
    """
    cleaned = " ".join(text[: 4 * _LONGEST_TEXT].translate(_SIGNS).split())
    if len(cleaned) > _LONGEST_TEXT:
        raise UnitTextError(text, _LENGTH_WANTED)
    if _THOUSANDS_OR_DECIMALS.search(cleaned):
        raise UnitTextError(text, Said(_COMMA_TEXT, {"wanted": Said(_LENGTH_WANTED)}))
    if match := _BARE.fullmatch(cleaned):
        value = _number(match["value"]) * (M_PER_FT if system == "feet" else 1.0)
    elif match := _METRIC.fullmatch(cleaned):
        value = _number(match["value"]) * _METRIC_FACTOR.get(match["unit"].lower(), 1.0)
    elif match := _FEET_INCHES.fullmatch(cleaned):
        value = _number(match["ft"]) * M_PER_FT + _number(match["inch"] or "0") * M_PER_IN
    elif match := _INCHES.fullmatch(cleaned):
        value = _number(match["inch"]) * M_PER_IN
    else:
        raise UnitTextError(text, _LENGTH_WANTED)
    return -value if match["sign"] == "-" else value


def round_to(value: float, step: float, side: Side) -> float:
    """Round to whole steps, to the side that is worse for the user.

    A value within a millionth of a step, or one part in 10⁹, of a whole step counts as that
    step, so that 20 ft stays 20 ft and does not become 19 ft 11 in through binary fractions.

    Parameters
    ----------
    value, step : float
        In the same unit; step > 0.
    side : str
        "down" for distances, "up" for drops and levels, "near" where nothing hangs on it.
    """
    steps = value / step
    nearest = round(steps)
    if side == "near" or math.isclose(steps, nearest, rel_tol=1e-9, abs_tol=1e-6):
        return nearest * step
    return (math.floor(steps) if side == "down" else math.ceil(steps)) * step


def format_length(value_m: float, system: System = "feet", side: Side = "down") -> str:
    """Write a length [m] as feet and inches, or as metres with two decimals.

    Parameters
    ----------
    value_m : float
        Any finite length [m].
    system : str
        "feet" gives whole inches; "metres" gives whole centimetres.
    side : str
        Which way to round: "down" for distances, so that the text never promises more.

    Returns
    -------
    str
        For example ``19' 11"`` or ``6.09 m``.
    """
    if system == "metres":
        # Adding zero turns a negative zero into a plain one.
        return f"{round_to(value_m, 0.01, side) + 0.0:.2f} m"
    steps = round(round_to(value_m, M_PER_IN, side) / M_PER_IN)
    sign = "-" if steps < 0 else ""
    feet_part, inch_part = divmod(abs(steps), 12)
    if feet_part == 0:
        return f'{sign}{inch_part}"'
    if inch_part == 0:
        return f"{sign}{feet_part}'"
    return f"{sign}{feet_part}' {inch_part}\""
