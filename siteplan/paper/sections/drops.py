"""Voltage lost on the way to each load: cord, and behind an inlet feeder and branch."""

import math
from collections.abc import Iterator

from siteplan.paper.blocks import Block, Heading, Para, Table
from siteplan.paper.subject import Subject
from siteplan.plan.labels import label
from siteplan.plan.needs import Load
from siteplan.power.receptacles import LINE_TO_NEUTRAL_V
from siteplan.rules.power.currents import cord_drop, running, while_starting
from siteplan.rules.power.gauge import chain_drop
from siteplan.rules.power.span import Span
from siteplan.scene.feeds import Feed
from siteplan.words import Quantity, Text

_HEAD_WORDS = ("Load", "By cord", "Lost in the cord", "Lost in all, running", "While it starts")


def drops(subject: Subject) -> Iterator[Block]:
    """Yield the voltage lost to each load that a cord feeds; nothing if none is fed."""
    fed = [(feed, load) for feed in subject.scene.feeds for load in feed.loads]
    if not fed:
        return
    yield Heading(subject.say("Voltage lost on the way"))
    rows = tuple(_row(subject, feed, load) for feed, load in fed)
    yield Table(tuple(subject.say(one) for one in _HEAD_WORDS), rows, (2.2, 1.6, 2, 2, 2))
    yield Para(
        subject.say("Of 120 V. Where data are missing the figure is the least it can be."), "small"
    )


def _row(subject: Subject, feed: Feed, load: Load) -> tuple[str, ...]:
    transfer = subject.plan.transfer
    now, then = running(feed), while_starting(feed, load)
    starting_w = load.running_w if load.starting_w is None else load.starting_w
    return (
        label(load).say(subject.manner),
        subject.show(label(feed.cord)),
        _lost(subject, cord_drop(feed, now.loop_a)),
        _lost(subject, chain_drop(transfer, feed, load, now, load.running_w)),
        _lost(subject, chain_drop(transfer, feed, load, then, starting_w)),
    )


def _lost(subject: Subject, share: Span) -> str:
    values: dict[str, Quantity | Text | str | int] = {
        "share": Quantity(share.least * 100.0, "percent", "up"),
        "volts": Quantity(share.least * LINE_TO_NEUTRAL_V, "voltage", "up"),
    }
    if share.missing:
        return subject.say("at least {share} ({volts})", **values)
    if math.isclose(share.least, share.most):
        return subject.say("{share} ({volts})", **values)
    worst = Quantity(share.most * 100.0, "percent", "up")
    return subject.say("{share} to {worst}", share=values["share"], worst=worst)
