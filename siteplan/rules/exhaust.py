"""Which way the exhaust points."""

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from shapely import Point, Polygon

from siteplan.geometry.arrays import XY, FloatArray
from siteplan.geometry.clearance import unit_vector, witness_lines
from siteplan.geometry.facing import facing_places
from siteplan.plan.labels import label
from siteplan.plan.lot import Building, Opening
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import accuracy_m, falls_short
from siteplan.rules.findings import Evidence, Finding, Met, Outcome, Signal, Unjudged, severity
from siteplan.scene import Scene, Standing
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Quantity, Text, length

_ANGLE_TOLERANCE_DEG = 1e-6


class _Aim(NamedTuple):
    """One wall or opening within reach of the exhaust: how far, how far off the axis, the line."""

    building: int
    thing: Opening | Building
    own: bool
    distance_m: float
    off_axis_deg: float
    line: FloatArray


def exhaust_direction(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the exhaust's axis against the nearest part of each building and opening.

    A building's walls and openings give one finding together, the worst of theirs. Each wing
    of a building with inside corners counts by its own nearest part.
    """
    book = rule("exhaust-direction")
    if not scene.setting.walled_for_openings.any() and not scene.setting.counts.any():
        yield Unjudged(book.id, (), Text("no dwelling is drawn"))
        return
    if standing.machine.exhaust_side is None:
        yield Unjudged(book.id, (), Text("on which side of the generator its exhaust is"))
        return
    aims = list(_aims(scene, standing, book.figure("far_m")))
    worst: dict[int, tuple[_Rank, Finding]] = {}
    for aim in aims:
        finding = _judge(standing, book, aim)
        if finding is None:
            continue
        ranked = (_rank(aim, finding.signal), finding)
        held = worst.get(aim.building)
        if held is None or ranked[0] < held[0]:
            worst[aim.building] = ranked
    yield from (finding for _, finding in worst.values())
    if not worst:
        yield _met(book, aims)


_Rank = tuple[int, float, bool, str]


def _rank(aim: _Aim, signal: Signal) -> _Rank:
    """Order the aims at one building, worst first; at one angle an opening before its wall."""
    nearly = round(aim.off_axis_deg, 3)
    return (-severity(signal), nearly, isinstance(aim.thing, Building), aim.thing.id)


def _aims(scene: Scene, standing: Standing, reach_m: float) -> Iterator[_Aim]:
    slack = accuracy_m(scene.plan)
    setting, plan = scene.setting, scene.plan
    walls = np.flatnonzero(setting.walled_for_openings & (scene.wall_m - slack < reach_m))
    openings = np.flatnonzero(setting.counts & (scene.opening_m - slack < reach_m))
    outlet = Point(standing.outlet_xy)
    things: list[Opening | Building] = [plan.buildings[index] for index in walls]
    things += [plan.openings[index] for index in openings]
    owners = [*walls, *setting.opening_building[openings]]
    shapes = np.concatenate([setting.walls[walls], setting.openings[openings]])
    lines = [*witness_lines(outlet, shapes)]
    for index in walls:
        for place in _other_wings(setting.walls[index], standing.outlet_xy):
            things.append(plan.buildings[index])
            owners.append(index)
            lines.append(np.array([standing.outlet_xy, place]))
    toward = np.array([line[1] - line[0] for line in lines]).reshape(-1, 2)
    angles = _off_axis_deg(standing.exhaust_deg, toward).tolist()
    away = np.hypot(*toward.T).tolist()
    for thing, owner, line, distance, angle in zip(
        things, owners, lines, away, angles, strict=True
    ):
        # A place known to within `slack` may lie this much nearer the axis than drawn.
        doubt = 180.0 if distance <= slack else math.degrees(math.asin(slack / distance))
        building = plan.buildings[owner]
        own = building.owner == "own" and setting.occupied[owner]
        yield _Aim(
            int(owner),
            thing,
            bool(own),
            max(0.0, distance - slack),
            max(0.0, angle - doubt),
            line,
        )


def _other_wings(walls: Polygon, outlet_xy: XY) -> FloatArray:
    """Return where a building with inside corners faces the outlet beside its nearest part."""
    if walls.convex_hull.area - walls.area <= LENGTH_TOLERANCE_M:
        return np.empty((0, 2))
    places = facing_places(walls, outlet_xy)
    away = np.hypot(*(places - np.asarray(outlet_xy)).T)
    beside: FloatArray = places[away > away.min(initial=np.inf) + LENGTH_TOLERANCE_M]
    return beside


def _off_axis_deg(exhaust_deg: float, toward: FloatArray) -> FloatArray:
    """Return how far off the axis each way (n, 2) is [°]; 0 where it has no length."""
    length_m = np.hypot(*toward.T)
    ahead = np.divide(
        toward @ unit_vector(exhaust_deg), length_m, out=np.ones_like(length_m), where=length_m > 0
    )
    return np.asarray(np.degrees(np.arccos(np.clip(ahead, -1.0, 1.0))))


def _limit(book: Rule, aim: _Aim) -> tuple[Signal, float] | None:
    """Return the signal word and the angle [°] it takes to be out of it, or None out of reach."""
    away, aimed = book.figure("away_deg"), book.figure("aimed_deg")
    if falls_short(aim.distance_m, book.figure("near_m")):
        at_it = aim.off_axis_deg < aimed and falls_short(aim.distance_m, book.figure("danger_m"))
        return ("DANGER", away) if at_it else ("WARNING", away)
    if not falls_short(aim.distance_m, book.figure("far_m")):
        return None
    return ("WARNING", away) if aim.own else ("CAUTION", aimed)


def _judge(standing: Standing, book: Rule, aim: _Aim) -> Finding | None:
    found = _limit(book, aim)
    if found is None or aim.off_axis_deg >= found[1] - _ANGLE_TOLERANCE_DEG:
        return None
    signal, limit = found
    tip = standing.outlet_xy + unit_vector(standing.exhaust_deg) * aim.distance_m
    (ax, ay), (bx, by) = aim.line.tolist()
    return Finding(
        rule=book.id,
        signal=signal,
        subjects=(aim.thing.id,),
        what=Text(
            "The exhaust points toward {subject}, {distance} away: {angle} off the line to it, "
            "counting the drawing's accuracy.",
            {
                "subject": label(aim.thing),
                "distance": length(aim.distance_m),
                "angle": Quantity(aim.off_axis_deg, "angle", "down"),
            },
        ),
        do=Text(
            "Turn the generator until the exhaust points more than {limit} off that line, away "
            "from every building people may be in.",
            {"limit": Quantity(limit, "angle", "up")},
        ),
        sources=book.sources,
        measured=Quantity(aim.off_axis_deg, "angle", "down"),
        limit=Quantity(limit, "angle", "up"),
        margin=Quantity(aim.off_axis_deg - limit, "angle", "down"),
        evidence=(
            Evidence("line", ((ax, ay), (bx, by))),
            Evidence("line", (standing.outlet_xy, (float(tip[0]), float(tip[1])))),
        ),
    )


def _met(book: Rule, aims: list[_Aim]) -> Met:
    if not aims:
        what = Text(
            "No building people may be in lies within {reach} of the exhaust.",
            {"reach": length(book.figure("far_m"))},
        )
        return Met(book.id, (), what, book.sources)
    nearest = min(aims, key=lambda aim: (aim.distance_m, aim.thing.id))
    found = _limit(book, nearest)
    away = book.figure("aimed_deg") if found is None else found[1]
    return Met(
        rule=book.id,
        subjects=(nearest.thing.id,),
        what=Text(
            "The exhaust points {angle} off the line to the nearest, {subject}.",
            {
                "angle": Quantity(nearest.off_axis_deg, "angle", "down"),
                "subject": label(nearest.thing),
            },
        ),
        sources=book.sources,
        measured=Quantity(nearest.off_axis_deg, "angle", "down"),
        limit=Quantity(away, "angle", "up"),
        margin=Quantity(nearest.off_axis_deg - away, "angle", "down"),
        checked=len({aim.thing.id for aim in aims}),
    )
