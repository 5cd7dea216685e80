"""Copper against published tables and worked examples.

Marks: READ, the figure was seen; SECOND-HAND, seen in a copy of the work; MEMORY; DERIVED,
arithmetic from the figures named.
"""

import pytest

from siteplan.power import copper
from siteplan.units import M_PER_IN

KFT_M = 304.8


def per_kft(ohm_per_m):
    return ohm_per_m * KFT_M


@pytest.mark.parametrize(
    ("gauge", "inch", "tolerance"),
    [
        (36, 0.005, 1e-9),  # NBS Handbook 100 s. 2.1, READ
        (-3, 0.46, 1e-6),  # 4/0; NBS Handbook 100 s. 2.1, READ
        (0, 0.3249, 5e-5),  # published AWG table, READ
        (10, 0.1019, 5e-5),
        (12, 0.0808, 5e-5),
        (18, 0.04030, 5e-6),  # Lessons in Electric Circuits, reference table, READ
    ],
)
def test_diameters_of_the_gauge(gauge, inch, tolerance):
    assert copper.diameter_m(gauge) / M_PER_IN == pytest.approx(inch, abs=tolerance)


@pytest.mark.parametrize(("steps", "ratio"), [(1, 1.1229322), (2, 1.2610), (6, 2.0050)])
def test_ratio_of_successive_gauges(steps, ratio):
    # NBS Handbook 100 s. 2.1, READ
    found = copper.diameter_m(12) / copper.diameter_m(12 + steps)
    assert found == pytest.approx(ratio, abs=5e-5)


@pytest.mark.parametrize(
    ("gauge", "circular_mils"),
    # NEC 2023 ch. 9 Table 8, SECOND-HAND; Lessons in Electric Circuits, READ
    [
        (18, 1620),
        (16, 2580),
        (14, 4110),
        (12, 6530),
        (10, 10380),
        (8, 16510),
        (6, 26240),
        (4, 41740),
    ],
)
def test_areas_in_circular_mils(gauge, circular_mils):
    # The code prints rounded areas, to within 12 in the last places.
    assert copper.area_circular_mils(gauge) == pytest.approx(circular_mils, abs=12)


def test_area_of_18_awg_is_1624_circular_mils():
    # Lessons in Electric Circuits, reference table, READ
    assert copper.area_circular_mils(18) == pytest.approx(1624, abs=1)


@pytest.mark.parametrize(
    ("gauge", "mm2"),
    # ASTM B258 sizes, DERIVED from the diameter formula by hand
    [(18, 0.823), (16, 1.309), (14, 2.081), (12, 3.309), (10, 5.261), (8, 8.366), (6, 13.30)],
)
def test_areas_in_square_millimetres(gauge, mm2):
    assert copper.area_m2(gauge) * 1e6 == pytest.approx(mm2, rel=5e-4)


@pytest.mark.parametrize(
    ("gauge", "ohm"),
    # NEC 2023 ch. 9 Table 8, solid uncoated copper at 75 °C, SECOND-HAND
    [(18, 7.77), (16, 4.89), (14, 3.07), (12, 1.93), (10, 1.21), (8, 0.764)],
)
def test_solid_resistance_look_up_and_formula(gauge, ohm):
    assert per_kft(copper.resistance_ohm_per_m(gauge, stranded=False)) == pytest.approx(ohm)
    formula = copper.formula_resistance_ohm_per_m(gauge, stranded=False)
    assert per_kft(formula) == pytest.approx(ohm, rel=0.005)


@pytest.mark.parametrize(
    ("gauge", "ohm"),
    # NEC 2023 ch. 9 Table 8, stranded uncoated copper at 75 °C, SECOND-HAND (18 AWG MEMORY)
    [
        (18, 7.95),
        (16, 4.99),
        (14, 3.14),
        (12, 1.98),
        (10, 1.24),
        (8, 0.778),
        (6, 0.491),
        (4, 0.308),
    ],
)
def test_stranded_resistance_look_up_and_formula(gauge, ohm):
    assert per_kft(copper.resistance_ohm_per_m(gauge)) == pytest.approx(ohm)
    formula = copper.formula_resistance_ohm_per_m(gauge)
    assert per_kft(formula) == pytest.approx(ohm, rel=0.006)


@pytest.mark.parametrize(("gauge", "ohm"), [(14, 2.525), (12, 1.588)])
def test_solid_resistance_at_20_c(gauge, ohm):
    # Published copper wire table of a test-equipment maker, READ
    found = copper.formula_resistance_ohm_per_m(gauge, 20.0, stranded=False)
    assert per_kft(found) == pytest.approx(ohm, rel=0.001)
    looked_up = copper.resistance_ohm_per_m(gauge, 20.0, stranded=False)
    assert per_kft(looked_up) == pytest.approx(ohm, rel=0.001)


@pytest.mark.parametrize(
    ("gauge", "at_60_c", "at_30_c"),
    # NEC ch. 9 Table 8 with the temperature rule of its note, DERIVED
    [
        (18, 7.57, 6.79),
        (16, 4.75, 4.26),
        (14, 2.99, 2.68),
        (12, 1.88, 1.69),
        (10, 1.18, 1.06),
        (8, 0.740, 0.665),
        (6, 0.467, 0.420),
        (4, 0.293, 0.263),
    ],
)
def test_stranded_resistance_at_other_temperatures(gauge, at_60_c, at_30_c):
    assert per_kft(copper.resistance_ohm_per_m(gauge, 60.0)) == pytest.approx(at_60_c, rel=0.004)
    assert per_kft(copper.resistance_ohm_per_m(gauge, 30.0)) == pytest.approx(at_30_c, rel=0.004)


def test_the_customary_constant_of_copper_is_12_9_ohm_circular_mils_per_foot():
    # Wiring textbooks, READ: K = 12.9
    for gauge in (18, 16, 14, 12, 10, 8, 6, 4):
        ohm_per_ft = copper.resistance_ohm_per_m(gauge) * 0.3048
        assert ohm_per_ft * copper.area_circular_mils(gauge) == pytest.approx(12.9, abs=0.07)


@pytest.mark.parametrize(
    ("gauge", "listed", "tolerance"),
    # NEC 2023 ch. 9 Table 9, effective Z at 0.85 in plastic conduit, SECOND-HAND; printed to
    # two figures. 4 AWG: copies print 0.28 and 0.29.
    [
        (14, 2.7, 0.05),
        (12, 1.7, 0.05),
        (10, 1.1, 0.05),
        (8, 0.69, 0.005),
        (6, 0.44, 0.005),
        (4, 0.29, 0.005),
    ],
)
def test_effective_impedance_at_085(gauge, listed, tolerance):
    found = per_kft(copper.effective_impedance_ohm_per_m(gauge, 0.85))
    assert found == pytest.approx(listed, abs=tolerance)
