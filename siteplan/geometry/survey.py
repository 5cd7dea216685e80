"""A lot described by bearings and distances, as a deed does it, and how well it closes.

What a traverse draws is not a boundary survey, and one that fails to close is never closed
silently: the gap is told, and balancing is a step of its own.
"""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from siteplan.errors import OutOfRangeError, SiteplanError, UnitTextError
from siteplan.geometry.arrays import XY, FloatArray
from siteplan.geometry.shapes import signed_area_m2
from siteplan.units import LENGTH_TOLERANCE_M

Bearing: TypeAlias = float | str
Leg: TypeAlias = tuple[Bearing, float]

_LONGEST_LEG_M = 100_000.0
_LONGEST_TEXT = 40
_ANGLE = (
    r"(?P<deg>\d{1,3}(?:\.\d+)?)\s*(?:°|º|d|deg|\s|-|$)?\s*"
    r"(?:(?P<min>\d{1,2}(?:\.\d+)?)\s*(?:'|′|’|m|\s|-|$)?\s*"
    r"(?:(?P<sec>\d{1,2}(?:\.\d+)?)\s*(?:\"|″|”|''|s)?\s*)?)?"
)
_QUADRANT = re.compile(rf"(?P<ns>[NS])\s*(?:{_ANGLE}(?P<ew>[EWO]))", re.IGNORECASE)
_AZIMUTH = re.compile(_ANGLE, re.IGNORECASE)
_DUE = {"N": 0.0, "E": 90.0, "S": 180.0, "W": 270.0, "O": 270.0}
_WANTED = "a bearing such as N26°10'E or 153.5"


class NoTraverseError(SiteplanError):
    """Too few legs to make a traverse."""


@dataclass(frozen=True, slots=True)
class Traverse:
    """A chain of legs from (0, 0), y to the north.

    Attributes
    ----------
    points : tuple of (float, float)
        Beginning of the first leg, then the end of every leg [m, m]: one more than legs.
        The last is where the last leg ends, not where the first began.
    closure_m : float
        From the last point to the first [m].
    precision : float
        Whole length over closure: 3000 means 1 in 3000; inf if it closes exactly.
    area_m2 : float
        Of the figure with a straight line over the gap [m²], without sign.
    length_m : float
        Of all legs together [m].
    """

    points: tuple[XY, ...]
    closure_m: float
    precision: float
    area_m2: float
    length_m: float


def traverse(legs: Sequence[Leg]) -> Traverse:
    """Return the points a chain of bearings and distances leads through.

    Parameters
    ----------
    legs : sequence of (bearing, length_m)
        Bearing as an azimuth clockwise from north [°, 0 to 360] or as text (see
        `azimuth_deg`); length over 0 to 100 000 [m].

    Raises
    ------
    NoTraverseError
        If there is no leg.
    UnitTextError, OutOfRangeError
        If a bearing cannot be read or a number is out of range.
    """
    steps = _steps(legs)
    return _through(steps, float(np.hypot(*steps.T).sum()))


def balanced(legs: Sequence[Leg]) -> Traverse:
    """Return the traverse with its misclosure spread over the legs by their length.

    The compass rule (Bowditch): each leg takes a share of the gap in proportion to its own
    length. The result closes; `length_m` and the corners differ from what was entered.
    """
    steps = _steps(legs)
    length = np.hypot(*steps.T)
    closed = steps - np.outer(length / length.sum(), steps.sum(axis=0))
    return _through(closed, float(np.hypot(*closed.T).sum()))


def azimuth_deg(bearing: Bearing) -> float:
    """Return a bearing as an azimuth clockwise from north [°], 0 to under 360.

    Parameters
    ----------
    bearing : float or str
        An azimuth [°, 0 to 360], also as text with minutes and seconds; or a quadrant
        bearing such as ``N26°10'E``, ``S 75-25-30 E``, ``N 1.7 W``; or ``N``, ``E``, ``S``,
        ``W``. ``O`` reads as west.

    Raises
    ------
    UnitTextError
        If the text is no bearing.
    OutOfRangeError
        If an angle is out of range.
    """
    if isinstance(bearing, str):
        return _azimuth_of_text(bearing)
    if not 0.0 <= bearing <= 360.0:
        raise OutOfRangeError("azimuth [°]", bearing, 0.0, 360.0)
    return bearing % 360.0


def _azimuth_of_text(text: str) -> float:
    if len(text) > _LONGEST_TEXT:
        raise UnitTextError(text[:_LONGEST_TEXT], _WANTED)
    clean = text.strip().upper()
    if clean in _DUE:
        return _DUE[clean]
    if quadrant := _QUADRANT.fullmatch(clean):
        angle = _angle_deg(quadrant, text, 90.0)
        north, east = quadrant["ns"] == "N", quadrant["ew"] == "E"
        return (
            (angle if east else -angle) if north else (180 - angle if east else 180 + angle)
        ) % 360
    if azimuth := _AZIMUTH.fullmatch(clean):
        return _angle_deg(azimuth, text, 360.0) % 360.0
    raise UnitTextError(text, _WANTED)


def _angle_deg(found: re.Match[str], text: str, high_deg: float) -> float:
    degrees, minutes, seconds = (float(found[part] or 0.0) for part in ("deg", "min", "sec"))
    if minutes >= 60.0 or seconds >= 60.0:
        raise UnitTextError(text, _WANTED)
    angle = degrees + minutes / 60.0 + seconds / 3600.0
    if angle > high_deg:
        raise OutOfRangeError(f"angle of '{text}' [°]", angle, 0.0, high_deg)
    return angle


def _steps(legs: Sequence[Leg]) -> FloatArray:
    """Return departure and latitude of each leg [m], shape (n, 2)."""
    if not legs:
        raise NoTraverseError("a traverse needs at least one leg")
    for _, length_m in legs:
        if not 0.0 < length_m <= _LONGEST_LEG_M:
            raise OutOfRangeError("length of a leg [m]", length_m, 0.0, _LONGEST_LEG_M)
    turns = [math.radians(azimuth_deg(bearing)) for bearing, _ in legs]
    return np.array(
        [
            (length_m * math.sin(turn), length_m * math.cos(turn))
            for turn, (_, length_m) in zip(turns, legs, strict=True)
        ]
    )


def _through(steps: FloatArray, length_m: float) -> Traverse:
    points = np.concatenate([np.zeros((1, 2)), np.cumsum(steps, axis=0)])
    closure = math.hypot(*points[-1].tolist())
    precision = length_m / closure if closure > LENGTH_TOLERANCE_M else math.inf
    area = abs(signed_area_m2(points))
    places = tuple((float(x), float(y)) for x, y in points)
    return Traverse(places, closure, precision, area, length_m)
