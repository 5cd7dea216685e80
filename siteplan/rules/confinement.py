"""Roofed places: in a building, and under a roof or overhang. Danger at any distance."""

from collections.abc import Iterator

import numpy as np

from siteplan.plan.around import Shelter
from siteplan.plan.labels import label
from siteplan.plan.lot import Building
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import accuracy_m, falls_short
from siteplan.rules.findings import Evidence, Finding, Met, Outcome, Unjudged
from siteplan.scene import Scene, Standing
from siteplan.words import Text, length

_OUT = Text("Never run it here. Carry it into the open, well away, before starting it.")


def indoors(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a machine that stands in a building, or partly so."""
    book = rule("indoors")
    if not scene.plan.buildings:
        yield Unjudged(book.id, (), Text("no building is drawn"), not_drawn=True)
        return
    inside = np.flatnonzero(scene.wall_m <= 0.0)
    for index in inside:
        building = scene.plan.buildings[index]
        what = Text("The generator stands in {subject}.", {"subject": label(building)})
        yield _refused(book, building, what)
    if not len(inside):
        yield Met(
            book.id,
            (),
            Text("The generator stands outside every building drawn."),
            book.sources,
            checked=len(scene.plan.buildings),
        )


def under_roof(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a machine under eaves, an awning or a tent, or within the drawing's accuracy of it.

    A free-standing canopy open on all four sides is not a roof here; the rule on covers
    judges it.
    """
    book = rule("under-roof")
    slack = accuracy_m(scene.plan)
    eaves = np.flatnonzero((scene.roof_m <= slack) & (scene.wall_m > 0.0))
    for index in eaves:
        building = scene.plan.buildings[index]
        what = Text(
            "The generator stands under the eaves of {subject}, or may, given the drawing's "
            "accuracy.",
            {"subject": label(building)},
        )
        yield _refused(book, building, what)
    over = [
        one
        for one, gap, free in zip(
            scene.setting.shelters, scene.shelter_m, scene.setting.free_canopy, strict=True
        )
        if gap <= slack and not free
    ]
    for shelter in over:
        what = Text("The generator stands under {subject}.", {"subject": label(shelter)})
        yield _refused(book, shelter, what)
    yield from _unknown_overhangs(scene, book)
    checked = len(scene.plan.buildings) + len(scene.setting.shelters)
    if not checked:
        yield Unjudged(book.id, (), Text("no building or other roof is drawn"), not_drawn=True)
    elif not len(eaves) and not over and not (scene.wall_m <= 0.0).any():
        # In a building it stands under that roof too; `indoors` says so.
        what = Text("The generator stands clear of every roof drawn.")
        yield Met(book.id, (), what, book.sources, checked=checked)


def _refused(book: Rule, thing: Building | Shelter, what: Text) -> Finding:
    return Finding(
        rule=book.id,
        signal="DANGER",
        subjects=(thing.id,),
        what=what,
        do=_OUT,
        sources=book.sources,
        evidence=(Evidence("area", thing.outline),),
    )


def _unknown_overhangs(scene: Scene, book: Rule) -> Iterator[Unjudged]:
    reach = book.figure("unknown_overhang_within_m")
    certain = scene.wall_m - accuracy_m(scene.plan)
    for building, distance in zip(scene.plan.buildings, certain, strict=True):
        if building.overhang_m is None and falls_short(float(distance), reach):
            yield Unjudged(
                book.id,
                (building.id,),
                Text(
                    "how far the roof of {subject} reaches beyond its walls, with the generator "
                    "{distance} from them",
                    {"subject": label(building), "distance": length(max(0.0, float(distance)))},
                ),
            )
