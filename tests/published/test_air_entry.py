"""Flow through openings against published formulas and the handbook's worked example."""

import numpy as np
import pytest

from siteplan.air.entry import (
    AIR_CHANGES,
    air_changes_per_h,
    leakage_flow_m3_s,
    orifice_flow_m3_s,
    room_ppm,
    single_sided_flow_m3_s,
)


def test_handbook_example_of_the_basic_leakage_model():
    # ASHRAE Handbook of Fundamentals (from memory): 500 cm², 340 m³, 39 K, 6.7 m/s, one storey,
    # shelter class 4: 0.54 air changes an hour; coefficients read second-hand.
    flow = leakage_flow_m3_s(500.0, 39.0, 6.7, storeys=1, shelter=4)
    assert air_changes_per_h(flow, 340.0) == pytest.approx(0.54, abs=0.005)


# The same model worked out by hand: area, difference, wind, storeys, shelter class; L/s.
@pytest.mark.parametrize(
    ("house", "l_s"),
    [
        ((500, 39, 6.7, 1, 4), 50.8),
        ((500, 39, 6.7, 1, 3), 58.0),
        ((500, 20, 4.0, 1, 3), 37.7),
        ((500, 20, 4.0, 2, 3), 48.7),
        ((1000, 20, 4.0, 1, 3), 75.4),
    ],
)
def test_basic_leakage_model_by_hand(house, l_s):
    assert leakage_flow_m3_s(*house) * 1000.0 == pytest.approx(l_s, abs=0.06)


# De Gids and Phaff 1982, formula read second-hand; 0.0225 m², 1.2 m, worked out by hand.
@pytest.mark.parametrize(
    ("wind", "difference", "m3_s"), [(1, 5, 0.00201), (0, 10, 0.00257), (3, 10, 0.00278)]
)
def test_de_gids_and_phaff(wind, difference, m3_s):
    found = single_sided_flow_m3_s(0.0225, 1.2, wind, difference)
    assert found == pytest.approx(m3_s, abs=6e-6)


# Orifice, 25 mm × 0.9 m gap, Cd 0.6, 1.2 kg/m³ (by hand).
@pytest.mark.parametrize(("pressure", "m3_s"), [(2.0, 0.0246), (4.0, 0.0349)])
def test_orifice(pressure, m3_s):
    assert orifice_flow_m3_s(0.0225, pressure) == pytest.approx(m3_s, abs=6e-5)


def test_a_room_filling_by_hand():
    # 130 ppm outdoors, half an air change an hour.
    found = room_ppm([60.0, 120.0, 240.0, 480.0], 130.0, 0.5)
    np.testing.assert_allclose(found, [51.2, 82.2, 112.4, 127.6], atol=0.06)


def test_screening_exchange_lies_within_measured_houses():
    # EPA Exposure Factors Handbook, P10 0.18 and P90 1.26 (from memory); three cities, median 0.71,
    # Texas in summer 0.37, California in summer 1.13 (Indoor Air 2010, abstract read).
    shut = AIR_CHANGES["shut"]
    assert 0.18 < shut.indicative_per_h < 0.71
    assert shut.worst_per_h > 1.26
