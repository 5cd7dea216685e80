"""A cord of which nobody knows where it goes into the house keeps no opening shut."""

import pytest

from tests.helpers.builders import opening, passing
from tests.helpers.judging import verdict
from tests.helpers.powering import household_cord, load, powered

RULES = ("cord-pinched", "cord-opening-ajar", "cord-exit")


@pytest.mark.parametrize("rule", RULES)
def test_a_cord_to_a_load_without_a_place_may_go_indoors(rule):
    assert verdict(powered(household_cord(to="lamp", end=None), load()), rule) == "unjudged"


@pytest.mark.parametrize("rule", RULES)
def test_a_cord_without_an_end_may_go_indoors(rule):
    assert verdict(powered(household_cord(to=None, end=None)), rule) == "unjudged"


@pytest.mark.parametrize("rule", RULES)
def test_a_cord_drawn_through_a_house_goes_in_somewhere(rule):
    through = household_cord(routing="drawn", end=(20.0, 4.0))
    assert verdict(powered(through), rule) == "unjudged"


@pytest.mark.parametrize("rule", RULES)
def test_a_cord_to_a_load_outdoors_goes_in_nowhere(rule):
    plan = powered(household_cord(to="lamp", end=None), load(at=(-1.0, 4.0)))
    assert verdict(plan, rule) == "met"


def test_what_is_known_of_the_way_in_is_judged_wherever_the_cord_ends():
    door = opening("door", kind="door", wall=3)
    plan = powered(household_cord(to="lamp", end=None, passes=(passing("door"),)), door, load())
    assert verdict(plan, "cord-opening-ajar") == "WARNING"
