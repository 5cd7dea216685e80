import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.power import cords
from siteplan.units import feet

few = settings(max_examples=60, deadline=None)
lengths = st.floats(0.0, 300.0)
currents = st.floats(0.0, 60.0)
places = st.integers(0, len(cords.CORD_GAUGES_AWG) - 1)


@few
@given(st.tuples(places, places), st.tuples(lengths, lengths), st.tuples(currents, currents))
def test_thicker_shorter_or_lighter_loaded_never_drops_more(sizes, runs, loads):
    thin, thick = (cords.CORD_GAUGES_AWG[place] for place in sorted(sizes))
    short, long = sorted(runs)
    low, high = sorted(loads)
    assert cords.voltage_drop_v(thick, short, low) <= cords.voltage_drop_v(thin, long, high)


@few
@given(places, lengths, currents, currents)
def test_legs_may_be_swapped(gauge, length, leg_a, leg_b):
    awg = cords.CORD_GAUGES_AWG[gauge]
    one = cords.split_phase_drop_v(awg, length, leg_a, leg_b)
    other = cords.split_phase_drop_v(awg, length, leg_b, leg_a)
    assert (one.leg_a_v, one.leg_b_v) == (other.leg_b_v, other.leg_a_v)
    assert one.line_to_line_v == other.line_to_line_v
    assert one.neutral_a == other.neutral_a == abs(leg_a - leg_b)
    assert one.leg_a_v + one.leg_b_v == pytest.approx(one.line_to_line_v)


def test_balanced_legs_lose_half_of_what_a_two_wire_run_does():
    balanced = cords.split_phase_drop_v(10, 30.0, 20.0, 20.0)
    two_wire = cords.voltage_drop_v(10, 30.0, 20.0)
    assert balanced.leg_a_v == balanced.leg_b_v == pytest.approx(two_wire / 2)
    assert balanced.line_to_line_v == pytest.approx(two_wire)
    assert balanced.neutral_a == 0


def test_one_loaded_leg_loses_as_much_as_a_two_wire_run_and_lifts_the_other():
    lopsided = cords.split_phase_drop_v(10, 30.0, 20.0, 0.0)
    assert lopsided.leg_a_v == pytest.approx(cords.voltage_drop_v(10, 30.0, 20.0))
    assert lopsided.leg_b_v == pytest.approx(-lopsided.leg_a_v / 2)
    assert lopsided.worst_leg_v == lopsided.leg_a_v


def test_a_thinner_neutral_adds_its_own_loss():
    # By hand: legs of 6 AWG 0.491 and a neutral of 8 AWG 0.778 ohm per 1000 ft, 100 ft,
    # 40 and 10 A: 40 x 0.0491 + 30 x 0.0778 = 4.298 V; 10 x 0.0491 - 30 x 0.0778 = -1.843 V
    drop = cords.split_phase_drop_v(6, feet(100), 40, 10, neutral_gauge_awg=8)
    assert drop.leg_a_v == pytest.approx(4.298)
    assert drop.leg_b_v == pytest.approx(-1.843)
    assert drop.line_to_line_v == pytest.approx(2.455)


@pytest.mark.parametrize("conductors", [2, 3, 4, 7, 10, 21, 31, 41])
def test_a_thicker_cord_carries_more(conductors):
    carried = [cords.cord_ampacity_a(g, conductors) for g in sorted(cords.AMPACITY_A)]
    assert carried == sorted(carried, reverse=True)
    assert len(set(carried)) == len(carried)


def test_more_loaded_conductors_or_hotter_air_never_carry_more():
    by_count = [cords.cord_ampacity_a(10, count) for count in range(2, 60)]
    assert by_count == sorted(by_count, reverse=True)
    for insulation in (60, 90):
        by_air = [cords.cord_ampacity_a(10, 2, air, insulation) for air in range(-50, 56)]
        assert by_air == sorted(by_air, reverse=True)


def test_cold_air_is_given_no_bonus():
    assert cords.cord_ampacity_a(12, 2, -20.0) == 25.0
    assert cords.cord_ampacity_a(12, 2, 30.0) == 25.0
    assert cords.cord_ampacity_a(12, 2, 30.1) == pytest.approx(25 * 0.91)


@pytest.mark.parametrize(
    ("legs", "neutral", "options", "count"),
    [
        (1, True, {}, 2),
        (2, False, {}, 2),
        (2, True, {}, 2),
        (2, True, {"count_neutral": True}, 3),
        (2, True, {"wye": True}, 3),
        (2, False, {"wye": True}, 2),
        (1, True, {"wye": True}, 2),
    ],
)
def test_counting_of_loaded_conductors(legs, neutral, options, count):
    assert cords.loaded_conductors(legs, neutral, **options) == count


@pytest.mark.parametrize(("legs", "neutral"), [(0, True), (3, True), (1, False), (3, False)])
def test_arrangements_in_which_no_current_flows_are_refused(legs, neutral):
    with pytest.raises(OutOfRangeError, match="ungrounded"):
        cords.loaded_conductors(legs, neutral)


@few
@given(st.floats(0.0, 80.0), st.floats(0.0, 200.0), st.floats(0.005, 0.1))
def test_the_chosen_cord_meets_both_limits_and_the_next_thinner_fails_one(current, length, share):
    chosen = cords.smallest_gauge_awg(current, length, 120.0, share)
    sizes = cords.CORD_GAUGES_AWG

    def meets(gauge):
        drop = cords.voltage_drop_v(gauge, length, current)
        return drop <= 120 * share * (1 + 1e-9) and current <= cords.cord_ampacity_a(gauge, 2)

    if chosen is None:
        assert not any(meets(g) for g in sizes)
    else:
        assert meets(chosen)
        assert not any(meets(g) for g in sizes[: sizes.index(chosen)])


@pytest.mark.parametrize(
    ("current", "gauge"), [(12.9, 16), (13.0, 16), (13.1, 14), (70.0, 4), (70.1, None)]
)
def test_ampacity_decides_on_a_short_cord(current, gauge):
    assert cords.smallest_gauge_awg(current, 1.0) == gauge


def test_drop_decides_on_a_long_cord():
    # By hand: 3.6 V / (2 x 12 A x 1.98 ohm per 1000 ft) = 75.76 ft for 12 AWG
    limit_ft = 3.6 / (2 * 12 * 1.98e-3)
    assert cords.smallest_gauge_awg(12, feet(limit_ft - 0.01)) == 12
    assert cords.smallest_gauge_awg(12, feet(limit_ft)) == 12
    assert cords.smallest_gauge_awg(12, feet(limit_ft + 0.01)) == 10


def test_hot_air_and_a_counted_neutral_ask_for_a_thicker_cord():
    assert cords.smallest_gauge_awg(25, 5.0) == 12
    assert cords.smallest_gauge_awg(25, 5.0, ambient_c=35.0) == 10
    assert cords.smallest_gauge_awg(30, 5.0, loaded_conductors=2) == 10
    assert cords.smallest_gauge_awg(30, 5.0, loaded_conductors=3) == 8


@few
@given(places, st.floats(0.5, 70.0))
def test_the_longest_length_is_the_one_that_just_meets_the_drop(place, current):
    gauge = cords.CORD_GAUGES_AWG[place]
    longest = cords.longest_length_m(gauge, current)
    if current > cords.cord_ampacity_a(gauge, 2):
        assert longest == 0.0
    else:
        assert 2 * current * longest * cords.voltage_drop_v(gauge, 1, 1) / 2 == pytest.approx(3.6)


@pytest.mark.parametrize(
    ("kind", "need_ft", "stock_ft"),
    [
        ("household", 24.9, 25),
        ("household", 25.0, 25),
        ("household", 25.1, 50),
        ("household", 200.0, 200),
        ("household", 200.1, None),
        ("locking-30a", 0.0, 10),
        ("locking-30a", 10.1, 25),
        ("locking-30a", 100.0, 100),
        ("locking-30a", 100.1, None),
    ],
)
def test_next_stock_length(kind, need_ft, stock_ft):
    found = cords.next_stock_length_m(feet(need_ft), kind)
    assert found == (None if stock_ft is None else pytest.approx(feet(stock_ft)))


@pytest.mark.parametrize("bad", [-0.1, math.nan, math.inf])
def test_lengths_and_currents_that_are_none_are_refused(bad):
    for call in (
        lambda: cords.voltage_drop_v(12, bad, 1),
        lambda: cords.voltage_drop_v(12, 1, bad),
        lambda: cords.split_phase_drop_v(12, bad, 1, 1),
        lambda: cords.split_phase_drop_v(12, 1, bad, 1),
        lambda: cords.split_phase_drop_v(12, 1, 1, bad),
        lambda: cords.longest_length_m(12, bad),
        lambda: cords.next_stock_length_m(bad),
    ):
        with pytest.raises(OutOfRangeError):
            call()


@pytest.mark.parametrize("voltage", [99.9, 600.1, math.nan])
def test_voltages_that_no_cord_has_are_refused(voltage):
    with pytest.raises(OutOfRangeError, match="voltage"):
        cords.smallest_gauge_awg(5, 5, voltage)


@pytest.mark.parametrize("share", [0.0, 0.51, math.nan])
def test_shares_that_are_no_limit_are_refused(share):
    with pytest.raises(OutOfRangeError, match="share"):
        cords.smallest_gauge_awg(5, 5, drop_fraction=share)


@pytest.mark.parametrize("gauge", [15, 19, 2, -1])
def test_a_cord_size_not_listed_is_refused_and_the_listed_ones_named(gauge):
    with pytest.raises(OutOfRangeError, match="18, 17, 16, 14, 12, 10, 8, 6, 4"):
        cords.cord_ampacity_a(gauge, 2)


@pytest.mark.parametrize("conductors", [1, 101])
def test_conductor_counts_beyond_the_table_are_refused(conductors):
    with pytest.raises(OutOfRangeError, match="conductors"):
        cords.cord_ampacity_a(12, conductors)


@pytest.mark.parametrize("ambient", [-50.1, 55.1, math.nan])
def test_air_beyond_the_table_is_refused(ambient):
    with pytest.raises(OutOfRangeError, match="air temperature"):
        cords.cord_ampacity_a(12, 2, ambient)


def test_a_cord_not_marked_otherwise_is_a_60_degree_cord():
    # NEC 2023 Table 310.15(B)(1)(1), second-hand: 0.82 at 40 °C in the 60 °C column, 0.91 in 90
    assert cords.ambient_factor(40.0) == 0.82
    assert cords.cord_ampacity_a(12, 2, 40.0) == pytest.approx(25 * 0.82)
    assert cords.cord_ampacity_a(12, 2, 40.0, 90) == pytest.approx(25 * 0.91)


def test_an_insulation_rating_not_kept_here_is_refused():
    with pytest.raises(OutOfRangeError, match="insulation"):
        cords.ambient_factor(30.0, 75)


@pytest.mark.parametrize("factor", [0.99, 10.1])
def test_start_factors_beyond_the_range_are_refused(factor):
    with pytest.raises(OutOfRangeError, match="start factor"):
        cords.start_drop_v(12, 10, 9.8, factor)
