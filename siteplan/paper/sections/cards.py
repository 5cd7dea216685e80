"""Cards to act by: starting, refuelling, stopping, no power, and carbon monoxide.

In our own words; the maker's manual governs. What they rest on: guidance of the US Consumer
Product Safety Commission and FEMA on portable generators (read second-hand and read), a fire
department's sheet on cooling before refuelling (read), and common practice.
"""

from typing import Literal

from siteplan.paper.blocks import Card, Para, Steps
from siteplan.paper.subject import Subject
from siteplan.words import Quantity

Mark = Literal["number", "box"]

_BEFORE_TEXTS = (
    (
        "Outdoors at the marked place, level and dry, exhaust as drawn. Never in a garage, on a "
        "porch or under a roof, not even in rain."
    ),
    "Test the CO alarms. Close the windows and doors that face it.",
    "Check oil and fuel, look for leaks. Nothing plugged in.",
    (
        "Main breaker off and interlock or transfer switch set before any house circuit is fed. "
        "Never feed a wall outlet."
    ),
)
_START_TEXTS = (
    "Start it by the maker's manual and let it warm up.",
    "Plug in dry, whole cords of the gauge listed, laid out flat.",
    "Switch loads on one by one, the largest motor first.",
)
_REFUEL_TEXTS = (
    "Switch the loads off, let it idle a few minutes, stop it.",
    "Let it cool for {minutes}. Hot metal lights spilled fuel.",
    "Pour outdoors, no flame or cigarette, with a flashlight and not a lantern. Wipe up spills.",
    "Carry cans back to where they are stored, out of the house.",
)
_STOP_TEXTS = (
    "Switch the loads off, let it idle a few minutes, stop it, close the fuel valve.",
    "Let it cool before you move or cover it. Store it outside the living space.",
)
_NO_POWER_TEXTS = (
    "Breaker on the generator tripped? Switch a load off, then reset.",
    (
        "Ground-fault outlet tripped? Unplug, press reset. If it trips again, stop using that cord "
        "or appliance."
    ),
    "Locking plug turned home? Engine at full speed?",
    "Still none: stop it and call someone trained.",
)
_ALARM_TEXTS = (
    "Get everyone outside into fresh air at once, pets too. Do not stop to open windows.",
    "From outside, call emergency services (911 in the US and Canada). Say: carbon monoxide.",
    "Count everyone. Wake sleepers: they may not wake by themselves.",
    (
        "Do not go back in until responders say so. Leave the generator to them if it cannot be "
        "stopped from upwind."
    ),
)
_SIGNS_TEXT = (
    "Carbon monoxide has no smell and no color. Headache, dizziness, weakness, upset stomach, "
    "vomiting, chest pain, confusion: it feels like flu without fever. People asleep can die "
    "before they feel anything; children, pregnant women and heart patients sooner than others."
)


def before(subject: Subject) -> Card:
    """Return what to see to before starting."""
    return _card(subject.say("Before starting"), subject, _BEFORE_TEXTS, "box")


def start(subject: Subject) -> Card:
    """Return how to start and connect."""
    return _card(subject.say("Start and connect"), subject, _START_TEXTS)


def refuel(subject: Subject) -> Card:
    """Return how to refuel, with the rest planned."""
    minutes = Quantity(subject.plan.outage.cooling_min * 60.0, "time", "up")
    items = tuple(
        subject.say(one, minutes=minutes) if "{minutes}" in one else subject.say(one)
        for one in _REFUEL_TEXTS
    )
    return Card(subject.say("Refuel"), (Steps(items),))


def stop(subject: Subject) -> Card:
    """Return how to stop."""
    return _card(subject.say("Stop"), subject, _STOP_TEXTS)


def no_power(subject: Subject) -> Card:
    """Return what to look at when an outlet is dead."""
    return _card(subject.say("No power at the outlet"), subject, _NO_POWER_TEXTS)


def carbon_monoxide(subject: Subject) -> Card:
    """Return the signs of carbon monoxide poisoning, and what to do."""
    return Card(
        subject.say("CO alarm sounds, or someone feels ill"),
        (
            Steps(tuple(subject.say(one) for one in _ALARM_TEXTS)),
            Para(subject.say(_SIGNS_TEXT)),
        ),
    )


def _card(title: str, subject: Subject, items: tuple[str, ...], mark: Mark = "number") -> Card:
    return Card(title, (Steps(tuple(subject.say(one) for one in items), mark),))
