"""Marks: what a drawing consists of, in metres on the lot and millimetres on the sheet.

A mark says where and what (its role); how it looks is said once, in `style`. The canvas and
the sheet draw the same marks.
"""

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
"""East and north of the drawing's origin [m]; y runs up."""

Role = Literal[
    "lot-line",
    "lot-dimension",
    "dwelling-floor",
    "dwelling-wall",
    "dwelling-wall-combustible",
    "outbuilding-floor",
    "outbuilding-wall",
    "outbuilding-wall-combustible",
    "neighbour-floor",
    "neighbour-wall",
    "neighbour-wall-combustible",
    "open-roof",
    "eave-line",
    "opening-door",
    "opening-swing",
    "opening-window",
    "opening-garage",
    "opening-vent",
    "opening-well",
    "opening-tag",
    "opening-ajar",
    "fence",
    "garden-wall",
    "hedge",
    "deck",
    "driveway",
    "walk",
    "pool",
    "standing-water",
    "brush",
    "shelter",
    "tree",
    "fixture",
    "outdoor-unit",
    "service-drop",
    "label-building",
    "label-thing",
    "machine",
    "machine-front",
    "machine-other",
    "machine-label",
    "machine-cover",
    "exhaust-arrow",
    "cord",
    "cord-label",
    "distance-danger",
    "distance-warning",
    "distance-caution",
    "distance-notice",
    "distance-met",
    "area-danger",
    "area-warning",
    "area-caution",
    "area-notice",
    "keep-out",
    "standing-zone",
    "setout-line",
    "leader",
    "wind-petal",
    "wind-ring",
    "curve-method",
    "curve-heavy",
    "curve-child",
    "sound-contour",
    "sound-level",
    "curve-band",
    "curve-usual",
    "curve-worst",
    "curve-limit",
    "time-run",
    "time-rest",
    "time-quiet",
    "sheet-line",
    "sheet-fine",
    "sheet-text",
    "sheet-title",
    "sheet-dark",
    "sheet-light",
]

Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points [m]; `closed` joins the last to the first."""

    points: tuple[Point, ...]
    role: Role
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Fill:
    """An area: the outer ring first, then its holes [m]. Its role says tint, edge and hatch."""

    rings: tuple[tuple[Point, ...], ...]
    role: Role


@dataclass(frozen=True, slots=True)
class Label:
    """Text at a point [m], turned counter-clockwise [°], with its cap height [mm].

    Attributes
    ----------
    anchor : str
        Which end of the text stands at the point; it is centred on the line in height.
    boxed : bool
        Whether the sheet's own colour is laid under the text.
    shift_mm : tuple of float
        How far right and up of the point the text stands on the sheet.
    room_m : float or None
        Width on the ground that the text should keep to; it is set smaller to do so.
    depth_m : float or None
        Height on the ground of what the text names; it is moved within it, or just outside.
    """

    at: Point
    text: str
    role: Role
    anchor: Anchor = "middle"
    turn_deg: float = 0.0
    height_mm: float = 2.5
    boxed: bool = False
    shift_mm: tuple[float, float] = (0.0, 0.0)
    room_m: float | None = None
    depth_m: float | None = None


@dataclass(frozen=True, slots=True)
class Symbol:
    """A sign of fixed size on the sheet: its name in `symbols`, place [m] and size [mm].

    `turn_deg` runs clockwise from the top of the drawing; `text` stands upright in it.
    """

    name: str
    at: Point
    role: Role
    turn_deg: float = 0.0
    size_mm: float = 4.0
    text: str = ""


@dataclass(frozen=True, slots=True)
class Dimension:
    """A measured line between two points [m], with ticks at its ends and its figure as text."""

    start: Point
    end: Point
    text: str
    role: Role


Mark = Stroke | Fill | Label | Symbol | Dimension
Marks = tuple[Mark, ...]
