"""Limits, symptoms and times to a level."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from siteplan.air.thresholds import (
    ALARM_POINTS,
    CAUTION,
    LIMITS,
    SYMPTOMS,
    highest_mean,
    limits_passed,
    minutes_to_level,
    symptom_at,
)
from siteplan.errors import OutOfRangeError

MINUTES = np.arange(0.0, 481.0)


def test_the_caution_says_what_it_must():
    for part in ("Screening estimate", "outside the published range", "factor of 10"):
        assert part in CAUTION
    assert "CO alarms on every floor" in CAUTION
    assert "local code and licensed practice govern" in CAUTION


def test_each_setter_allows_less_for_longer():
    for name in {limit.name for limit in LIMITS}:
        rows = sorted((row for row in LIMITS if row.name == name), key=lambda row: row.minutes)
        values = [row.ppm for row in rows]
        assert values == sorted(values, reverse=True)


def test_units_are_kept_as_published():
    who = next(row for row in LIMITS if row.name == "WHO indoor 2010" and row.minutes == 1440.0)
    assert (who.value, who.unit) == (7.0, "mg/m3")
    assert who.ppm == pytest.approx(6.1, abs=0.05)


def test_stronger_air_must_sound_an_alarm_sooner():
    latest = [point.not_after_min for point in ALARM_POINTS]
    assert latest == sorted(latest, reverse=True)
    assert all(point.not_before_min < point.not_after_min for point in ALARM_POINTS)


def test_symptom_bands_do_not_overlap():
    for less, more in pairwise(SYMPTOMS):
        assert less.low_percent < less.high_percent <= more.low_percent


@pytest.mark.parametrize(
    ("percent", "word"),
    [
        (0.6, "background"),
        (2.5, "chest pain"),
        (9.99, "breathless"),
        (10.0, "headache"),
        (14.99, "headache"),
        (15.0, "confusion"),
        (19.99, "confusion"),
        (20.0, "nausea"),
        (40.0, "coma"),
        (59.99, "coma"),
        (60.0, "death"),
        (99.0, "death"),
    ],
)
def test_symptoms_at_a_level(percent, word):
    assert word in symptom_at(percent).effect


@pytest.mark.parametrize("percent", [0.0, 0.49, 0.81, 2.49])
def test_no_symptom_is_claimed_where_none_is_published(percent):
    assert symptom_at(percent) is None


@pytest.mark.parametrize("percent", [-0.01, 100.01])
def test_a_level_out_of_range_is_refused(percent):
    with pytest.raises(OutOfRangeError):
        symptom_at(percent)


@given(st.floats(0.1, 3.0), st.floats(1.0, 900.0))
def test_a_ramp_reaches_a_level_when_it_should(slope, level):
    found = float(minutes_to_level(MINUTES, slope * MINUTES, level))
    exact = level / slope
    assert found == (pytest.approx(exact) if exact <= 480.0 else math.inf)


def test_reaching_just_under_at_and_over():
    curve = np.minimum(MINUTES, 70.0)
    assert float(minutes_to_level(MINUTES, curve, 69.9)) == pytest.approx(69.9)
    assert float(minutes_to_level(MINUTES, curve, 70.0)) == pytest.approx(70.0)
    assert math.isinf(float(minutes_to_level(MINUTES, curve, 70.1)))


def test_a_curve_that_starts_above_is_there_at_once():
    assert float(minutes_to_level([0.0, 1.0], [80.0, 90.0], 70.0)) == 0.0


def test_many_curves_at_once():
    curves = np.stack([MINUTES, 2.0 * MINUTES, 0.0 * MINUTES])
    np.testing.assert_allclose(minutes_to_level(MINUTES, curves, 100.0), [100.0, 50.0, np.inf])


def test_the_highest_mean_of_a_rise_is_at_its_end():
    # The mean of a line over its last 60 minutes: the value 30 minutes before the end.
    assert float(highest_mean(MINUTES, MINUTES, 60.0)) == pytest.approx(450.0)
    assert float(highest_mean(MINUTES, MINUTES, 0.0)) == 480.0
    # A window longer than the curve counts as long as the curve.
    assert float(highest_mean(MINUTES, MINUTES, 1440.0)) == pytest.approx(240.0)


@given(st.lists(st.floats(0.0, 500.0), min_size=20, max_size=40), st.integers(1, 15))
def test_the_highest_mean_agrees_with_a_plain_window(values, width):
    # Second route: trapezoids over every whole window.
    times, curve = np.arange(len(values), dtype=float), np.array(values)
    middle = (curve[1:] + curve[:-1]) / 2.0
    expected = np.convolve(middle, np.ones(width) / width, mode="valid").max()
    found = float(highest_mean(times, curve, float(width)))
    assert found == pytest.approx(expected, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(("ppm", "passed"), [(8.9, False), (9.0, False), (9.1, True), (35.0, True)])
def test_the_eight_hour_limit_just_under_at_and_over(ppm, passed):
    found = limits_passed(MINUTES, [np.full(481, ppm)])[0]
    assert any(row.name == "NAAQS" and row.minutes == 480.0 for row in found) == passed


@pytest.mark.parametrize(("ppm", "passed"), [(34.9, False), (35.0, False), (35.1, True)])
def test_the_one_hour_limit_just_under_at_and_over(ppm, passed):
    found = limits_passed(MINUTES, [np.full(481, ppm)])[0]
    assert any(row.name == "NAAQS" and row.minutes == 60.0 for row in found) == passed


def test_each_curve_is_judged_by_itself():
    low, high = np.full(481, 8.9), np.full(481, 35.1)
    names = [
        {(row.name, row.minutes) for row in one} for one in limits_passed(MINUTES, [low, high])
    ]
    assert ("NAAQS", 480.0) not in names[0]
    assert {("NAAQS", 480.0), ("NAAQS", 60.0)} <= names[1]
    assert limits_passed(MINUTES, np.zeros((0, 481))) == ()


def test_a_window_that_begins_between_two_times():
    # A straight rise from 478.5 to 480 has its mean in the middle.
    assert float(highest_mean(MINUTES, MINUTES, 1.5)) == pytest.approx(479.25)


def test_limits_of_the_work_place_are_kept_apart():
    air = np.full(481, 2000.0)
    assert {row.audience for row in limits_passed(MINUTES, [air])[0]} == {"public"}
    assert {row.audience for row in limits_passed(MINUTES, [air], "work")[0]} == {"work"}
