"""A plan on a sheet: true scale, frame, scale bar, check line, north and legend."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from siteplan.drawing import governing_marks, ground_marks, machine_marks, review_marks
from siteplan.drawing.layout import arrange, text_width_mm
from siteplan.drawing.legend import Entry, entries
from siteplan.drawing.marks import Anchor, Dimension, Fill, Label, Mark, Point, Role, Stroke, Symbol
from siteplan.drawing.style import Theme
from siteplan.paper import identity, scales
from siteplan.paper.scales import Scale
from siteplan.paper.svg import Layer, View, write
from siteplan.plan.document import Plan
from siteplan.rules.findings import Review
from siteplan.scene import resolve
from siteplan.units import M_PER_IN, System, format_length
from siteplan.words import Manner, Text, plain

LETTER_LANDSCAPE_MM = (279.4, 215.9)
A4_LANDSCAPE_MM = (297.0, 210.0)
_MARGIN_M = 1.2
_NEIGHBOUR_STRIP_M = 2.0
_AROUND_M = 2.0
_LEAST_AROUND_M = 10.0
_LEGEND_MM = 47.0
_FOOT_MM = 17.0
_TITLE_MM = 12.0
_CHECK_MM = {"feet": 4 * M_PER_IN * 1000, "metres": 100.0}
_ROW_MM = 5.2


Around = Literal["lot", "machine"]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A drawn sheet.

    Attributes
    ----------
    svg : str
        The drawing.
    size_mm : tuple of float
        Its width and height.
    scale : Scale
        The scale it is drawn to.
    spoken : str
        What a reader who cannot see it should know.
    """

    svg: str
    size_mm: tuple[float, float]
    scale: Scale
    spoken: str


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
    governing : bool
        Whether distances that are met are drawn.
    """

    size_mm: tuple[float, float] = LETTER_LANDSCAPE_MM
    turnable: bool = False
    around: Around = "lot"
    scale: Scale | None = None
    theme: Theme = "print"
    titled: bool = True
    legend: bool = True
    framed: bool = True
    governing: bool = True


@dataclass(frozen=True, slots=True)
class _Frame:
    left: float
    top: float
    width: float
    height: float

    @property
    def whole(self) -> tuple[float, float, float, float]:
        return (self.left, self.top, self.width, self.height)


def plan_sheet(
    plan: Plan,
    review: Review,
    manner: Manner | None = None,
    wish: Wish | None = None,
    extra: Iterable[Mark] = (),
) -> Sheet:
    """Return the plan with its machine and findings on one sheet.

    Parameters
    ----------
    plan, review : Plan, Review
        What to draw.
    manner : Manner
        Language and units; they also choose between scales in inches and in metres.
    wish : Wish
        Sheet size, scale, and which parts the sheet has.
    extra : iterable of Mark
        More marks in metres, such as the tapes of a set-out; drawn above the ground.

    Raises
    ------
    ScaleError
        If the drawing does not fit at the scale wished, or at any.
    """
    manner, wish = manner or Manner(), wish or Wish()
    still = ground_marks(plan, manner)
    scene = resolve(plan)
    met = governing_marks(scene, review, manner) if wish.governing else ()
    moving = (
        *met,
        *review_marks(review, manner),
        *machine_marks(plan, manner, scene.cord_runs),
    )
    marks = (*still, *extra, *moving)
    # Signs and walls far from the machine need not be on a sheet about the machine.
    telling = [one for one in moving if wish.around == "lot" or _is_near(one)]
    low, high = extent_m(plan, (*extra, *telling), wish.around)
    extent = (high[0] - low[0], high[1] - low[1])
    wish, scale = _fitted(wish, extent, manner.system)
    frame = _frame(wish)
    centre = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    middle = (frame.left + frame.width / 2, frame.top + frame.height / 2)
    view = View(scale.mm_per_m, centre, middle)
    arranged = arrange(marks, scale.mm_per_m)
    shown = [one for one in marks if _within(one, view, frame)]
    layers = [
        Layer("plan", arranged, view, frame.whole),
        Layer(
            "sheet",
            tuple(_furniture(plan, scale, frame, shown, manner=manner, wish=wish)),
            View(1.0),
        ),
    ]
    title = plain(plan.title) or Text("Site plan").say(manner)
    spoken = description(plan, review, scale, manner)
    text = write(layers, wish.size_mm, title=title, description=spoken, theme=wish.theme)
    return Sheet(text, wish.size_mm, scale, spoken)


def _fitted(wish: Wish, extent: tuple[float, float], system: System) -> tuple[Wish, Scale]:
    turned = replace(wish, size_mm=(wish.size_mm[1], wish.size_mm[0]))
    tries = [wish, turned] if wish.turnable else [wish]
    if wish.scale is None:
        found = [(one, scales.best_fit(extent, _room(one), system)) for one in tries]
        return min(found, key=lambda pair: pair[1].figure)
    for one in tries:
        if scales.fits(wish.scale, extent, _room(one)):
            return one, wish.scale
    msg = (
        f"the drawing is {extent[0]:.1f} m by {extent[1]:.1f} m and does not fit the sheet "
        f"at {wish.scale.name}; choose a smaller scale or a larger sheet"
    )
    raise scales.ScaleError(msg)


def _room(wish: Wish) -> tuple[float, float]:
    frame = _frame(wish)
    return (frame.width, frame.height)


def description(plan: Plan, review: Review, scale: Scale, manner: Manner) -> str:
    """Return the drawing in words, for readers who cannot see it."""
    first = Text(
        "Plan of the lot at {scale}: {buildings} buildings, {openings} openings.",
        {
            "scale": scale.name,
            "buildings": len(plan.buildings),
            "openings": len(plan.openings),
        },
    )
    said = [first.say(manner)]
    said.extend(one.what.say(manner) for one in review.findings[:3])
    return " ".join(said)


def extent_m(plan: Plan, marks: Iterable[Mark], around: Around = "lot") -> tuple[Point, Point]:
    """Return the corners of what must be on the sheet [m], with a margin around.

    Around the lot: the lot, the buildings of its owner, the machine and its lines, and a strip
    of the neighbours' buildings. Around the machine: the machine, its lines and a few metres
    more. An empty plan gives a square of 10 m.
    """
    points: list[Point] = [one for mark in marks for one in _points(mark)]
    if around == "lot" or not points:
        points += [] if plan.lot is None else plan.lot.outline
        own = [one for one in plan.buildings if one.owner == "own" or plan.lot is None]
        points += [point for building in own for point in building.outline]
    if not points:
        return (-5.0, -5.0), (5.0, 5.0)
    low, high = _corners(points)
    if around == "machine":
        low, high = _at_least(low, high, _LEAST_AROUND_M)
        return (low[0] - _AROUND_M, low[1] - _AROUND_M), (high[0] + _AROUND_M, high[1] + _AROUND_M)
    for building in plan.buildings:
        points += [
            (
                min(max(x, low[0] - _NEIGHBOUR_STRIP_M), high[0] + _NEIGHBOUR_STRIP_M),
                min(max(y, low[1] - _NEIGHBOUR_STRIP_M), high[1] + _NEIGHBOUR_STRIP_M),
            )
            for x, y in building.outline
        ]
    low, high = _corners(points)
    return (low[0] - _MARGIN_M, low[1] - _MARGIN_M), (high[0] + _MARGIN_M, high[1] + _MARGIN_M)


def _at_least(low: Point, high: Point, least_m: float) -> tuple[Point, Point]:
    more = tuple(max(0.0, least_m - (high[axis] - low[axis])) / 2 for axis in (0, 1))
    return (low[0] - more[0], low[1] - more[1]), (high[0] + more[0], high[1] + more[1])


def _corners(points: Sequence[Point]) -> tuple[Point, Point]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _is_near(mark: Mark) -> bool:
    return isinstance(mark, Dimension) or not mark.role.startswith(("distance-", "area-"))


def _points(mark: Mark) -> Iterator[Point]:
    match mark:
        case Stroke():
            yield from mark.points
        case Fill():
            yield from mark.rings[0]
        case Dimension():
            yield from (mark.start, mark.end)
        case _:
            yield mark.at


def _within(mark: Mark, view: View, frame: _Frame) -> bool:
    for point in _points(mark):
        x, y = view.place(point)
        if (
            frame.left <= x <= frame.left + frame.width
            and frame.top <= y <= frame.top + frame.height
        ):
            return True
    return False


def _frame(wish: Wish) -> _Frame:
    width, height = wish.size_mm
    edge = 8.0 if wish.framed else 0.3
    top = edge + (_TITLE_MM if wish.titled else 0.0)
    right = edge + (_LEGEND_MM if wish.legend else 0.0)
    return _Frame(edge, top, width - edge - right, height - top - edge - _FOOT_MM)


def _furniture(
    plan: Plan, scale: Scale, frame: _Frame, shown: list[Mark], *, manner: Manner, wish: Wish
) -> Iterator[Mark]:
    # Here one unit is one millimetre and y runs up from the sheet's top edge: minus the depth.
    yield _box(frame.left, frame.top, frame.width, frame.height, "sheet-line")
    low = frame.top + frame.height
    right = frame.left + frame.width
    scale_text = Text("Scale {scale}, when printed at 100 %", {"scale": scale.name}).say(manner)
    yield _text(scale_text, (right, low + 5.0), "sheet-title", 2.6, "end")
    room = frame.width - text_width_mm(scale_text, 2.6) - 8.0
    yield from _scale_bar(scale, (frame.left, low + 4.0), room, manner)
    yield from _check_line((frame.left, low + 12.5), manner)
    yield from _north(plan, (right - 8.0, frame.top + 10.0))
    if wish.legend:
        yield from _legend(entries(shown), (right + 3.0, frame.top + 1.5), frame.height, manner)
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


def _legend(rows: list[Entry], at: Point, room_mm: float, manner: Manner) -> Iterator[Mark]:
    left, top = at
    step = min(_ROW_MM, room_mm / max(1, len(rows)))
    for index, row in enumerate(rows):
        y = top + (index + 0.5) * step
        yield from _swatch(row, (left, y))
        text = row.text.say(manner)
        yield _text(text, (left + 9.5, y), "sheet-text", _fitting(text, _LEGEND_MM - 13.0, 1.9))


def _fitting(text: str, room_mm: float, height_mm: float) -> float:
    wide = text_width_mm(text, height_mm)
    return height_mm if wide <= room_mm else height_mm * room_mm / wide


def _swatch(row: Entry, at: Point) -> Iterator[Mark]:
    x, y = at[0], -at[1]
    if row.swatch == "line":
        yield Stroke(((x, y), (x + 7.5, y)), row.role)
    elif row.swatch == "area":
        yield Fill(
            (((x, y - 1.4), (x + 7.5, y - 1.4), (x + 7.5, y + 1.4), (x, y + 1.4)),), row.role
        )
    else:
        yield Symbol(row.symbol, (x + 3.75, y), row.role, size_mm=3.4, text=row.letters)


def _title(plan: Plan, frame: _Frame, wish: Wish, manner: Manner) -> Iterator[Mark]:
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
