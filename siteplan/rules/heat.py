"""Heat and fire: clear air, what can burn, decks, plants and outdoor units."""

from collections.abc import Iterator

import numpy as np

from siteplan.rules.book import Rule, rule
from siteplan.rules.findings import Met, Outcome, Unjudged
from siteplan.rules.ladder import STANDS_ON, Says, highest_m, judged, ladder, whose
from siteplan.scene import Near, Scene, Standing
from siteplan.scene.around import Thing
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Text, length

_CLEAR = Says(
    Text("Leave at least {limit} of clear air on every side of the generator."),
    Text("no building, fence or tree is drawn"),
)
_BURNS = Says(
    Text("Move it to at least {limit} from walls and fences that can burn."),
    Text("no building or fence is drawn"),
)
_DECK = Says(
    Text("Stand it on the ground, at least {limit} from a deck that can burn."),
    Text("no deck is drawn"),
    on=STANDS_ON,
)
_BRUSH = Says(
    Text("Clear the plants, or move the generator to at least {limit} from them."),
    Text("no brush or hedge is drawn"),
    on=STANDS_ON,
)
_UNIT = Says(
    Text("Move it to at least {limit} from the unit, and keep the unit off on generator power."),
    Text("no air-conditioner outdoor unit is drawn"),
)


def clear_air(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the clear air between the machine and anything solid beside it."""
    solids = scene.near_buildings.joined(scene.near("fence", "wall", "hedge", "tree"))
    yield from ladder(scene, standing, rule("clear-air"), solids, _CLEAR)


def combustible_wall(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the distance to walls and fences that can burn."""
    walls = scene.near_buildings.joined(scene.near("fence", "wall"))
    yield from _if_it_burns(scene, standing, rule("combustible-wall"), walls, _BURNS)


def deck(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Refuse a machine on a deck, and judge the distance to decks that can burn."""
    yield from _if_it_burns(scene, standing, rule("deck"), scene.near("deck"), _DECK)


def brush(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the distance to brush and hedges."""
    yield from ladder(scene, standing, rule("brush"), scene.near("brush", "hedge"), _BRUSH)


def outdoor_unit(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the distance to the outdoor parts of air conditioners."""
    yield from ladder(scene, standing, rule("outdoor-unit"), scene.near("outdoor-unit"), _UNIT)


def burns(thing: Thing) -> bool | None:
    """Tell whether a thing can burn; None if that is not stated or not known of such things."""
    stated: bool | None = getattr(thing, "combustible", None)
    return stated


def _if_it_burns(
    scene: Scene, standing: Standing, book: Rule, near: Near, says: Says
) -> Iterator[Outcome]:
    """Judge what can burn by distance; near things of unknown material are not judged."""
    if not near.things:
        yield Unjudged(book.id, (), says.absent, not_drawn=True)
        return
    can = [burns(thing) for thing in near.things]
    certain, short = judged(scene, book, near.distance_m, touching=bool(says.on))
    # To stand on a thing is wrong whatever it is made of.
    apart = np.full(len(can), True) if not says.on else certain > LENGTH_TOLERANCE_M
    unknown = np.array([one is None for one in can]) & short & apart
    for place in np.flatnonzero(unknown).tolist():
        thing = near.things[place]
        what = Text(
            "whether {subject} can burn, with the generator {distance} from it",
            {"subject": whose(scene.plan, thing), "distance": length(float(certain[place]))},
        )
        yield Unjudged(book.id, (thing.id,), what)
    left_out = unknown | (np.array([one is False for one in can]) & apart)
    if not left_out.all():
        distance = np.where(left_out, np.inf, near.distance_m)
        yield from ladder(scene, standing, book, Near(near.things, near.shapes, distance), says)
    elif not unknown.any():
        limit = length(highest_m(scene.plan, book), "up")
        what = Text("Nothing drawn within {limit} can burn.", {"limit": limit})
        yield Met(book.id, (), what, book.sources, limit=limit, checked=len(near.things))
