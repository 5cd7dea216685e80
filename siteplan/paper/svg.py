"""Marks as SVG, true to scale: one unit of the view box is one millimetre on the sheet."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

import numpy as np

from siteplan.drawing.layout import label_box
from siteplan.drawing.marks import Fill, Label, Mark, Marks, Point, Stroke, Symbol
from siteplan.drawing.style import Hatch, Look, Theme, colour, look
from siteplan.drawing.symbols import SYMBOLS, Part
from siteplan.geometry.arrays import FloatArray
from siteplan.words import plain

FAMILY = "Open Sans, DejaVu Sans, sans-serif"
# Cap height of the bundled sans over its size (OS/2 table of the font).
CAP_HEIGHT = 0.714
_LONGEST_DESCRIPTION = 2000
_NAMESPACE = "http://www.w3.org/2000/svg"


@dataclass(frozen=True, slots=True)
class View:
    """How metres become millimetres on the sheet.

    Attributes
    ----------
    mm_per_m : float
        1000 over the scale's figure, such as 10 for 1:100.
    origin_m : tuple of float
        The point of the drawing that lies at `at_mm`.
    at_mm : tuple of float
        From the sheet's top left corner, y downwards.
    """

    mm_per_m: float
    origin_m: Point = (0.0, 0.0)
    at_mm: Point = (0.0, 0.0)

    def place(self, point: Point) -> Point:
        """Return where a point of the drawing lies on the sheet [mm]."""
        x = self.at_mm[0] + (point[0] - self.origin_m[0]) * self.mm_per_m
        y = self.at_mm[1] - (point[1] - self.origin_m[1]) * self.mm_per_m
        return (x, y)


@dataclass(frozen=True, slots=True)
class Layer:
    """Arranged marks seen through one view, cut off at a frame if one is given.

    `clip_mm` is (left, top, width, height) on the sheet.
    """

    name: str
    marks: Marks
    view: View
    clip_mm: tuple[float, float, float, float] | None = None


def write(
    layers: Sequence[Layer],
    size_mm: tuple[float, float],
    *,
    title: str = "",
    description: str = "",
    theme: Theme = "print",
) -> str:
    """Return the text of an SVG file.

    Parameters
    ----------
    layers : sequence of Layer
        Lowest first.
    size_mm : tuple of float
        Width and height of the sheet.
    title, description : str
        For readers who cannot see the drawing.
    theme : str
        Which colours; paper uses "print".

    Returns
    -------
    str
        Well-formed XML; all texts are stripped of control and direction signs and escaped.
    """
    width, height = size_mm
    root = ET.Element(
        "svg",
        {
            "xmlns": _NAMESPACE,
            "width": f"{_n(width)}mm",
            "height": f"{_n(height)}mm",
            "viewBox": f"0 0 {_n(width)} {_n(height)}",
            "font-family": FAMILY,
            "role": "img",
        },
    )
    ET.SubElement(root, "title").text = plain(title)
    ET.SubElement(root, "desc").text = plain(description, _LONGEST_DESCRIPTION)
    _rectangle(root, (0.0, 0.0, width, height), colour("paper", theme))
    for index, layer in enumerate(layers):
        group = ET.SubElement(root, "g", {"id": layer.name})
        if layer.clip_mm is not None:
            _clip(root, group, f"clip-{index}", layer.clip_mm)
        for mark in layer.marks:
            if not (isinstance(mark, Fill) and _is_outside(mark, layer)):
                _mark(group, mark, layer.view, theme)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(root, encoding="unicode") + "\n"


def _is_outside(mark: Fill, layer: Layer) -> bool:
    if layer.clip_mm is None:
        return False
    left, top, width, height = layer.clip_mm
    xs, ys = zip(*(layer.view.place(one) for one in mark.rings[0]), strict=True)
    return bool(max(xs) < left or min(xs) > left + width or max(ys) < top or min(ys) > top + height)


def _n(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def _clip(
    root: ET.Element, group: ET.Element, name: str, frame: tuple[float, float, float, float]
) -> None:
    path = ET.SubElement(root, "clipPath", {"id": name})
    _rectangle(path, frame, None)
    group.set("clip-path", f"url(#{name})")


def _rectangle(
    parent: ET.Element, frame: tuple[float, float, float, float], fill: str | None
) -> None:
    keys = ("x", "y", "width", "height")
    attributes = {key: _n(value) for key, value in zip(keys, frame, strict=True)}
    if fill is not None:
        attributes["fill"] = fill
    ET.SubElement(parent, "rect", attributes)


def _mark(parent: ET.Element, mark: Mark, view: View, theme: Theme) -> None:
    style = look(mark.role, theme)
    match mark:
        case Stroke():
            _stroke(parent, mark, view, style)
        case Fill():
            _fill(parent, mark, view, style)
        case Label():
            _label(parent, mark, view, style, colour("paper", theme))
        case Symbol():
            _symbol(parent, mark, view, style, colour("paper", theme))
        case _:
            msg = "a dimension is drawn out by `arrange` before it is written"
            raise TypeError(msg)


def _path(points: Iterable[Point], *, closed: bool) -> str:
    text = "M" + " L".join(f"{_n(x)} {_n(y)}" for x, y in points)
    return text + " Z" if closed else text


def _line(
    parent: ET.Element, path: str, ink: str, width: float, dash: Sequence[float] = ()
) -> None:
    attributes = {
        "d": path,
        "fill": "none",
        "stroke": ink,
        "stroke-width": _n(width),
        "stroke-linejoin": "round",
    }
    if dash:
        attributes["stroke-dasharray"] = " ".join(_n(one) for one in dash)
    ET.SubElement(parent, "path", attributes)


def _stroke(parent: ET.Element, mark: Stroke, view: View, style: Look) -> None:
    path = _path([view.place(one) for one in mark.points], closed=mark.closed)
    if style.casing is not None:
        _line(parent, path, style.casing, style.casing_mm)
    if style.line is not None:
        _line(parent, path, style.line, style.width_mm, style.dash_mm)


def _fill(parent: ET.Element, mark: Fill, view: View, style: Look) -> None:
    rings = [[view.place(one) for one in ring] for ring in mark.rings]
    path = " ".join(_path(ring, closed=True) for ring in rings)
    if style.fill is not None:
        ET.SubElement(parent, "path", {"d": path, "fill": style.fill, "fill-rule": "evenodd"})
    if style.hatch is not None and style.line is not None:
        lines = " ".join(_path(one, closed=False) for one in hatch_lines(rings, style.hatch))
        if lines:
            _line(parent, lines, style.line, style.hatch.width_mm)
    if style.line is not None:
        _line(parent, path, style.line, style.width_mm, style.dash_mm)


def hatch_lines(rings: Sequence[Sequence[Point]], hatch: Hatch) -> Iterator[tuple[Point, Point]]:
    """Yield the lines of a hatch cut to an area [mm], all on one grid over the whole sheet.

    By scan lines: each line of the grid is cut where it crosses an edge of any ring, and drawn
    between every odd crossing and the next, so holes stay empty.
    """
    starts = np.concatenate([np.asarray(ring, dtype=float) for ring in rings])
    ends = np.concatenate([np.roll(np.asarray(ring, dtype=float), -1, axis=0) for ring in rings])
    for angle in hatch.angles_deg:
        # The sheet's y runs down, so a line at +45° runs up to the right with this sign.
        turn = -math.radians(angle)
        along = np.array([math.cos(turn), math.sin(turn)])
        across = np.array([-along[1], along[0]])
        for offset, low, high in _scanned(starts, ends, along, across, hatch.spacing_mm):
            base = across * offset
            a, b = base + along * low, base + along * high
            yield (float(a[0]), float(a[1])), (float(b[0]), float(b[1]))


def _scanned(
    starts: FloatArray, ends: FloatArray, along: FloatArray, across: FloatArray, spacing: float
) -> Iterator[tuple[float, float, float]]:
    """Yield (offset across, begin along, end along) of every piece of the grid inside."""
    v0, v1 = starts @ across, ends @ across
    u0, u1 = starts @ along, ends @ along
    first, last = math.ceil(v0.min() / spacing), math.floor(v0.max() / spacing)
    for offset in np.arange(first, last + 1) * spacing:
        cut = (v0 <= offset) != (v1 <= offset)
        share = (offset - v0[cut]) / (v1[cut] - v0[cut])
        crossings = np.sort(u0[cut] + share * (u1[cut] - u0[cut])).tolist()
        for low, high in zip(crossings[::2], crossings[1::2], strict=True):
            yield float(offset), low, high


def _label(parent: ET.Element, mark: Label, view: View, style: Look, paper: str) -> None:
    text = plain(mark.text)
    if not text:
        return
    x, y = view.place(mark.at)
    x, y = x + mark.shift_mm[0], y - mark.shift_mm[1]
    turn = f"rotate({_n(-mark.turn_deg)} {_n(x)} {_n(y)})"
    if mark.boxed:
        box = label_box(mark, view.mm_per_m)
        shift = {"start": box.half_width, "middle": 0.0, "end": -box.half_width}[mark.anchor]
        left, top = x + shift - box.half_width, y - mark.height_mm * 0.8
        frame = (left, top, box.half_width * 2, mark.height_mm * 1.6)
        _rectangle(parent, frame, paper)
        if mark.turn_deg:
            parent[-1].set("transform", turn)
    attributes = {
        "x": _n(x),
        "y": _n(y + mark.height_mm / 2),
        "font-size": _n(mark.height_mm / CAP_HEIGHT),
        "text-anchor": mark.anchor,
        "fill": style.text,
    }
    if style.bold:
        attributes["font-weight"] = "700"
    if mark.turn_deg:
        attributes["transform"] = turn
    ET.SubElement(parent, "text", attributes).text = text


def _symbol(parent: ET.Element, mark: Symbol, view: View, style: Look, paper: str) -> None:
    x, y = view.place(mark.at)
    turn = f" rotate({_n(mark.turn_deg)})" if mark.turn_deg else ""
    group = ET.SubElement(parent, "g", {"transform": f"translate({_n(x)} {_n(y)}){turn}"})
    for part in SYMBOLS[mark.name]:
        _part(group, part, mark.size_mm, style, paper)
    if mark.text:
        height = mark.size_mm * 0.42
        attributes = {
            "x": "0",
            "y": _n(height / 2),
            "font-size": _n(height / CAP_HEIGHT),
            "text-anchor": "middle",
            "font-weight": "700",
            "fill": style.line or style.text,
        }
        if mark.turn_deg:
            attributes["transform"] = f"rotate({_n(-mark.turn_deg)})"
        ET.SubElement(group, "text", attributes).text = plain(mark.text)


def _part(parent: ET.Element, part: Part, size_mm: float, style: Look, paper: str) -> None:
    ink = style.line or style.text
    path = _path([(x * size_mm, -y * size_mm) for x, y in part.points], closed=part.closed)
    fills = {"line": ink, "fill": style.casing or style.fill or paper, "paper": paper}
    fill = fills.get(part.paint, "none")
    ET.SubElement(
        parent,
        "path",
        {
            "d": path,
            "fill": fill,
            "stroke": ink,
            "stroke-width": _n(max(0.18, style.width_mm * 0.7)),
        },
    )
