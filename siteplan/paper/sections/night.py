"""The plan for the night: stops to refuel, fuel to have at hand, what stays on."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Card, Fields, Para, Picture, Steps
from siteplan.paper.subject import Subject
from siteplan.paper.timeline import HEIGHT_MM, SHOWN_H
from siteplan.plan.labels import label
from siteplan.rules import night_words
from siteplan.rules.night import NightPlan

_MOST_STOPS = 4
# What the outage burns and how often it stops is seen above the lines.
_SHOWN_BY_THE_BAR = 1


def night(subject: Subject, found: NightPlan, width_mm: float) -> Card:
    """Return the night's plan as a card; what is missing for it is said."""
    title = subject.say("The night")
    if found.missing:
        text = night_words.missing_line(found).say(subject.manner)
        return Card(title, (Para(text), Fields(tuple(_quiet(subject)))))
    told = night_words.fuel_lines(found, subject.plan)
    lines = tuple(one.say(subject.manner) for one in told)[_SHOWN_BY_THE_BAR:]
    blocks: list[Block] = [
        Picture("timeline", width_mm, HEIGHT_MM, _spoken(subject, found)),
        Fields((_stop_row(subject, found), *_quiet(subject), *_on(subject))),
        Steps(lines, "bullet"),
    ]
    return Card(title, tuple(blocks))


def _spoken(subject: Subject, found: NightPlan) -> str:
    return subject.say(
        "The first day of the outage by the hour. Stops: {stops}", stops=_stops(subject, found)
    )


def _stop_row(subject: Subject, found: NightPlan) -> tuple[str, str]:
    return subject.say("Stop, cool, refuel"), _stops(subject, found)


def _stops(subject: Subject, found: NightPlan) -> str:
    times = [
        f"{found.clock(one.stop_h)}–{found.clock(one.start_h, later=True)}"
        for one in found.stops
        if one.stop_h < SHOWN_H
    ]
    if not times:
        return subject.say("none in the first day")
    more = "" if len(times) <= _MOST_STOPS else " …"
    return ", ".join(times[:_MOST_STOPS]) + more


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
