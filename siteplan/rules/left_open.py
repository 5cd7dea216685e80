"""Openings that stand open, or ajar for a cord, while the generator runs."""

from collections.abc import Iterator

import numpy as np

from siteplan.geometry.arrays import FloatArray
from siteplan.geometry.clearance import witness_lines
from siteplan.plan.lot import Opening
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import certain_m, falls_short, line_evidence
from siteplan.rules.findings import Finding, Met, Outcome, Unjudged
from siteplan.rules.ladder import whose
from siteplan.scene import Scene, Standing
from siteplan.words import Text, length

_HELD = frozenset({"held-ajar", "pinched"})
_SHUT = Text("Shut it while the generator runs.")
_INLET = Text(
    "Run the cord to a power inlet or through a sealed wall fitting, and shut it. A crack for a "
    "cord is an open opening."
)


def opening_left_open(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Warn of every opening that is open, or ajar for a cord of this placement."""
    book = rule("opening-left-open")
    openings, counts = scene.plan.openings, scene.setting.counts
    ajar = ajar_for_cord(scene, standing)
    stand_open = scene.setting.not_shut.copy()
    stand_open[[scene.setting.opening_place[name] for name in ajar]] = True
    if not (counts | stand_open).any():
        yield Unjudged(book.id, (), Text("no opening is drawn that could stand open"))
        return
    places = np.flatnonzero(stand_open).tolist()
    lines = witness_lines(standing.reach, scene.setting.openings[places])
    for place, line in zip(places, lines, strict=True):
        yield _finding(scene, book, place, line, for_cord=openings[place].id in ajar)
    if not places:
        what = Text("Every opening drawn is to stay shut.")
        yield Met(book.id, (), what, book.sources, checked=int(counts.sum()))


def ajar_for_cord(scene: Scene, standing: Standing) -> frozenset[str]:
    """Return the ids of openings that a cord keeps from shutting."""
    openings = scene.plan.openings
    not_shut = [openings[place] for place in np.flatnonzero(scene.setting.not_shut).tolist()]
    stated = {one.id for one in not_shut if one.state == "ajar-for-cord"}
    passed = {
        step.opening
        for cord in standing.placement.cords
        for step in cord.passes
        if step.how in _HELD
    }
    return frozenset(stated | passed)


def _finding(scene: Scene, book: Rule, place: int, line: FloatArray, *, for_cord: bool) -> Finding:
    opening: Opening = scene.plan.openings[place]
    certain = certain_m(scene.plan, float(scene.opening_m[place]))
    near = falls_short(certain, book.figure("reach_m"))
    return Finding(
        rule=book.id,
        signal="WARNING" if near else "CAUTION",
        subjects=(opening.id,),
        what=Text(
            "{subject}, {distance} from the generator, is kept ajar for a cord."
            if for_cord
            else "{subject}, {distance} from the generator, is to stand open while it runs.",
            {"subject": whose(scene.plan, opening), "distance": length(certain)},
        ),
        do=_INLET if for_cord else _SHUT,
        sources=book.sources,
        measured=length(certain),
        evidence=line_evidence(line),
    )
