"""The CO rate of a machine and its raw exhaust."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from siteplan.air.checks import UnknownNameError
from siteplan.air.source import (
    CLASS_G_H,
    engine_size_rate_g_h,
    exhaust_flow_m3_s,
    flow_m3_s,
    mg_m3_from_ppm,
    ppm_from_mg_m3,
    raw_exhaust_ppm,
    screening_rate_g_h,
    source_rate,
)
from siteplan.errors import OutOfRangeError

# 610 g/kWh reaches 1500 g/h at 2.459 kW.
TURN_KW = 1500.0 / 610.0


@pytest.mark.parametrize(
    ("engine_kw", "expected"),
    [
        (None, 1500.0),
        (TURN_KW * 0.99, 1500.0),
        (TURN_KW, 1500.0),
        (TURN_KW * 1.01, 1515.0),
        (5.0, 3050.0),
    ],
)
def test_the_screening_rate_is_the_larger_of_the_two(engine_kw, expected):
    assert screening_rate_g_h(engine_kw) == pytest.approx(expected)


def test_nothing_known_is_screened():
    rate = source_rate()
    assert (rate.indicative_g_h, rate.worst_g_h, rate.basis) == (1500.0, 1500.0, "screening")


@given(
    label=st.none() | st.floats(1.0, 20_000.0),
    engine_class=st.none() | st.sampled_from(sorted(CLASS_G_H)),
    size=st.none() | st.floats(20.0, 2000.0),
    power=st.none() | st.floats(0.2, 50.0),
)
def test_no_label_or_class_lowers_the_worst_rate(label, engine_class, size, power):
    rate = source_rate(
        label_g_h=label, engine_class=engine_class, displacement_cc=size, engine_kw=power
    )
    assert rate.worst_g_h >= screening_rate_g_h(power)
    assert rate.worst_g_h >= rate.indicative_g_h > 0.0
    without_label = source_rate(engine_class=engine_class, displacement_cc=size, engine_kw=power)
    assert rate.worst_g_h >= without_label.worst_g_h


def test_a_label_governs_the_indicative_rate_only():
    rate = source_rate(label_g_h=150.0, engine_class="class-2-single")
    assert (rate.indicative_g_h, rate.worst_g_h, rate.basis) == (150.0, 1570.0, "label")


def test_the_larger_of_class_and_size_governs():
    # 80 cm³ gives less than the 1570 g/h of the class; 720 cm³ gives more.
    assert source_rate(engine_class="class-2-single", displacement_cc=80.0).basis == "class"
    assert source_rate(engine_class="class-2-single", displacement_cc=720.0).basis == "engine-size"


def test_a_confined_place_triples_both():
    open_air, confined = source_rate(label_g_h=200.0), source_rate(label_g_h=200.0, confined=True)
    assert confined.indicative_g_h == pytest.approx(3.0 * open_air.indicative_g_h)
    assert confined.worst_g_h == pytest.approx(3.0 * open_air.worst_g_h)


@pytest.mark.parametrize(("displacement_cc", "l_s"), [(212.0, 5.4), (420.0, 10.7), (680.0, 17.3)])
def test_exhaust_flow_of_common_engines(displacement_cc, l_s):
    # Independent hand calculation: displacement × 30 intakes/s × 0.85.
    assert exhaust_flow_m3_s(displacement_cc) * 1000.0 == pytest.approx(l_s, abs=0.05)


@pytest.mark.parametrize(
    ("cc", "rpm", "share", "g_h"),
    [
        (80.0, 4500.0, 0.05, 430.0),
        (212.0, 3600.0, 0.05, 1050.0),
        (420.0, 3600.0, 0.05, 2100.0),
        (720.0, 3600.0, 0.06, 4300.0),
    ],
)
def test_rate_from_engine_size(cc, rpm, share, g_h):
    # Hand calculation with a filling of 0.7 to 0.8 to two figures; this package takes 0.85 and so
    # gives up to 22 % more, and 1 % for the rounding.
    assert 1.0 <= engine_size_rate_g_h(cc, rpm, share) / g_h <= 1.23


@pytest.mark.parametrize(
    ("g_h", "l_s"), [(500, 0.121), (1000, 0.243), (1500, 0.364), (3000, 0.728), (4000, 0.970)]
)
def test_mass_to_volume(g_h, l_s):
    # Hand calculation: g/h / 3600 / 1145 g/m³.
    assert flow_m3_s(g_h) * 1000.0 == pytest.approx(l_s, abs=0.0006)


@pytest.mark.parametrize(("temperature_c", "mg_m3"), [(0.0, 1.250), (20.0, 1.165), (25.0, 1.145)])
def test_one_ppm_in_milligrams(temperature_c, mg_m3):
    # Ideal gas: 28.010 g/mol over molar volumes of 22.414, 24.055 and 24.465 L (from memory).
    assert mg_m3_from_ppm(1.0, temperature_c) == pytest.approx(mg_m3, abs=0.0006)
    assert ppm_from_mg_m3(mg_m3, temperature_c) == pytest.approx(1.0, abs=0.001)


@pytest.mark.parametrize(("mg_m3", "ppm"), [(100, 87), (35, 31), (10, 8.7), (7, 6.1)])
def test_limits_of_the_who_in_ppm(mg_m3, ppm):
    assert ppm_from_mg_m3(mg_m3) == pytest.approx(ppm, rel=0.02)


def test_raw_exhaust_is_capped():
    # 1500 g/h from 212 cm³: 0.364 L/s in 5.4 L/s = 67 000 ppm; from 80 cm³ it would pass 10 %.
    assert raw_exhaust_ppm(1500.0, 212.0) == pytest.approx(67_300, rel=0.01)
    assert raw_exhaust_ppm(1500.0, 80.0) == 100_000.0
    assert raw_exhaust_ppm(1500.0) == 100_000.0


@pytest.mark.parametrize(
    "arguments",
    [
        {"label_g_h": 0.0},
        {"label_g_h": float("nan")},
        {"label_g_h": 20_001.0},
        {"displacement_cc": -1.0},
        {"engine_kw": 0.0},
    ],
)
def test_figures_out_of_range_are_refused(arguments):
    with pytest.raises(OutOfRangeError):
        source_rate(**arguments)


def test_an_unknown_class_is_named():
    with pytest.raises(UnknownNameError, match="'diesel' is no engine class"):
        source_rate(engine_class="diesel")


@pytest.mark.parametrize(("temperature_c", "pressure_kpa"), [(-273.15, 101.325), (25.0, 0.0)])
def test_air_that_cannot_be_is_refused(temperature_c, pressure_kpa):
    with pytest.raises(OutOfRangeError):
        mg_m3_from_ppm(1.0, temperature_c, pressure_kpa)
