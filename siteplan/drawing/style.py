"""How each role looks: line, dash, tint and hatch, for print and for three kinds of screen.

Meaning never rests on colour: every sort of line has its own weight and dash, every sort of
area its own hatch, and every finding its word. Signal colours are screen approximations of
the ANSI Z535 ones (from memory), with a dark line on top where a colour alone is too faint
(WCAG 2.2, 1.4.11: 3 to 1). Line weights follow the steps of ISO 128 (from memory).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

from siteplan.drawing.marks import Role

Theme = Literal["print", "light", "dark", "high-contrast"]
THEMES: tuple[Theme, ...] = ("print", "light", "dark", "high-contrast")

HAIR, FINE, MIDDLE, WIDE, BOLD = 0.18, 0.25, 0.35, 0.50, 0.70
"""Line weights [mm]."""


@dataclass(frozen=True, slots=True)
class Hatch:
    """Parallel lines: directions counter-clockwise from east [°], spacing and weight [mm]."""

    angles_deg: tuple[float, ...]
    spacing_mm: float = 2.0
    width_mm: float = HAIR


@dataclass(frozen=True, slots=True)
class Look:
    """What is drawn for one role in one theme.

    Attributes
    ----------
    line, fill, text, casing : str or None
        Colours as #rrggbb; None leaves that part out. The casing is a broad band under the
        line, `casing_mm` wide.
    width_mm : float
        Weight of the line.
    dash_mm : tuple of float
        Lengths drawn and left out, by turns; empty for an unbroken line.
    hatch : Hatch or None
        Drawn in the line's colour.
    bold : bool
        Whether text of this role is bold.
    """

    line: str | None
    width_mm: float
    dash_mm: tuple[float, ...]
    fill: str | None
    text: str
    hatch: Hatch | None = None
    casing: str | None = None
    casing_mm: float = 0.0
    bold: bool = False


Ink = Literal[
    "paper",
    "ink",
    "soft",
    "faint",
    "floor",
    "foreign",
    "shed",
    "wood",
    "paving",
    "water",
    "plant",
    "machine",
    "machine-fill",
    "cord",
    "exhaust",
    "danger",
    "warning",
    "caution",
    "notice",
    "measure",
    "met",
    "standing",
]

_PALETTES: Mapping[Theme, Mapping[Ink, str]] = {
    "print": {
        "paper": "#ffffff",
        "ink": "#111111",
        "soft": "#4d4d4d",
        "faint": "#8a8a8a",
        "floor": "#f1efe9",
        "foreign": "#e6e6e6",
        "shed": "#f5f4f0",
        "wood": "#f3ead9",
        "paving": "#efefef",
        "water": "#dcebf7",
        "plant": "#e4f0e0",
        "machine": "#111111",
        "machine-fill": "#ffe9a8",
        "cord": "#6a2c91",
        "exhaust": "#a3140a",
        "danger": "#c8102e",
        "warning": "#ff8200",
        "caution": "#ffd100",
        "notice": "#0072ce",
        "measure": "#005a9e",
        "met": "#00654e",
        "standing": "#dff0e6",
    },
    "light": {
        "paper": "#fbfaf7",
        "ink": "#1b1f24",
        "soft": "#4f5660",
        "faint": "#8b919a",
        "floor": "#efe9dd",
        "foreign": "#e2e3e6",
        "shed": "#f3efe6",
        "wood": "#f1e2c8",
        "paving": "#e9e9ea",
        "water": "#d3e6f6",
        "plant": "#dcecd6",
        "machine": "#1b1f24",
        "machine-fill": "#ffdf80",
        "cord": "#6a2c91",
        "exhaust": "#a3140a",
        "danger": "#c8102e",
        "warning": "#ff8200",
        "caution": "#ffd100",
        "notice": "#0072ce",
        "measure": "#005a9e",
        "met": "#00654e",
        "standing": "#cfe9da",
    },
    "dark": {
        "paper": "#16191d",
        "ink": "#eef0f2",
        "soft": "#b4bac2",
        "faint": "#7d848e",
        "floor": "#2a2d31",
        "foreign": "#24272c",
        "shed": "#262a2d",
        "wood": "#382f22",
        "paving": "#2b2e33",
        "water": "#1c3346",
        "plant": "#20321f",
        "machine": "#16191d",
        "machine-fill": "#ffd766",
        "cord": "#d9b3f2",
        "exhaust": "#ff8a7d",
        "danger": "#ff6b79",
        "warning": "#ff9a33",
        "caution": "#ffd633",
        "notice": "#5cb3ff",
        "measure": "#7cc0ff",
        "met": "#5fd6ae",
        "standing": "#1d3a2d",
    },
    "high-contrast": {
        "paper": "#000000",
        "ink": "#ffffff",
        "soft": "#ffffff",
        "faint": "#c0c0c0",
        "floor": "#000000",
        "foreign": "#000000",
        "shed": "#000000",
        "wood": "#000000",
        "paving": "#000000",
        "water": "#000000",
        "plant": "#000000",
        "machine": "#000000",
        "machine-fill": "#ffff00",
        "cord": "#ff9dff",
        "exhaust": "#ffff00",
        "danger": "#ff5a5a",
        "warning": "#ffa500",
        "caution": "#ffff00",
        "notice": "#66ccff",
        "measure": "#66ccff",
        "met": "#66ffb2",
        "standing": "#003d1f",
    },
}


@dataclass(frozen=True, slots=True)
class _Sort:
    line: Ink | None = "ink"
    width_mm: float = FINE
    dash_mm: tuple[float, ...] = ()
    fill: Ink | None = None
    hatch: Hatch | None = None
    text: Ink = "ink"
    casing: Ink | None = None
    casing_mm: float = 0.0
    bold: bool = False


_DIAGONAL = Hatch((45.0,), 1.2)
_BACK_DIAGONAL = Hatch((135.0,), 1.2)
_CROSS = Hatch((45.0, 135.0), 2.4)
_LEVEL = Hatch((0.0,), 1.6, 0.13)
_UPRIGHT = Hatch((90.0,), 1.6, 0.13)
_WIDE_CROSS = Hatch((45.0, 135.0), 4.0)

_SORTS: Mapping[Role, _Sort] = {
    "lot-line": _Sort(width_mm=WIDE, dash_mm=(8.0, 1.5, 1.2, 1.5, 1.2, 1.5)),
    "lot-dimension": _Sort(line="soft", width_mm=HAIR, text="soft"),
    "dwelling-floor": _Sort(line=None, fill="floor"),
    "dwelling-wall": _Sort(width_mm=MIDDLE, fill="soft"),
    "dwelling-wall-combustible": _Sort(width_mm=MIDDLE, fill="paper", hatch=_DIAGONAL),
    "outbuilding-floor": _Sort(line=None, fill="shed"),
    "outbuilding-wall": _Sort(line="soft", width_mm=FINE, fill="faint"),
    "outbuilding-wall-combustible": _Sort(
        line="soft", width_mm=FINE, fill="paper", hatch=_DIAGONAL
    ),
    "neighbour-floor": _Sort(line=None, fill="foreign"),
    "neighbour-wall": _Sort(line="soft", width_mm=FINE, fill="faint"),
    "neighbour-wall-combustible": _Sort(line="soft", width_mm=FINE, fill="paper", hatch=_DIAGONAL),
    "open-roof": _Sort(line="ink", width_mm=FINE, dash_mm=(3.0, 1.5), fill="shed"),
    "eave-line": _Sort(line="faint", width_mm=HAIR, dash_mm=(1.5, 1.0)),
    "opening-door": _Sort(width_mm=MIDDLE, fill="paper"),
    "opening-swing": _Sort(line="soft", width_mm=HAIR),
    "opening-window": _Sort(width_mm=HAIR, fill="paper"),
    "opening-garage": _Sort(width_mm=FINE, dash_mm=(1.6, 0.8), fill="paper"),
    "opening-vent": _Sort(width_mm=FINE, fill="paper", hatch=Hatch((90.0, 0.0), 0.8)),
    "opening-well": _Sort(line="soft", width_mm=FINE, fill="paper"),
    "opening-tag": _Sort(width_mm=HAIR, fill="paper"),
    "opening-ajar": _Sort(line="exhaust", width_mm=WIDE, text="exhaust", bold=True),
    "fence": _Sort(line="soft", width_mm=MIDDLE, dash_mm=(4.0, 1.0, 0.4, 1.0)),
    "garden-wall": _Sort(line="soft", width_mm=BOLD),
    "hedge": _Sort(line="met", width_mm=BOLD, dash_mm=(0.5, 1.0)),
    "deck": _Sort(line="soft", width_mm=FINE, fill="wood", hatch=_LEVEL),
    "driveway": _Sort(line="faint", width_mm=FINE, fill="paving"),
    "walk": _Sort(line="faint", width_mm=HAIR, fill="paving"),
    "pool": _Sort(line="notice", width_mm=FINE, fill="water", hatch=_LEVEL),
    "standing-water": _Sort(
        line="notice", width_mm=FINE, dash_mm=(2.0, 1.0), fill="water", hatch=_LEVEL
    ),
    "brush": _Sort(line="met", width_mm=FINE, dash_mm=(0.6, 0.9), fill="plant", hatch=_UPRIGHT),
    "shelter": _Sort(line="ink", width_mm=FINE, dash_mm=(3.0, 1.5), hatch=_BACK_DIAGONAL),
    "tree": _Sort(line="met", width_mm=HAIR, fill="plant"),
    "fixture": _Sort(width_mm=FINE, fill="paper"),
    "outdoor-unit": _Sort(width_mm=FINE, fill="paper"),
    "service-drop": _Sort(line="soft", width_mm=FINE, dash_mm=(5.0, 1.0, 1.0, 1.0)),
    "label-building": _Sort(line=None),
    "label-thing": _Sort(line=None, text="soft"),
    "machine": _Sort(line="machine", width_mm=WIDE, fill="machine-fill"),
    "machine-front": _Sort(line="machine", width_mm=FINE),
    "machine-other": _Sort(line="soft", width_mm=FINE, dash_mm=(1.5, 1.0), text="soft"),
    "machine-label": _Sort(line=None, bold=True),
    "machine-cover": _Sort(line="exhaust", width_mm=FINE, dash_mm=(2.0, 1.0)),
    "exhaust-arrow": _Sort(line="exhaust", width_mm=WIDE, fill="exhaust", text="exhaust"),
    "cord": _Sort(line="cord", width_mm=MIDDLE, dash_mm=(3.0, 0.8), text="cord"),
    "cord-label": _Sort(line=None, text="cord"),
    "distance-danger": _Sort(width_mm=WIDE, casing="danger", casing_mm=1.6, bold=True),
    "distance-warning": _Sort(
        width_mm=MIDDLE, dash_mm=(4.0, 1.2), casing="warning", casing_mm=1.4, bold=True
    ),
    "distance-caution": _Sort(
        width_mm=MIDDLE, dash_mm=(1.6, 1.0), casing="caution", casing_mm=1.4, bold=True
    ),
    "distance-notice": _Sort(width_mm=FINE, dash_mm=(0.6, 1.0), casing="notice", casing_mm=1.0),
    "distance-met": _Sort(line="met", width_mm=FINE, text="met"),
    "area-danger": _Sort(line="danger", width_mm=WIDE, hatch=_CROSS),
    "area-warning": _Sort(line="ink", width_mm=MIDDLE, dash_mm=(4.0, 1.2), hatch=_DIAGONAL),
    "area-caution": _Sort(line="soft", width_mm=FINE, dash_mm=(1.6, 1.0), hatch=_BACK_DIAGONAL),
    "area-notice": _Sort(line="notice", width_mm=FINE, dash_mm=(0.6, 1.0)),
    "keep-out": _Sort(line="faint", width_mm=HAIR, hatch=_WIDE_CROSS),
    "standing-zone": _Sort(line="met", width_mm=MIDDLE, fill="standing", text="met"),
    "setout-line": _Sort(line="measure", width_mm=FINE, dash_mm=(6.0, 1.0), text="measure"),
    "sound-contour": _Sort(line="measure", width_mm=FINE, dash_mm=(3.0, 0.8), text="measure"),
    "sound-level": _Sort(line="measure", width_mm=FINE, text="measure", bold=True),
    "curve-band": _Sort(line=None, fill="foreign"),
    "curve-usual": _Sort(width_mm=WIDE),
    "curve-worst": _Sort(width_mm=WIDE, dash_mm=(2.4, 1.0)),
    "curve-limit": _Sort(line="danger", width_mm=FINE, dash_mm=(0.8, 0.8), text="danger"),
    "time-run": _Sort(width_mm=HAIR, fill="machine-fill"),
    "time-rest": _Sort(width_mm=HAIR, fill="paper", hatch=Hatch((45.0,), 0.8)),
    "time-quiet": _Sort(width_mm=HAIR, fill="foreign", hatch=Hatch((0.0,), 1.2)),
    "leader": _Sort(line="soft", width_mm=HAIR),
    "wind-petal": _Sort(line="measure", width_mm=FINE, fill="water", text="measure"),
    "wind-ring": _Sort(line="measure", width_mm=HAIR, dash_mm=(1.0, 1.0), text="measure"),
    "curve-method": _Sort(line="soft", width_mm=HAIR, text="soft"),
    "curve-heavy": _Sort(line="ink", width_mm=FINE, dash_mm=(0.5, 0.7)),
    "curve-child": _Sort(line="ink", width_mm=FINE, dash_mm=(3.0, 0.7, 0.5, 0.7)),
    "sheet-line": _Sort(width_mm=FINE),
    "sheet-fine": _Sort(line="soft", width_mm=HAIR, text="soft"),
    "sheet-text": _Sort(line=None),
    "sheet-title": _Sort(line=None, bold=True),
    "sheet-dark": _Sort(width_mm=HAIR, fill="ink"),
    "sheet-light": _Sort(width_mm=HAIR, fill="paper"),
}


def colour(ink: Ink, theme: Theme) -> str:
    """Return a named colour of a theme as #rrggbb."""
    return _PALETTES[theme][ink]


@cache
def look(role: Role, theme: Theme = "print") -> Look:
    """Return how a role is drawn in a theme."""
    sort, palette = _SORTS[role], _PALETTES[theme]
    return Look(
        line=None if sort.line is None else palette[sort.line],
        width_mm=sort.width_mm,
        dash_mm=sort.dash_mm,
        fill=None if sort.fill is None else palette[sort.fill],
        text=palette[sort.text],
        hatch=sort.hatch,
        casing=None if sort.casing is None else palette[sort.casing],
        casing_mm=sort.casing_mm,
        bold=sort.bold,
    )
