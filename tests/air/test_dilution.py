"""Dilution by each method, and the two bands."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import trapezoid

from siteplan.air.bands import indicative_ppm, outdoor_ppm
from siteplan.air.dilution import (
    cavity_ppm,
    confined_ppm,
    distance_factor,
    plume_ppm,
    recirculation_length_m,
    separation_m,
    still_air_ppm,
    stretched_string_dilution,
    stretched_string_ppm,
)
from siteplan.air.plume import Width, briggs_width, gaussian_plume, gifford_width
from siteplan.air.source import flow_m3_s
from siteplan.errors import OutOfRangeError

RATES = st.floats(50.0, 10_000.0)
PATHS = st.floats(0.3, 200.0)
WINDS = st.floats(0.0, 15.0)
AREAS = st.none() | st.floats(5.0, 300.0)


def _bands(rate, path, wind, area):
    found = outdoor_ppm(rate, path, wind_m_s=wind, cavity_area_m2=area)
    return float(found.indicative.ppm), float(found.worst.ppm)


@given(RATES, PATHS, WINDS, AREAS, st.floats(1.0, 3.0))
def test_more_source_never_lowers_a_band(rate, path, wind, area, factor):
    before, after = _bands(rate, path, wind, area), _bands(rate * factor, path, wind, area)
    assert after[0] >= before[0]
    assert after[1] >= before[1]


@given(RATES, PATHS, WINDS, AREAS, st.floats(0.05, 1.0))
def test_less_distance_never_lowers_a_band(rate, path, wind, area, factor):
    before, after = _bands(rate, path, wind, area), _bands(rate, path * factor, wind, area)
    assert after[0] >= before[0] * (1.0 - 1e-12)
    assert after[1] >= before[1] * (1.0 - 1e-12)


@given(RATES, PATHS, WINDS, AREAS, st.floats(0.0, 1.0))
def test_less_wind_never_lowers_a_band(rate, path, wind, area, factor):
    before, after = _bands(rate, path, wind, area), _bands(rate, path, wind * factor, area)
    assert after[0] >= before[0]
    assert after[1] >= before[1]


@given(RATES, PATHS, WINDS)
def test_the_band_alone_is_the_band_of_both(rate, path, wind):
    both = outdoor_ppm(rate, path, wind_m_s=wind).indicative.ppm
    assert float(indicative_ppm(rate, path, wind)) == float(both)


@pytest.mark.parametrize(("rate", "path"), [(-1.0, 5.0), (math.nan, 5.0), (1500.0, math.nan)])
def test_the_band_alone_refuses_what_both_refuse(rate, path):
    with pytest.raises(OutOfRangeError):
        indicative_ppm(rate, path)


@given(RATES, PATHS, WINDS, AREAS)
def test_bands_are_ordered_and_bounded(rate, path, wind, area):
    still, found = outdoor_ppm(rate, path), outdoor_ppm(rate, path, wind_m_s=wind)
    # A known wind raises and never lowers what still air gives.
    assert found.indicative.ppm >= still.indicative.ppm
    indicative, worst = _bands(rate, path, wind, area)
    assert 0.0 < indicative <= worst <= 100_000.0


@given(RATES, PATHS, WINDS, st.floats(5.0, 300.0))
def test_the_cavity_only_raises(rate, path, wind, area):
    without, behind = _bands(rate, path, wind, None), _bands(rate, path, wind, area)
    assert behind[0] >= without[0]
    assert behind[1] >= without[1]


def test_each_method_is_shown_and_the_largest_governs():
    found = outdoor_ppm(1500.0, [3.0, 6.1], cavity_area_m2=30.0)
    for band in (found.indicative, found.worst):
        assert set(band.by_method_ppm) == {
            "stretched-string",
            "urban-plume",
            "cavity",
            "rural-plume",
            "still-air",
            "handbook-plume",
        }
    in_band = ("stretched-string", "urban-plume", "cavity")
    expected = np.max([found.indicative.by_method_ppm[name] for name in in_band], axis=0)
    np.testing.assert_array_equal(found.indicative.ppm, expected)
    in_worst = (*in_band, "rural-plume", "still-air")
    expected = np.max([found.worst.by_method_ppm[name] for name in in_worst], axis=0)
    np.testing.assert_array_equal(found.worst.ppm, expected)


def test_the_spread_of_methods_is_about_tenfold_at_six_metres():
    # Urban class D against rural class F at the same wind, and more across the two bands.
    same_wind = outdoor_ppm(1500.0, 6.1).indicative.by_method_ppm
    ratio = same_wind["rural-plume"] / same_wind["urban-plume"]
    assert 8.0 < float(ratio) < 12.0
    assert float(outdoor_ppm(1500.0, 6.1).spread) > 10.0


def test_the_worst_band_takes_the_worst_rate_and_never_less_than_the_other():
    base = outdoor_ppm(600.0, 50.0)
    raised = outdoor_ppm(600.0, 50.0, worst_rate_g_h=1800.0)
    assert float(raised.worst.ppm) == pytest.approx(3.0 * float(base.worst.ppm))
    assert float(raised.indicative.ppm) == float(base.indicative.ppm)
    lowered = outdoor_ppm(600.0, 50.0, worst_rate_g_h=75.0)
    assert float(lowered.worst.ppm) == float(base.worst.ppm)


def test_raw_exhaust_caps_every_method():
    found = outdoor_ppm(1500.0, 0.0, raw_ppm=67_000.0)
    assert float(found.indicative.ppm) == float(found.worst.ppm) == 67_000.0
    assert all(np.all(ppm <= 67_000.0) for ppm in found.worst.by_method_ppm.values())


@pytest.mark.parametrize("path", [-0.01, float("nan"), float("inf")])
def test_a_path_out_of_range_is_refused(path):
    with pytest.raises(OutOfRangeError):
        outdoor_ppm(1500.0, path)


@pytest.mark.parametrize(("wander_deg", "factor"), [(0.0, 0.027), (15.0, 0.0585), (30.0, 0.090)])
def test_distance_factor(wander_deg, factor):
    assert distance_factor(wander_deg) == pytest.approx(factor)


@pytest.mark.parametrize("wander_deg", [-0.1, 30.1])
def test_distance_factor_outside_its_range(wander_deg):
    with pytest.raises(OutOfRangeError):
        distance_factor(wander_deg)


def test_dilution_is_one_at_the_exhaust_and_the_jet_only_helps_upward():
    assert float(stretched_string_dilution(0.0, 0.005, 1.0)) == pytest.approx(1.0, abs=0.01)
    level = float(stretched_string_dilution(3.0, 0.005, 1.0, exhaust_m_s=10.0))
    upward = float(stretched_string_dilution(3.0, 0.005, 1.0, exhaust_m_s=10.0, upward=True))
    # Do = 1 + 13 × 10/1 = 131; Ds = 0.0585 × 9/0.005 = 105.3 (by hand).
    assert level == pytest.approx((1.0 + 105.3**0.5) ** 2, rel=1e-6)
    assert upward == pytest.approx((131.0**0.5 + 105.3**0.5) ** 2, rel=1e-6)


def test_the_distance_term_is_never_below_the_full_formula():
    flow = 0.005
    raw = 1e6 * flow_m3_s(1500.0) / flow
    full = raw / stretched_string_dilution([1.0, 3.0, 10.0], flow, 1.0)
    assert np.all(stretched_string_ppm(1500.0, [1.0, 3.0, 10.0], 1.0) > full * 0.99)


def test_ashrae_separation_promises_ten_times_too_much_in_light_air():
    # Its own dilution at the distance it gives, against Wilson-Lamb at 1 m/s.
    flow_l_s, dilution = 5.4, 1000.0
    path = separation_m(flow_l_s, dilution)
    wilson_lamb = 0.059 * 1.0 * path**2 / (flow_l_s / 1000.0)
    assert 8.0 < dilution / wilson_lamb < 12.0
    assert separation_m(flow_l_s, 4.0, 10.0) == 0.0


def test_cavity_and_recirculation():
    assert cavity_ppm(1500.0, 0.0, 30.0) == cavity_ppm(1500.0, 0.5, 30.0)
    assert recirculation_length_m(5.0, 5.0) == pytest.approx(5.0)
    # 3^0.67 × 12^0.33 = 2.088 × 2.271 (by hand), whichever side is given first.
    assert recirculation_length_m(12.0, 3.0) == pytest.approx(4.74, abs=0.01)
    assert recirculation_length_m(3.0, 12.0) == recirculation_length_m(12.0, 3.0)


def test_confined_air_fills_toward_the_steady_value():
    # 4500 g/h in 20 m³ with 5 changes an hour: 3.93 m³/h of CO in 100 m³/h of air = 39 300 ppm.
    curve = confined_ppm(4500.0, [0.0, 12.0, 600.0], 20.0, 5.0)
    assert curve[0] == 0.0
    assert curve[1] == pytest.approx(39_300 * (1.0 - np.exp(-1.0)), rel=1e-3)
    assert curve[2] == pytest.approx(39_300, rel=1e-3)


def test_still_air_falls_with_distance_only_once():
    assert float(still_air_ppm(1500.0, 4.0)) == pytest.approx(2.0 * float(still_air_ppm(1500, 8.0)))


@given(st.sampled_from("ABCDEF"), st.sampled_from(["rural", "urban"]), st.floats(1.0, 5000.0))
def test_widths_grow_with_distance(stability, terrain, distance):
    near, far = (
        briggs_width(distance, stability, terrain),
        briggs_width(distance * 1.1, stability, terrain),
    )
    assert far.across_m > near.across_m > 0.0
    assert far.upright_m > near.upright_m > 0.0


def test_the_plume_carries_its_source_through_every_cross_section():
    # Second route: integrating concentration × wind over the plane gives the rate back.
    width = Width(np.array(3.0), np.array(2.0))
    aside, height = np.linspace(-20.0, 20.0, 101), np.linspace(0.0, 25.0, 201)
    plane = gaussian_plume(
        7.0, 2.5, width, source_height_m=4.0, height_m=height[:, None], aside_m=aside
    )
    carried = trapezoid(trapezoid(plane, aside, axis=1), height) * 2.5
    assert carried == pytest.approx(7.0, rel=2e-3)


@pytest.mark.parametrize(
    ("distance_m", "stability"), [(0.0, "D"), (400.1, "B"), (3000.1, "D"), (100.0, "F")]
)
def test_gifford_widths_outside_the_table(distance_m, stability):
    with pytest.raises(OutOfRangeError):
        gifford_width(distance_m, stability)


def test_the_initial_spread_bounds_the_plume_at_the_machine():
    # At the machine: q/(π U 0.25²) (by hand).
    expected = 1e6 * flow_m3_s(1500.0) / (np.pi * 1.0 * 0.25**2)
    assert float(plume_ppm(1500.0, 0.0, 1.0)) == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize("raw_ppm", [-1.0, 100_001.0, float("nan")])
def test_a_cap_out_of_range_is_refused(raw_ppm):
    # Not a number as a cap would hide every method.
    with pytest.raises(OutOfRangeError):
        outdoor_ppm(1500.0, 6.0, raw_ppm=raw_ppm)


@pytest.mark.parametrize(("flow_l_s", "dilution"), [(-1.0, 15.0), (5.0, 0.99)])
def test_a_separation_out_of_range_is_refused(flow_l_s, dilution):
    with pytest.raises(OutOfRangeError):
        separation_m(flow_l_s, dilution)


def test_a_wall_without_height_has_no_recirculation_length():
    with pytest.raises(OutOfRangeError):
        recirculation_length_m(10.0, 0.0)
