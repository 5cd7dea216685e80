"""A plan on a sheet, at a true scale."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from siteplan.drawing import governing_marks, ground_marks, machine_marks, review_marks
from siteplan.drawing.layout import arrange, label_box
from siteplan.drawing.marks import Dimension, Fill, Label, Mark, Marks, Point, Stroke
from siteplan.paper import scales
from siteplan.paper.furniture import (
    A4_LANDSCAPE_MM,
    LETTER_LANDSCAPE_MM,
    Around,
    Frame,
    Wish,
    frame_of,
    furniture,
)
from siteplan.paper.scales import Scale
from siteplan.paper.svg import Layer, View, write
from siteplan.plan.document import Plan
from siteplan.rules.findings import Review
from siteplan.scene import resolve
from siteplan.units import System
from siteplan.words import Manner, Text, plain

__all__ = [
    "A4_LANDSCAPE_MM",
    "LETTER_LANDSCAPE_MM",
    "Sheet",
    "Wish",
    "description",
    "extent_m",
    "plan_sheet",
]

Box = tuple[float, float, float, float]
_MARGIN_M = 1.2
_NEIGHBOUR_STRIP_M = 2.0
_AROUND_M = 2.0
_LEAST_AROUND_M = 10.0


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


def plan_sheet(
    plan: Plan,
    review: Review,
    manner: Manner | None = None,
    wish: Wish | None = None,
    extra: Iterable[Mark] = (),
    *,
    under: Iterable[Mark] = (),
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
    under : iterable of Mark
        Marks drawn beneath everything, such as a zone; they do not widen the sheet.

    Raises
    ------
    ScaleError
        If the drawing does not fit at the scale wished, or at any.
    """
    manner, wish = manner or Manner(), wish or Wish()
    scene, extra, under = resolve(plan), tuple(extra), tuple(under)
    met = governing_marks(scene, review, manner) if wish.governing else ()
    moving = (
        *met,
        *(review_marks(review, manner) if wish.findings else ()),
        *machine_marks(plan, manner, scene.cord_runs),
    )
    # Signs and walls far from the machine need not be on a sheet about the machine, and lines of
    # equal level run on beyond any sheet.
    telling = [one for one in moving if wish.around == "lot" or _is_near(one)]
    placed = [one for one in extra if one.role != "sound-contour"]
    low, high = extent_m(plan, (*placed, *telling), wish.around)
    wish, scale = _fitted(wish, (high[0] - low[0], high[1] - low[1]), manner.system)
    frame = frame_of(wish)
    centre = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    view = View(scale.mm_per_m, centre, frame.middle)
    still = ground_marks(plan, manner, _window(view, frame))
    marks = (*under, *still, *extra, *moving)
    shown = [one for one in marks if _within(one, view, frame)]
    whole = tuple(furniture(plan, scale, frame, shown, manner=manner, wish=wish))
    layers = [
        Layer("plan", _uncut(arrange(marks, scale.mm_per_m), view, frame), view, frame.whole),
        Layer("sheet", whole, View(1.0)),
    ]
    title = plain(plan.title) or Text("Site plan").say(manner)
    spoken = description(plan, review, scale, manner)
    text = write(layers, wish.size_mm, title=title, description=spoken, theme=wish.theme)
    return Sheet(text, wish.size_mm, scale, spoken)


def _window(view: View, frame: Frame) -> Box:
    """Return what the frame shows of the ground [m]."""
    x, y = view.origin_m
    across, up = frame.width / 2 / view.mm_per_m, frame.height / 2 / view.mm_per_m
    return (x - across, y - up, x + across, y + up)


def _uncut(marks: Marks, view: View, frame: Frame) -> Marks:
    """Return the marks without names that the frame would cut; distances are never left out."""
    return tuple(
        one
        for one in marks
        if not (
            isinstance(one, Label)
            and one.role in {"label-building", "label-thing", "lot-dimension"}
            and _is_cut(one, view, frame)
        )
    )


def _is_cut(label: Label, view: View, frame: Frame) -> bool:
    box = label_box(label, view.mm_per_m)
    x, y = view.place((box.x / view.mm_per_m, box.y / view.mm_per_m))
    across, up = box.reach(0.0), box.reach(math.pi / 2)
    return not (
        frame.left <= x - across
        and x + across <= frame.left + frame.width
        and frame.top <= y - up
        and y + up <= frame.top + frame.height
    )


def _fitted(wish: Wish, extent: tuple[float, float], system: System) -> tuple[Wish, Scale]:
    turned = replace(wish, size_mm=(wish.size_mm[1], wish.size_mm[0]))
    tries = [wish, turned] if wish.turnable else [wish]
    if wish.scale is None:
        found = [(one, scales.best_fit(extent, _room(one), system)) for one in tries]
        return min(found, key=lambda pair: pair[1].figure)
    for one in tries:
        if scales.fits(wish.scale, extent, _room(one)):
            return one, wish.scale
    raise scales.ScaleError(
        "the drawing is {width} m by {height} m and does not fit the sheet at {scale}; "
        "choose a smaller scale or a larger sheet",
        width=f"{extent[0]:.1f}",
        height=f"{extent[1]:.1f}",
        scale=wish.scale.name,
    )


def _room(wish: Wish) -> tuple[float, float]:
    frame = frame_of(wish)
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


def _within(mark: Mark, view: View, frame: Frame) -> bool:
    for point in _points(mark):
        x, y = view.place(point)
        if (
            frame.left <= x <= frame.left + frame.width
            and frame.top <= y <= frame.top + frame.height
        ):
            return True
    return False
