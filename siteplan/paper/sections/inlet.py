"""Where each inlet or through-wall outlet goes on its wall, with dimensions."""

import math
from collections.abc import Iterator

import numpy as np
from shapely import Point

from siteplan.drawing.walls import building_name
from siteplan.geometry.clearance import distances
from siteplan.paper.blocks import Block, Fields, Heading, Para
from siteplan.paper.sections.place import compass
from siteplan.paper.subject import Subject
from siteplan.plan.around import GasPoint, Panel, PowerInlet, ThroughWallOutlet
from siteplan.plan.labels import label
from siteplan.plan.rings import wall, wall_length_m
from siteplan.scene.around import fixture_xy
from siteplan.scene.walls import outward_normal
from siteplan.words import Quantity, Text, length

Pairs = list[tuple[str, str]]
XY = tuple[float, float]

_AWAY_LABELS: dict[type[GasPoint | Panel], str] = {
    GasPoint: "Nearest gas regulator or meter",
    Panel: "To the panel",
}


def inlets(subject: Subject) -> Iterator[Block]:
    """Yield one group of names and values for each inlet."""
    yield Heading(subject.say("Inlet"))
    found = [
        one for one in subject.plan.fixtures if isinstance(one, PowerInlet | ThroughWallOutlet)
    ]
    if not found:
        yield Para(subject.say("No inlet is entered, so its place was not judged."))
    for one in found:
        at = fixture_xy(one, subject.plan)
        pairs: Pairs = [
            (subject.say("Name"), label(one).say(subject.manner)),
            (subject.say("Configuration"), _configuration(subject, one)),
            *_place(subject, one),
            (subject.say("Height above ground"), subject.show(_maybe(one.height_m))),
            *_nearest(subject, at),
            *_equipment(subject, one),
        ]
        yield Fields(tuple(pairs))


def _configuration(subject: Subject, one: PowerInlet | ThroughWallOutlet) -> str:
    amperes = Quantity(one.rating_a, "current")
    return f"{subject.show(one.receptacle)}, {subject.show(amperes)}"


def _maybe(value_m: float | None) -> Quantity | None:
    return None if value_m is None else length(value_m, "near")


def _place(subject: Subject, one: PowerInlet | ThroughWallOutlet) -> Iterator[tuple[str, str]]:
    building = None if one.on is None else subject.plan.building(one.on.building)
    if one.on is None or building is None:
        text = subject.say("not fixed to a wall; measured from the plan at its scale")
        yield subject.say("Place"), text
        return
    nx, ny = outward_normal(building, one.on.wall)
    toward = compass(subject, math.degrees(math.atan2(nx, ny)))
    near, far = wall(building.outline, one.on.wall)
    whole = wall_length_m(building.outline, one.on.wall)
    values: dict[str, Quantity | Text | str | int] = {
        "point": Text(toward),
        "building": building_name(building),
        "near": length(one.on.offset_m, "near"),
        "far": length(whole - one.on.offset_m, "near"),
        "one": Text(_end(subject, near, far)),
        "other": Text(_end(subject, far, near)),
    }
    yield (
        subject.say("Place"),
        subject.say(
            "{point} wall of {building}, {near} from its {one} corner and {far} from its {other} "
            "corner",
            **values,
        ),
    )


def _end(subject: Subject, corner: XY, other: XY) -> str:
    return compass(subject, math.degrees(math.atan2(corner[0] - other[0], corner[1] - other[1])))


def _nearest(subject: Subject, at: XY) -> Iterator[tuple[str, str]]:
    plan, setting = subject.plan, subject.scene.setting
    if len(setting.openings):
        away = distances(Point(at), setting.openings)
        index = int(np.nanargmin(away))
        yield (
            subject.say("Nearest opening"),
            subject.say(
                "{subject}, {distance}",
                subject=label(plan.openings[index]),
                distance=length(float(away[index])),
            ),
        )
    for kind, name in _AWAY_LABELS.items():
        things = [one for one in plan.fixtures if isinstance(one, kind)]
        if things:
            best = min(things, key=lambda one: math.dist(at, fixture_xy(one, plan)))
            distance = length(math.dist(at, fixture_xy(best, plan)))
            yield (
                subject.say(name),
                subject.say("{subject}, {distance}", subject=label(best), distance=distance),
            )


def _equipment(subject: Subject, one: PowerInlet | ThroughWallOutlet) -> Iterator[tuple[str, str]]:
    if isinstance(one, PowerInlet):
        yield subject.say("Enclosure rated for rain"), subject.answer(one.outdoor_enclosure)
        yield subject.say("Interlocked disconnect"), subject.answer(one.interlocked_disconnect)
        yield subject.say("Sign: neutral bonded or floating"), subject.answer(one.neutral_sign)
    else:
        yield subject.say("Ground-fault protection"), subject.answer(one.gfci)
