"""Buildings in plan: walls with their thickness, and openings cut into them.

Drawn by the habits of building plans (common practice, no source): two lines and a tint for
a wall, a leaf and a quarter circle for a door, lines along the wall for a window, a dashed
line for a garage door. Vents and hoods carry a lettered tag, explained in the legend.
"""

import math
from collections.abc import Iterable, Iterator, Mapping

import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from siteplan.drawing.marks import Fill, Label, Mark, Point, Role, Stroke, Symbol
from siteplan.plan.lot import Building, Opening
from siteplan.plan.rings import signed_area_m2, wall
from siteplan.words import Manner, Text

# The plan knows outer faces only; this thickness is for drawing and enters no distance.
WALL_M = 0.16
_WELL_M = 0.9
_SWING_STEPS = 8
# A middle with so much of the most room about it is as good, and looks better.
_NEARLY = 0.85

TAGS: Mapping[str, str] = {
    "pet-door": "PD",
    "exhaust-hood": "EH",
    "soffit-vent": "SV",
    "gable-vent": "GV",
    "foundation-vent": "FV",
    "air-intake": "AI",
    "combustion-intake": "CI",
    "room-air-conditioner": "AC",
    "evaporative-cooler": "EC",
}
"""Letters by which vents and other small openings are marked."""

Frame = tuple[Point, Point, Point]
"""An opening's near end, its far end, and the unit vector into the building."""


def building_marks(building: Building, openings: Iterable[Opening]) -> Iterator[Mark]:
    """Yield a building and its openings, lowest layer first."""
    outline = Polygon(building.outline)
    yield from _eaves(building, outline)
    if building.kind in {"carport", "covered-porch"}:
        yield Fill((building.outline,), "open-roof")
        return
    yield Fill((building.outline,), _role(building, "floor"))
    here = list(openings)
    frames = [opening_frame(building, one) for one in here]
    walls = shapely.difference(outline, outline.buffer(-WALL_M, join_style="mitre"))
    gaps = [_strip(frame, 0.01, WALL_M + 0.01) for frame in frames]
    walls = shapely.difference(walls, shapely.union_all(gaps)) if gaps else walls
    kind = "wall-combustible" if building.wall_material == "combustible" else "wall"
    for piece in polygons(walls):
        yield Fill(rings_of(piece), _role(building, kind))
    for opening, frame in zip(here, frames, strict=True):
        yield from _opening_marks(opening, frame)


def opening_frame(building: Building, opening: Opening) -> Frame:
    """Return where an opening lies on its wall, and which way leads inside."""
    start, end = wall(building.outline, opening.wall)
    long = math.dist(start, end)
    along = ((end[0] - start[0]) / long, (end[1] - start[1]) / long)
    near = _step(start, along, opening.offset_m)
    far = _step(start, along, opening.offset_m + opening.width_m)
    left = (-along[1], along[0])
    inward = left if signed_area_m2(building.outline) > 0 else (along[1], -along[0])
    return near, far, inward


def label_marks(building: Building, manner: Manner, seen: Polygon | None = None) -> Iterator[Mark]:
    """Yield the building's name where it has most room, within what is seen of it."""
    outline = Polygon(building.outline)
    if seen is not None:
        visible = max(polygons(outline & seen), key=lambda one: one.area, default=None)
        if visible is None:
            return
        outline = visible
    x, y = _roomiest(outline)
    text = building_name(building).say(manner)
    left, low, right, high = outline.bounds
    room, depth = right - left - 2 * WALL_M, high - low - 2 * WALL_M
    yield Label((x, y), text, "label-building", room_m=room, depth_m=depth)


def _roomiest(outline: Polygon) -> Point:
    """Return the middle of an outline, or where it is widest if its middle is narrow or outside."""
    widest = shapely.maximum_inscribed_circle(outline, tolerance=0.25)
    middle = outline.centroid
    # In a long rectangle the widest place is anywhere along it.
    inside = outline.contains(middle)
    if inside and outline.exterior.distance(middle) >= _NEARLY * widest.length:
        return (middle.x, middle.y)
    x, y = shapely.get_coordinates(widest)[0]
    return (float(x), float(y))


def building_name(building: Building) -> Text:
    """Return the building's name, or what it is if it has none."""
    if building.name.strip():
        return Text("{name}", {"name": building.name})
    kind = Text(KIND_TEXT[building.kind])
    return Text("Neighbour: {name}", {"name": kind}) if building.owner == "neighbour" else kind


KIND_TEXT: Mapping[str, str] = {
    "dwelling": "House",
    "attached-garage": "Garage, attached",
    "detached-garage": "Garage",
    "carport": "Carport",
    "covered-porch": "Covered porch",
    "shed": "Shed",
    "other": "Building",
}


def polygons(shape: BaseGeometry) -> Iterator[Polygon]:
    """Yield the polygons of a shape, leaving out lines and points."""
    if isinstance(shape, Polygon):
        if not shape.is_empty:
            yield shape
    elif isinstance(shape, MultiPolygon | shapely.GeometryCollection):
        for part in shape.geoms:
            yield from polygons(part)


def rings_of(polygon: Polygon) -> tuple[tuple[Point, ...], ...]:
    """Return a polygon's rings, outer first, without the repeated last point."""
    return tuple(
        tuple((float(x), float(y)) for x, y in list(ring.coords)[:-1])
        for ring in (polygon.exterior, *polygon.interiors)
    )


def _role(building: Building, part: str) -> Role:
    if building.owner == "neighbour":
        group = "neighbour"
    elif building.kind in {"dwelling", "attached-garage"}:
        group = "dwelling"
    else:
        group = "outbuilding"
    return _ROLES[f"{group}-{part}"]


_ROLES: Mapping[str, Role] = {
    "dwelling-floor": "dwelling-floor",
    "dwelling-wall": "dwelling-wall",
    "dwelling-wall-combustible": "dwelling-wall-combustible",
    "outbuilding-floor": "outbuilding-floor",
    "outbuilding-wall": "outbuilding-wall",
    "outbuilding-wall-combustible": "outbuilding-wall-combustible",
    "neighbour-floor": "neighbour-floor",
    "neighbour-wall": "neighbour-wall",
    "neighbour-wall-combustible": "neighbour-wall-combustible",
}


def _eaves(building: Building, outline: Polygon) -> Iterator[Mark]:
    if building.overhang_m:
        drip = outline.buffer(building.overhang_m, join_style="mitre")
        for piece in polygons(drip):
            yield Stroke(rings_of(piece)[0], "eave-line", closed=True)


def _opening_marks(opening: Opening, frame: Frame) -> Iterator[Mark]:
    near, far, inward = frame
    gap = tuple(shapely.get_coordinates(_strip(frame, 0.0, WALL_M)).tolist()[:-1])
    ring = tuple((float(x), float(y)) for x, y in gap)
    if opening.kind == "door":
        yield from _door(near, far, inward, ring)
    elif opening.kind in {"window", "fixed-window"}:
        yield Fill((ring,), "opening-window")
        yield from _panes(opening, near, far, inward)
    elif opening.kind == "window-well":
        yield Fill((ring,), "opening-window")
        well = shapely.get_coordinates(_strip(frame, _WELL_M, 0.0)).tolist()[:-1]
        yield Fill((tuple((float(x), float(y)) for x, y in well),), "opening-well")
    elif opening.kind == "garage-door":
        yield Fill((ring,), "opening-garage")
    else:
        yield Fill((ring,), "opening-vent")
        yield _tag(opening, frame)
    if opening.state != "shut":
        yield Stroke((near, far), "opening-ajar")


def _door(near: Point, far: Point, inward: Point, ring: tuple[Point, ...]) -> Iterator[Mark]:
    yield Fill((ring,), "opening-door")
    wide = math.dist(near, far)
    along = ((far[0] - near[0]) / wide, (far[1] - near[1]) / wide)
    arc = []
    for index in range(_SWING_STEPS + 1):
        turn = math.pi / 2 * index / _SWING_STEPS
        side, ahead = math.sin(turn) * wide, math.cos(turn) * wide
        arc.append(_step(_step(near, along, side), inward, ahead))
    yield Stroke((near, arc[0]), "opening-swing")
    yield Stroke(tuple(arc), "opening-swing")


def _panes(opening: Opening, near: Point, far: Point, inward: Point) -> Iterator[Mark]:
    # One line along the wall for fixed glass, two for a window that opens.
    shares = (0.5,) if opening.kind == "fixed-window" else (1 / 3, 2 / 3)
    for share in shares:
        depth = WALL_M * share
        yield Stroke((_step(near, inward, depth), _step(far, inward, depth)), "opening-window")


def _tag(opening: Opening, frame: Frame) -> Symbol:
    near, far, inward = frame
    middle = ((near[0] + far[0]) / 2, (near[1] + far[1]) / 2)
    return Symbol(
        "tag",
        _step(middle, inward, WALL_M + 0.35),
        "opening-tag",
        size_mm=4.2,
        text=TAGS[opening.kind],
    )


def _strip(frame: Frame, out_m: float, in_m: float) -> Polygon:
    near, far, inward = frame
    return Polygon(
        [
            _step(near, inward, -out_m),
            _step(far, inward, -out_m),
            _step(far, inward, in_m),
            _step(near, inward, in_m),
        ]
    )


def _step(point: Point, direction: Point, distance_m: float) -> Point:
    return (point[0] + direction[0] * distance_m, point[1] + direction[1] * distance_m)
