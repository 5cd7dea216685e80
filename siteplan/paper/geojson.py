"""The plan as GeoJSON (RFC 7946), where the lot's place on the earth is known."""

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from shapely.geometry.base import BaseGeometry

from siteplan.drawing.walls import rings_of
from siteplan.errors import SiteplanError
from siteplan.paper.earth import Projection
from siteplan.paper.subject import Subject
from siteplan.plan.around import Barrier, Ground, ServiceDrop, Shelter, Tree
from siteplan.plan.labels import Named
from siteplan.plan.rings import signed_area_m2
from siteplan.scene.around import fixture_xy
from siteplan.words import plain

Point = tuple[float, float]
About = Mapping[str, object]
_EXHAUST_M = 1.5


class NoOriginError(SiteplanError):
    """The lot has no place on the earth."""


def write(subject: Subject) -> str:
    """Return the lot, its things, the machine and the findings' lines as a FeatureCollection.

    Coordinates are WGS 84 degrees with seven decimals, outer rings counter-clockwise.

    Raises
    ------
    NoOriginError
        If the lot has no origin.
    """
    lot = subject.plan.lot
    if lot is None or lot.origin is None:
        msg = (
            "the lot has no place on the earth: enter its origin, or bring the lot from GeoJSON; "
            "CSV and SVG need none"
        )
        raise NoOriginError(msg)
    earth = Projection(lot.origin, subject.plan.north_deg)
    tree = {"type": "FeatureCollection", "features": list(_features(subject, earth))}
    return json.dumps(tree, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _features(subject: Subject, earth: Projection) -> Iterator[dict[str, Any]]:
    plan = subject.plan
    if plan.lot is not None:
        yield _area(earth, plan.lot.outline, {"role": "lot", "name": plain(plan.title)})
    for building in plan.buildings:
        about = _named("building", building, kind=building.kind, owner=building.owner)
        yield _area(earth, building.outline, about)
    for opening, line in zip(plan.openings, subject.scene.setting.openings, strict=True):
        about = _named("opening", opening, kind=opening.kind, building=opening.building)
        yield _line(earth, _ends(line), about)
    yield from _around(subject, earth)
    yield from _machine(subject, earth)
    yield from _evidence(subject, earth)


def _around(subject: Subject, earth: Projection) -> Iterator[dict[str, Any]]:
    for one in subject.plan.surroundings:
        about = _named("surrounding", one, kind=one.kind)
        match one:
            case Barrier():
                yield _line(earth, one.path, about)
            case Ground() | Shelter():
                yield _area(earth, one.outline, about)
            case Tree():
                yield _point(earth, one.at, about)
    for fixture in subject.plan.fixtures:
        about = _named("fixture", fixture, kind=fixture.kind)
        if isinstance(fixture, ServiceDrop):
            yield _line(earth, (fixture.at, fixture.to), about)
        else:
            yield _point(earth, fixture_xy(fixture, subject.plan), about)


def _machine(subject: Subject, earth: Projection) -> Iterator[dict[str, Any]]:
    standing = subject.scene.standing
    if standing is None:
        return
    known = standing.machine.exhaust_side is not None
    about = _named(
        "machine", standing.placement, exhaust_deg=standing.exhaust_deg if known else None
    )
    yield _area(earth, rings_of(standing.frame)[0], about)
    if known:
        yield _point(earth, standing.outlet_xy, {"role": "exhaust-outlet"})


def _evidence(subject: Subject, earth: Projection) -> Iterator[dict[str, Any]]:
    for finding in subject.review.findings:
        about = {
            "role": "finding",
            "rule": finding.rule,
            "signal": finding.signal,
            "what": finding.what.say(subject.manner),
        }
        for one in finding.evidence:
            if one.shape == "area":
                yield _area(earth, one.points, about)
            elif one.shape == "line" and len(one.points) > 1:
                yield _line(earth, one.points, about)
            else:
                yield _point(earth, one.points[0], about)


def _named(role: str, thing: Named, **more: object) -> About:
    return {"role": role, "id": thing.id, "name": plain(thing.name), **more}


def _ends(line: BaseGeometry) -> list[Point]:
    return [(float(x), float(y)) for x, y in line.coords]


def _feature(kind: str, coordinates: object, about: About) -> dict[str, Any]:
    geometry = {"type": kind, "coordinates": coordinates}
    return {"type": "Feature", "geometry": geometry, "properties": about}


def _area(earth: Projection, ring: Sequence[Point], about: About) -> dict[str, Any]:
    ordered = list(ring) if signed_area_m2(ring) > 0 else list(ring)[::-1]
    degrees = earth.degrees([*ordered, ordered[0]])
    return _feature("Polygon", [[list(one) for one in degrees]], about)


def _line(earth: Projection, points: Sequence[Point], about: About) -> dict[str, Any]:
    return _feature("LineString", [list(one) for one in earth.degrees(points)], about)


def _point(earth: Projection, at: Point, about: About) -> dict[str, Any]:
    return _feature("Point", list(earth.degrees([at])[0]), about)
