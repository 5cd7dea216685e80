"""Signs of fixed size, as paths in a square of side 1 around the origin, y upwards.

The signal words' signs follow the shapes of ANSI Z535.4 as far as it is quoted publicly: an
alert triangle for DANGER, WARNING and CAUTION, none for NOTICE. DANGER stands in an octagon
as well, so that the four differ by outline alone.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from siteplan.drawing.marks import Point


@dataclass(frozen=True, slots=True)
class Part:
    """A path of a sign, filled with the colour of line, fill or paper, or only drawn."""

    points: tuple[Point, ...]
    paint: Literal["line", "fill", "paper", "none"] = "fill"
    closed: bool = True


def _ring(sides: int, radius: float = 0.5, first_deg: float = 90.0) -> tuple[Point, ...]:
    steps = (math.radians(first_deg + 360.0 * index / sides) for index in range(sides))
    return tuple((radius * math.cos(angle), radius * math.sin(angle)) for angle in steps)


def _box(left: float, low: float, right: float, high: float) -> tuple[Point, ...]:
    return ((left, low), (right, low), (right, high), (left, high))


_CIRCLE = _ring(32)
_SQUARE = _box(-0.42, -0.42, 0.42, 0.42)
_DIAMOND = _ring(4)
_TRIANGLE = ((-0.5, -0.4), (0.5, -0.4), (0.0, 0.48))
_BANG_STEM = _box(-0.05, -0.08, 0.05, 0.24)
_BANG_DOT = _box(-0.05, -0.26, 0.05, -0.16)
_TAG = _box(-0.5, -0.36, 0.5, 0.36)

SYMBOLS: Mapping[str, tuple[Part, ...]] = {
    "north": (
        Part(((0.0, 0.5), (-0.2, -0.5), (0.0, -0.34)), "line"),
        Part(((0.0, 0.5), (0.2, -0.5), (0.0, -0.34)), "paper"),
    ),
    "arrow-head": (Part(((0.0, 0.5), (-0.32, -0.5), (0.0, -0.28), (0.32, -0.5)), "line"),),
    "tick": (Part(((-0.35, -0.35), (0.35, 0.35)), "none", closed=False),),
    "danger": (
        Part(_ring(8, 0.54, 67.5), "fill"),
        Part(((-0.32, -0.24), (0.32, -0.24), (0.0, 0.34)), "paper"),
        Part(_box(-0.03, -0.04, 0.03, 0.16), "line"),
        Part(_box(-0.03, -0.17, 0.03, -0.1), "line"),
    ),
    "warning": (
        Part(_TRIANGLE, "fill"),
        Part(_BANG_STEM, "line"),
        Part(_BANG_DOT, "line"),
    ),
    "caution": (
        Part(_TRIANGLE, "fill"),
        Part(((-0.33, -0.3), (0.33, -0.3), (0.0, 0.28)), "paper"),
        Part(_box(-0.035, -0.1, 0.035, 0.12), "line"),
        Part(_box(-0.035, -0.24, 0.035, -0.16), "line"),
    ),
    "notice": (
        Part(_CIRCLE, "fill"),
        Part(_box(-0.05, -0.3, 0.05, 0.08), "line"),
        Part(_box(-0.05, 0.18, 0.05, 0.28), "line"),
    ),
    "met": (Part(((-0.4, 0.02), (-0.12, -0.3), (0.42, 0.36)), "none", closed=False),),
    "unjudged": (Part(_DIAMOND, "fill"),),
    "tag": (Part(_TAG),),
    "panel": (Part(_box(-0.3, -0.5, 0.3, 0.5), "line"),),
    "electric-meter": (Part(_CIRCLE),),
    "gas-regulator": (Part(_DIAMOND),),
    "gas-meter": (Part(_DIAMOND),),
    "outdoor-unit": (Part(_TAG),),
    "fuel-store": (Part(_ring(5)),),
    "gas-cylinder": (Part(_ring(6)),),
    "power-inlet": (
        Part(_CIRCLE),
        Part(((0.0, 0.5), (0.0, 0.85)), "none", closed=False),
    ),
    "through-wall-outlet": (
        Part(_CIRCLE),
        Part(((-0.62, 0.16), (0.62, 0.16)), "none", closed=False),
        Part(((-0.62, -0.16), (0.62, -0.16)), "none", closed=False),
    ),
    "house-receptacle": (
        Part(_CIRCLE),
        Part(((-0.62, 0.16), (0.62, 0.16)), "none", closed=False),
        Part(((-0.62, -0.16), (0.62, -0.16)), "none", closed=False),
    ),
    "corner": (Part(_ring(16, 0.25), "line"),),
}
