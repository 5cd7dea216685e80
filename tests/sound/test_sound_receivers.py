import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from siteplan.errors import OutOfRangeError
from siteplan.sound.receivers import along_boundary, before_windows, window_heights_m
from siteplan.sound.screens import Screens

LOT = [(0, 0), (60, 0), (60, 40), (0, 40)]


def test_two_hundred_metres_at_half_a_metre_are_four_hundred_points():
    ears = along_boundary(LOT)
    assert ears.shape == (400, 3)
    assert set(ears[:, 2]) == {1.5}
    assert {tuple(c) for c in LOT} <= {tuple(e) for e in ears[:, :2]}


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=2, max_size=6),
    st.floats(0.3, 20),
)
def test_steps_are_never_longer_than_asked_and_close_the_ring(corners, step):
    points = along_boundary(corners, step_m=step)[:, :2]
    gaps = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    around = np.hypot(*(np.roll(corners, -1, axis=0) - np.array(corners)).T).sum()
    assert gaps.max() <= step + 1e-6
    assert gaps.sum() == pytest.approx(around)


@pytest.mark.parametrize(
    ("corners", "step", "height"),
    [([(0, 0)], 0.5, 1.5), (LOT, 0.04, 1.5), (LOT, 0.5, -0.1), ([(0, 0), (np.nan, 1)], 0.5, 1.5)],
)
def test_impossible_boundaries_are_refused(corners, step, height):
    with pytest.raises(OutOfRangeError):
        along_boundary(corners, step_m=step, height_m=height)


def test_a_window_is_heard_half_a_metre_before_it():
    ears = before_windows([(5, 0), (0, 3)], [(0, -2), (-9, 0)], [0, 1])
    np.testing.assert_allclose(ears, [(5, -0.5, 1.5), (-0.5, 3, 4.0)])


def test_a_window_needs_a_direction():
    with pytest.raises(OutOfRangeError, match="direction"):
        before_windows([(5, 0)], [(0, 0)], [0])


@pytest.mark.parametrize("storey", [-1, 61])
def test_impossible_storeys_are_refused(storey):
    with pytest.raises(OutOfRangeError, match="storey"):
        window_heights_m(storey)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.floats(-9, 9), st.floats(-9, 9)), min_size=5, max_size=5))
def test_indoors_agrees_with_a_library(points):
    corners = [(-6, -5), (6, -5), (6, 5), (1, 5), (1, -1), (-2, -1), (-2, 5), (-6, 5)]
    screens = Screens.build((), (), [corners], [4])
    house = Polygon(corners)
    expected = [
        house.contains(Point(p)) and house.exterior.distance(Point(p)) > 0.01 for p in points
    ]
    assert screens.indoors(np.array(points)).tolist() == expected
