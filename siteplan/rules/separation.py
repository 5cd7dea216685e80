"""The separation ladder: distance to openings, and to dwellings and what is attached to them."""

from collections.abc import Iterator

import numpy as np

from siteplan.geometry.arrays import BoolArray, FloatArray
from siteplan.geometry.clearance import witness_lines
from siteplan.plan.labels import label
from siteplan.plan.lot import Building, Opening
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import (
    accuracy_m,
    certain_m,
    falls_short,
    line_evidence,
    local_m,
    three,
)
from siteplan.rules.findings import Finding, Met, Outcome, Signal, Unjudged
from siteplan.scene import Scene, Standing
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Text, length

_RUNGS: tuple[tuple[Signal, str], ...] = (
    ("DANGER", "danger_m"),
    ("WARNING", "warning_m"),
    ("CAUTION", "caution_m"),
)
_DO: dict[Signal, Text] = {
    "DANGER": Text("Do not run it here. Move it to at least {limit}, farther if the lot allows."),
    "WARNING": Text("Move it to at least {limit}, farther if the lot allows."),
    "CAUTION": Text("Move it out to {limit} if the lot allows; still air carries exhaust far."),
}


def separation_opening(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the distance to every opening of every building people may be in."""
    book = rule("separation-opening")
    setting = scene.setting
    openings = scene.plan.openings
    near, found = _short(scene, book, scene.opening_m, setting.counts)
    for index, line in zip(
        near, witness_lines(standing.reach, setting.openings[near]), strict=True
    ):
        yield _finding(scene, book, openings[index], float(scene.opening_m[index]), line)
    yield from _undrawn_openings(scene, book)
    if found is not None:
        yield _met(scene, book, openings[found], float(scene.opening_m[found]), setting.counts)


def separation_building(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the distance to the walls of dwellings and of whatever is attached to one."""
    book = rule("separation-building")
    setting = scene.setting
    if not setting.occupied.any():
        yield Unjudged(book.id, (), Text("no dwelling is drawn"))
        return
    buildings = scene.plan.buildings
    near, found = _short(scene, book, scene.wall_m, setting.occupied)
    for index, line in zip(near, witness_lines(standing.reach, setting.walls[near]), strict=True):
        yield _finding(scene, book, buildings[index], float(scene.wall_m[index]), line)
    if found is not None:
        yield _met(scene, book, buildings[found], float(scene.wall_m[found]), setting.occupied)


def _short(
    scene: Scene, book: Rule, distance_m: FloatArray, counts: BoolArray
) -> tuple[list[int], int | None]:
    """Return the subjects under the highest rung, and the nearest subject that is not."""
    highest = local_m(scene.plan, book.id, book.figure("caution_m"))
    certain = np.where(counts, distance_m - accuracy_m(scene.plan), np.inf)
    short = certain < highest - LENGTH_TOLERANCE_M
    rest = np.where(short, np.inf, certain)
    nearest = int(rest.argmin()) if len(rest) and np.isfinite(rest.min()) else None
    return [int(index) for index in np.flatnonzero(short)], nearest


def rung(scene: Scene, book: Rule, certain: float) -> tuple[Signal, float] | None:
    """Return the signal word and the limit that a distance falls under, or None."""
    for signal, name in _RUNGS:
        figure = book.figure(name)
        # A longer local figure raises the lines between pass and fail, not the step to DANGER.
        limit = figure if signal == "DANGER" else local_m(scene.plan, book.id, figure)
        if falls_short(certain, limit):
            return signal, limit
    return None


def _finding(
    scene: Scene, book: Rule, thing: Opening | Building, measured_m: float, line: FloatArray
) -> Finding:
    certain = certain_m(scene.plan, measured_m)
    found = rung(scene, book, certain)
    signal: Signal = "CAUTION"
    if found is not None:
        signal, _ = found
    aim = "warning_m" if signal in {"DANGER", "WARNING"} else "caution_m"
    limit = local_m(scene.plan, book.id, book.figure(aim))
    what = Text(
        "The generator is {distance} from {subject}, counting the drawing's accuracy; "
        "{limit} is needed."
        if signal != "CAUTION"
        else "The generator is {distance} from {subject}, counting the drawing's accuracy; "
        "{limit} is advised.",
        {"distance": length(certain), "subject": label(thing), "limit": length(limit, "up")},
    )
    return Finding(
        rule=book.id,
        signal=signal,
        subjects=(thing.id,),
        what=what,
        do=Text(_DO[signal].template, {"limit": length(limit, "up")}),
        sources=book.sources,
        evidence=line_evidence(line),
        **three(certain, limit),
    )


def _met(
    scene: Scene, book: Rule, thing: Opening | Building, measured_m: float, counts: BoolArray
) -> Met:
    certain = certain_m(scene.plan, measured_m)
    limit = local_m(scene.plan, book.id, book.figure("caution_m"))
    return Met(
        rule=book.id,
        subjects=(thing.id,),
        what=Text(
            "The nearest that keeps its distance is {subject}, at {distance}.",
            {"subject": label(thing), "distance": length(certain)},
        ),
        sources=book.sources,
        checked=int(counts.sum()),
        **three(certain, limit),
    )


def _undrawn_openings(scene: Scene, book: Rule) -> Iterator[Unjudged]:
    """Name the dwellings near enough for an opening that nobody has drawn to matter."""
    if not scene.plan.buildings:
        yield Unjudged(book.id, (), Text("no building is drawn"))
        return
    reach = local_m(scene.plan, book.id, book.figure("caution_m"))
    certain = scene.roof_m - accuracy_m(scene.plan)
    for index in np.flatnonzero(scene.setting.occupied):
        building = scene.plan.buildings[index]
        # No opening can be nearer than the building itself, so one out of reach needs none.
        if not building.openings_complete and falls_short(float(certain[index]), reach):
            yield Unjudged(
                book.id,
                (building.id,),
                Text(
                    "it is not stated that every opening of {subject} is drawn",
                    {"subject": label(building)},
                ),
            )
