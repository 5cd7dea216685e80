"""What has to be at hand or bought, as one list."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Heading, Para, Table
from siteplan.paper.subject import Subject
from siteplan.plan.around import PowerInlet, ThroughWallOutlet
from siteplan.plan.labels import label
from siteplan.plan.machine import Cord
from siteplan.rules.power.buy import CordToBuy, cord_for
from siteplan.words import Quantity, Text, length

_HEAD_WORDS = ("Part", "Count", "Size", "Length")
_TRANSFER_TEXTS = {
    "interlock": "Interlock kit for the panel, listed for it",
    "manual-switch": "Manual transfer switch",
    "automatic-switch": "Automatic transfer switch",
}

Part = tuple[Text, int, Text | None, float | None]
"""What it is, how many, its size, and its length [m]."""


def parts(subject: Subject) -> Iterator[Block]:
    """Yield the parts as a table."""
    yield Heading(subject.say("Parts"))
    rows = tuple(_row(subject, part) for part in listed(subject))
    if not rows:
        yield Para(subject.say("No cord, inlet or transfer equipment is entered."))
        return
    head = tuple(subject.say(one) for one in _HEAD_WORDS)
    yield Table(head, rows, (4.5, 0.8, 2.2, 1.4), (1, 3))
    note = subject.say("A cord is told as entered if that will do, else as it has to be bought.")
    yield Para(note, "small")


def listed(subject: Subject) -> Iterator[Part]:
    """Yield every part that the plan names."""
    for feed in subject.scene.feeds:
        buy = cord_for(subject.scene, feed)
        if not buy.forbidden:
            yield from _cord(feed.cord, buy)
    for one in subject.plan.fixtures:
        if isinstance(one, PowerInlet | ThroughWallOutlet):
            yield from _inlet(one)
    yield from _transfer(subject)


def _row(subject: Subject, part: Part) -> tuple[str, ...]:
    what, count, size, long_m = part
    shown = "–" if size is None else size.say(subject.manner)
    away = "–" if long_m is None else subject.show(length(long_m, "up"))
    return what.say(subject.manner), str(count), shown, away


def _cord(cord: Cord, buy: CordToBuy) -> Iterator[Part]:
    what = Text("Cord marked for outdoor use: {name}", {"name": label(cord)})
    if buy.entered_suits and cord.gauge_awg is not None:
        yield what, 1, _size(cord.gauge_awg, cord.wires), cord.pieces_m[0]
        return
    size = None if buy.gauge_awg is None else _size(buy.gauge_awg, buy.wires)
    yield what, 1, size, buy.stock_m


def _size(gauge_awg: int, wires: int) -> Text:
    return Text("{gauge} AWG, {wires} wires", {"gauge": gauge_awg, "wires": wires})


def _inlet(one: PowerInlet | ThroughWallOutlet) -> Iterator[Part]:
    amperes = Quantity(one.rating_a, "current")
    size = Text("{kind}, {amperes}", {"kind": one.receptacle, "amperes": amperes})
    if isinstance(one, PowerInlet):
        yield Text("Power inlet with weather cover"), 1, size, None
    else:
        yield Text("Through-wall outlet set with weather cover"), 1, size, None


def _transfer(subject: Subject) -> Iterator[Part]:
    entered = subject.plan.transfer
    if entered is None:
        return
    if entered.kind in _TRANSFER_TEXTS:
        size = None
        if entered.rating_a is not None:
            size = Text("{amperes}", {"amperes": Quantity(entered.rating_a, "current")})
        yield Text(_TRANSFER_TEXTS[entered.kind]), 1, size, None
    if entered.feeder_awg is not None:
        size = Text("{gauge} AWG", {"gauge": entered.feeder_awg})
        yield Text("Feeder cable, inlet to panel"), 1, size, entered.feeder_length_m
