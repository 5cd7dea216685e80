import math

import numpy as np
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from siteplan.errors import OutOfRangeError
from siteplan.geometry.clearance import (
    clearances,
    distances,
    footprint,
    shape_array,
    with_outlet,
    witness_lines,
)


def corners(polygon):
    return np.asarray(polygon.exterior.coords)[:-1]


def test_footprint_faces_up_the_sheet_at_turn_zero():
    assert corners(footprint((10.0, 20.0), 0.6, 1.0, 0.0)) == pytest.approx(
        np.array([[9.7, 19.5], [10.3, 19.5], [10.3, 20.5], [9.7, 20.5]])
    )


def test_footprint_turns_clockwise():
    # At 90° the front looks along +x: length lies along x, width along y.
    assert footprint((0.0, 0.0), 0.6, 1.0, 90.0).bounds == pytest.approx((-0.5, -0.3, 0.5, 0.3))
    front_right = corners(footprint((0.0, 0.0), 2.0, 2.0, 45.0))[2]
    assert front_right == pytest.approx(np.array([math.sqrt(2), 0.0]))


@pytest.mark.parametrize("side", [0.0, -1.0, math.nan, math.inf, 1000.01])
def test_footprint_refuses_a_side_that_is_no_length(side):
    with pytest.raises(OutOfRangeError, match=r"width \[m\]"):
        footprint((0.0, 0.0), side, 1.0, 0.0)
    with pytest.raises(OutOfRangeError, match=r"length \[m\]"):
        footprint((0.0, 0.0), 1.0, side, 0.0)


def test_shortest_and_longest_sides_are_lengths():
    assert footprint((0.0, 0.0), 0.01, 0.01, 0.0).area == pytest.approx(1e-4)
    assert footprint((0.0, 0.0), 1000.0, 1.0, 0.0).area == pytest.approx(1000.0)


def test_outlet_outside_the_frame_counts_and_inside_changes_nothing():
    frame = box(0, 0, 1, 1)
    assert with_outlet(frame, (0.5, 1.0)) is frame
    assert with_outlet(frame, None) is frame
    assert distances(with_outlet(frame, (2.0, 0.5)), [Point(5, 0.5)]) == pytest.approx([3.0])


def test_nearer_of_frame_and_outlet_is_measured():
    result = clearances(box(0, 0, 1, 1), Point(2, 0.5), shape_array([Point(5, 0.5), Point(-4, 0)]))
    assert result.distance_m == pytest.approx([3.0, 4.0])
    assert result.near_xy == pytest.approx(np.array([[2, 0.5], [0, 0]]))
    assert result.far_xy == pytest.approx(np.array([[5, 0.5], [-4, 0]]))


def test_a_wall_is_met_at_its_nearest_place_not_its_middle():
    result = clearances(box(0, 0, 1, 1), None, [LineString([(4, -10), (4, 100)])])
    assert result.distance_m == pytest.approx([3.0])
    assert result.far_xy[0, 0] == 4.0


def test_overlap_is_distance_zero():
    result = clearances(box(0, 0, 2, 2), None, [box(1, 1, 3, 3), box(-5, -5, 5, 5), Point(2, 1)])
    assert result.distance_m.tolist() == [0.0, 0.0, 0.0]
    assert result.near_xy == pytest.approx(result.far_xy)


def test_missing_and_empty_targets_are_not_known():
    targets = [Point(), None, Polygon(), Point(3, 0)]
    result = clearances(box(0, 0, 1, 1), Point(), targets)
    assert np.isnan(result.distance_m).tolist() == [True, True, True, False]
    assert np.isnan(result.near_xy[:3]).all()
    assert np.isnan(result.far_xy[:3]).all()
    assert result.far_xy[3] == pytest.approx([3, 0])


@pytest.mark.parametrize("source", [None, Polygon()])
def test_missing_source_gives_no_distance(source):
    assert np.isnan(distances(source, [Point(0, 0)])).all()
    assert np.isnan(witness_lines(source, [Point(0, 0)])).all()


def test_infinity_from_a_newer_engine_reads_as_not_known(monkeypatch):
    # GEOS 3.15 release notes: distance to an empty geometry is infinity, no longer nan.
    monkeypatch.setattr(shapely, "distance", lambda _, b: np.full(len(b), np.inf))
    assert np.isnan(distances(Point(0, 0), [Point()])).all()


def test_no_targets_give_empty_arrays():
    result = clearances(box(0, 0, 1, 1), Point(0, 0), [])
    assert result.distance_m.shape == (0,)
    assert result.near_xy.shape == (0, 2)
    assert result.far_xy.shape == (0, 2)


coordinate = st.floats(-50, 50)
places = st.tuples(coordinate, coordinate)


@settings(max_examples=40, deadline=None)
@given(places, st.floats(0, 360), places, places, places)
@example((0.0, 0.0), 0.0, (0.0, 0.0), (0.0, 1.0), (3.4e-298, 1.0))
@example((0.0, 0.0), 0.0, (0.0, 0.0), (0.0, 1.0), (5e-324, 1.0))
def test_no_sampled_pair_of_points_is_nearer_than_reported(centre, turn, outlet, start, end):
    """Dense samples of frame, outlet and wall, measured by numpy alone."""
    frame = footprint(centre, 0.7, 1.1, turn)
    share = np.linspace(0, 1, 101)[:, None]
    right, front = (
        g.ravel() for g in np.meshgrid(np.linspace(-0.35, 0.35, 21), np.linspace(-0.55, 0.55, 33))
    )
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    samples = np.column_stack([right * cos + front * sin, front * cos - right * sin])
    near = np.vstack([samples + centre, [outlet]])
    far = np.asarray(start) + share * (np.asarray(end) - np.asarray(start))
    sampled = np.hypot(*(near[:, None] - far[None]).T).min()
    result = clearances(frame, Point(outlet), [LineString([start, end])])
    assert result.distance_m[0] <= sampled + 1e-9
    length = np.hypot(*(result.near_xy[0] - result.far_xy[0]))
    assert length == pytest.approx(result.distance_m[0], abs=1e-9)
    # The nearest samples are no farther off than half a wall step and half a grid diagonal.
    step = np.hypot(*(np.asarray(end) - np.asarray(start))) / 200 + 0.025
    assert result.distance_m[0] >= sampled - step


def test_a_segment_of_next_to_no_length_has_its_line_all_the_same():
    frame = footprint((0.0, 1.0), 0.6, 0.8, 0.0)
    speck = LineString([(0.0, 0.0), (0.0, 1.2e-181)])
    (line,) = witness_lines(frame, [speck])
    assert line == pytest.approx(np.array([[0.0, 0.6], [0.0, 0.0]]))


@pytest.mark.parametrize(
    ("width", "length", "named"), [(0.0, 1.0, "width [m]"), (1.0, 0.0, "length [m]")]
)
def test_the_side_that_is_no_length_is_named(width, length, named):
    with pytest.raises(OutOfRangeError) as caught:
        footprint((0.0, 0.0), width, length, 0.0)
    assert str(caught.value) == f"{named} is 0; allowed is 0 to 1000"


@pytest.mark.parametrize("turns", [-720.0, 360.0, 3600.0])
def test_whole_turns_change_nothing(turns):
    once, again = (footprint((1.0, 2.0), 0.6, 0.8, 25.0 + more) for more in (0.0, turns))
    assert once.equals_exact(again, 1e-9)
