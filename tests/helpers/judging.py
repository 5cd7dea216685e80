"""What a review says of one rule, for tests.

Whatever a test asks for is looked over: each sentence can be said in both languages, stands in
the Spanish catalogue, names things of the plan, and rounds against the reader.
"""

import json
import math
import re
from collections.abc import Iterable, Iterator
from functools import cache

from siteplan.assets import resource
from siteplan.plan.document import Plan
from siteplan.rules import review
from siteplan.rules.book import rule as rule_of
from siteplan.rules.findings import (
    SIGNALS,
    Finding,
    Met,
    Outcome,
    Review,
    Unjudged,
    gather,
    severity,
)
from siteplan.rules.review import OF_THE_PLACE, OF_THE_PLAN
from siteplan.scene import resolve
from siteplan.words import Manner, Quantity, Text

SPANISH = Manner("es", "metres")
# A distance to keep and an amount not to exceed are each rounded against the reader.
SIDES = {"measured": {"length": "down", "angle": "down"}, "limit": {"length": "up", "angle": "up"},
         "margin": {"length": "down", "angle": "down"}}  # fmt: skip
TEXT_SIDES = {"distance": "down", "gap": "down", "limit": "up", "figure": "up", "slack": "up"}
MOST_SIDES = {"measured": "up", "limit": "down", "margin": "down"}


def outcomes(plan: Plan, rule: str) -> list[Outcome]:
    """Return everything a rule says of a plan, in the review's order, looked over."""
    said = _judged(plan, rule)
    found = [*said.findings, *said.met, *said.unjudged]
    for one in found:
        assert one.rule == rule
        look_over(plan, one)
    return found


def _judged(plan: Plan, rule: str) -> Review:
    """Judge one rule alone where it stands alone; else the whole, and pick from it."""
    scene = resolve(plan)
    if rule in OF_THE_PLAN and rule not in plan.none_here:
        return gather(list(OF_THE_PLAN[rule](scene)))
    if rule in OF_THE_PLACE and rule not in plan.none_here and scene.standing is not None:
        return gather(list(OF_THE_PLACE[rule](scene, scene.standing)))
    said = review(plan)
    every: list[Outcome] = [*said.findings, *said.met, *said.unjudged]
    return gather([one for one in every if one.rule == rule])


def findings(plan: Plan, rule: str) -> list[Finding]:
    return [one for one in outcomes(plan, rule) if isinstance(one, Finding)]


def met(plan: Plan, rule: str) -> list[Met]:
    return [one for one in outcomes(plan, rule) if isinstance(one, Met)]


def unjudged(plan: Plan, rule: str) -> list[Unjudged]:
    return [one for one in outcomes(plan, rule) if isinstance(one, Unjudged)]


def verdict(plan: Plan, rule: str, about: str | None = None) -> str:
    """Return the worst signal word under a rule, else "met", else "unjudged".

    With `about`, only what is said of the thing with this id counts.
    """
    said = [one for one in outcomes(plan, rule) if about is None or about in one.subjects]
    words = [one.signal for one in said if isinstance(one, Finding)]
    if words:
        return max(words, key=severity)
    if any(isinstance(one, Met) for one in said):
        return "met"
    assert said, f"the review says nothing of {rule}"
    return "unjudged"


def texts(one: Outcome) -> list[Text]:
    """Return the sentences of an outcome."""
    if isinstance(one, Unjudged):
        return [one.missing]
    return [one.what, one.do] if isinstance(one, Finding) else [one.what]


def sentences(said: Iterable[Outcome]) -> str:
    """Return what is said, in English and feet, for looking into."""
    return "\n".join(text.say() for one in said for text in texts(one))


@cache
def catalogue() -> dict[str, str]:
    found: dict[str, str] = json.loads(resource("translations/es.json").read_text(encoding="utf-8"))
    return found


def look_over(plan: Plan, one: Outcome) -> None:
    """Check of any outcome what must hold of every one."""
    for text in texts(one):
        for template in templates(text):
            assert template in catalogue(), f"not in the Spanish catalogue: {template!r}"
        for said in (text.say(), text.say(SPANISH)):
            assert "None" not in said
            assert "{" not in said
            assert "XX" not in said
        for name, quantity in quantities(text):
            assert quantity.side in {"up", "down"}
            # A local figure is itself a distance to keep.
            if quantity.kind == "length" and name in TEXT_SIDES and one.rule != "local-figure":
                assert quantity.side == TEXT_SIDES[name], (name, text.template)
    assert isinstance(one.subjects, tuple)
    assert set(one.subjects) <= ids(plan)
    if isinstance(one, Unjudged):
        return
    # A local limit's own work may go before those of the rule.
    own = rule_of(one.rule).sources
    assert one.sources[-len(own) :] == own
    assert not isinstance(one, Finding) or one.signal in SIGNALS
    for name in ("measured", "limit", "margin"):
        _look_over_figure(name, getattr(one, name))
    for shown in one.evidence:
        fewest = {"point": 1, "line": 2, "area": 3}[shown.shape]
        # A line of more than two points is a cord's way.
        assert len(shown.points) >= fewest
        assert shown.shape != "point" or len(shown.points) == 1
        assert all(isinstance(part, float) for point in shown.points for part in point)


def _look_over_figure(name: str, quantity: Quantity | None) -> None:
    if quantity is None:
        return
    assert math.isfinite(quantity.value)
    expected = SIDES[name].get(quantity.kind, MOST_SIDES[name])
    if name == "measured" and quantity.side == "up" and quantity.kind == "length":
        return  # the drawing's own accuracy, which is an error, not a distance
    assert quantity.side == expected, (name, quantity)


def templates(text: Text) -> Iterator[str]:
    """Yield the templates of a sentence and of those within it that have words of their own."""
    if any(sign.isalpha() for sign in re.sub(r"{\w+}", "", text.template)):
        yield text.template
    for value in text.values.values():
        if isinstance(value, Text):
            yield from templates(value)


def quantities(text: Text) -> Iterator[tuple[str, Quantity]]:
    """Yield the quantities of a sentence and of those within it, with their places' names."""
    for name, value in text.values.items():
        if isinstance(value, Quantity):
            yield name, value
        elif isinstance(value, Text):
            yield from quantities(value)


def ids(plan: Plan) -> set[str]:
    """Return the ids that an outcome may name."""
    cords = () if plan.placement is None else plan.placement.cords
    outlets = () if plan.machine is None else plan.machine.receptacles
    things = (*plan.buildings, *plan.openings, *plan.surroundings, *plan.fixtures, *plan.loads,
              *plan.household.alarm_spots, *cords, *outlets)  # fmt: skip
    return {one.id for one in things}
