"""Ground and screen terms against published values.

Marks: READ2 (read second-hand), DERIVED, CALC (recomputed by another script).
"""

import numpy as np
import pytest
from sound_propagation import GroundAttenuation

from siteplan.sound.ground import (
    alternative_ground_dba,
    ground_db,
    region_factors,
    solid_angle_db,
)
from siteplan.sound.levels import OCTAVES_HZ
from siteplan.sound.screening import (
    capped_db,
    double_edge_factor,
    joined_db,
    least_detour_m,
    screen_db,
)

# Plan distance of every plane case of ISO/TR 17534-3:2015: S(10, 10, 1), R(200, 50, 4)
DP = float(np.hypot(190, 40))


@pytest.mark.parametrize(
    ("factor", "printed"),
    # ISO/TR 17534-3:2015 T01 and T03 (READ2)
    [
        (0.0, [-3.68] * 8),
        (1.0, [-3.68, 3.69, 9.69, 8.66, 1.99, 0.0, 0.0, 0.0]),
    ],
)
def test_general_ground_term_of_the_plane_cases(factor, printed):
    ours = ground_db(DP, 1, 4, (factor,) * 3)
    np.testing.assert_allclose(ours, printed, atol=0.01)


@pytest.mark.parametrize(
    ("distance_m", "hs", "hr", "g"),
    [(DP, 1, 4, 1.0), (15, 0.5, 1.5, 0.5), (60, 1, 4, 0.0), (900, 2, 1.5, 0.7)],
)
def test_general_ground_term_agrees_with_a_library(distance_m, hs, hr, g):
    theirs = GroundAttenuation(
        source_height=hs,
        receiver_height=hr,
        distance=distance_m,
        G_source=g,
        G_receiver=g,
        G_middle=g,
    )
    ours = ground_db(distance_m, hs, hr, (g, g, g))
    np.testing.assert_allclose(ours, theirs.ground_attenuation(OCTAVES_HZ), atol=0.001)


def test_ground_term_limit_and_worked_case():
    # ISO 9613-2 table 3 limit 17.2 dB, and a worked case of an open library's guide (READ2)
    assert ground_db(1e4, 0, 0, (1, 1, 1))[2] == pytest.approx(17.2, abs=0.01)
    ours = ground_db(200, 1.5, 1.5, (1, 1, 1))
    np.testing.assert_allclose(ours, [-4.65, 2.34, 13.79, 9.76, 1.30, 0, 0, 0], atol=0.02)


def test_region_factors_of_the_mixed_ground_case():
    # ISO/TR 17534-3:2015 T04 (READ2): 0.2 over 40.88 m, 0.5 over 102.19 m, 0.9 over 51.10 m
    ours = region_factors([40.88, 102.19, 51.10], [0.2, 0.5, 0.9], 1, 4)
    np.testing.assert_allclose(ours, (0.20, 0.43, 0.67), atol=0.005)


def test_alternative_method_values():
    # T05 and an open library's guide (READ2)
    assert float(alternative_ground_dba(194.188, 2.5)) == pytest.approx(4.32, abs=0.005)
    assert float(solid_angle_db(DP, 1, 4)) == pytest.approx(3.009, abs=0.001)
    assert float(alternative_ground_dba(200, 2)) == pytest.approx(4.43, abs=0.01)
    assert float(solid_angle_db(200, 1.5, 1.5)) == pytest.approx(3.01, abs=0.01)


def test_thin_wall_case_gives_the_printed_screen_term():
    # ISO/TR 17534-3:2015 T08 (READ2)
    ours = screen_db(0.133658, 170.305, 24.017)
    printed = [5.06, 5.33, 5.83, 6.68, 8.01, 9.84, 12.12, 14.71]
    np.testing.assert_allclose(ours, printed, atol=0.01)


@pytest.mark.parametrize(
    ("edition", "printed"),
    # S(0, 5), wall x = 50 with its top at 8, R(100, 1.5); octaves 16 Hz to 8 kHz (READ2)
    [
        ("1996", [5.217, 5.610, 6.312, 7.431, 9.069, 11.186, 13.670, 16.391, 19.249, 22.181]),
        ("2024", [5.009, 5.383, 6.091, 7.245, 8.935, 11.101, 13.621, 16.365, 19.235, 22.174]),
    ],
)
def test_both_editions_of_the_screen_term(edition, printed):
    near, far = np.hypot(50, 3), np.hypot(50, 6.5)
    z = near + far - np.hypot(100, 3.5)
    bands = [16, 31.5, *OCTAVES_HZ]
    ours = screen_db(z, near, far, edition=edition, frequency_hz=bands)
    np.testing.assert_allclose(ours, printed, atol=0.001)


def test_negative_detour_fades_to_nothing():
    # ISO 9613-2 clause 7.4, values READ2
    assert screen_db(-0.02, 50, 50, frequency_hz=[1000.0])[0] == pytest.approx(2.609, abs=0.001)
    assert least_detour_m(1.0, [500.0])[0] == pytest.approx(-0.068, abs=1e-9)
    assert screen_db(-0.5, 50, 50, frequency_hz=[500.0])[0] == 0.0


def test_grazing_gives_ten_log_three():
    # z = 0 (1996): 10 lg 3 in every band, by arithmetic
    np.testing.assert_allclose(screen_db(0.0, 10, 10), 10 * np.log10(3))


def test_double_edge_factor_values():
    # e = 40 m (READ2: 1.845 at 63 Hz, 2.989 at 1 kHz)
    ours = double_edge_factor(40.0, [63.0, 1000.0])
    np.testing.assert_allclose(ours, [1.845, 2.989], atol=0.001)
    assert double_edge_factor(0.0, [500.0])[0] == 1.0


def test_caps_in_deep_shadow():
    # 20 dB one edge, 25 dB two (READ2)
    deep = screen_db([40.0, 40.0], 30, 30, [0.0, 8.0])
    np.testing.assert_array_equal(capped_db(deep, [0.0, 8.0]).max(axis=1), [20.0, 25.0])


def test_literal_joining_of_an_open_librarys_worked_case():
    # READ2: d 200, h 1.5, G 1, dss = dsr = 101, literal equation 12. The joining rule used here
    # differs from it only where the ground term is a gain, and never credits more.
    ground = ground_db(200, 1.5, 1.5, (1, 1, 1))
    dz = capped_db(screen_db(2.0, 101, 101), 0.0)
    literal = np.maximum(0, dz - ground)
    np.testing.assert_allclose(literal, [13.78, 8.89, 0, 6.69, 18.01, 20, 20, 20], atol=0.02)
    assert np.all(joined_db(dz, ground) - ground <= literal + 1e-12)


def test_fence_screen_terms_of_a_small_lot():
    # CALC: fence 1.8 m at 3 m, source 0.5 m, receiver 1.5 m, 15 m away
    near, far = np.hypot(3, 1.3), np.hypot(12, 0.3)
    z = near + far - np.hypot(15, 1.0)
    assert z == pytest.approx(0.2400, abs=1e-4)
    printed = [5.88, 6.75, 8.11, 9.97, 12.27, 14.88, 17.67, 20.57]
    np.testing.assert_allclose(screen_db(z, near, far), printed, atol=0.02)


@pytest.mark.parametrize(("number", "printed"), [(0.0, 5.00), (1.0, 13.10), (10.0, 22.98)])
def test_screens_stay_under_the_classical_curves(number, printed):
    # Kurze and Anderson 1971 and the fit to Maekawa 1968 (MEMORY): thin screen, N = 2 z/lambda.
    # The standard's C2 = 20 credits less than both, by up to 3 dB.
    root = np.sqrt(2 * np.pi * max(number, 1e-9))
    kurze = 5 + 20 * np.log10(root / np.tanh(root))
    maekawa = 10 * np.log10(3 + 20 * number)
    assert kurze == pytest.approx(printed, abs=0.01)
    ours = screen_db(number * 0.34 / 2, 5, 5, frequency_hz=[1000.0])[0]
    assert min(kurze, maekawa) - 3.2 <= ours <= min(kurze, maekawa) + 1e-9
