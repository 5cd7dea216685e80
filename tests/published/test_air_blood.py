"""Carboxyhaemoglobin against agencies, standards and measured volunteers, row by row.

Tolerance against measured or agency values with the matching activity: 10 % of the value or
0.6 % COHb, whichever is larger. The one parameter fitted to the AEGL rows makes these no
independent evidence; all other rows were not fitted.
"""

import math

import numpy as np
import pytest

from siteplan.air.blood import BODIES, cohb_percent, equilibrium_percent, minutes_to_percent
from siteplan.air.source import ppm_from_mg_m3
from siteplan.air.thresholds import ALARM_POINTS, LIMITS


def near(published):
    return pytest.approx(published, rel=0.10, abs=0.6)


# AEGL for CO (EPA and NRC, 2010), summary table: from memory. AEGL-2 stands for 4 % COHb.
@pytest.mark.parametrize(("ppm", "minutes"), [(420, 10), (150, 30), (83, 60), (33, 240), (27, 480)])
def test_aegl_2_stands_for_four_percent(ppm, minutes):
    assert float(cohb_percent(minutes, ppm, "public")) == near(4.0)


# AEGL-3 stands for 40 % COHb with the concentration divided by 3 (from memory).
AEGL_3 = [(1700, 10), (600, 30), (330, 60), (150, 240), (130, 480)]


@pytest.mark.parametrize(("ppm", "minutes"), AEGL_3)
def test_three_times_aegl_3_stands_for_forty_percent(ppm, minutes):
    assert float(cohb_percent(minutes, 3.0 * ppm, "public")) == near(40.0)


@pytest.mark.parametrize(("ppm", "minutes"), AEGL_3)
def test_aegl_3_is_about_fifteen_percent_and_errs_upward(ppm, minutes):
    # "About 15 %" (from memory): the 8 h row comes out at 17.2 %.
    found = float(cohb_percent(minutes, ppm, "public"))
    assert 15.0 * 0.9 <= found <= 15.0 * 1.16


# UL 2034 alarm limits, as printed in alarm manuals with "about 10 % COHb" (read second-hand).
@pytest.mark.parametrize(("ppm", "minutes"), [(70, 240), (150, 50), (400, 15)])
def test_ul_2034_alarms_by_ten_percent_under_heavy_work(ppm, minutes):
    assert any((point.ppm, point.not_after_min) == (ppm, minutes) for point in ALARM_POINTS)
    assert float(cohb_percent(minutes, ppm, "heavy")) == near(10.0)


@pytest.mark.parametrize("point", ALARM_POINTS, ids=lambda point: f"{point.ppm:g} ppm")
@pytest.mark.parametrize("activity", ["rest", "public", "light", "heavy"])
def test_ul_2034_alarms_no_earlier_than_need_be(point, activity):
    # Before an alarm may sound no adult is near 10 %; at 30 ppm for 30 days never above 5 %.
    found = float(cohb_percent(point.not_before_min, point.ppm, activity))
    assert found <= 6.0
    if point.ppm == 30.0:
        assert found <= 5.0


# WHO indoor air guidelines 2010, chapter 2 (from memory; 100 mg/m³ for 15 min also read
# second-hand), set for 2 % COHb in light activity.
@pytest.mark.parametrize(("mg_m3", "minutes"), [(100, 15), (35, 60), (10, 480)])
def test_who_indoor_stands_for_two_percent(mg_m3, minutes):
    assert float(cohb_percent(minutes, ppm_from_mg_m3(mg_m3), "light")) == near(2.0)


# WHO Europe 2000 (read second-hand): the values keep COHb below 2.5 %.
@pytest.mark.parametrize(("mg_m3", "minutes"), [(100, 15), (60, 30), (30, 60), (10, 480)])
@pytest.mark.parametrize("activity", ["rest", "public", "light"])
def test_who_europe_keeps_below_two_and_a_half_percent(mg_m3, minutes, activity):
    found = float(cohb_percent(minutes, ppm_from_mg_m3(mg_m3), activity))
    assert found <= 2.5
    assert found >= 1.0


# Volunteers at rest: Stewart 1975 as quoted in a physiology program's documentation (read).
@pytest.mark.parametrize(
    ("ppm", "minutes", "low", "high"), [(200, 10, 1.0, 2.0), (200, 30, 3.0, 4.0)]
)
def test_stewart_volunteers_at_rest(ppm, minutes, low, high):
    assert low <= float(cohb_percent(minutes, ppm, "rest")) <= high


def test_stewart_volunteers_all_day():
    # Stewart 1970, Arch. Environ. Health 21, abstract (from memory): 100 ppm, 8 h, sedentary.
    assert 11.0 <= float(cohb_percent(480, 100, "rest")) <= 13.0


def test_stewart_at_a_deadly_level_errs_upward():
    # About 80 % after 60 min in 5000 ppm (read); the equation gives 89 %, 11 % above.
    assert 80.0 <= float(cohb_percent(60, 5000, "rest")) <= 80.0 * 1.12


# NIOSH and ACGIH as printed in 54 FR 2332 (read).
def test_niosh_basis():
    assert float(cohb_percent(480, 35, "light")) == near(5.0)


@pytest.mark.parametrize("activity", ["rest", "public", "light"])
def test_acgih_limit_keeps_to_four_percent(activity):
    assert float(cohb_percent(480, 25, activity)) <= 4.0


def test_acgih_comment_on_fifty_ppm_lies_above_the_equation():
    # "8 to 10 %" at 50 ppm: even in equilibrium the equation stays just below. The difference is
    # kept and not tuned away.
    assert 7.4 <= float(cohb_percent(480, 50, "light")) <= 8.0
    assert float(equilibrium_percent(50, "light")) < 8.0


@pytest.mark.parametrize("activity", sorted(BODIES))
def test_clearing_is_too_fast_to_be_trusted(activity):
    # Measured half-life in room air: 320 min (Weaver, Chest 2000, read second-hand).
    halved = cohb_percent(np.arange(1.0, 400.0), 0.0, activity, 20.0)
    assert np.argmax(halved <= 10.0) + 1 < 320


# Occupational-health back-calculation (a state laboratory, 2002, read): 1316 mmHg per ppm, linear.
def _back_calculated_ppm(percent, minutes, lung, start_ml):
    decay = math.exp(-2.3 * minutes / (5500 * lung))
    top = 0.0046 * percent - 0.007 * lung + (0.007 * lung - 2.3 * start_ml) * decay
    return 1316 * top / (1 - decay)


@pytest.mark.parametrize(("percent", "minutes"), [(5.0, 480.0), (10.0, 240.0), (10.0, 60.0)])
def test_back_calculation_returns_the_level(percent, minutes):
    # Its C is 0.2 ml/ml: 0.0046 = 2.3 × 0.002. Linear, so up to 0.3 % COHb apart at 10 %.
    ppm = _back_calculated_ppm(percent, minutes, BODIES["rest"].resistance, 0.0015)
    assert float(cohb_percent(minutes, ppm, "rest")) == pytest.approx(percent, abs=0.3)


def test_short_cuts_for_short_exposures_lie_just_below():
    # Ventilation at rest 8.4 L/min = (6000 + 132 × 14)/0.933. Stewart 1973 and Pace 1946 (both
    # read second-hand); cross-checks only, and the equation is the more careful.
    ppm, minutes, breathed = 1000.0, 10.0, 8.4
    gained = float(cohb_percent(minutes, ppm, "rest")) - 0.75
    stewart = 3.317e-5 * ppm**1.036 * breathed * minutes
    pace = ppm / 100.0 * breathed * minutes / (46.5 * 5.5)
    assert 1.0 <= gained / stewart <= 1.4
    assert 1.0 <= gained / pace <= 1.4


# The same equation and parameters calculated apart from this package (Python with scipy).
EQUILIBRIUM = {
    0: 0.2, 5: 1.1, 9: 1.7, 10: 1.9, 25: 4.2, 30: 5.0, 35: 5.7, 50: 7.9, 70: 10.6, 100: 14.4,
    150: 20.1, 200: 25.0, 300: 33.3, 400: 39.9, 500: 45.4, 800: 57.0, 1000: 62.4, 1600: 72.6,
    3200: 84.1,
}  # fmt: skip


@pytest.mark.parametrize(("ppm", "percent"), EQUILIBRIUM.items())
def test_equilibrium_agrees_with_an_independent_calculation(ppm, percent):
    # Printed to 0.1 %; activity moves it by up to 0.2 %.
    assert float(equilibrium_percent(ppm, "rest")) == pytest.approx(percent, abs=0.21)


TO_TEN_TWENTY_FORTY = [
    (70, "rest", 857, math.inf, math.inf), (70, "public", 499, math.inf, math.inf),
    (70, "light", 389, math.inf, math.inf), (100, "rest", 332, math.inf, math.inf),
    (100, "public", 186, math.inf, math.inf), (100, "light", 143, math.inf, math.inf),
    (150, "rest", 179, 1428, math.inf), (200, "rest", 124, 376, math.inf),
    (200, "public", 69, 210, math.inf), (200, "light", 53, 161, math.inf),
    (400, "rest", 56, 131, math.inf), (400, "public", 31, 73, math.inf),
    (800, "rest", 27, 58, 142), (800, "public", 15, 32, 79), (800, "light", 11, 25, 60),
    (1600, "rest", 13, 28, 61), (1600, "public", 7, 15, 34), (3200, "rest", 6, 14, 29),
]  # fmt: skip


@pytest.mark.parametrize("row", TO_TEN_TWENTY_FORTY, ids=lambda row: f"{row[0]} {row[1]}")
def test_minutes_to_a_level_agree_with_an_independent_calculation(row):
    ppm, activity, *expected = row
    found = minutes_to_percent([10.0, 20.0, 40.0], ppm, activity)
    np.testing.assert_allclose(found, expected, rtol=0.005, atol=0.6)


# COHb [%] after 100 ppm 1 h and 8 h, 400 ppm 1 h, 1000 ppm 30 min, with one parameter changed from
# those at rest (same equation, calculated apart from this package).
SENSITIVITY = [
    ({}, (3.18, 11.81, 10.65, 13.72)),
    ({"haldane": 245.0}, (3.21, 12.55, 10.75, 13.80)),
    ({"haldane": 210.0}, (3.16, 11.56, 10.61, 13.70)),
    ({"capillary_o2_mmhg": 110.0}, (3.15, 11.19, 10.55, 13.66)),
    ({"blood_ml": 4000.0}, (3.98, 13.05, 13.88, 18.25)),
    ({"o2_capacity": 0.18}, (3.42, 12.26, 11.63, 15.09)),
    ({"ventilation_ml_min": 4000.0}, (2.55, 10.25, 8.06, 10.21)),
    ({"ventilation_ml_min": 8000.0}, (3.70, 12.67, 12.76, 16.67)),
    ({"ventilation_ml_min": 14000.0}, (4.82, 13.69, 17.26, 23.19)),
]


def four_exposures(body):
    pairs = ((60, 100), (480, 100), (60, 400), (30, 1000))
    return [float(cohb_percent(minutes, ppm, body)) for minutes, ppm in pairs]


@pytest.mark.parametrize(("change", "expected"), SENSITIVITY, ids=str)
def test_sensitivity_agrees_with_an_independent_calculation(change, expected):
    found = four_exposures(BODIES["rest"]._replace(**change))
    np.testing.assert_allclose(found, expected, rtol=0.005, atol=0.006)


def test_a_child_agrees_with_an_independent_calculation():
    # 10 kg; ventilation 2500, diffusing capacity 10, blood 800 ml, capacity 0.16: assumed values.
    np.testing.assert_allclose(four_exposures("child"), (7.64, 14.61, 27.16, 38.9), rtol=0.002)


# The limits as their setters publish them, in the units they publish; known as marked above.
PUBLISHED_LIMITS = {
    ("NAAQS", "ppm"): {480: 9, 60: 35},
    ("WHO indoor 2010", "mg/m3"): {15: 100, 60: 35, 480: 10, 1440: 7},
    ("WHO 2021", "mg/m3"): {1440: 4},
    ("WHO Europe 2000", "mg/m3"): {30: 60},
    ("AEGL-2", "ppm"): {10: 420, 30: 150, 60: 83, 240: 33, 480: 27},
    ("AEGL-3", "ppm"): {10: 1700, 30: 600, 60: 330, 240: 150, 480: 130},
    ("NIOSH REL", "ppm"): {480: 35},
    ("NIOSH ceiling", "ppm"): {0: 200},
    ("NIOSH IDLH", "ppm"): {0: 1200},
    ("OSHA PEL", "ppm"): {480: 50},
    ("ACGIH TLV", "ppm"): {480: 25},
}


def test_the_limits_are_those_published():
    kept = {}
    for row in LIMITS:
        kept.setdefault((row.name, row.unit), {})[row.minutes] = row.value
    assert kept == PUBLISHED_LIMITS


def test_the_alarm_points_are_those_published():
    # UL 2034 as printed in alarm manuals (read second-hand): 30 ppm for 30 days without alarm.
    rows = [(point.ppm, point.not_before_min, point.not_after_min) for point in ALARM_POINTS]
    assert rows == [(30, 43_200, math.inf), (70, 60, 240), (150, 10, 50), (400, 4, 15)]
