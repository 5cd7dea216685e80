"""A parcel and footprints from GeoJSON, as the beginning of a plan."""

import codecs
import math
import reprlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np
from shapely import Polygon, STRtree

from siteplan.errors import Said
from siteplan.paper.earth import Projection
from siteplan.plan.document import MOST_CORNERS, Plan
from siteplan.plan.errors import BrokenFileError
from siteplan.plan.lot import Building, BuildingKind, Lot, Origin
from siteplan.plan.rings import SMALLEST_AREA_M2, crossing, signed_area_m2
from siteplan.plan.store import json_tree
from siteplan.words import Text, Value, plain

Point = tuple[float, float]
About = Mapping[str, object]
_WGS84_NAMES = ("CRS84", "4326")
_FARTHEST_M = 5_000.0
# Towns lie between these latitudes. Eastern American longitudes, swapped with their latitudes,
# would lie to the south of them, Indian ones to the north.
_TOWNS_DEG = (-60.0, 72.0)
_MOST_CORNERS = 500
_MOST_BUILDINGS = 2000
_DEEPEST = 30
_SAME_M = 5e-4
_THIN_TO_M = 0.02
_PARCEL_WORDS = frozenset({"lot", "parcel", "cadastre", "plot"})
# Values of the open street map tag `building` (from memory); whatever else stands is taken for
# a dwelling, which asks for the longest distances.
_KINDS: Mapping[str, BuildingKind] = {
    "garage": "detached-garage",
    "garages": "detached-garage",
    "carport": "carport",
    "shed": "shed",
}
# Kinds that an exported plan names itself.
_OWN_KINDS: Mapping[str, BuildingKind] = {
    "dwelling": "dwelling",
    "attached-garage": "attached-garage",
    "detached-garage": "detached-garage",
    "carport": "carport",
    "covered-porch": "covered-porch",
    "shed": "shed",
    "other": "other",
}
_NESTS = {"FeatureCollection": "features", "GeometryCollection": "geometries"}
_LEFT_OUT = "polygons that cross themselves, or have no area, were left out"
_NO_AREA = frozenset({"Point", "MultiPoint", "LineString", "MultiLineString"})
# What a file holds may be of any size and depth, and only its beginning is looked at.
_SHORT = reprlib.Repr()
_SHORT.maxlevel, _SHORT.maxstring = 4, 200
_SKIPPED_ROLES = frozenset({"machine", "finding", "surrounding", "opening", "fixture"})


@dataclass(frozen=True, slots=True)
class Brought:
    """A plan made from a file, and what was left out or changed on the way."""

    plan: Plan
    notes: tuple[Text, ...]


@dataclass(slots=True)
class _Shape:
    ring: list[Point]
    about: About


@dataclass(slots=True)
class _Reading:
    name: str
    notes: list[Text] = field(default_factory=list)

    def wrong(self, why: str | Said) -> BrokenFileError:
        return BrokenFileError(self.name, why)

    def note(self, template: str, values: Mapping[str, Value] | None = None) -> None:
        text = Text(template, values or {})
        if text not in self.notes:
            self.notes.append(text)


def read(raw: bytes, name: str = "-") -> Brought:
    """Return a plan with the lot and buildings of a GeoJSON file.

    The lot is the polygon marked as a parcel, else the one that holds most of the others and is
    not marked as a building. Footprints that lie mostly on it are the owner's, the rest are
    neighbours', unless the file says whose they are. Kinds that the file does not tell are
    taken for dwellings; openings have to be drawn by hand.

    Parameters
    ----------
    raw : bytes
        UTF-8 text of a FeatureCollection, Feature or geometry (RFC 7946).
    name : str
        What to call the file in messages.

    Raises
    ------
    BrokenFileError
        If it is no GeoJSON, holds no polygon, holds numbers that are no degrees, or leaves it
        open which polygon is the lot.
    """
    reading = _Reading(name)
    tree = json_tree(raw.removeprefix(codecs.BOM_UTF8), name)
    shapes = list(_shapes(tree, {}, reading, 0))
    if not shapes:
        raise reading.wrong("holds no polygon: a parcel or a building footprint is needed")
    origin = _origin(shapes, reading)
    earth = Projection(origin)
    flat = [_Shape(_clean(earth.metres(one.ring)), one.about) for one in shapes]
    _check_extent(flat, reading)
    usable = [one for one in flat if _usable(one, reading)]
    if not usable:
        raise reading.wrong("holds no polygon that could be drawn")
    lot = _lot(usable, reading)
    if crossing(lot.ring) is not None:
        raise reading.wrong("holds no lot whose boundary keeps clear of itself")
    footprints = [one for one in usable if one is not lot and not _is_parcel(one)]
    others = _nearest(lot, footprints, reading)
    buildings = tuple(_building(one, lot, index) for index, one in enumerate(others, start=1))
    title = _name(lot.about)
    plan = Plan(title=title, lot=Lot(outline=tuple(lot.ring), origin=origin), buildings=buildings)
    return Brought(plan, tuple(reading.notes))


def _shapes(tree: object, about: About, reading: _Reading, depth: int) -> Iterator[_Shape]:
    """Yield the outer ring of every polygon, however deep it lies."""
    if depth > _DEEPEST:
        raise reading.wrong("is nested too deeply")
    if tree is None:
        reading.note("features without a geometry were left out")
        return
    if not isinstance(tree, dict) or not isinstance(tree.get("type"), str):
        raise reading.wrong('is not GeoJSON: an object with a "type" is needed')
    _check_crs(tree, reading)
    kind = tree["type"]
    if kind in _NESTS:
        for one in _list(tree, _NESTS[kind], reading):
            yield from _shapes(one, about, reading, depth + 1)
    elif kind == "Feature":
        told = tree.get("properties")
        told = told if isinstance(told, dict) else {}
        if told.get("role") not in _SKIPPED_ROLES:
            yield from _shapes(tree.get("geometry"), told, reading, depth + 1)
    else:
        yield from _geometry(tree, kind, about, reading)


def _geometry(
    tree: Mapping[str, object], kind: str, about: About, reading: _Reading
) -> Iterator[_Shape]:
    if kind == "MultiPolygon":
        for rings in _list(tree, "coordinates", reading):
            yield from _polygon(rings, about, reading)
    elif kind == "Polygon":
        yield from _polygon(_list(tree, "coordinates", reading), about, reading)
    elif kind in _NO_AREA:
        reading.note("points and lines were left out")
    else:
        raise reading.wrong(
            Said("is not GeoJSON: there is no type '{type}'", {"type": plain(kind)[:40]})
        )


def _list(tree: Mapping[str, object], key: str, reading: _Reading) -> list[object]:
    found = tree.get(key)
    if not isinstance(found, list):
        raise reading.wrong(Said("is not GeoJSON: '{key}' must be a list", {"key": key}))
    return found


def _check_crs(tree: About, reading: _Reading) -> None:
    crs = tree.get("crs")
    if crs is not None and not any(one in _SHORT.repr(crs) for one in _WGS84_NAMES):
        raise reading.wrong(
            "names a coordinate system of its own; RFC 7946 has WGS 84 degrees only "
            "(EPSG:4326), so convert the file first"
        )


def _polygon(rings: object, about: About, reading: _Reading) -> Iterator[_Shape]:
    if not isinstance(rings, list) or not rings:
        reading.note("empty polygons were left out")
        return
    if len(rings) > 1:
        reading.note("courtyards (holes in polygons) were filled in")
    outer = rings[0]
    if not isinstance(outer, list):
        raise reading.wrong("is not GeoJSON: a ring must be a list of positions")
    yield _Shape([_position(one, reading) for one in outer], about)


def _position(value: object, reading: _Reading) -> Point:
    numbers = value[:2] if isinstance(value, list) else []
    if len(numbers) < 2 or any(
        isinstance(n, bool) or not isinstance(n, int | float) for n in numbers
    ):
        raise reading.wrong(
            Said(
                "'{found}' is no position of longitude and latitude",
                {"found": plain(_SHORT.repr(value), 40)},
            )
        )
    longitude, latitude = float(numbers[0]), float(numbers[1])
    if math.isnan(longitude) or math.isnan(latitude):
        raise reading.wrong("NaN is no coordinate")
    if not (abs(longitude) <= 180.0 and abs(latitude) <= 90.0):
        raise reading.wrong(
            Said(
                "({x}, {y}) is no longitude and latitude: these look like metres or feet of a map "
                "projection; convert the file to WGS 84 degrees (EPSG:4326) first",
                {"x": f"{longitude:g}", "y": f"{latitude:g}"},
            )
        )
    return longitude, latitude


def _origin(shapes: list[_Shape], reading: _Reading) -> Origin:
    points = [point for shape in shapes for point in shape.ring]
    if not points:
        raise reading.wrong("holds no polygon with corners")
    longitudes, latitudes = [x for x, _ in points], [y for _, y in points]
    longitude = round((min(longitudes) + max(longitudes)) / 2, 7)
    latitude = round((min(latitudes) + max(latitudes)) / 2, 7)
    if not _TOWNS_DEG[0] <= latitude <= _TOWNS_DEG[1]:
        raise reading.wrong(
            Said(
                "lies at latitude {at}°, where no town is: GeoJSON puts longitude first, and here "
                "it may stand second",
                {"at": f"{latitude:g}"},
            )
        )
    return Origin(longitude_deg=longitude, latitude_deg=latitude)


def _clean(ring: list[Point]) -> list[Point]:
    """Return the ring without its repeated last point and without doubled corners."""
    kept: list[Point] = []
    for x, y in ring:
        point = (round(x, 4), round(y, 4))
        if not kept or math.dist(point, kept[-1]) > _SAME_M:
            kept.append(point)
    while len(kept) > 1 and math.dist(kept[0], kept[-1]) <= _SAME_M:
        kept.pop()
    if len(kept) > _MOST_CORNERS:
        thinned = Polygon(kept).simplify(_THIN_TO_M)
        if isinstance(thinned, Polygon):
            kept = [(float(x), float(y)) for x, y in thinned.exterior.coords[:-1]]
    return kept


def _check_extent(shapes: list[_Shape], reading: _Reading) -> None:
    far = max(math.hypot(x, y) for shape in shapes for x, y in shape.ring)
    if not far <= _FARTHEST_M:
        raise reading.wrong(
            Said(
                "spreads over {far} km; a lot and its neighbours lie within {most} km. "
                "Cut the file to the lot first",
                {"far": f"{far / 500:.0f}", "most": f"{_FARTHEST_M / 500:.0f}"},
            )
        )


def _usable(shape: _Shape, reading: _Reading) -> bool:
    ring = shape.ring
    good = (
        3 <= len(ring) <= _MOST_CORNERS
        and Polygon(ring).is_valid
        and abs(signed_area_m2(ring)) >= SMALLEST_AREA_M2
    )
    if not good:
        reading.note(_LEFT_OUT)
    return good


def _lot(shapes: list[_Shape], reading: _Reading) -> _Shape:
    parcels = [one for one in shapes if _is_parcel(one)]
    candidates = parcels or [one for one in shapes if not _is_building(one)]
    if not candidates:
        raise reading.wrong("holds buildings but no parcel: the lot's own polygon is needed")
    areas = [Polygon(one.ring) for one in candidates]
    middles = STRtree([Polygon(one.ring).representative_point() for one in shapes])
    held = np.bincount(middles.query(areas, predicate="contains")[0], minlength=len(areas))
    # A parcel holds its own middle.
    built = [index for index in range(len(parcels)) if held[index] > 1]
    if len(built) > 1:
        raise reading.wrong(
            Said(
                "holds {count} parcels with buildings: whose is the generator's? Leave only that "
                "parcel in the file, with all the buildings",
                {"count": str(len(built))},
            )
        )
    if len(parcels) > 1:
        reading.note("parcels beside the lot were left out")
    most = max(range(len(areas)), key=lambda index: (held[index], areas[index].area))
    return candidates[most]


def _nearest(lot: _Shape, others: list[_Shape], reading: _Reading) -> list[_Shape]:
    """Return the footprints nearest the lot, as many as a plan can hold."""
    ground = Polygon(lot.ring)
    others = sorted(others, key=lambda one: ground.distance(Polygon(one.ring)))
    kept: list[_Shape] = []
    corners = len(lot.ring)
    for one in others:
        corners += len(one.ring)
        if len(kept) == _MOST_BUILDINGS or corners > MOST_CORNERS:
            reading.note(
                "only the {count} buildings nearest the lot were brought", {"count": len(kept)}
            )
            break
        if crossing(one.ring) is None:
            kept.append(one)
        else:
            reading.note(_LEFT_OUT)
    return kept


def _is_parcel(shape: _Shape) -> bool:
    told = (shape.about.get(key) for key in ("role", "kind", "type", "class", "boundary"))
    return any(isinstance(one, str) and one.lower() in _PARCEL_WORDS for one in told)


def _is_building(shape: _Shape) -> bool:
    return shape.about.get("role") == "building" or shape.about.get("building") is not None


def _building(shape: _Shape, lot: _Shape, number: int) -> Building:
    outline, ground = Polygon(shape.ring), Polygon(lot.ring)
    own = outline.intersection(ground).area >= outline.area / 2
    if shape.about.get("owner") in ("own", "neighbour"):
        own = shape.about["owner"] == "own"
    return Building(
        id=f"building-{number}",
        name=_name(shape.about),
        kind=_kind(shape.about),
        owner="own" if own else "neighbour",
        outline=tuple(shape.ring),
    )


def _name(about: About) -> str:
    name = about.get("name")
    return plain(name)[:120] if isinstance(name, str) else ""


def _kind(about: About) -> BuildingKind:
    kind, building = about.get("kind"), about.get("building")
    if about.get("role") == "building":
        return _OWN_KINDS.get(kind, "dwelling") if isinstance(kind, str) else "dwelling"
    return _KINDS.get(building.lower(), "dwelling") if isinstance(building, str) else "dwelling"
