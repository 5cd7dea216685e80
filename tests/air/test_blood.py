"""Carboxyhaemoglobin: second routes, sweeps and refusals."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from siteplan.air.blood import (
    BODIES,
    Body,
    body_of,
    cohb_percent,
    equilibrium_percent,
    hold_peak,
    minutes_to_percent,
)
from siteplan.air.checks import UnknownNameError
from siteplan.errors import OutOfRangeError

ACTIVITIES = sorted(BODIES)
PPM = st.floats(0.0, 5000.0)
MINUTES = st.floats(1.0, 3000.0)


def ode_percent(minutes, ppm, body, start_percent=0.75):
    """Integrate the equation as published, in ml CO per ml blood, step by step of constant CO."""
    pulmonary = 1.0 / body.diffusing_ml_min_mmhg
    pulmonary += (body.pressure_mmhg - 47.0) / body.ventilation_ml_min

    def rate(_t, x, inspired):
        free = body.o2_capacity - x
        loss = x * body.capillary_o2_mmhg / (body.haldane * pulmonary * free)
        return (body.endogenous_ml_min - loss + inspired / pulmonary) / body.blood_ml

    x = start_percent / 100.0 * body.o2_capacity
    before, found = 0.0, []
    for end, concentration in zip(minutes, ppm, strict=True):
        inspired = concentration * 1e-6 * body.pressure_mmhg
        solved = solve_ivp(
            rate, (before, end), [x], method="LSODA", args=(inspired,), rtol=1e-10, atol=1e-13
        )
        x, before = solved.y[0, -1], end
        found.append(100.0 * x / body.o2_capacity)
    return np.array(found)


@pytest.mark.parametrize("activity", ACTIVITIES)
def test_agrees_with_an_ode_solver_over_changing_air(activity):
    minutes = np.array([5.0, 6.0, 60.0, 61.0, 240.0, 300.0, 900.0])
    ppm = np.array([400.0, 3000.0, 150.0, 0.0, 700.0, 0.0, 35.0])
    expected = ode_percent(minutes, ppm, BODIES[activity])
    np.testing.assert_allclose(cohb_percent(minutes, ppm, activity), expected, atol=1e-5)


@pytest.mark.parametrize("ppm", [20_000.0, 100_000.0])
def test_agrees_with_an_ode_solver_in_raw_exhaust(ppm):
    # The stiff end: haemoglobin nearly full.
    minutes = np.array([0.5, 2.0, 30.0])
    expected = ode_percent(minutes, [ppm] * 3, BODIES["heavy"])
    np.testing.assert_allclose(cohb_percent(minutes, ppm, "heavy"), expected, atol=1e-4)


def implicit_residual(x_final, x_start, minutes, inspired, body):
    """Implicit exact solution in the letters Q, R, W, as read second-hand and re-derived."""
    b = body.resistance
    q = b * body.haldane * body.endogenous_ml_min + body.haldane * inspired
    q += body.capillary_o2_mmhg
    r = body.o2_capacity * body.capillary_o2_mmhg
    w = body.o2_capacity * body.haldane * (inspired + body.endogenous_ml_min * b)
    linear = minutes * q / (body.blood_ml * b * body.haldane) + x_start - x_final
    return q / r * linear - math.log((x_start * q - w) / (x_final * q - w))


@pytest.mark.parametrize("activity", ACTIVITIES)
@pytest.mark.parametrize(("ppm", "minutes"), [(50.0, 480.0), (400.0, 30.0), (2000.0, 45.0)])
def test_agrees_with_the_implicit_solution_of_the_literature(activity, ppm, minutes):
    body = BODIES[activity]
    start = 0.0075 * body.o2_capacity
    ceiling = float(equilibrium_percent(ppm, activity)) / 100.0 * body.o2_capacity
    inspired = ppm * 760e-6
    root = brentq(
        implicit_residual,
        start,
        ceiling * (1.0 - 1e-12),
        args=(start, minutes, inspired, body),
        xtol=1e-14,
    )
    found = float(cohb_percent(minutes, ppm, activity))
    assert found == pytest.approx(100.0 * root / body.o2_capacity, abs=1e-6)


@given(PPM, MINUTES, st.sampled_from(ACTIVITIES))
def test_one_long_step_equals_many_short_ones(ppm, minutes, activity):
    fine = cohb_percent(np.linspace(minutes / 50.0, minutes, 50), ppm, activity)[-1]
    assert float(cohb_percent(minutes, ppm, activity)) == pytest.approx(fine, abs=1e-7)


@given(st.floats(1.0, 60.0), st.floats(30.0, 20_000.0), st.sampled_from(ACTIVITIES))
def test_time_to_a_level_and_level_at_a_time_are_inverse(percent, ppm, activity):
    minutes = float(minutes_to_percent(percent, ppm, activity))
    if math.isinf(minutes):
        assert percent >= float(equilibrium_percent(ppm, activity))
    else:
        assert float(cohb_percent(minutes, ppm, activity)) == pytest.approx(percent, abs=1e-6)


def test_time_is_zero_at_the_start_and_endless_at_equilibrium():
    ceiling = float(equilibrium_percent(100.0))
    assert float(minutes_to_percent(0.75, 100.0)) == 0.0
    assert math.isfinite(float(minutes_to_percent(ceiling * 0.999, 100.0)))
    assert math.isinf(float(minutes_to_percent(ceiling, 100.0)))
    assert math.isinf(float(minutes_to_percent(ceiling * 1.001, 100.0)))


@given(st.lists(PPM, min_size=1, max_size=8), st.floats(0.0, 90.0), st.sampled_from(ACTIVITIES))
def test_bounds(ppm, start, activity):
    minutes = 37.0 * np.arange(1, len(ppm) + 1)
    curve = cohb_percent(minutes, ppm, activity, start)
    assert np.all(curve >= 0.0)
    assert np.all(curve < 100.0)
    # Never beyond start and the equilibrium of the strongest air, never below that of the weakest.
    ceilings = equilibrium_percent(ppm, activity)
    assert curve.max() <= max(start, ceilings.max()) + 1e-9
    assert curve.min() >= min(start, ceilings.min()) - 1e-9


@given(PPM, PPM, MINUTES, st.sampled_from(ACTIVITIES))
def test_more_co_never_gives_less(one, other, minutes, activity):
    low, high = sorted((one, other))
    curve = cohb_percent(minutes, [low, high], activity)
    assert curve[1] >= curve[0]


@given(st.lists(PPM, min_size=2, max_size=12))
def test_longer_exposure_never_lowers_the_held_peak(ppm):
    held = hold_peak(cohb_percent(20.0 * np.arange(1, len(ppm) + 1), ppm))
    assert np.all(np.diff(held) >= 0.0)


@given(st.floats(1.0, 5000.0), MINUTES)
def test_a_child_loads_no_slower_than_an_adult(ppm, minutes):
    child = float(cohb_percent(minutes, ppm, "child"))
    for adult in ("rest", "public", "light"):
        assert child >= float(cohb_percent(minutes, ppm, adult)) - 1e-9


def test_a_child_loads_about_two_and_a_half_times_faster_in_the_first_hour():
    gained = [float(cohb_percent(60.0, 100.0, who)) - 0.75 for who in ("child", "rest")]
    assert 2.0 < gained[0] / gained[1] < 3.2


def test_many_openings_equal_each_alone():
    rng = np.random.default_rng(3)
    minutes = np.arange(1.0, 61.0)
    ppm = rng.uniform(0.0, 2000.0, (4, 3, 60))
    starts = rng.uniform(0.0, 10.0, (4, 3))
    together = cohb_percent(minutes, ppm, "light", starts)
    assert together.shape == (4, 3, 60)
    alone = cohb_percent(minutes, ppm[2, 1], "light", starts[2, 1])
    np.testing.assert_allclose(together[2, 1], alone, atol=1e-10)


def test_shapes():
    assert cohb_percent(60.0, 100.0).shape == ()
    assert cohb_percent([0.0, 60.0], 100.0).shape == (2,)
    assert cohb_percent(60.0, [10.0, 20.0, 30.0]).shape == (3,)
    assert cohb_percent([30.0, 60.0], [[10.0], [20.0]]).shape == (2, 2)
    assert float(cohb_percent([0.0, 60.0], 100.0)[0]) == pytest.approx(0.75)


@pytest.mark.parametrize(
    ("minutes", "ppm", "start"),
    [
        ([10.0, 5.0], 100.0, 0.75),
        ([-1.0, 5.0], 100.0, 0.75),
        ([5.0], -1.0, 0.75),
        ([5.0], 1_000_001.0, 0.75),
        ([5.0], float("nan"), 0.75),
        ([5.0, 6.0], [1.0, 2.0, 3.0], 0.75),
        ([5.0], 100.0, 99.1),
        ([5.0], 100.0, -0.1),
    ],
)
def test_what_is_out_of_range_is_refused(minutes, ppm, start):
    with pytest.raises(OutOfRangeError):
        cohb_percent(minutes, ppm, start_percent=start)


def test_an_unknown_activity_is_named():
    with pytest.raises(UnknownNameError, match="'asleep' is no activity"):
        body_of("asleep")


def test_a_set_of_its_own_is_taken():
    thin = Body(30.0, 6_000.0, blood_ml=4_000.0)
    assert float(cohb_percent(60.0, 100.0, thin)) > float(cohb_percent(60.0, 100.0, "rest"))
