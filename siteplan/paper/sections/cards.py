"""Cards to act by, as the rest of the program has them: here only laid out."""

from siteplan.paper.blocks import Card, Para, Steps
from siteplan.paper.subject import Subject
from siteplan.rules import cards

CARBON_MONOXIDE = "carbon-monoxide"
LEFT = ("before", "start", "connect")
RIGHT = ("refuel", "stop", "no-power")
BELOW = "weather"


def card(subject: Subject, card_id: str) -> Card:
    """Return one card by its id in `resources/cards.toml`."""
    found = cards.card(subject.plan, card_id)
    steps = tuple(one.say(subject.manner) for one in found.steps)
    notes = tuple(Para(one.say(subject.manner)) for one in found.notes)
    shown = Steps(steps, "box" if found.mark == "box" else "number")
    return Card(subject.say(found.title), (shown, *notes))


def governs(subject: Subject) -> Para:
    """Return what stands above every card."""
    return Para(subject.say(cards.GOVERNS_TEXT), "small")
