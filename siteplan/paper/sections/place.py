"""Where the machine stands, in words, and how well the drawing was measured."""

from collections.abc import Iterator

from siteplan.paper import identity
from siteplan.paper.blocks import Block, Fields, Heading, Para, Table
from siteplan.paper.subject import Subject
from siteplan.plan.labels import label
from siteplan.plan.machine import Machine, Placement
from siteplan.scene import Standing
from siteplan.suggest.compass import compass_text
from siteplan.words import Quantity, Text, length

_FUEL_WORDS = {
    "gasoline": "gasoline",
    "diesel": "diesel",
    "propane": "propane",
    "natural-gas": "natural gas",
    "dual-fuel": "gasoline or propane",
}
_GROUND_WORDS = {
    "concrete": "concrete",
    "gravel": "gravel",
    "soil": "soil",
    "grass": "grass",
    "deck": "deck",
}
_COVER_WORDS = {"canopy": "canopy", "tarp": "tarp", "box": "box", "tent": "tent"}
_HOW_TEXTS = {
    "at-distance": "{level} at {distance}",
    "sound-power": "{level} sound power",
    "guaranteed-sound-power": "{level} guaranteed sound power",
}


def place(subject: Subject) -> Iterator[Block]:
    """Yield what stands where, as names and values."""
    yield Heading(subject.say("Where it stands"))
    standing = subject.scene.standing
    if standing is None:
        yield Para(subject.say("No generator stands on the plan yet."), "strong")
        return
    placement, machine = standing.placement, standing.machine
    pairs = [
        (subject.say("Place"), subject.show(label(placement))),
        (subject.say("Generator"), machine_line(subject, machine)),
        (subject.say("Exhaust blows"), _blows(subject, standing)),
        (subject.say("Ground"), _ground(subject, placement)),
        (subject.say("Level and dry"), subject.answer(placement.level_and_dry)),
        (subject.say("Cover"), _cover(subject, placement)),
        (subject.say("Drawing"), identity.accuracy(subject.plan).say(subject.manner)),
    ]
    young = subject.plan.household.children_or_pregnancy
    pairs.append((subject.say("Children or a pregnancy in the house"), subject.answer(young)))
    if placement.note.strip():
        pairs.append((subject.say("Note"), subject.show(placement.note)))
    if subject.plan.note.strip():
        pairs.append((subject.say("Note on the plan"), subject.show(subject.plan.note)))
    yield Fields(tuple(pairs))


def _blows(subject: Subject, standing: Standing) -> str:
    if standing.machine.exhaust_side is None:
        return subject.say("not entered")
    toward = compass(subject, standing.exhaust_deg)
    return subject.say("toward the {point}", point=Text(toward))


def _ground(subject: Subject, placement: Placement) -> str:
    if placement.ground is None:
        return subject.say("not entered")
    return subject.say(_GROUND_WORDS[placement.ground])


def _cover(subject: Subject, placement: Placement) -> str:
    if placement.cover is None:
        return subject.say("none")
    return subject.say(_COVER_WORDS[placement.cover.kind])


def compass(subject: Subject, turn_deg: float) -> str:
    """Return the nearest of eight points of the compass to a turn from the drawing's top [°]."""
    return compass_text(subject.plan, turn_deg).template


def machine_line(subject: Subject, machine: Machine) -> str:
    """Return the machine in one line: its name, fuel, power, voltage and sound."""
    parts = [subject.show(machine.name)] if machine.name.strip() else []
    parts.append(subject.say(_FUEL_WORDS[machine.fuel]))
    if machine.rated_w is not None:
        rated = Quantity(machine.rated_w, "power", "down")
        parts.append(subject.say("{watts} running", watts=rated))
    if machine.starting_w is not None:
        parts.append(subject.say("{watts} starting", watts=Quantity(machine.starting_w, "power")))
    parts.append(f"{machine.voltage} V")
    if machine.sound is not None:
        level = Quantity(machine.sound.level_dba, "level", "up")
        away = length(machine.sound.distance_m, "near")
        parts.append(subject.say(_HOW_TEXTS[machine.sound.how], level=level, distance=away))
    return ", ".join(parts)


def overrides(subject: Subject) -> Iterator[Block]:
    """Yield the local figures that lengthen a rule, with their reasons; nothing if none."""
    if not subject.plan.overrides:
        return
    yield Heading(subject.say("Local figures that govern here"))
    head = (subject.say("Rule"), subject.say("Distance"), subject.say("Reason"))
    rows = tuple(
        (one.rule, subject.show(length(one.distance_m, "up")), subject.show(one.reason))
        for one in subject.plan.overrides
    )
    yield Table(head, rows, (2, 1, 4), (1,))
