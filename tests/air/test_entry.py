"""Flow through openings, and the air in a room."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from siteplan.air.checks import UnknownNameError
from siteplan.air.entry import (
    AIR_CHANGES,
    air_changes_per_h,
    exchange,
    leakage_flow_m3_s,
    orifice_flow_m3_s,
    room_ppm,
    single_sided_flow_m3_s,
    stack_flow_m3_s,
    wind_flow_m3_s,
)
from siteplan.errors import OutOfRangeError

CO = st.floats(0.0, 20_000.0)
RATES = st.floats(0.05, 50.0)


def test_the_room_balance_agrees_with_an_ode_solver():
    run, outside, rate = 200.0, 130.0, 1.7

    def balance(t, c):
        return [rate / 60.0 * (outside - c[0]) if t < run else -0.2 / 60.0 * c[0]]

    times = np.array([10.0, 100.0, 200.0, 300.0, 500.0])
    solved = solve_ivp(balance, (0.0, 500.0), [40.0], t_eval=times, max_step=1.0, rtol=1e-9)
    found = room_ppm(times, outside, rate, run_minutes=run, start_ppm=40.0)
    np.testing.assert_allclose(found, solved.y[0], rtol=2e-4)


@given(CO, CO, RATES, st.floats(0.0, 2000.0))
def test_a_room_lies_between_its_start_and_outdoors(start, outside, rate, minutes):
    found = float(room_ppm(minutes, outside, rate, start_ppm=start))
    low, high = sorted((start, outside))
    assert low * (1 - 1e-9) <= found <= high * (1 + 1e-9)


@given(CO, RATES, st.floats(0.0, 1000.0), st.floats(0.0, 1000.0))
def test_while_the_machine_runs_the_room_only_fills(outside, rate, one, other):
    earlier, later = sorted((one, other))
    found = room_ppm([earlier, later], outside, rate)
    assert found[1] >= found[0] * (1 - 1e-9)


@given(CO, RATES, st.floats(1.0, 5.0), st.floats(0.0, 1000.0))
def test_more_exchange_fills_a_clean_room_faster(outside, rate, factor, minutes):
    slow, fast = (
        float(room_ppm(minutes, outside, rate)),
        float(room_ppm(minutes, outside, rate * factor)),
    )
    assert fast >= slow * (1 - 1e-9)


def test_after_the_run_the_room_clears_slowly():
    found = room_ppm([60.0, 120.0, 360.0], 100.0, 6.0, run_minutes=60.0)
    # By hand: exp(-0.2) and exp(-1) of what was there.
    np.testing.assert_allclose(found[1:] / found[0], [math.exp(-0.2), math.exp(-1.0)])


def test_rooms_of_many_openings_and_bands_in_one_call():
    outside, rate = np.array([[10.0, 20.0], [30.0, 40.0]]), np.array([[0.5, 1.0], [2.0, 3.0]])
    found = room_ppm([0.0, 60.0, 120.0], outside, rate)
    assert found.shape == (2, 2, 3)
    np.testing.assert_allclose(found[1, 0], room_ppm([0.0, 60.0, 120.0], 30.0, 2.0))


@pytest.mark.parametrize(
    ("outside", "rate", "minutes"), [(-1.0, 1.0, 1.0), (1.0, 0.0, 1.0), (1.0, 1.0, -1.0)]
)
def test_what_is_out_of_range_is_refused(outside, rate, minutes):
    with pytest.raises(OutOfRangeError):
        room_ppm(minutes, outside, rate)


@pytest.mark.parametrize("arguments", [{"run_minutes": float("nan")}, {"after_per_h": -0.1}])
def test_a_run_or_clearing_out_of_range_is_refused(arguments):
    with pytest.raises(OutOfRangeError):
        room_ppm(60.0, 10.0, 1.0, **arguments)


def test_a_crack_lets_in_no_more_than_an_open_window_and_no_less_than_a_shut_one():
    states = [AIR_CHANGES[state] for state in ("shut", "cracked", "open")]
    for less, more in pairwise(states):
        assert less.indicative_per_h <= more.indicative_per_h
        assert less.worst_per_h <= more.worst_per_h
    assert all(state.indicative_per_h < state.worst_per_h for state in states)


@given(st.sampled_from(sorted(AIR_CHANGES)), st.floats(0.001, 4.0), st.floats(10.0, 500.0))
def test_knowing_a_size_never_lowers_the_exchange(state, area, volume):
    table, found = exchange(state), exchange(state, area, volume)
    assert found.indicative_per_h >= table.indicative_per_h
    assert found.worst_per_h >= max(table.worst_per_h, found.indicative_per_h)


def test_a_large_open_window_passes_the_table():
    # Orifice at 2 Pa: 0.6 × 1 m² × 1.826 m/s = 1.095 m³/s, in 100 m³ 39.4 an hour (by hand).
    assert exchange("open", 1.0, 100.0).worst_per_h == pytest.approx(39.4, abs=0.1)
    # De Gids-Phaff, 1 m/s, 5 K, 1 m: 0.5 × sqrt(0.0285) = 0.0844 m³/s, 3.04 an hour (by hand).
    assert exchange("open", 1.0, 100.0).indicative_per_h == pytest.approx(3.04, abs=0.01)


def test_an_unknown_state_is_named():
    with pytest.raises(UnknownNameError, match="'ajar' is no state"):
        exchange("ajar")


@pytest.mark.parametrize(
    ("angle", "share"), [(0.0, 0.55), (22.5, 0.425), (45.0, 0.30), (60.0, 0.30), (90.0, 0.30)]
)
def test_wind_square_to_an_opening_drives_most(angle, share):
    assert wind_flow_m3_s(2.0, 3.0, angle) == pytest.approx(share * 6.0)


@pytest.mark.parametrize("angle", [-0.1, 90.1])
def test_an_angle_out_of_range_is_refused(angle):
    with pytest.raises(OutOfRangeError):
        wind_flow_m3_s(2.0, 3.0, angle)


def test_stack_flow_by_hand():
    # CD 0.49, sqrt(2 × 9.80665 × 2 × 20/293.15) = 1.6360 m/s, 0.5 m².
    assert stack_flow_m3_s(0.5, 2.0, 20.0, 0.0) == pytest.approx(0.49 * 0.5 * 1.6360, rel=1e-4)
    assert stack_flow_m3_s(0.5, 2.0, 20.0, 20.0) == 0.0


@given(st.floats(0.0, 12.0), st.floats(0.0, 40.0), st.integers(1, 3), st.integers(1, 4))
def test_leakage_falls_with_shelter_and_rises_with_height(wind, difference, storeys, shelter):
    here = leakage_flow_m3_s(500.0, difference, wind, storeys, shelter)
    assert leakage_flow_m3_s(500.0, difference, wind, storeys, shelter + 1) <= here
    if storeys < 3:
        assert leakage_flow_m3_s(500.0, difference, wind, storeys + 1, shelter) >= here


@pytest.mark.parametrize(("storeys", "shelter"), [(0, 3), (4, 3), (1, 0), (1, 6)])
def test_a_house_outside_the_table_is_refused(storeys, shelter):
    with pytest.raises(OutOfRangeError):
        leakage_flow_m3_s(500.0, 20.0, 4.0, storeys, shelter)


def test_flow_grows_with_the_root_of_pressure_and_in_step_with_area():
    assert orifice_flow_m3_s(0.1, 8.0) == pytest.approx(2.0 * orifice_flow_m3_s(0.1, 2.0))
    assert single_sided_flow_m3_s(0.2, 1.0, 0.0, 0.0) == pytest.approx(0.01)
    assert air_changes_per_h(0.05, 180.0) == pytest.approx(1.0)
