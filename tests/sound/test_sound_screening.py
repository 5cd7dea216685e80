import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.sound.screening import (
    capped_db,
    combined_db,
    double_edge_factor,
    joined_db,
    least_detour_m,
    screen_db,
    side_db,
)


def lengths_over(height, distance, share):
    """Path over a screen of some height over the line of sight: detour and its two parts."""
    near, far = np.hypot(share * distance, height), np.hypot((1 - share) * distance, height)
    return np.sign(height) * (near + far - distance), near, far


@settings(max_examples=50, deadline=None)
@given(st.floats(-3, 10), st.floats(0, 10), st.floats(3, 200), st.floats(0.05, 0.95))
@pytest.mark.parametrize("edition", ["1996", "2024"])
def test_a_taller_screen_never_screens_less(edition, height, more, distance, share):
    less, greater = (
        screen_db(*lengths_over(tall, distance, share), edition=edition)
        for tall in (height, height + more)
    )
    assert np.all(greater >= less - 1e-9)
    assert np.all(less >= 0.0)


@pytest.mark.parametrize("edition", ["1996", "2024"])
@pytest.mark.parametrize("depth", [0.0, 10.0])
def test_a_screen_fades_out_at_the_least_detour(edition, depth):
    floor = least_detour_m(double_edge_factor(depth, [500.0]), [500.0])[..., 0]
    at, over = (
        screen_db(floor + step, 20, 20, depth, edition=edition, frequency_hz=[500.0])[..., 0]
        for step in (0.0, 1e-4)
    )
    assert at == 0.0
    assert 0.0 < over < 0.05


def test_side_paths_bend_no_rays_and_have_no_cap():
    # 10 lg(3 + 20/lambda z) at 1 kHz with z = 10 m, by arithmetic
    assert side_db(10.0, frequency_hz=[1000.0])[0] == pytest.approx(
        10 * np.log10(3 + 20 / 0.34 * 10)
    )
    assert side_db(10.0)[-1] > 20.0


def test_no_way_round_is_no_sound_round():
    top = np.full(8, 7.0)
    assert np.all(np.isinf(side_db(np.inf)))
    np.testing.assert_allclose(combined_db([top, side_db(np.inf)], -3.0), top)


def test_a_gain_by_the_ground_stays_behind_a_screen():
    np.testing.assert_array_equal(joined_db([10, 10, 2], [-3, 4, 4]), [7, 10, 4])
    # just under, at and over no ground effect
    np.testing.assert_allclose(joined_db([10, 10, 10], [-0.01, 0, 0.01]), [9.99, 10, 10])


@settings(max_examples=50, deadline=None)
@given(st.floats(0, 25), st.floats(-8, 17))
def test_the_joining_rule_never_credits_more_than_the_literal_reading(dz, ground):
    literal = ground + max(0.0, dz - ground)
    assert float(joined_db(dz, ground)) <= literal + 1e-9


@settings(max_examples=50, deadline=None)
@given(st.floats(0, 30), st.floats(0, 30), st.floats(-8, 17))
def test_side_paths_never_add_attenuation_nor_lift_the_level(top, side, ground):
    alone = combined_db([np.array(top)], ground)
    both = combined_db([np.array(top), np.array(side)], ground)
    assert ground - 1e-12 <= both <= alone + 1e-9


@pytest.mark.parametrize(
    ("depth", "dz", "kept"),
    [(0.0, 19.9, 19.9), (0.0, 20.1, 20.0), (0.5, 20.1, 20.1), (0.5, 25.0, 25.0), (0.5, 26, 25.0)],
)
def test_caps_just_under_at_and_over(depth, dz, kept):
    assert capped_db([dz], depth)[0] == kept


@pytest.mark.parametrize("depth", [1001.0, 40_000.0, 1e6])
def test_an_obstacle_as_deep_as_any_plan_screens_like_two_edges(depth):
    # By ISO 9613-2 eq. 15 the factor goes to 3 as the depth goes beyond the wavelength.
    assert double_edge_factor(depth) == pytest.approx(3.0, abs=0.005)


@pytest.mark.parametrize("depth", [-0.1, 1e6 + 0.1, np.nan])
def test_impossible_depths_are_refused(depth):
    with pytest.raises(OutOfRangeError, match="depth of the obstacle"):
        double_edge_factor(depth)


def test_a_detour_longer_than_the_way_is_refused():
    with pytest.raises(OutOfRangeError, match="straight distance"):
        screen_db(2.1, 1.0, 1.0)
