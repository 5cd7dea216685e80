"""The loads by leg, and the order to switch them on in."""

from collections.abc import Iterator, Sequence

from siteplan.paper.blocks import Block, Heading, Para, Steps, Table
from siteplan.paper.subject import Subject
from siteplan.plan.labels import label
from siteplan.plan.needs import Load
from siteplan.power import loads as power
from siteplan.rules.power.motors import motor_lines
from siteplan.words import Quantity

_HEAD_WORDS = ("Load", "Running", "Starting", "Volts", "Leg", "When")
_WHEN_WORDS = {"always": "always", "day": "by day", "night": "by night"}


def loads(subject: Subject) -> Iterator[Block]:
    """Yield the loads with their sums, or say that none is entered."""
    yield Heading(subject.say("Loads by leg"))
    if not subject.plan.loads:
        yield Para(subject.say("No load is entered, so none was judged."))
        return
    ordered = sorted(subject.plan.loads, key=lambda one: (one.volts, one.leg or "z"))
    head = tuple(subject.say(one) for one in _HEAD_WORDS)
    rows = (*(_row(subject, one) for one in ordered), *_sums(subject, ordered))
    yield Table(head, rows, (3.2, 1.2, 1.2, 0.8, 1.2, 1.2), (1, 2, 3))
    yield Para(
        subject.say(
            "A 240 V load counts half on each leg. A load without a leg is in neither sum; assign "
            "it before wiring."
        ),
        "small",
    )


def _row(subject: Subject, one: Load) -> tuple[str, ...]:
    starting = one.running_w if one.starting_w is None else one.starting_w
    leg = "A + B" if one.volts == 240 else (one.leg or "–").upper()
    return (
        label(one).say(subject.manner),
        _watts(subject, one.running_w),
        _watts(subject, starting),
        f"{one.volts}",
        leg,
        subject.say(_WHEN_WORDS[one.when]),
    )


def _sums(subject: Subject, ordered: Sequence[Load]) -> Iterator[tuple[str, ...]]:
    for leg in ("a", "b"):
        total = sum(
            one.running_w / 2 if one.volts == 240 else one.running_w
            for one in ordered
            if one.volts == 240 or one.leg == leg
        )
        name = subject.say("Sum of leg {leg}", leg=leg.upper())
        yield name, _watts(subject, total), "", "", leg.upper(), ""
    total = sum(one.running_w for one in ordered)
    yield subject.say("Sum"), _watts(subject, total), "", "", "", ""


def _watts(subject: Subject, value_w: float) -> str:
    return subject.show(Quantity(value_w, "power", "up"))


def start_order(subject: Subject) -> Iterator[Block]:
    """Yield the order of switching on that asks least of the generator; nothing without loads."""
    if not subject.plan.loads:
        return
    told = tuple(one.say(subject.manner) for one in motor_lines(subject.scene))
    if told:
        yield Heading(subject.say("Can it start the motors?"))
        yield Steps(told, "bullet")
    yield Heading(subject.say("Switch on in this order"))
    known = [
        power.Load(
            label(one).say(subject.manner),
            one.running_w,
            max(one.running_w, one.starting_w or 0.0),
            float(one.volts),
        )
        for one in subject.plan.loads
    ]
    yield Steps(
        tuple(
            subject.say(
                "{name}: {peak} while it starts, {sum} after",
                name=step.load.name,
                peak=Quantity(step.peak_w, "power", "up"),
                sum=Quantity(step.running_w, "power", "up"),
            )
            for step in power.start_order(known)
        )
    )
