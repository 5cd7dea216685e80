import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.power import outage

few = settings(max_examples=50, deadline=None)
profiles = st.lists(st.tuples(st.floats(0, 12), st.floats(0.2, 6)), min_size=1, max_size=5)


def test_endurance_by_hand():
    assert outage.endurance_h(20, 2.5) == 8


def test_a_night_by_hand():
    # 20 L at 2.5 L/h: runs 0 to 8, rests to 8.5, runs to 16.5, rests to 17, runs to 20.
    night = outage.plan_outage([(20, 2.5)], 20, 30)
    assert [(s.kind, s.start_h, s.end_h) for s in night.stretches] == [
        ("run", 0, pytest.approx(8)),
        ("cool", pytest.approx(8), pytest.approx(8.5)),
        ("run", pytest.approx(8.5), pytest.approx(16.5)),
        ("cool", pytest.approx(16.5), pytest.approx(17)),
        ("run", pytest.approx(17), 20),
    ]
    assert night.run_h == pytest.approx(19)
    assert night.cool_h == pytest.approx(1)
    assert night.fuel_l == pytest.approx(47.5)
    assert night.refuels == 2
    assert night.to_store_l(20, tank_is_full=True) == pytest.approx(27.5)
    assert night.to_store_l(20, tank_is_full=False) == pytest.approx(47.5)


def test_a_night_with_two_loads_by_hand():
    # 10 L: 3 h at 2 L/h leave 4 L; at 1 L/h these last to 7; rest to 8 across the change at
    # 7.5 to 3 L/h; then 10 L last 3.33 h, and the outage ends at 10: 2 h, 6 L.
    night = outage.plan_outage([(3, 2), (4.5, 1), (2.5, 3)], 10, 60)
    assert [(s.kind, s.end_h, s.fuel_l) for s in night.stretches] == [
        ("run", 3, pytest.approx(6)),
        ("run", pytest.approx(7), pytest.approx(4)),
        ("cool", pytest.approx(7.5), 0),
        ("cool", pytest.approx(8), 0),
        ("run", pytest.approx(10), pytest.approx(6)),
    ]
    assert night.refuels == 1
    assert night.fuel_l == pytest.approx(16)


@pytest.mark.parametrize(("hours", "refuels"), [(7.99, 0), (8.0, 0), (8.5, 0), (8.51, 1)])
def test_a_tank_that_just_lasts_needs_no_refuelling(hours, refuels):
    # After 8.5 h the machine would start again: before that nothing was run on a second tank.
    assert outage.plan_outage([(hours, 2.5)], 20, 30).refuels == refuels


def test_no_hours_burn_nothing():
    night = outage.plan_outage([], 20)
    assert (night.stretches, night.fuel_l, night.refuels) == ((), 0, 0)
    assert night.to_store_l(20, tank_is_full=True) == 0


@few
@given(profiles, st.floats(2, 40), st.floats(20, 120))
def test_an_outage_is_covered_without_gaps(profile, tank, cooling):
    night = outage.plan_outage(profile, tank, cooling)
    total = sum(hours for hours, _ in profile)
    assert night.run_h + night.cool_h == pytest.approx(total, abs=1e-6)
    assert night.cool_h <= (night.refuels + 1) * cooling / 60 + 1e-6
    ends = [0.0]
    for stretch in night.stretches:
        assert stretch.start_h == ends[-1]
        ends.append(stretch.end_h)
    assert night.fuel_l <= (night.refuels + 1) * tank + 1e-6
    assert night.fuel_l <= sum(hours * rate for hours, rate in profile) + 1e-6


@few
@given(profiles, st.floats(5, 40), st.floats(0, 5))
def test_a_larger_tank_is_never_dark_longer_by_more_than_one_rest(profile, tank, more):
    small = outage.plan_outage(profile, tank)
    large = outage.plan_outage(profile, tank + more)
    assert large.refuels <= small.refuels
    assert large.cool_h <= small.cool_h + 0.5 + 1e-6


@pytest.mark.parametrize(("cooling", "refused"), [(19.9, True), (20, False), (240.1, True)])
def test_the_rest_before_refuelling_is_never_under_20_minutes(cooling, refused):
    if refused:
        with pytest.raises(OutOfRangeError, match="rest"):
            outage.plan_outage([(10, 1)], 5, cooling)
    else:
        assert outage.plan_outage([(10, 1)], 5, cooling).refuels == 1


def test_a_machine_stopped_for_the_night_starts_on_a_full_tank():
    # 10 L at 1 L/h: 6 h leave 4 L; off for 8 h; then a full tank lasts 10 h, to 24
    night = outage.plan_outage([(6, 1), (8, 0), (10, 1)], 10)
    assert [(s.kind, s.end_h) for s in night.stretches] == [
        ("run", 6),
        ("off", 14),
        ("run", pytest.approx(24)),
    ]
    assert (night.run_h, night.cool_h, night.off_h) == (pytest.approx(16), 0, 8)
    assert night.refuels == 1
    assert night.fuel_l == pytest.approx(16)


@pytest.mark.parametrize(("off_min", "full_again"), [(29.9, False), (30, True), (30.1, True)])
def test_a_stop_shorter_than_the_rest_does_not_fill_the_tank(off_min, full_again):
    # 6 L of 10 L are burnt; the next 5 h at 1 L/h need more than the 4 L left
    night = outage.plan_outage([(6, 1), (off_min / 60, 0), (5, 1)], 10, 30)
    kinds = [stretch.kind for stretch in night.stretches]
    expected = ["run", "off", "run"] if full_again else ["run", "off", "run", "cool", "run"]
    assert kinds == expected
    assert night.refuels == 1


def test_a_stop_by_plan_counts_as_part_of_the_rest():
    # Empty at 10 h; off for 12 minutes of the 30; then 18 minutes of rest are left
    night = outage.plan_outage([(10, 1), (0.2, 0), (3, 1)], 10, 30)
    kinds = [stretch.kind for stretch in night.stretches]
    assert kinds == ["run", "off", "cool", "run"]
    assert night.cool_h == pytest.approx(0.3)


def test_a_full_tank_that_rests_is_not_filled():
    night = outage.plan_outage([(2, 0), (3, 1)], 10)
    assert night.refuels == 0


@pytest.mark.parametrize("bad", [-1.0, 1e6, math.nan])
def test_figures_that_are_none_are_refused(bad):
    for call in (
        lambda: outage.endurance_h(bad, 1),
        lambda: outage.endurance_h(1, bad),
        lambda: outage.plan_outage([(1, 1)], bad),
        lambda: outage.plan_outage([(1, bad)], 10),
    ):
        with pytest.raises(OutOfRangeError):
            call()


def test_endurance_needs_a_fuel_use():
    with pytest.raises(OutOfRangeError, match="fuel use"):
        outage.endurance_h(10, 0)
    with pytest.raises(OutOfRangeError, match="fuel use"):
        outage.plan_outage([(1, 0.009)], 10)


@pytest.mark.parametrize("hours", [-1.0, 1440.1, math.nan])
def test_hours_beyond_are_refused(hours):
    with pytest.raises(OutOfRangeError, match=r"outage|hours"):
        outage.plan_outage([(hours, 1)], 10)


def test_an_outage_that_stops_too_often_is_refused():
    with pytest.raises(OutOfRangeError, match="stretches"):
        outage.plan_outage([(0.001, 1.0)] * 100_001, 2000)
