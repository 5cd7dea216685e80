"""What a sheet has around its drawing: scale bar, check line, north, legend and title.

Here one unit is one millimetre, and y runs up from the sheet's top edge: minus the depth.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from siteplan.drawing.layout import text_width_mm
from siteplan.drawing.legend import Entry, entries, shortened
from siteplan.drawing.marks import Anchor, Fill, Label, Mark, Point, Role, Stroke, Symbol
from siteplan.drawing.style import Theme
from siteplan.paper import identity
from siteplan.paper.scales import Scale
from siteplan.plan.document import Plan
from siteplan.units import M_PER_IN, System, format_length
from siteplan.words import Manner, Text, plain

LETTER_LANDSCAPE_MM = (279.4, 215.9)
A4_LANDSCAPE_MM = (297.0, 210.0)
_LEGEND_MM = 47.0
_NORTH_MM = 20.0
_FOOT_MM = 17.0
_TITLE_MM = 12.0
_CHECK_MM = {"feet": 4 * M_PER_IN * 1000, "metres": 100.0}
# Row of a legend and cap height of its letters [mm].
_SMALL, _LARGE = (5.2, 1.9), (7.0, 2.2)
_LARGE_ROW_MM = 6.0

Around = Literal["lot", "machine"]


@dataclass(frozen=True, slots=True)
class Wish:
    """What a sheet should be like.

    Attributes
    ----------
    size_mm : tuple of float
        Width and height.
    turnable : bool
        Whether the sheet may be turned if the drawing is then larger.
    around : str
        What the sheet is about: the whole lot, or the machine and its distances.
    scale : Scale or None
        None is best fit.
    theme : str
        Which colours.
    titled, legend, framed : bool
        Which parts it has.
    short_legend : bool
        Whether only what concerns the machine is explained, in larger type.
    governing, findings : bool
        Whether distances that are met, and what the review found, are drawn.
    """

    size_mm: tuple[float, float] = LETTER_LANDSCAPE_MM
    turnable: bool = False
    around: Around = "lot"
    scale: Scale | None = None
    theme: Theme = "print"
    titled: bool = True
    legend: bool = True
    framed: bool = True
    short_legend: bool = False
    governing: bool = True
    findings: bool = True


@dataclass(frozen=True, slots=True)
class Frame:
    """The drawing's place on its sheet [mm]."""

    left: float
    top: float
    width: float
    height: float

    @property
    def whole(self) -> tuple[float, float, float, float]:
        """Left, top, width and height."""
        return (self.left, self.top, self.width, self.height)

    @property
    def middle(self) -> Point:
        """Its middle."""
        return (self.left + self.width / 2, self.top + self.height / 2)


def frame_of(wish: Wish) -> Frame:
    """Return where the drawing lies on a sheet like this."""
    width, height = wish.size_mm
    edge = 8.0 if wish.framed else 0.3
    top = edge + (_TITLE_MM if wish.titled else 0.0)
    right = edge + (_LEGEND_MM if wish.legend else 0.0)
    return Frame(edge, top, width - edge - right, height - top - edge - _FOOT_MM)


def furniture(
    plan: Plan, scale: Scale, frame: Frame, shown: list[Mark], *, manner: Manner, wish: Wish
) -> Iterator[Mark]:
    """Yield everything around the drawing; `shown` are the marks its legend explains."""
    yield _box(frame.left, frame.top, frame.width, frame.height, "sheet-line")
    low = frame.top + frame.height
    right = frame.left + frame.width
    scale_text = Text("Scale {scale}, when printed at 100 %", {"scale": scale.name}).say(manner)
    yield _text(scale_text, (right, low + 5.0), "sheet-title", 2.6, "end")
    room = frame.width - text_width_mm(scale_text, 2.6) - 8.0
    yield from _scale_bar(scale, (frame.left, low + 4.0), room, manner)
    yield from _check_line((frame.left, low + 12.5), manner)
    if wish.legend:
        # North stands above the legend, where it covers nothing of the drawing.
        yield from _north(plan, (right + 10.0, frame.top + 6.5))
        room = frame.height - _NORTH_MM
        rows = entries(shown)
        if wish.short_legend:
            rows = shortened(rows, int(room // _LARGE_ROW_MM))
        size = _LARGE if wish.short_legend else _SMALL
        yield from _legend(rows, (right + 3.0, frame.top + _NORTH_MM), room, manner, size)
    else:
        yield from _north(plan, (right - 8.0, frame.top + 10.0))
    if wish.titled:
        yield from _title(plan, frame, wish, manner)


def _box(left: float, top: float, width: float, height: float, role: Role) -> Stroke:
    return Stroke(
        ((left, -top), (left + width, -top), (left + width, -top - height), (left, -top - height)),
        role,
        closed=True,
    )


def _text(text: str, at: Point, role: Role, height_mm: float, anchor: Anchor = "start") -> Label:
    return Label((at[0], -at[1]), text, role, anchor=anchor, height_mm=height_mm)


def _scale_bar(scale: Scale, at: Point, room_mm: float, manner: Manner) -> Iterator[Mark]:
    left, top = at
    field = scale.step_m * scale.mm_per_m
    count = max(1, min(4, int(room_mm // field)))
    for index in range(count):
        x = left + index * field
        role: Role = "sheet-dark" if index % 2 == 0 else "sheet-light"
        yield Fill(
            (((x, -top), (x + field, -top), (x + field, -top - 1.6), (x, -top - 1.6)),), role
        )
    for index in range(count + 1):
        anchor: Anchor = "middle" if index else "start"
        text = _ground_length(index * scale.step_m, manner.system)
        yield _text(text, (left + index * field, top + 3.9), "sheet-text", 1.9, anchor)


def _ground_length(value_m: float, system: System) -> str:
    if system == "metres":
        return f"{value_m:g} m"
    return format_length(value_m, "feet", "near") if value_m else "0"


def _check_line(at: Point, manner: Manner) -> Iterator[Mark]:
    left, top = at
    long = _CHECK_MM[manner.system]
    yield Stroke(((left, -top), (left + long, -top)), "sheet-line")
    for x in (left, left + long):
        yield Stroke(((x, -top - 1.2), (x, -top + 1.2)), "sheet-line")
    inches = manner.system == "feet"
    text = Text(
        "Check: this line must measure exactly 4 in"
        if inches
        else "Check: this line must measure exactly 100 mm"
    )
    yield _text(text.say(manner), (left + long + 2.5, top), "sheet-text", 1.9)


def _north(plan: Plan, at: Point) -> Iterator[Mark]:
    spot = (at[0], -at[1])
    yield Symbol("north", spot, "sheet-line", turn_deg=plan.north_deg, size_mm=13.0)
    yield _text("N", (at[0], at[1] + 9.5), "sheet-title", 2.8, "middle")


def _legend(
    rows: list[Entry], at: Point, room_mm: float, manner: Manner, size: tuple[float, float]
) -> Iterator[Mark]:
    left, top = at
    most_mm, letters_mm = size
    step = min(most_mm, room_mm / max(1, len(rows)))
    height = min(letters_mm, step * 0.45)
    room = _LEGEND_MM - 13.0
    for index, row in enumerate(rows):
        y = top + (index + 0.5) * step
        yield from _swatch(row, (left, y), step)
        lines = _in_lines(row.text.say(manner), room, height)
        tall = height if len(lines) == 1 else min(height, _SMALL[1])
        for number, text in enumerate(lines):
            shift = (number - (len(lines) - 1) / 2) * tall * 1.45
            yield _text(text, (left + 9.5, y + shift), "sheet-text", _fitting(text, room, tall))


def _in_lines(text: str, room_mm: float, height_mm: float) -> list[str]:
    """Return a text in one line, or in two if it would have to be set small for one."""
    words, least = text.split(), _SMALL[1]
    if height_mm <= least or text_width_mm(text, least) <= room_mm or len(words) < 2:
        return [text]
    starts = (" ".join(words[:at]) for at in range(len(words) - 1, 0, -1))
    first = next((one for one in starts if text_width_mm(one, least) <= room_mm), words[0])
    return [first, text[len(first) :].strip()]


def _fitting(text: str, room_mm: float, height_mm: float) -> float:
    wide = text_width_mm(text, height_mm)
    return height_mm if wide <= room_mm else height_mm * room_mm / wide


def _swatch(row: Entry, at: Point, step_mm: float) -> Iterator[Mark]:
    x, y = at[0], -at[1]
    half = min(1.4, step_mm * 0.36)
    if row.swatch == "line":
        yield Stroke(((x, y), (x + 7.5, y)), row.role)
    elif row.swatch == "area":
        corners = ((x, y - half), (x + 7.5, y - half), (x + 7.5, y + half), (x, y + half))
        yield Fill((corners,), row.role)
    else:
        size = min(3.4, step_mm * 0.9)
        yield Symbol(row.symbol, (x + 3.75, y), row.role, size_mm=size, text=row.letters)


def _title(plan: Plan, frame: Frame, wish: Wish, manner: Manner) -> Iterator[Mark]:
    right = wish.size_mm[0] - 8.0
    title = plain(plan.title) or Text("Site plan").say(manner)
    room = (right - frame.left) * 0.6
    yield _text(title, (frame.left, 11.0), "sheet-title", _fitting(title, room, 3.6))
    by = Text("Prepared by {name}", {"name": plan.prepared_by}).say(manner)
    parts = [by] if plan.prepared_by.strip() else []
    parts += [plan.date] if plan.date else []
    first = " · ".join(parts)
    print_of = Text("Plan {print}", {"print": identity.fingerprint(plan)}).say(manner)
    yield _text(first, (right, 10.0), "sheet-text", _fitting(first or " ", room * 0.6, 2.0), "end")
    second = f"{identity.accuracy(plan).say(manner)} · {print_of}"
    yield _text(second, (right, 15.0), "sheet-fine", _fitting(second, room * 1.2, 2.0), "end")
