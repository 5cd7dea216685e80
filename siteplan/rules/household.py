"""Alarms, the extinguisher, and labels that promise less carbon monoxide."""

from collections.abc import Iterator, Sequence

from siteplan.plan.labels import label
from siteplan.plan.needs import AlarmSpot
from siteplan.rules.book import Rule, rule
from siteplan.rules.findings import Finding, Met, Outcome, Unjudged
from siteplan.scene import Scene
from siteplan.words import Text

_FIT = Text("Fit a carbon monoxide alarm there before the generator runs.")
_BATTERY = Text("Fit one with a battery or battery back-up: the power is out.")
_NO_DWELLING = Text("no dwelling is drawn")
_SLEEPING = Text("no sleeping area is entered for carbon monoxide alarms")


def co_alarms(scene: Scene) -> Iterator[Outcome]:
    """Ask for a working alarm on every storey and outside each sleeping area."""
    book = rule("co-alarms")
    spots = scene.plan.household.alarm_spots
    if not spots:
        yield Unjudged(
            book.id, (), Text("where there are carbon monoxide alarms: no storey or sleeping area "
                              "is entered"),
        )  # fmt: skip
        return
    outcomes = [found for spot in spots if (found := _spot(book, spot)) is not None]
    outcomes += _not_entered(scene, book, spots)
    yield from outcomes
    if not outcomes:
        what = Text("Every storey and sleeping area entered has a working alarm on batteries.")
        subjects = tuple(spot.id for spot in spots)
        yield Met(book.id, subjects, what, book.sources, checked=len(spots))


def _spot(book: Rule, spot: AlarmSpot) -> Outcome | None:
    values = {"place": label(spot)}
    if spot.alarm is None:
        missing = Text("whether there is a working carbon monoxide alarm at {place}", values)
        return Unjudged(book.id, (spot.id,), missing)
    if not spot.alarm:
        what = Text("There is no working carbon monoxide alarm at {place}.", values)
        return Finding(book.id, "WARNING", (spot.id,), what, _FIT, book.sources)
    if spot.battery is None:
        missing = Text("whether the alarm at {place} has a battery", values)
        return Unjudged(book.id, (spot.id,), missing)
    if not spot.battery:
        what = Text("The carbon monoxide alarm at {place} has no battery.", values)
        return Finding(book.id, "WARNING", (spot.id,), what, _BATTERY, book.sources)
    return None


def _not_entered(scene: Scene, book: Rule, spots: Sequence[AlarmSpot]) -> list[Unjudged]:
    """Return the storeys and sleeping areas that must be there and are not entered."""
    missing = []
    entered = sum(spot.place == "storey" for spot in spots)
    own = [one for one in scene.plan.buildings if one.is_home]
    if not own:
        missing.append(Unjudged(book.id, (), _NO_DWELLING))
    for one in own:
        if one.storeys is None:
            text = Text(
                "how many storeys {subject} has: each needs an alarm", {"subject": label(one)}
            )
            missing.append(Unjudged(book.id, (one.id,), text))
    storeys = max([1, *(one.storeys or 1 for one in own)])
    if entered < storeys:
        values = {"entered": entered, "storeys": storeys}
        text = Text(
            "alarms on every storey: {entered} of at least {storeys} storeys are entered", values
        )
        missing.append(Unjudged(book.id, (), text))
    if all(spot.place != "sleeping-area" for spot in spots):
        missing.append(Unjudged(book.id, (), _SLEEPING))
    return missing


def extinguisher(scene: Scene) -> Iterator[Outcome]:
    """Judge what was answered about a fire extinguisher."""
    book = rule("extinguisher")
    answer = scene.plan.household.extinguisher
    if answer is None:
        yield Unjudged(book.id, (), Text("whether a fire extinguisher is at hand"))
    elif answer:
        yield Met(book.id, (), Text("A fire extinguisher is at hand."), book.sources)
    else:
        what = Text("No fire extinguisher is at hand.")
        do = Text("Keep one rated 2A-20BC or better near, but not beside, the generator.")
        yield Finding(book.id, "CAUTION", (), what, do, book.sources)


def low_co_label(scene: Scene) -> Iterator[Outcome]:
    """Say that a low-emission label or a shut-off shortens no distance."""
    book = rule("low-co-label")
    machine = scene.plan.machine
    if machine is None:
        yield Unjudged(book.id, (), Text("no generator is entered"))
    elif machine.co_shutoff or machine.co_label_g_per_h is not None:
        what = Text(
            "The generator has a low-emission label or a carbon monoxide shut-off. No distance "
            "here is shortened for it: the sensor smells the air at the generator, not indoors."
        )
        do = Text("Keep every distance, and keep the alarms in the house.")
        yield Finding(book.id, "NOTICE", (), what, do, book.sources)
    elif machine.co_shutoff is None:
        missing = Text("whether the generator has a carbon monoxide shut-off; it would shorten "
                       "no distance")  # fmt: skip
        yield Unjudged(book.id, (), missing)
    else:
        what = Text("The generator has no carbon monoxide shut-off; no distance counts on one.")
        yield Met(book.id, (), what, book.sources)
