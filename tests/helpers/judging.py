"""What a review says of one rule, for tests."""

from collections.abc import Iterable

from siteplan.plan.document import Plan
from siteplan.rules import review
from siteplan.rules.findings import Finding, Met, Outcome, Unjudged, severity


def outcomes(plan: Plan, rule: str) -> list[Outcome]:
    """Return everything the review says under a rule's id."""
    said = review(plan)
    return [one for one in (*said.findings, *said.met, *said.unjudged) if one.rule == rule]


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


def sentences(said: Iterable[Outcome]) -> str:
    """Return what is said, in English and feet, for looking into."""
    texts = []
    for one in said:
        texts.append(one.missing.say() if isinstance(one, Unjudged) else one.what.say())
        if isinstance(one, Finding):
            texts.append(one.do.say())
    return "\n".join(texts)
