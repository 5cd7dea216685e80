"""What cords cross on their way over the ground."""

from collections.abc import Callable, Iterator

from siteplan.plan.labels import label
from siteplan.rules.book import Rule, rule
from siteplan.rules.findings import Finding, Met, Outcome, Signal, Unjudged
from siteplan.rules.power.says import each_cord, mark, of_cord
from siteplan.scene import Scene, Standing
from siteplan.scene.cords import Crossing
from siteplan.scene.feeds import Feed
from siteplan.words import Text

TROUBLE_TEXTS = {
    "no-end": Text("where {cord} ends"),
    "no-way": Text("a way for {cord}: none leads there round what is drawn"),
    "way-in-unknown": Text("through which opening {cord} goes into the house, and how"),
}
_RAMP = Text("whether a ramp covers {cord} where it crosses {ground}")


def cord_vehicles(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a cord across a driveway without a ramp over it."""
    book = rule("cord-vehicles")

    def judge(feed: Feed, crossing: Crossing, ground: Text) -> Outcome:
        names = (feed.cord.id, crossing.subject)
        if feed.cord.ramp_at_driveway is None:
            return Unjudged(book.id, names, of_cord(Text(_RAMP.template, {"ground": ground}), feed))
        if feed.cord.ramp_at_driveway:
            well = Text("A ramp covers {cord} where it crosses {ground}.", {"ground": ground})
            return Met(book.id, names, of_cord(well, feed), book.sources)
        what = Text(
            "{cord} crosses {ground} with no ramp over it: wheels crush it.", {"ground": ground}
        )
        do = Text("Lead it round, or lay a cord ramp made for vehicles over it.")
        return _finding(book, "WARNING", (feed, crossing), what, do)

    yield from _crossing(scene, book, {"driveway"}, judge, Text("{cord} crosses no driveway."))


def cord_trip(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Advise against a cord across a walk or before a door."""
    book = rule("cord-trip")

    def judge(feed: Feed, crossing: Crossing, ground: Text) -> Outcome:
        what = Text("{cord} crosses {ground}: people trip there in the dark.", {"ground": ground})
        do = Text("Lead it round, or cover it with a ramp and light the place.")
        return _finding(book, "CAUTION", (feed, crossing), what, do)

    well = Text("{cord} crosses no walk and lies before no door.")
    yield from _crossing(scene, book, {"walk", "doorway"}, judge, well)


def cord_water(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a cord through water."""
    book = rule("cord-water")

    def judge(feed: Feed, crossing: Crossing, ground: Text) -> Outcome:
        what = Text("{cord} lies in {ground}.", {"ground": ground})
        do = Text("Lead it round on dry ground, its joints and ends clear of water.")
        return _finding(book, "DANGER", (feed, crossing), what, do)

    well = Text("{cord} lies in no pool or standing water drawn.")
    yield from _crossing(scene, book, {"pool", "standing-water"}, judge, well)


def _crossing(
    scene: Scene,
    book: Rule,
    kinds: set[str],
    judge: Callable[[Feed, Crossing, Text], Outcome],
    well: Text,
) -> Iterator[Outcome]:
    """Yield what is to be said of each cord and of each thing of these kinds that it crosses."""
    things = scene.setting.by_id

    def cord(feed: Feed) -> Iterator[Outcome]:
        if feed.run.trouble is not None:
            missing = of_cord(TROUBLE_TEXTS[feed.run.trouble], feed)
            yield Unjudged(book.id, (feed.cord.id,), missing)
            return
        crossed = [one for one in feed.run.crossings if one.kind in kinds]
        for one in crossed:
            yield judge(feed, one, label(things[one.subject]))
        if not crossed:
            yield Met(book.id, (feed.cord.id,), of_cord(well, feed), book.sources)

    yield from each_cord(scene, book, cord)


def _finding(
    book: Rule, signal: Signal, place: tuple[Feed, Crossing], what: Text, do: Text
) -> Finding:
    feed, crossing = place
    return Finding(
        rule=book.id,
        signal=signal,
        subjects=(feed.cord.id, crossing.subject),
        what=of_cord(what, feed),
        do=do,
        sources=book.sources,
        evidence=mark(crossing.at),
    )
