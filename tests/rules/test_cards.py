"""The cards: whole, cited, in plain words, and one source for all."""

import pytest

from siteplan.plan.needs import Outage
from siteplan.rules.cards import card, cards, rows
from siteplan.sources import works
from tests.helpers.builders import make_plan

IDS = ("carbon-monoxide", "before", "start", "connect", "refuel", "stop", "weather", "no-power")


def test_there_are_these_cards_in_the_order_of_need():
    assert tuple(one.id for one in cards(make_plan())) == IDS


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["id"])
def test_a_card_is_whole_and_cites_works_that_are_listed(row):
    assert row["title"]
    assert 2 <= len(row["steps"]) <= 8
    assert row["sources"]
    assert set(row["sources"]) <= set(works())
    tree = [isinstance(one, dict) for one in row["steps"]]
    assert all(tree) if row["mark"] == "tree" else not any(tree)


def test_the_card_before_starting_names_fuel_oil_lead_and_no_load():
    said = " ".join(one.say() for one in card(make_plan(), "before").steps).lower()
    for word in ("tank", "oil", "spark plug", "nothing plugged in", "alarms"):
        assert word in said


def test_no_power_asks_for_breaker_ground_fault_outlet_and_plug_in_this_order():
    said = [one.say() for one in card(make_plan(), "no-power").steps]
    for step, word in zip(said, ("breaker", "GFCI", "plug", "engine"), strict=True):
        assert word in step
        assert step.count("?") == 1
        assert " Yes: " in step


def test_refuelling_asks_for_the_rest_of_the_plan():
    plan = make_plan(outage=Outage(cooling_min=45.0))
    assert "Let it cool for 45 min." in card(plan, "refuel").steps[1].say()


def test_an_unknown_card_is_an_error():
    with pytest.raises(KeyError):
        card(make_plan(), "no-such-card")
