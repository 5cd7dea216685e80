import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.sound.air_absorption import absorption_db_per_m
from siteplan.sound.ground import ground_db, region_factors


def test_hard_ground_at_lot_scale_is_three_decibels_of_gain():
    np.testing.assert_allclose(ground_db([7, 15, 50], 0.5, 1.5), -3.0)


@pytest.mark.parametrize(("distance", "gain"), [(59.9, -3.0), (60.0, -3.0), (120.0, -4.5)])
def test_the_middle_region_begins_at_thirty_heights(distance, gain):
    np.testing.assert_allclose(ground_db(distance, 0.5, 1.5), gain)


@settings(max_examples=40, deadline=None)
@given(st.floats(1, 500), st.floats(0, 5), st.floats(0, 8), st.floats(0, 1), st.floats(0, 1))
def test_softer_ground_never_gains(distance, hs, hr, g, more):
    soft = max(g, more)
    hard = min(g, more)
    difference = ground_db(distance, hs, hr, (soft,) * 3) - ground_db(distance, hs, hr, (hard,) * 3)
    assert np.all(difference >= -1e-9)


@settings(max_examples=40, deadline=None)
@given(st.floats(7, 500), st.floats(0, 1))
def test_the_editions_differ_little_at_lot_scale(distance, g):
    ours = ground_db(distance, 0.5, 1.5, (g,) * 3, edition="2024")
    older = ground_db(distance, 0.5, 1.5, (g,) * 3)
    # Kgeo is at least 0.94 from 7 m on; it can only shrink what the ground does.
    assert np.all(np.abs(ours) <= np.abs(older) + 1e-9)
    assert np.all(np.abs(ours - older) < 0.3)


@pytest.mark.parametrize("factor", [-0.01, 1.01, np.nan])
def test_ground_factors_beyond_nought_and_one_are_refused(factor):
    with pytest.raises(OutOfRangeError, match="ground factor"):
        ground_db(10, 1, 1, (0, factor, 0))


def test_a_short_path_has_no_middle():
    assert region_factors([6, 4], [0.0, 1.0], 1, 4) == pytest.approx((0.4, 0.0, 0.4))


def test_a_source_on_the_ground_has_no_region():
    assert region_factors([10], [1.0], 0, 0) == pytest.approx((0.0, 1.0, 0.0))


def test_a_path_of_no_length_is_refused():
    with pytest.raises(OutOfRangeError, match="length of the path"):
        region_factors([0.0], [1.0], 1, 1)


@pytest.mark.parametrize(
    ("celsius", "humidity", "kpa", "hz"),
    [
        (-20.1, 70, 101, 500),
        (50.1, 70, 101, 500),
        (10, 0.9, 101, 500),
        (10, 100.1, 101, 500),
        (10, 70, 49.9, 500),
        (10, 70, 110.1, 500),
        (10, 70, 101, 19.9),
        (10, 70, 101, 20001),
    ],
)
def test_air_outside_the_range_is_refused(celsius, humidity, kpa, hz):
    with pytest.raises(OutOfRangeError):
        absorption_db_per_m(celsius, humidity, kpa, hz)
