"""Stating that something is not there: allowed where it harms nobody, void once it is drawn."""

from siteplan.plan.around import Ground
from siteplan.plan.document import Plan
from siteplan.plan.machine import Machine, Placement
from siteplan.rules import review
from siteplan.rules.book import book

PLACED = {
    "machine": Machine(),
    "placements": (Placement(id="here", at=(0.0, 0.0)),),
}


def outcome_kinds(plan: Plan, rule_id: str) -> set[str]:
    found = review(plan)
    return {
        name
        for name in ("findings", "met", "unjudged")
        if any(one.rule == rule_id for one in getattr(found, name))
    }


def test_what_is_not_drawn_is_not_judged_until_it_is_stated_to_be_absent() -> None:
    assert outcome_kinds(Plan(**PLACED), "pool") == {"unjudged"}
    assert outcome_kinds(Plan(**PLACED, none_here=("pool",)), "pool") == {"met"}


def test_statement_is_void_once_the_thing_is_drawn() -> None:
    pool = Ground(kind="pool", id="pool", outline=((1.0, -1.0), (4.0, -1.0), (4.0, 1.0)))
    plan = Plan(**PLACED, none_here=("pool",), surroundings=(pool,))
    assert outcome_kinds(plan, "pool") == {"findings"}


def test_nobody_can_state_a_dwelling_or_the_fuel_away() -> None:
    every = tuple(book())
    stated = review(Plan(**PLACED, none_here=every))
    left = {one.rule for one in stated.unjudged}
    assert {"separation-building", "separation-opening", "indoors", "fuel-store-amount"} <= left


def test_statement_changes_no_finding() -> None:
    every = tuple(rule.id for rule in book().values() if rule.may_be_none)
    plain, stated = review(Plan(**PLACED)), review(Plan(**PLACED, none_here=every))
    assert stated.findings == plain.findings
    assert all(one in plain.unjudged for one in stated.unjudged)
    assert len(stated.unjudged) < len(plain.unjudged)
