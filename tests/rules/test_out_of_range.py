"""Where a rule's formula does not reach, the rule is not judged, and all others still are."""

import pytest

from siteplan.errors import OutOfRangeError
from siteplan.plan.needs import Outage
from siteplan.rules import review
from siteplan.rules.power.gauge import machine_dip
from siteplan.rules.power.span import exact
from siteplan.rules.review import OF_THE_PLACE
from tests.helpers.builders import house_plan
from tests.helpers.powering import generator, household_cord, load, powered


@pytest.mark.parametrize("rule", ["indoors", "separation-opening", "sound-window"])
def test_a_rule_out_of_its_range_is_not_judged_and_no_other_is_lost(monkeypatch, rule):
    plan = house_plan(5.0, -4.0)
    before = review(plan)

    def judge(_scene, _standing):
        raise OutOfRangeError("side of the wall [m]", 20_000.0, 0.0, 10_000.0)
        yield

    monkeypatch.setitem(OF_THE_PLACE, rule, judge)
    after = review(plan)
    (gone,) = [one for one in after.unjudged if one.rule == rule]
    assert "side of the wall [m] is 20000; allowed is 0 to 10000" in gone.missing.say()
    assert rule not in {one.rule for one in (*after.findings, *after.met)}
    assert [one for one in before.findings if one.rule != rule] == [
        one for one in after.findings if one.rule != rule
    ]


def test_an_error_of_another_kind_is_not_hidden(monkeypatch):
    def judge(_scene, _standing):
        raise ZeroDivisionError
        yield

    monkeypatch.setitem(OF_THE_PLACE, "indoors", judge)
    with pytest.raises(ZeroDivisionError):
        review(house_plan(5.0, -4.0))


@pytest.mark.parametrize("rated_w", [0.4, 1.0, 1.5])
def test_a_generator_of_next_to_no_watts_is_judged_all_the_same(rated_w):
    # At 45 °C it gives less than it is rated for, and 1 W is the least the formula of dips takes.
    plan = powered(
        household_cord(),
        load("pump", 500.0, starting_w=1500.0, via="cord"),
        machine=generator(rated_w=rated_w, starting_w=rated_w),
        outage=Outage(temperature_c=45.0, altitude_m=2000.0),
    )
    assert "WARNING" in {one.signal for one in review(plan).findings}
    assert machine_dip(exact(1500.0), exact(rated_w)).most < 1.0
