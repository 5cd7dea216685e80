"""Whole calculations against the plane test cases of ISO/TR 17534-3:2015.

Source (10, 10, 1), receiver (200, 50, 4), 93 dB in each octave, 20 °C, 70 %, 101.325 kPa, as
printed (READ2: read second-hand in two independent transcriptions; T04, T05 and T13 in one).
The report's own acceptance is 0.05 dB. CALC marks values recomputed by another script from the
formulas.
"""

import numpy as np
import pytest

from siteplan.sound import NO_SCREENS, Conditions, Screens, propagation
from siteplan.sound.ground import region_factors
from siteplan.sound.propagation import spreading_db
from siteplan.sound.rating import assumed_spectrum_db, power_from_rating_dba

SOURCE, RECEIVER = (10, 10, 1), (200, 50, 4)
FLAT_POWER = [93.0] * 8
TOLERANCE_DB = 0.05
MIXED = region_factors([40.88, 102.19, 51.10], [0.2, 0.5, 0.9], 1, 4)
LONG_WALL = Screens.build([[(100, 240), (265, -180)]], [6])
SHORT_WALL = Screens.build([[(175, 50), (190, 10)]], [6])
OCTAGON = Screens.build(
    (),
    (),
    [
        [
            (10.96, 15.50),
            (12, 13),
            (14.5, 11.96),
            (17, 13),
            (18.04, 15.5),
            (17, 18),
            (14.5, 19.04),
            (12, 18),
        ]
    ],
    [10],
)


@pytest.mark.parametrize(
    ("ground", "method", "screens", "bands", "total"),
    [
        pytest.param(
            (0, 0, 0),
            "general",
            NO_SCREENS,
            (39.90, 39.86, 39.70, 39.37, 38.95, 38.17, 35.47, 25.04),
            44.29,
            id="T01 hard ground",
        ),
        pytest.param(
            (1, 1, 1),
            "general",
            NO_SCREENS,
            (39.90, 32.48, 26.33, 27.03, 33.27, 34.49, 31.79, 21.36),
            39.14,
            id="T03 soft ground",
        ),
        pytest.param(
            MIXED,
            "general",
            NO_SCREENS,
            (39.90, 36.24, 35.23, 36.04, 36.95, 36.57, 33.87, 23.45),
            42.23,
            id="T04 mixed ground",
        ),
        pytest.param(
            MIXED,
            "alternative",
            NO_SCREENS,
            (34.90, 34.86, 34.71, 34.38, 33.95, 33.17, 30.48, 20.05),
            39.30,
            id="T05 alternative method",
        ),
        pytest.param(
            (0.9, 0.6, 0.37),
            "general",
            LONG_WALL,
            (34.86, 30.85, 29.72, 29.01, 27.26, 26.01, 21.04, 8.02),
            32.48,
            id="T08 long wall",
        ),
        pytest.param(
            (0.9, 0.6, 0.37),
            "general",
            SHORT_WALL,
            (36.99, 32.36, 29.72, 29.21, 27.84, 26.51, 21.46, 8.40),
            32.93,
            id="T09 short wall",
        ),
    ],
)
def test_plane_cases(ground, method, screens, bands, total):
    how = Conditions(ground=ground, ground_method=method, temperature_c=20)
    ours = propagation(SOURCE, [RECEIVER], FLAT_POWER, screens, conditions=how)
    np.testing.assert_allclose(ours.bands_db[0], bands, atol=TOLERANCE_DB)
    assert ours.level_dba[0] == pytest.approx(total, abs=TOLERANCE_DB)


def test_half_soft_ground_total():
    # ISO/TR 17534-3:2015 T02, ground factor 0.5 (total only, READ2)
    how = Conditions(ground=(0.5, 0.5, 0.5), temperature_c=20)
    ours = propagation(SOURCE, [RECEIVER], FLAT_POWER, conditions=how)
    assert ours.level_dba[0] == pytest.approx(41.53, abs=TOLERANCE_DB)


def test_building_with_eight_sides():
    # ISO/TR 17534-3:2015 T13
    how = Conditions(ground=(0.6, 0.6, 0.6), temperature_c=20)
    ours = propagation((0, 10, 1), [(30, 20, 6)], FLAT_POWER, OCTAGON, conditions=how)
    bands = (51.17, 46.66, 42.86, 39.28, 37.00, 34.02, 31.22, 27.93)
    np.testing.assert_allclose(ours.bands_db[0], bands, atol=TOLERANCE_DB)
    assert ours.level_dba[0] == pytest.approx(42.71, abs=TOLERANCE_DB)


def test_spreading_at_a_hundred_metres():
    # ISO 9613-2 eq. 7 (READ2)
    assert float(spreading_db(100.0)) == pytest.approx(51.0, abs=1e-9)


def test_a_rating_comes_back_where_it_was_taken():
    # Identity: 74 dB(A) at 7 m to sound power and back over hard ground
    power = power_from_rating_dba(74, 7, full_load=True, mean_of_sides=True)
    ours = propagation((0, 0, 1), [(7, 0, 1)], assumed_spectrum_db(power))
    assert ours.level_dba[0] == pytest.approx(74.0, abs=0.1)


@pytest.mark.parametrize(
    ("distance_m", "level"),
    # CALC: LwA 98.9, source 0.5 m, receiver 1.5 m, 10 °C, 70 %
    [(7, 73.85), (10, 70.77), (15, 67.23), (20, 64.70), (30, 61.10), (50, 56.53)],
)
def test_levels_over_hard_ground(distance_m, level):
    ours = propagation((0, 0, 0.5), [(distance_m, 0, 1.5)], assumed_spectrum_db(98.9))
    assert ours.level_dba[0] == pytest.approx(level, abs=0.05)


@pytest.mark.parametrize(("factor", "level"), [(0.5, 64.92), (1.0, 62.80)])
def test_levels_over_softer_ground(factor, level):
    # CALC, as above at 15 m
    how = Conditions(ground=(factor,) * 3)
    ours = propagation((0, 0, 0.5), [(15, 0, 1.5)], assumed_spectrum_db(98.9), conditions=how)
    assert ours.level_dba[0] == pytest.approx(level, abs=0.05)


@pytest.mark.parametrize(
    ("height", "shape", "open_level", "level"),
    # CALC: fence 1.8 m at 3 m, receiver 15 m away, over the top only
    [
        (1.5, "mid", 67.23, 56.62),
        (1.5, "low", 67.29, 58.30),
        (4.0, "low", 67.08, 60.33),
    ],
)
def test_levels_behind_a_fence(height, shape, open_level, level):
    fence = Screens.build([[(3, -1e4), (3, 1e4)]], [1.8])
    ours = propagation((0, 0, 0.5), [(15, 0, height)], assumed_spectrum_db(98.9, shape), fence)
    assert ours.open_dba[0] == pytest.approx(open_level, abs=0.05)
    assert ours.level_dba[0] == pytest.approx(level, abs=0.05)


@pytest.mark.parametrize(
    ("distance_m", "factor", "rise"),
    # CALC, incoherent image source, receiver 15 m in front of the set
    [(0.5, 1.0, 2.74), (1.0, 1.0, 2.50), (1.0, 0.8, 2.10), (2.0, 1.0, 2.10), (3.0, 1.0, 1.79)],
)
def test_a_wall_behind_the_set(distance_m, factor, rise):
    wall = Screens.build([[(-distance_m, -500), (-distance_m, 500)]], [50])
    # Broad band at 2 kHz only, and dry of air: the arithmetic is spreading alone.
    power = np.full(8, -100.0)
    power[5] = 100.0
    still = Conditions(temperature_c=20)
    ours = propagation(
        (0, 0, 1), [(15, 0, 1)], power, wall, conditions=still, reflection_factor=factor
    )
    # air adds at most 0.06 dB over the 6 m that the image is further away
    assert ours.level_dba[0] - ours.open_dba[0] == pytest.approx(rise, abs=0.03)
