"""Cords that go into the house through openings."""

from collections.abc import Callable, Iterator

from siteplan.plan.document import Plan
from siteplan.plan.labels import label
from siteplan.plan.lot import Opening
from siteplan.plan.machine import Pass
from siteplan.rules.book import Rule, rule
from siteplan.rules.findings import Evidence, Finding, Met, Outcome, Unjudged
from siteplan.rules.power.crossings import TROUBLE_TEXTS
from siteplan.rules.power.says import each_cord, mark, of_cord
from siteplan.scene import Scene, Standing
from siteplan.scene.feeds import Feed
from siteplan.scene.setting import opening_ends
from siteplan.words import Text

_HOW = Text(
    "Use a power inlet or a listed through-wall outlet, so that no opening stays ajar and nothing "
    "presses on the cord."
)
_DOORS = frozenset({"door", "garage-door", "pet-door"})


def cord_pinched(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a cord in an opening that closes on it."""
    book = rule("cord-pinched")
    wrong = Text("{cord} is pinched in {opening}: the edge cuts it, and it heats where it is cut.")
    well = Text("{cord} is pinched in no opening.")
    yield from each_cord(scene, book, _passing(scene, book, _is("pinched"), wrong, well))


def cord_opening_ajar(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a cord that keeps an opening ajar: exhaust enters, and the edge wears the cord."""
    book = rule("cord-opening-ajar")
    wrong = Text(
        "{cord} keeps {opening} ajar: exhaust comes in by the crack, and the edge wears the cord."
    )
    well = Text("{cord} keeps no opening ajar.")
    yield from each_cord(scene, book, _passing(scene, book, _is("held-ajar"), wrong, well))


def cord_exit(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a cord through a door that people must get out by."""
    book = rule("cord-exit")
    wrong = Text("{cord} lies in {opening}, a way out: people trip there, and it cannot be shut.")
    well = Text("{cord} lies in no door.")

    def door(step: Pass, opening: Opening) -> bool:
        return opening.kind in _DOORS and step.how != "sealed-fitting"

    yield from each_cord(scene, book, _passing(scene, book, door, wrong, well))


def _is(how: str) -> Callable[[Pass, Opening], bool]:
    return lambda step, _opening: step.how == how


def _passing(
    scene: Scene,
    book: Rule,
    wrong_there: Callable[[Pass, Opening], bool],
    wrong: Text,
    well: Text,
) -> Callable[[Feed], Iterator[Outcome]]:
    """Return what judges the openings that one cord passes."""
    openings, place_of = scene.plan.openings, scene.setting.opening_place

    def judge(feed: Feed) -> Iterator[Outcome]:
        name = (feed.cord.id,)
        # A cord that ends nobody knows where may end indoors.
        if feed.run.trouble is not None and not feed.cord.passes:
            yield Unjudged(book.id, name, of_cord(TROUBLE_TEXTS[feed.run.trouble], feed))
            return
        steps = [(step, openings[place_of[step.opening]]) for step in feed.cord.passes]
        found = [opening for step, opening in steps if wrong_there(step, opening)]
        for opening in found:
            what = Text(wrong.template, {"opening": label(opening)})
            yield Finding(
                rule=book.id,
                signal="WARNING",
                subjects=(*name, opening.id),
                what=of_cord(what, feed),
                do=_HOW,
                sources=book.sources,
                evidence=_place(scene.plan, opening),
            )
        if not found:
            yield Met(book.id, name, of_cord(well, feed), book.sources)

    return judge


def _place(plan: Plan, opening: Opening) -> tuple[Evidence, ...]:
    building = plan.building(opening.building)
    assert building is not None  # noqa: S101 - the document checks this reference
    (ax, ay), (bx, by) = opening_ends(opening, building)
    return mark(((ax + bx) / 2.0, (ay + by) / 2.0))
