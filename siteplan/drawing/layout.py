"""Marks made ready for one scale: dimensions become lines and figures, and texts give way.

Figures are placed one after the other, each at the first of its possible places that is free.
Names come after them and choose, among the free places, the one that crosses the fewest lines
for the least way. A text that finds no free place takes the least crowded one: a crowded figure
is better than a missing one. Lettered signs that would cover each other stand apart, each tied
to its place by a leader.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from siteplan.drawing.crossing import Box, crossed, segments_mm
from siteplan.drawing.ground import upright
from siteplan.drawing.marks import Dimension, Fill, Label, Mark, Marks, Point, Stroke, Symbol
from siteplan.geometry.arrays import FloatArray

# Advances of the bundled sans over its cap height, by the wider of its two weights.
_ADVANCE = 0.88
_NARROW, _BROAD = frozenset(" '.,:;|!ijlIJ()[]"), frozenset("mwMW@%")
_LINE = 1.9
_TICK_MM = 2.2
_SMALLEST_MM = 1.8
_FIGURE_MM = 2.4
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78)
_REACHES_MM = (5.0, 8.0, 12.0, 17.0, 23.0)
_ROUND = tuple(math.radians(turn) for turn in (0, 180, 90, 270, 45, 135, 225, 315))
_LEADER_FROM_MM = 4.5
_NAME_SHIFTS_MM = (0.0, 5.0, -5.0, 10.0, -10.0, 16.0, -16.0)
_ALONG_MM = (0.0, 8.0, -8.0, 16.0, -16.0, 26.0, -26.0, 38.0, -38.0)
# A name goes so far [1/mm] to cross one line less; along its own line it goes more readily.
_COST_PER_MM, _COST_ALONG_PER_MM = 0.25, 0.04
_COST_INSIDE_PER_MM, _COST_OUTSIDE = 0.1, 3.0
_COST_OF_MEETING = 20.0
_SHARES_IN = (0.0, 0.4, -0.4, 0.7, -0.7, 1.0, -1.0)
_OUTSIDE_MM = 2.4
_OUTSIDE = ((0, 1), (0, -1), (1, 0), (-1, 0), (1, 1), (-1, 1), (1, -1), (-1, -1))
_APART_MM = (4.6, 7.5)


def text_width_mm(text: str, height_mm: float) -> float:
    """Return about how wide a text of this cap height runs [mm], rather too wide than too small."""
    return height_mm * sum(_advance(letter) for letter in text)


def _advance(letter: str) -> float:
    if letter in _NARROW:
        return 0.46
    if letter in _BROAD:
        return 1.34
    return 1.0 if letter.isupper() else _ADVANCE


def arrange(marks: Iterable[Mark], mm_per_m: float, beneath: Iterable[Box] = ()) -> Marks:
    """Return the marks with dimensions drawn out and texts moved apart, for one scale.

    Parameters
    ----------
    marks : iterable of Mark
        In drawing order; dimensions later in the list are worse and are placed first.
    mm_per_m : float
        Millimetres on the sheet (or screen) per metre on the lot, over 0.
    beneath : iterable of Box
        What texts that are drawn already cover at this scale [mm]; new ones keep clear of them.

    Returns
    -------
    tuple of Mark
        Strokes, fills, symbols and labels only; labels come last, on top.
    """
    items = _apart(list(marks), mm_per_m)
    taken = [_symbol_box(one, mm_per_m) for one in items if isinstance(one, Symbol)]
    taken += beneath
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
    rest = [one for one in names if one.role != "machine-label"]
    lines = segments_mm(items, mm_per_m) if rest else None
    for one in rest:
        name = _least_crowded(_name(one, mm_per_m), taken, lines, mm_per_m)
        labels.append(name)
        if name.role == "sound-level":
            drawn.extend(_leader(name, mm_per_m))
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


def _figure(mark: Dimension, mm_per_m: float) -> Iterator[Label]:
    (ax, ay), (bx, by) = mark.start, mark.end
    long_mm = math.dist(mark.start, mark.end) * mm_per_m
    turn = upright(math.degrees(math.atan2(by - ay, bx - ax)))
    wide = text_width_mm(mark.text, _FIGURE_MM)
    base = Label((ax, ay), mark.text, mark.role, turn_deg=turn, height_mm=_FIGURE_MM, boxed=True)
    if long_mm > wide + 3.0:
        room = (wide / 2 + 1.0) / long_mm
        for share in _SHARES:
            yield replace(base, at=_between(mark, min(max(share, room), 1.0 - room)))
    normal = math.radians(turn + 90.0)
    middle = replace(base, at=_between(mark, 0.5))
    for off in (_FIGURE_MM * 1.7, -_FIGURE_MM * 1.7):
        yield replace(middle, shift_mm=(math.cos(normal) * off, math.sin(normal) * off))
    yield from _around(replace(middle, turn_deg=0.0))


def _around(label: Label) -> Iterator[Label]:
    """Yield places round about the label's point, its own first, then ever farther out."""
    if label.shift_mm != (0.0, 0.0):
        yield label
    for reach in _REACHES_MM:
        for turn in _ROUND:
            shift = (reach * 1.5 * math.cos(turn), reach * math.sin(turn))
            yield replace(label, shift_mm=shift)


def _between(mark: Dimension, share: float) -> Point:
    (ax, ay), (bx, by) = mark.start, mark.end
    return (ax + (bx - ax) * share, ay + (by - ay) * share)


def _name(label: Label, mm_per_m: float) -> list[tuple[float, Label]]:
    """Return the places of a name, each with what it costs to go there."""
    label = _fitted(label, mm_per_m)
    if label.role == "lot-dimension":
        return _along_its_line(label, mm_per_m)
    if label.role == "sound-level":
        return [(0.0, label), *(_around_at_cost(label))]
    if label.turn_deg:
        return [(0.0, label)]
    if label.room_m is not None and label.depth_m is not None:
        room_mm = (label.room_m * mm_per_m, label.depth_m * mm_per_m)
        return list(_in_or_beside(label, room_mm))
    beside = text_width_mm(label.text, label.height_mm) / 2 + 3.0
    steps = [(0.0, up) for up in _NAME_SHIFTS_MM]
    steps += [(side, up) for side in (beside, -beside) for up in (0.0, 4.0, -4.0)]
    return [_shifted(label, step, _COST_PER_MM) for step in steps]


def _in_or_beside(label: Label, room_mm: tuple[float, float]) -> Iterator[tuple[float, Label]]:
    """Yield places within a building, then just outside it on each side."""
    wide = text_width_mm(label.text, label.height_mm)
    side = max(0.0, room_mm[0] - wide) / 2
    up = max(0.0, room_mm[1] / 2 - label.height_mm)
    for share_up in _SHARES_IN:
        for share_side in (0.0, 1.0, -1.0) if side > label.height_mm else (0.0,):
            yield _shifted(label, (side * share_side, up * share_up), _COST_INSIDE_PER_MM)
    outside = _COST_OUTSIDE if wide <= room_mm[0] else 0.0
    over, by = room_mm[1] / 2 + _OUTSIDE_MM, (room_mm[0] + wide) / 2 + _OUTSIDE_MM
    for across, along in _OUTSIDE:
        _, moved = _shifted(label, (across * by, along * over), 0.0)
        yield outside + 0.5 * abs(across * along), moved


def _around_at_cost(label: Label) -> Iterator[tuple[float, Label]]:
    for one in _around(replace(label, shift_mm=(0.0, 0.0))):
        yield math.hypot(*one.shift_mm) * _COST_PER_MM, one


def _along_its_line(label: Label, mm_per_m: float) -> list[tuple[float, Label]]:
    """Return places along the side that a length belongs to, outside it and then inside."""
    turn, (right, up) = math.radians(label.turn_deg), label.shift_mm
    side_mm = math.inf if label.room_m is None else label.room_m * mm_per_m
    most = max(0.0, (side_mm - text_width_mm(label.text, label.height_mm)) / 2)
    sides = (label, replace(label, shift_mm=(-right, -up)))
    found = []
    for crossing, one in enumerate(sides):
        for along in (one for one in _ALONG_MM if abs(one) <= most):
            step = (along * math.cos(turn), along * math.sin(turn))
            cost, moved = _shifted(one, step, _COST_ALONG_PER_MM)
            found.append((cost + crossing, moved))
    return found


def _shifted(label: Label, step: tuple[float, float], per_mm: float) -> tuple[float, Label]:
    right, up = label.shift_mm
    cost = math.hypot(*step) * per_mm
    return cost, replace(label, shift_mm=(right + step[0], up + step[1]))


def _fitted(label: Label, mm_per_m: float) -> Label:
    if label.room_m is None:
        return label
    share = label.room_m * mm_per_m / text_width_mm(label.text or " ", label.height_mm)
    height = label.height_mm * min(1.0, share)
    return replace(label, height_mm=max(_SMALLEST_MM, height))


def _settle(choices: Iterable[Label], taken: list[Box], mm_per_m: float) -> Label:
    first: tuple[Label, Box] | None = None
    for choice in choices:
        box = label_box(choice, mm_per_m)
        if not any(box.meets(other) for other in taken):
            taken.append(box)
            return choice
        first = first or (choice, box)
    if first is None:
        msg = "a text without any place"
        raise ValueError(msg)
    taken.append(first[1])
    return first[0]


def _least_crowded(
    choices: list[tuple[float, Label]],
    taken: list[Box],
    lines: FloatArray | None,
    mm_per_m: float,
) -> Label:
    boxes = [label_box(label, mm_per_m) for _, label in choices]
    ways = [
        cost + float(over) for (cost, _), over in zip(choices, crossed(boxes, lines), strict=True)
    ]
    best, least = 0, math.inf
    for index, (cost, box) in enumerate(zip(ways, boxes, strict=True)):
        if cost < least:
            whole = cost + _COST_OF_MEETING * sum(box.meets(other) for other in taken)
            if whole < least:
                best, least = index, whole
    taken.append(boxes[best])
    return choices[best][1]


def _apart(items: list[Mark], mm_per_m: float) -> list[Mark]:
    """Return the marks with lettered signs that cover each other moved, tied to their places."""
    free = [one for one in items if isinstance(one, Symbol) and _may_move(one)]
    if not free:
        return items
    stays = (one for one in items if isinstance(one, Symbol) and not _may_move(one))
    taken = [_symbol_box(one, mm_per_m) for one in stays]
    moved: dict[int, Symbol] = {}
    for sign in free:
        found = next(
            (one for one in _near(sign, mm_per_m) if not _covers(one, taken, mm_per_m)), sign
        )
        taken.append(_symbol_box(found, mm_per_m))
        if found is not sign:
            moved[id(sign)] = found
    leaders = [Stroke((one.at, moved[id(one)].at), "leader") for one in free if id(one) in moved]
    return [*(moved.get(id(one), one) for one in items), *leaders]


def _may_move(symbol: Symbol) -> bool:
    # A cord runs to the inlet's own place.
    return symbol.role in {"opening-tag", "fixture"} and symbol.name not in {"power-inlet", "panel"}


def _near(sign: Symbol, mm_per_m: float) -> Iterator[Symbol]:
    yield sign
    for reach in _APART_MM:
        for turn in _ROUND:
            x = sign.at[0] + reach * math.cos(turn) / mm_per_m
            y = sign.at[1] + reach * math.sin(turn) / mm_per_m
            yield replace(sign, at=(x, y))


def _covers(sign: Symbol, taken: list[Box], mm_per_m: float) -> bool:
    box = _symbol_box(sign, mm_per_m)
    return any(box.meets(other) for other in taken)


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
