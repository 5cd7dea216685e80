"""Marks made ready for one scale: dimensions become lines and figures, and texts give way.

Texts are placed one after the other, each at the first of its possible places that is free.
One that finds none keeps its first place: a crowded figure is better than a missing one.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from siteplan.drawing.ground import upright
from siteplan.drawing.marks import Dimension, Fill, Label, Mark, Marks, Point, Stroke, Symbol

# Mean advance of the bundled sans over its cap height, measured on the texts of a drawing.
_ADVANCE = 0.80
_LINE = 1.9
_TICK_MM = 2.2
_SMALLEST_MM = 1.5
_FIGURE_MM = 2.4
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78)
_REACHES_MM = (5.0, 8.0, 12.0, 17.0, 23.0)
_ROUND = tuple(math.radians(turn) for turn in (0, 180, 90, 270, 45, 135, 225, 315))
_LEADER_FROM_MM = 4.5
_NAME_SHIFTS_MM = (0.0, 5.0, -5.0, 10.0, -10.0, 16.0, -16.0)


@dataclass(frozen=True, slots=True)
class Box:
    """A turned rectangle on the sheet: middle, half sizes [mm] and turn [rad]."""

    x: float
    y: float
    half_width: float
    half_height: float
    turn: float = 0.0

    def meets(self, other: "Box") -> bool:
        """Tell whether the two rectangles overlap (separating axes)."""
        # Most are too far apart to meet at any turn, and this is asked under a dragging hand.
        radii = self.half_width + self.half_height + other.half_width + other.half_height
        if abs(other.x - self.x) > radii or abs(other.y - self.y) > radii:
            return False
        for axis in (self.turn, self.turn + math.pi / 2, other.turn, other.turn + math.pi / 2):
            ux, uy = math.cos(axis), math.sin(axis)
            apart = abs((other.x - self.x) * ux + (other.y - self.y) * uy)
            if apart >= self.reach(axis) + other.reach(axis):
                return False
        return True

    def reach(self, axis: float) -> float:
        """Return half the rectangle's extent along a direction [rad]."""
        turn = axis - self.turn
        return abs(math.cos(turn)) * self.half_width + abs(math.sin(turn)) * self.half_height


def text_width_mm(text: str, height_mm: float) -> float:
    """Return about how wide a text of this cap height runs [mm], rather too wide than too small."""
    return len(text) * height_mm * _ADVANCE


def arrange(marks: Iterable[Mark], mm_per_m: float) -> Marks:
    """Return the marks with dimensions drawn out and texts moved apart, for one scale.

    Parameters
    ----------
    marks : iterable of Mark
        In drawing order; dimensions later in the list are worse and are placed first.
    mm_per_m : float
        Millimetres on the sheet (or screen) per metre on the lot, over 0.

    Returns
    -------
    tuple of Mark
        Strokes, fills, symbols and labels only; labels come last, on top.
    """
    items = list(marks)
    taken = [_symbol_box(one, mm_per_m) for one in items if isinstance(one, Symbol)]
    # The machine is what the drawing is about; no text may lie on it.
    frames = (one for one in items if isinstance(one, Fill) and one.role == "machine")
    taken += [_frame_box(one, mm_per_m) for one in frames]
    drawn: list[Mark] = []
    for mark in items:
        if isinstance(mark, Dimension):
            drawn.extend(_measured_line(mark))
        elif isinstance(mark, Stroke | Fill | Symbol):
            drawn.append(mark)
    figures = [one for one in reversed(items) if isinstance(one, Dimension) and one.text]
    names = [one for one in items if isinstance(one, Label)]
    first = [one for one in names if one.role == "machine-label"]
    labels = [_settle(_around(one), taken, mm_per_m) for one in first]
    for figure in figures:
        label = _settle(_figure(figure, mm_per_m), taken, mm_per_m)
        labels.append(label)
        drawn.extend(_leader(label, mm_per_m))
    rest = (one for one in names if one.role != "machine-label")
    labels.extend(_settle(_name(one, mm_per_m), taken, mm_per_m) for one in rest)
    # Lines first, symbols above them, texts on top.
    drawn.sort(key=lambda mark: isinstance(mark, Symbol))
    return (*drawn, *labels)


def _leader(label: Label, mm_per_m: float) -> Iterator[Mark]:
    # A figure that stands away from its line is tied to it.
    right, up = label.shift_mm
    if math.hypot(right, up) > _LEADER_FROM_MM:
        x, y = label.at
        yield Stroke((label.at, (x + right / mm_per_m, y + up / mm_per_m)), "leader")


def _measured_line(mark: Dimension) -> Iterator[Mark]:
    yield Stroke((mark.start, mark.end), mark.role)
    turn = math.degrees(math.atan2(mark.end[0] - mark.start[0], mark.end[1] - mark.start[1]))
    for end in (mark.start, mark.end):
        yield Symbol("tick", end, mark.role, turn_deg=turn, size_mm=_TICK_MM)


def _figure(mark: Dimension, mm_per_m: float) -> list[Label]:
    (ax, ay), (bx, by) = mark.start, mark.end
    long_mm = math.dist(mark.start, mark.end) * mm_per_m
    turn = upright(math.degrees(math.atan2(by - ay, bx - ax)))
    wide = text_width_mm(mark.text, _FIGURE_MM)
    base = Label((ax, ay), mark.text, mark.role, turn_deg=turn, height_mm=_FIGURE_MM, boxed=True)
    choices = []
    if long_mm > wide + 3.0:
        room = (wide / 2 + 1.0) / long_mm
        shares = (min(max(share, room), 1.0 - room) for share in _SHARES)
        choices = [replace(base, at=_between(mark, share)) for share in shares]
    normal = math.radians(turn + 90.0)
    middle = replace(base, at=_between(mark, 0.5))
    for off in (_FIGURE_MM * 1.7, -_FIGURE_MM * 1.7):
        choices.append(replace(middle, shift_mm=(math.cos(normal) * off, math.sin(normal) * off)))
    return [*choices, *_around(replace(middle, turn_deg=0.0))]


def _around(label: Label) -> list[Label]:
    """Return places round about the label's point, its own first, then ever farther out."""
    rings = [
        replace(label, shift_mm=(reach * 1.5 * math.cos(turn), reach * math.sin(turn)))
        for reach in _REACHES_MM
        for turn in _ROUND
    ]
    return rings if label.shift_mm == (0.0, 0.0) else [label, *rings]


def _between(mark: Dimension, share: float) -> Point:
    (ax, ay), (bx, by) = mark.start, mark.end
    return (ax + (bx - ax) * share, ay + (by - ay) * share)


def _name(label: Label, mm_per_m: float) -> list[Label]:
    label = _fitted(label, mm_per_m)
    if label.turn_deg:
        return [label]
    right, up = label.shift_mm
    return [replace(label, shift_mm=(right, up + shift)) for shift in _NAME_SHIFTS_MM]


def _fitted(label: Label, mm_per_m: float) -> Label:
    if label.room_m is None:
        return label
    share = label.room_m * mm_per_m / text_width_mm(label.text or " ", label.height_mm)
    height = label.height_mm * min(1.0, share)
    return replace(label, height_mm=max(_SMALLEST_MM, height))


def _settle(choices: list[Label], taken: list[Box], mm_per_m: float) -> Label:
    for choice in choices:
        box = label_box(choice, mm_per_m)
        if not any(box.meets(other) for other in taken):
            taken.append(box)
            return choice
    taken.append(label_box(choices[0], mm_per_m))
    return choices[0]


def label_box(label: Label, mm_per_m: float) -> Box:
    """Return the rectangle a label covers on the sheet [mm]."""
    turn = math.radians(label.turn_deg)
    half = text_width_mm(label.text, label.height_mm) / 2 + 0.4
    shift = {"start": half, "middle": 0.0, "end": -half}[label.anchor]
    right, up = label.shift_mm
    x = label.at[0] * mm_per_m + right + shift * math.cos(turn)
    y = label.at[1] * mm_per_m + up + shift * math.sin(turn)
    return Box(x, y, half, label.height_mm * _LINE / 2, turn)


def _frame_box(frame: Fill, mm_per_m: float) -> Box:
    ring = frame.rings[0]
    xs, ys = [x * mm_per_m for x, _ in ring], [y * mm_per_m for _, y in ring]
    left, right, low, high = min(xs), max(xs), min(ys), max(ys)
    return Box((left + right) / 2, (low + high) / 2, (right - left) / 2, (high - low) / 2)


def _symbol_box(symbol: Symbol, mm_per_m: float) -> Box:
    half = symbol.size_mm / 2
    return Box(symbol.at[0] * mm_per_m, symbol.at[1] * mm_per_m, half, half)
