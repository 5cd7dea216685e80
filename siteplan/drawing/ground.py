"""The still part of a drawing: lot, buildings, openings, surroundings and fixtures."""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import assert_never

import shapely
from shapely import LineString, Polygon

from siteplan.drawing import walls
from siteplan.drawing.marks import Fill, Label, Mark, Marks, Point, Role, Stroke, Symbol
from siteplan.plan.around import (
    Barrier,
    Fixture,
    Ground,
    OutdoorUnit,
    ServiceDrop,
    Shelter,
    Surrounding,
    Tree,
)
from siteplan.plan.document import Plan
from siteplan.plan.lot import Lot, Opening
from siteplan.plan.rings import signed_area_m2, wall
from siteplan.scene.around import fixture_xy
from siteplan.units import format_length
from siteplan.words import Manner, plain

Window = tuple[float, float, float, float]
_CROWN_SIDES = 32
_SHORTEST_SIDE_LABEL_M = 1.5

_SURROUNDING: Mapping[str, Role] = {
    "fence": "fence",
    "wall": "garden-wall",
    "hedge": "hedge",
    "deck": "deck",
    "driveway": "driveway",
    "walk": "walk",
    "pool": "pool",
    "standing-water": "standing-water",
    "brush": "brush",
}

LETTERS: Mapping[str, str] = {
    "electric-meter": "M",
    "gas-regulator": "G",
    "gas-meter": "GM",
    "outdoor-unit": "OU",
    "fuel-store": "F",
    "gas-cylinder": "C",
    "power-inlet": "I",
    "through-wall-outlet": "T",
}
"""Letters in the fixtures' signs."""


def ground_marks(plan: Plan, manner: Manner | None = None, window: Window | None = None) -> Marks:
    """Return what does not depend on where the machine stands, lowest layer first.

    Parameters
    ----------
    plan : Plan
        Only lot, buildings, openings, surroundings and fixtures are drawn.
    manner : Manner
        Language and units of the texts.
    window : tuple of float
        West, south, east and north of what will be seen [m]: names and lengths are set
        within it.
    """
    seen = None if window is None else shapely.box(*window)
    return tuple(_ground(plan, manner or Manner(), seen))


def _ground(plan: Plan, manner: Manner, seen: Polygon | None) -> Iterator[Mark]:
    flat = [one for one in plan.surroundings if isinstance(one, Ground)]
    raised = (one for one in plan.surroundings if not isinstance(one, Ground))
    for ground in flat:
        yield from surrounding_marks(ground)
    if plan.lot is not None:
        yield Stroke(plan.lot.outline, "lot-line", closed=True)
    by_building: defaultdict[str, list[Opening]] = defaultdict(list)
    for opening in plan.openings:
        by_building[opening.building].append(opening)
    for building in plan.buildings:
        yield from walls.building_marks(building, by_building[building.id])
    for standing in raised:
        yield from surrounding_marks(standing)
    for fixture in plan.fixtures:
        yield from fixture_marks(fixture, fixture_xy(fixture, plan))
    yield from _names(plan, flat, manner, seen)


def _names(
    plan: Plan, flat: Iterable[Ground], manner: Manner, seen: Polygon | None
) -> Iterator[Mark]:
    if plan.lot is not None:
        yield from lot_dimensions(plan.lot, manner, seen)
    for building in plan.buildings:
        yield from walls.label_marks(building, manner, seen)
    for ground in flat:
        if ground.name.strip():
            yield Label(_middle(ground.outline), plain(ground.name), "label-thing", height_mm=2.0)


def lot_dimensions(lot: Lot, manner: Manner, seen: Polygon | None = None) -> Iterator[Mark]:
    """Yield the length of each side of the lot, as a figure along it on the outer side."""
    outward = -1.0 if signed_area_m2(lot.outline) > 0 else 1.0
    for index in range(len(lot.outline)):
        start, end = wall(lot.outline, index)
        long = math.dist(start, end)
        part = _part_seen(start, end, seen)
        if part.length < _SHORTEST_SIDE_LABEL_M:
            continue
        middle = part.interpolate(0.5, normalized=True)
        along = ((end[0] - start[0]) / long, (end[1] - start[1]) / long)
        yield Label(
            (middle.x, middle.y),
            format_length(long, manner.system, "near"),
            "lot-dimension",
            turn_deg=upright(math.degrees(math.atan2(along[1], along[0]))),
            height_mm=2.0,
            shift_mm=(-along[1] * outward * 2.6, along[0] * outward * 2.6),
            room_m=part.length,
        )


def _part_seen(start: Point, end: Point, seen: Polygon | None) -> LineString:
    side = LineString([start, end])
    part = side if seen is None else shapely.intersection(side, seen)
    return part if isinstance(part, LineString) else LineString()


def upright(turn_deg: float) -> float:
    """Return the turn of a text along a line so that it is never upside down [°]."""
    turn = (turn_deg + 90.0) % 180.0 - 90.0
    return 90.0 if math.isclose(turn, -90.0) else turn


def surrounding_marks(surrounding: Surrounding) -> Iterator[Mark]:
    """Yield the marks of one thing that stands or lies around the house."""
    match surrounding:
        case Barrier():
            yield Stroke(surrounding.path, _SURROUNDING[surrounding.kind])
        case Ground():
            yield Fill((surrounding.outline,), _SURROUNDING[surrounding.kind])
        case Shelter():
            yield Fill((surrounding.outline,), "shelter")
        case Tree():
            yield Fill((_circle(surrounding.at, surrounding.crown_m / 2),), "tree")
            yield Symbol("corner", surrounding.at, "tree", size_mm=1.5)
        case _:
            assert_never(surrounding)


def fixture_marks(fixture: Fixture, at: Point) -> Iterator[Mark]:
    """Yield the marks of one fixture that hangs or stands at a place [m]."""
    if isinstance(fixture, ServiceDrop):
        yield Stroke((fixture.at, fixture.to), "service-drop")
        return
    if isinstance(fixture, OutdoorUnit):
        half, (x, y) = fixture.width_m / 2, at
        corners = ((-half, -half), (half, -half), (half, half), (-half, half))
        yield Fill((tuple((x + dx, y + dy) for dx, dy in corners),), "outdoor-unit")
    text = LETTERS.get(fixture.kind, "")
    yield Symbol(fixture.kind, at, "fixture", size_mm=3.6, text=text)


def _circle(centre: Point, radius_m: float) -> tuple[Point, ...]:
    turns = (2 * math.pi * index / _CROWN_SIDES for index in range(_CROWN_SIDES))
    return tuple(
        (centre[0] + radius_m * math.cos(turn), centre[1] + radius_m * math.sin(turn))
        for turn in turns
    )


def _middle(ring: tuple[Point, ...]) -> Point:
    return (sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring))
