"""The machine's receptacles as a chart, and what each feeds."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Heading, Para, Table
from siteplan.paper.sections.cords import end_name
from siteplan.paper.subject import Subject
from siteplan.plan.machine import Receptacle as Entered
from siteplan.power.receptacles import receptacles
from siteplan.words import Quantity, plain

_HEAD_WORDS = ("Outlet", "Volts", "Rated", "Breaker", "Wires", "Locking", "GFCI", "Feeds")


def outlets(subject: Subject) -> Iterator[Block]:
    """Yield one row for each receptacle of the machine."""
    yield Heading(subject.say("Outlets of the generator"))
    machine = subject.machine
    if machine is None or not machine.receptacles:
        yield Para(subject.say("No outlet of the generator is entered."))
        return
    rows = tuple(_row(subject, one) for one in machine.receptacles)
    head = tuple(subject.say(one) for one in _HEAD_WORDS)
    yield Table(head, rows, (1.75, 1.1, 1, 1.2, 0.8, 0.9, 1.3, 3.0))


def _row(subject: Subject, one: Entered) -> tuple[str, ...]:
    known = receptacles().get(one.configuration.strip().upper())
    breaker = None if one.breaker_a is None else Quantity(one.breaker_a, "current")
    cords = subject.placement.cords if subject.placement else ()
    fed = [
        end_name(subject.plan, cord).say(subject.manner)
        for cord in cords
        if cord.receptacle == one.id
    ]
    return (
        plain(one.configuration),
        "–" if known is None else known.volts,
        "–" if known is None else subject.show(Quantity(known.amps, "current")),
        subject.show(breaker),
        "–" if known is None else str(known.wires),
        subject.answer(None if known is None else known.locking),
        subject.answer(one.gfci),
        ", ".join(fed) or "–",
    )
