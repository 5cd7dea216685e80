"""Transfer equipment, feeder and branch, panel, and what needs a permit."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Fields, Heading, Para, Steps
from siteplan.paper.sections.cords import gauge
from siteplan.paper.subject import Subject
from siteplan.plan.around import Panel
from siteplan.plan.labels import label
from siteplan.power.wiring import BUILDING_WIRE_A, building_wire_a
from siteplan.rules.book import rule
from siteplan.words import Quantity, length

_KIND_TEXTS = {
    "none": "none: no house circuit may be fed",
    "interlock": "interlock at the panel",
    "manual-switch": "manual transfer switch",
    "automatic-switch": "automatic transfer switch",
}
_PERMIT_TEXTS = (
    (
        "Work on house wiring needs a permit and a licensed electrician in most places; ask the "
        "local building office before it begins."
    ),
    "The utility is told where its rules ask for it.",
    "A sign at the service tells that and where a generator can be connected.",
    "Nothing here is a design: conductor sizes, protection and bonding are the electrician's.",
)


def transfer(subject: Subject) -> Iterator[Block]:
    """Yield how the house is kept apart from the utility, and the wire behind the inlet."""
    yield Heading(subject.say("Transfer equipment and feeder"))
    entered = subject.plan.transfer
    if entered is None:
        yield Para(subject.say("No transfer equipment is entered, so none was judged."), "strong")
        return
    kind = "not entered" if entered.kind is None else _KIND_TEXTS[entered.kind]
    yield Fields(
        (
            (subject.say("Kind"), subject.say(kind)),
            (subject.say("Rating"), _amperes(subject, entered.rating_a)),
            (subject.say("Switches the neutral"), subject.answer(entered.switches_neutral)),
            (subject.say("Neutral of the generator"), _neutral(subject)),
            (
                subject.say("Feeder, inlet to panel"),
                _run(subject, entered.feeder_awg, entered.feeder_length_m),
            ),
            (
                subject.say("Longest branch"),
                _run(subject, entered.branch_awg, entered.branch_length_m),
            ),
            (subject.say("Licensed electrician"), subject.answer(entered.by_licensed_electrician)),
            (subject.say("Permit"), subject.answer(entered.permit)),
        )
    )


def _amperes(subject: Subject, value_a: float | None) -> str:
    if value_a is None:
        return subject.say("not entered")
    return subject.show(Quantity(value_a, "current"))


def _neutral(subject: Subject) -> str:
    neutral = None if subject.machine is None else subject.machine.neutral
    if neutral is None:
        return subject.say("not entered")
    return subject.say("bonded to its frame" if neutral == "bonded" else "floating")


def _run(subject: Subject, awg: int | None, long_m: float | None) -> str:
    size = gauge(subject, awg)
    if awg in BUILDING_WIRE_A:
        carries = Quantity(building_wire_a(awg), "current", "down")
        size = subject.say(
            "{size} copper, {carries} in the 60 °C column", size=size, carries=carries
        )
    if long_m is None:
        return subject.say("{size}, length not entered", size=size)
    return subject.say("{size}, {long}", size=size, long=length(long_m, "up"))


def panels(subject: Subject) -> Iterator[Block]:
    """Yield the panels with their working space."""
    yield Heading(subject.say("Panel and working space"))
    found = [one for one in subject.plan.fixtures if isinstance(one, Panel)]
    if not found:
        yield Para(subject.say("No panel is entered."))
    for one in found:
        yield Fields(
            (
                (subject.say("Panel"), label(one).say(subject.manner)),
                (subject.say("Rating"), _amperes(subject, one.rating_a)),
                (subject.say("Space in front kept clear"), subject.answer(one.working_space_clear)),
            )
        )
    yield Para(subject.say(rule("working-space").explain), "small")


def permit(subject: Subject) -> Iterator[Block]:
    """Yield what an office or the utility wants to know."""
    yield Heading(subject.say("Permit and license"))
    yield Steps(tuple(subject.say(one) for one in _PERMIT_TEXTS), "bullet")
