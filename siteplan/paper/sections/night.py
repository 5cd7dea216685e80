"""The plan for the night: stops to refuel, fuel to have at hand, what stays on."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Card, Fields, Para, Picture
from siteplan.paper.night import SHOWN_H, Night, clock, stops
from siteplan.paper.subject import Subject
from siteplan.paper.timeline import HEIGHT_MM
from siteplan.plan.labels import label
from siteplan.words import Quantity, Text

_MOST_STOPS = 4


def night(subject: Subject, found: Night | Text, width_mm: float) -> Card:
    """Return the night's plan as a card; what is missing for it is said."""
    title = subject.say("The night")
    if isinstance(found, Text):
        text = subject.say("Not judged: {missing}.", missing=found)
        return Card(title, (Para(text), Fields(tuple(_quiet(subject)))))
    blocks: list[Block] = [
        Picture("timeline", width_mm, HEIGHT_MM, _spoken(subject, found)),
        Fields((*_figures(subject, found), *_quiet(subject), *_on(subject))),
    ]
    return Card(title, tuple(blocks))


def _spoken(subject: Subject, found: Night) -> str:
    return subject.say(
        "The first day of the outage by the hour. Stops: {stops}", stops=_stops(subject, found)
    )


def _stops(subject: Subject, found: Night) -> str:
    times = [
        f"{clock(found.start_h, stop)}–{clock(found.start_h, again)}"
        for stop, again in stops(found, SHOWN_H)
    ]
    if not times:
        return subject.say("none in the first day")
    more = "" if len(times) <= _MOST_STOPS else " …"
    return ", ".join(times[:_MOST_STOPS]) + more


def _figures(subject: Subject, found: Night) -> Iterator[tuple[str, str]]:
    yield subject.say("Stop, cool, refuel"), _stops(subject, found)
    yield (
        subject.say("Fuel for the outage"),
        subject.say(
            "{fuel} for {hours}, the first tank included",
            fuel=Quantity(found.outage.fuel_l, "volume", "up"),
            hours=Quantity(found.outage.stretches[-1].end_h * 3600.0, "time", "near"),
        ),
    )


def _quiet(subject: Subject) -> Iterator[tuple[str, str]]:
    outage = subject.plan.outage
    yield subject.say("Quiet hours"), f"{outage.quiet_from}–{outage.quiet_to}"


def _on(subject: Subject) -> Iterator[tuple[str, str]]:
    loads = subject.plan.loads
    on = [label(one).say(subject.manner) for one in loads if one.when != "day"]
    off = [label(one).say(subject.manner) for one in loads if one.when == "day"]
    yield subject.say("Stays on at night"), ", ".join(on) or subject.say("nothing")
    if off:
        yield subject.say("Off at night"), ", ".join(off)
    medical = [label(one).say(subject.manner) for one in loads if one.medical]
    if medical:
        yield (
            subject.say("Medical"),
            subject.say("{devices}: have a battery for every stop", devices=", ".join(medical)),
        )
