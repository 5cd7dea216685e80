"""Noise never outweighs carbon monoxide, and far windows cost nothing."""

import pytest

from siteplan.plan.edits import stand
from siteplan.plan.machine import SoundRating
from siteplan.rules import review
from siteplan.rules.findings import Finding, Met
from siteplan.rules.sound import levels, loudest
from siteplan.scene import resolve
from tests.helpers.builders import (
    box,
    building,
    grown,
    house_plan,
    machine,
    opening,
)
from tests.helpers.judging import findings, met, verdict
from tests.helpers.sounding import QUIET, facing, lone, neighbour, outage


def _others(plan):
    said = review(plan)
    return [
        one
        for one in (*said.findings, *said.met, *said.unjudged)
        if not one.rule.startswith("sound-")
    ]


PLACES = [(6.0, -1.5), (6.0, -5.0), (6.0, -7.0), (6.0, -12.0), (20.0, 20.0), (6.0, 4.0)]


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("night", [20.0, 50.0, 139.0])
def test_no_limit_changes_what_any_other_rule_says(place, night):
    plan = house_plan(*place, machine(sound=QUIET))
    limited = plan.model_copy(update={"outage": plan.outage.model_copy(
        update={"night_limit_dba": night, "day_limit_dba": night})})  # fmt: skip
    assert _others(plan) == _others(limited)


@pytest.mark.parametrize("place", PLACES)
def test_noise_is_never_worse_than_a_notice(place):
    loud = machine(sound=SoundRating(level_dba=120.0, how="guaranteed-sound-power"))
    plan = house_plan(*place, loud, outage=outage(night_limit_dba=1.0, day_limit_dba=1.0))
    heard = [one for one in review(plan).findings if one.rule.startswith("sound-")]
    assert heard
    assert {one.signal for one in heard} == {"NOTICE"}


def test_a_quieter_place_near_an_opening_stays_a_danger():
    # Behind the house the boundary is quiet, and the window is 4 ft away.
    house = house_plan(6.0, -1.2, machine(sound=QUIET), outage=outage(night_limit_dba=139.0))
    assert verdict(house, "sound-boundary") == "met"
    assert review(house).worst == "DANGER"
    # The loud place that keeps its distance is a notice, and no more.
    away = stand(house, (6.0, -30.0), 0.0)
    away = away.model_copy(update={"outage": outage(night_limit_dba=20.0)})
    assert verdict(away, "sound-boundary") == "NOTICE"
    assert findings(away, "separation-opening") == []


def test_the_advice_says_that_carbon_monoxide_goes_first():
    (found,) = findings(lone(10.0, night_limit_dba=40.0), "sound-boundary")
    assert "distances for carbon monoxide go first" in found.do.say()
    assert isinstance(found, Finding)
    assert found.margin.value == pytest.approx(40.0 - found.measured.value)
    (well,) = met(lone(10.0, night_limit_dba=90.0), "sound-boundary")
    assert isinstance(well, Met)
    assert "not a measurement" in well.what.say()


def test_far_windows_cost_nothing_and_change_nothing():
    far = building(box(900.0, 0.0, 912.0, 8.0), "far", owner="neighbour")
    plan = lone(12.0, neighbour(), facing(), night_limit_dba=50.0)
    more = grown(plan, far, opening("far-window", building="far"))
    assert levels(resolve(more)).windows == levels(resolve(plan)).windows


def test_of_very_many_windows_the_nearest_are_told_and_the_rest_counted():
    row = [
        building(box(x, 14.0, x + 4.0, 20.0), f"home-{x}", owner="neighbour", storeys=1)
        for x in range(-90, 90, 5)
    ]
    panes = [
        opening(
            f"{one.id}-{n}", building=one.id, wall=0, offset_m=0.1 + 1.9 * n, sill_m=1.0, head_m=2.0
        )
        for one in row
        for n in range(2)
    ]
    report = levels(resolve(lone(12.0, *row, *panes)))
    assert (len(report.windows), report.left_out) == (60, len(panes) - 60)
    told = max(one.distance_m for one in report.windows)
    assert told < 80.0
    assert loudest(resolve(lone(12.0, *row, *panes)), "window") == report.windows[0]
