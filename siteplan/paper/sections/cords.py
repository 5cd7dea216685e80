"""The cords, one row each."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Heading, Para, Steps, Table
from siteplan.paper.subject import Subject
from siteplan.plan.document import Plan
from siteplan.plan.labels import label
from siteplan.plan.machine import Cord
from siteplan.rules.power.buy import cord_lines, cords_to_buy
from siteplan.rules.power.cord import needed_m
from siteplan.scene.cords import CordRun
from siteplan.scene.feeds import Feed
from siteplan.words import Text, length

_HEAD_WORDS = ("Cord", "From outlet", "To", "Gauge", "Needs at least", "Pieces")
_TROUBLE_TEXTS = {
    "no-end": "no end entered",
    "no-way": "no way round",
    "way-in-unknown": "way in unknown",
}


def cords(subject: Subject) -> Iterator[Block]:
    """Yield the cords of the placement, or say that none is entered."""
    yield Heading(subject.say("Cords"))
    placement = subject.placement
    if placement is None or not placement.cords:
        yield Para(subject.say("No cord is entered, so none was judged."))
        return
    rows = tuple(_row(subject, feed) for feed in subject.scene.feeds)
    head = tuple(subject.say(one) for one in _HEAD_WORDS)
    yield Table(head, rows, (2.2, 1.3, 2.4, 1.2, 1.3, 1.6))
    for run in subject.scene.cord_runs:
        if run.crossings:
            yield Para(_crossed(subject, run), "small")


def _row(subject: Subject, feed: Feed) -> tuple[str, ...]:
    cord, run, outlet = feed.cord, feed.run, feed.outlet
    pieces = " + ".join(subject.show(length(one, "near")) for one in cord.pieces_m)
    if run.trouble is None:
        way = subject.show(length(needed_m(subject.scene, feed), "up"))
    else:
        way = subject.say(_TROUBLE_TEXTS[run.trouble])
    return (
        subject.show(label(cord)),
        "–" if outlet is None else subject.show(outlet.configuration),
        end_name(subject.plan, cord).say(subject.manner),
        gauge(subject, cord.gauge_awg),
        way,
        pieces or "–",
    )


def _crossed(subject: Subject, run: CordRun) -> str:
    names = {one.id: label(one) for one in (*subject.plan.surroundings, *subject.plan.openings)}
    crossed = [names[one.subject].say(subject.manner) for one in run.crossings]
    return subject.say(
        "{cord} crosses: {things}",
        cord=label(run.cord),
        things=", ".join(dict.fromkeys(crossed)),
    )


def end_name(plan: Plan, cord: Cord) -> Text:
    """Return what a cord runs to."""
    for thing in (*plan.fixtures, *plan.loads):
        if thing.id == cord.to:
            return Text("{name}", {"name": label(thing)})
    return Text("a place on the plan") if cord.end is not None else Text("not entered")


def gauge(subject: Subject, awg: int | None) -> str:
    """Return a wire size as the trade writes it."""
    if awg is None:
        return subject.say("not entered")
    return f"{awg} AWG" if awg > 0 else f"{1 - awg}/0 AWG"


def which(subject: Subject) -> Iterator[Block]:
    """Yield for each cord the one to buy, and why."""
    told = [one.say(subject.manner) for one in cord_lines(cords_to_buy(subject.scene))]
    if told:
        yield Steps(tuple(told), "bullet")
