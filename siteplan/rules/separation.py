"""The separation ladder: distance to openings, and to dwellings and what is attached to them."""

from collections.abc import Iterator

import numpy as np

from siteplan.plan.labels import label
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import accuracy_m, falls_short
from siteplan.rules.findings import Met, Outcome, Unjudged
from siteplan.rules.ladder import Says, highest_m, ladder
from siteplan.rules.pairs import undrawn
from siteplan.scene import Scene, Standing
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Text

_MOVE = Text("Move it to at least {limit}, farther if the lot allows.")
_DANGER = Text("Do not run it here. Move it to at least {limit}, farther if the lot allows.")
_FARTHER = Text("Move it out to {limit} if the lot allows; still air carries exhaust far.")
_OPENINGS = Says(_MOVE, Text("no opening is drawn that exhaust could enter by"), _DANGER, _FARTHER)
_BUILDINGS = Says(_MOVE, Text("no dwelling is drawn"), _DANGER, _FARTHER)
_INTAKES = Says(
    Text(
        "A fan or burner draws outdoor air in here. Move the generator to at least {limit} from "
        "it, or shut the equipment off and close it up while the generator runs."
    ),
    Text(
        "no air intake, room air conditioner or evaporative cooler is drawn; the building may "
        "have one"
    ),
    advised=Text("Move it out to {limit} if the lot allows: a fan or burner draws air in here."),
)


def separation_opening(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the distance to every opening of every building people may be in."""
    book = rule("separation-opening")
    near = scene.near_openings.only(scene.setting.counts)
    yield from ladder(scene, standing, book, near, _OPENINGS)
    yield from _undrawn_openings(scene, book)
    yield from _unknown_drip_lines(scene, book)


def separation_building(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the distance to the walls of dwellings and of whatever is attached to one.

    Of other buildings people may be in, walls stand for openings that nobody has drawn.
    """
    book = rule("separation-building")
    near = scene.near_buildings.only(scene.setting.walled_for_openings)
    found = list(ladder(scene, standing, book, near, _BUILDINGS))
    if not near.things or scene.plan.has_home:
        yield from found
        return
    # The home of those who run it is somewhere: other buildings do not keep its distance.
    yield from (one for one in found if not isinstance(one, Met))
    if not any(isinstance(one, Unjudged) for one in found):
        yield Unjudged(book.id, (), Text("no dwelling of your own is drawn"))


def separation_intake(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the longer distance to openings through which air is drawn in."""
    near = scene.near_openings.only(scene.setting.intakes)
    yield from ladder(scene, standing, rule("separation-intake"), near, _INTAKES)


def _undrawn_openings(scene: Scene, book: Rule) -> Iterator[Unjudged]:
    """Name the buildings near enough for an opening that nobody has drawn to matter."""
    reach = highest_m(scene.plan, book)
    certain = scene.roof_m - accuracy_m(scene.plan)
    # No opening can be nearer than the building itself, so one out of reach needs none.
    near = certain < reach - LENGTH_TOLERANCE_M
    for index in np.flatnonzero(scene.setting.walled_for_openings & near):
        building = scene.plan.buildings[index]
        if not building.openings_complete:
            yield undrawn(book, building)


def _unknown_drip_lines(scene: Scene, book: Rule) -> Iterator[Unjudged]:
    """Name the soffit vents whose drip line may be nearer than the wall they are drawn on."""
    reach = highest_m(scene.plan, book) + book.figure("unknown_overhang_m")
    certain = scene.opening_m - accuracy_m(scene.plan)
    for index in np.flatnonzero(scene.setting.drip_line_unknown):
        if falls_short(float(certain[index]), reach):
            vent = scene.plan.openings[index]
            yield Unjudged(
                book.id,
                (vent.id,),
                Text(
                    "how far the roof reaches beyond the wall at {subject}; its distance is "
                    "taken from the drip line",
                    {"subject": label(vent)},
                ),
            )
