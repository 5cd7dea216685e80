"""Distances between fixtures and openings: they concern the house, the machine apart."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
import shapely

from siteplan.geometry.arrays import FloatArray
from siteplan.plan.labels import label
from siteplan.plan.lot import Building, Opening
from siteplan.rules.book import Rule
from siteplan.rules.common import accuracy_m, certain_m, falls_short, line_evidence, three
from siteplan.rules.findings import Finding, Met, Signal, Unjudged
from siteplan.rules.ladder import whose
from siteplan.scene import Scene
from siteplan.scene.around import Thing
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Text, length


class Pair(NamedTuple):
    """A fixture and an opening, how far apart they are after the drawing's accuracy [m]."""

    thing: Thing
    opening: Opening
    certain_m: float
    line: FloatArray


def openings_near(scene: Scene, place: int, within_m: float) -> Iterator[Pair]:
    """Yield each opening nearer than this [m] to a surrounding or fixture.

    `place` is the thing's place among surroundings and fixtures.
    """
    around, setting = scene.setting.around, scene.setting
    shape = around.shapes[place]
    drawn = within_m + accuracy_m(scene.plan)
    found = setting.opening_tree.query(shape, predicate="dwithin", distance=drawn)
    for index in np.sort(found).tolist():
        line = shapely.get_coordinates(shapely.shortest_line(shape, setting.openings[index]))
        certain = certain_m(scene.plan, float(np.hypot(*(line[1] - line[0]))))
        if falls_short(certain, within_m):
            yield Pair(around.things[place], scene.plan.openings[index], certain, line)


def pair_finding(
    scene: Scene, book: Rule, pair: Pair, step: tuple[Signal, float], do: Text
) -> Finding:
    """Return the finding on a fixture too near an opening; `step` is signal and limit [m]."""
    signal, limit_m = step
    return Finding(
        rule=book.id,
        signal=signal,
        subjects=(pair.thing.id, pair.opening.id),
        what=Text(
            "{first} and {second} are {distance} apart, counting the drawing's accuracy; "
            "{limit} is needed.",
            {
                "first": label(pair.thing),
                "second": whose(scene.plan, pair.opening),
                "distance": length(pair.certain_m),
                "limit": length(limit_m, "up"),
            },
        ),
        do=do,
        sources=book.sources,
        evidence=line_evidence(pair.line),
        **three(pair.certain_m, limit_m),
    )


def undrawn_near(
    scene: Scene, book: Rule, places: Sequence[int], within_m: float
) -> list[Unjudged]:
    """Return the buildings so near [m] that an opening of theirs that nobody has drawn matters."""
    setting = scene.setting
    reach = within_m + accuracy_m(scene.plan)
    gaps = shapely.distance(setting.walls[:, None], setting.around.shapes[list(places)])
    near = (gaps < reach - LENGTH_TOLERANCE_M).any(axis=1)
    return [
        undrawn(book, building)
        for building, close in zip(scene.plan.buildings, near.tolist(), strict=True)
        if close and not building.openings_complete
    ]


def undrawn(book: Rule, building: Building) -> Unjudged:
    """Return the gap that is left while openings of a building may be undrawn."""
    missing = Text(
        "it is not stated that every opening of {subject} is drawn", {"subject": label(building)}
    )
    return Unjudged(book.id, (building.id,), missing)


def apart(book: Rule, subjects: tuple[str, ...], limit_m: float) -> Met:
    """Return what is met when no opening is too near."""
    limit = length(limit_m, "up")
    what = Text("Every opening drawn that counts is at least {limit} away.", {"limit": limit})
    return Met(book.id, subjects, what, book.sources, limit=limit, checked=len(subjects))


def nothing_to_pair(scene: Scene, book: Rule, *kinds: str, absent: Text) -> Unjudged | None:
    """Return why the rule cannot be judged, when the fixture or every opening is undrawn."""
    if not len(scene.setting.around.places(*kinds)):
        return Unjudged(book.id, (), absent, not_drawn=True)
    if not scene.plan.openings:
        # Nobody stated that there are no openings by stating that there is no such fixture.
        return Unjudged(book.id, (), Text("no opening is drawn"))
    return None
