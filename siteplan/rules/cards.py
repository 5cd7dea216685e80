"""Cards to act by, from `resources/cards.toml`: one source for window, paper and command line."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from siteplan.assets import data_book
from siteplan.plan.document import Plan
from siteplan.words import Quantity, Text

Mark = Literal["box", "number", "tree"]
GOVERNS_TEXT = "The maker's manual governs where it says otherwise."


@dataclass(frozen=True, slots=True)
class Card:
    """One card.

    Attributes
    ----------
    id, title : str
        Its name, and its heading in English.
    mark : str
        "box" to tick off, "number" in order, "tree": questions, each with what to do if so.
    steps, notes : tuple of Text
        What to do, and what to know.
    sources : tuple of str
        Ids of the works it rests on.
    """

    id: str
    title: str
    mark: Mark
    steps: tuple[Text, ...]
    notes: tuple[Text, ...]
    sources: tuple[str, ...]


def cards(plan: Plan) -> tuple[Card, ...]:
    """Return every card, with the rest before refuelling that the plan asks for."""
    minutes = Quantity(plan.outage.cooling_min * 60.0, "time", "up")
    return tuple(_card(row, minutes) for row in rows())


def card(plan: Plan, card_id: str) -> Card:
    """Return one card by its id.

    Parameters
    ----------
    plan : Plan
        Tells the rest before refuelling.
    card_id : str
        One of the ids in `resources/cards.toml`.

    Raises
    ------
    KeyError
        If there is no such card.
    """
    found = {one.id: one for one in cards(plan)}
    return found[card_id]


@cache
def rows() -> tuple[Mapping[str, Any], ...]:
    """Return the cards as they stand in the file."""
    return tuple(data_book("cards.toml")["card"])


def _card(row: Mapping[str, Any], minutes: Quantity) -> Card:
    return Card(
        id=row["id"],
        title=row["title"],
        mark=row["mark"],
        steps=tuple(_step(one, minutes) for one in row["steps"]),
        notes=tuple(Text(one) for one in row["notes"]),
        sources=tuple(row["sources"]),
    )


def _step(step: str | Mapping[str, str], minutes: Quantity) -> Text:
    if isinstance(step, str):
        return Text(step, {"minutes": minutes} if "{minutes}" in step else {})
    values = {"question": Text(step["ask"]), "answer": Text(step["yes"])}
    return Text("{question} Yes: {answer}", values)
