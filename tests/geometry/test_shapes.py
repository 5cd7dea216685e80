import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPoint, Point, Polygon, box

from siteplan.errors import OutOfRangeError
from siteplan.geometry.shapes import (
    counter_clockwise,
    on_wall,
    ring_fault,
    segments,
    signed_area_m2,
)

SQUARE = [(0, 0), (4, 0), (4, 3), (0, 3)]


def test_a_plain_outline_has_no_fault_either_way_round():
    assert ring_fault(SQUARE) is None
    assert ring_fault(SQUARE[::-1]) is None
    assert ring_fault([(0, 0), (4, 0), (4, 1), (1, 1), (1, 3), (0, 3)]) is None


@pytest.mark.parametrize("corners", [[], [(1, 2)], [(0, 0), (1, 1)]])
def test_two_corners_make_no_outline(corners):
    fault = ring_fault(corners)
    assert fault.kind == "too few corners"
    assert fault.at == (corners[0] if corners else (0.0, 0.0))
    assert fault.corners == ()


@pytest.mark.parametrize(
    ("gap", "kind"), [(0.0, "corner twice"), (1e-6, "corner twice"), (1.1e-6, None)]
)
def test_a_corner_drawn_twice_is_named(gap, kind):
    fault = ring_fault([(0, 0), (4, 0), (4, gap), (4, 3), (0, 3)])
    assert (fault and fault.kind) == kind
    if fault:
        assert (fault.at, fault.corners) == ((4.0, 0.0), (1, 2))


def test_last_corner_on_the_first_is_named():
    fault = ring_fault([*SQUARE, (0, 0)])
    assert (fault.kind, fault.corners) == ("corner twice", (4, 0))


def test_the_place_of_a_crossing_is_told():
    fault = ring_fault([(0, 0), (2, 2), (2, 0), (0, 2)])
    assert (fault.kind, fault.at, fault.corners) == ("crosses itself", (1.0, 1.0), (0, 2))


def test_an_edge_through_a_far_corner_is_a_crossing():
    fault = ring_fault([(0, 0), (4, 0), (4, 4), (2, 0), (0, 4)])
    assert (fault.kind, fault.at) == ("crosses itself", (2.0, 0.0))


@pytest.mark.parametrize("corners", [[(0, 0), (4, 0), (2, 0)], [(0, 0), (4, 0), (4, 3), (4, 1)]])
def test_an_edge_folded_back_is_a_crossing(corners):
    assert ring_fault(corners).kind == "crosses itself"


def test_second_and_last_but_one_edge_may_cross_too():
    fault = ring_fault([(0, 0), (4, 0), (0, 3), (3, 4), (1, -1)])
    assert (fault.kind, fault.corners) == ("crosses itself", (0, 3))
    fault = ring_fault([(0, 0), (4, 0), (0, 4), (0, 2), (4, 3)])
    assert (fault.kind, fault.corners) == ("crosses itself", (1, 3))


@pytest.mark.parametrize(("height", "kind"), [(0.9e-6, "no area"), (4e-6, None)])
def test_a_ring_without_area_is_named(height, kind):
    # A long sliver: its area is told against its longest side.
    fault = ring_fault([(0, 0), (50, height), (100, 0)])
    assert (fault and fault.kind) == kind
    assert fault is None or (fault.at, fault.corners) == ((0.0, 0.0), ())


@settings(max_examples=80, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=3, max_size=7, unique=True)
)
def test_faults_agree_with_the_engine_s_validity(corners):
    assert (ring_fault(corners) is None) == Polygon(corners).is_valid


def test_area_is_signed_by_the_way_round():
    assert signed_area_m2(SQUARE) == 12.0
    assert signed_area_m2(SQUARE[::-1]) == -12.0
    far = np.asarray(SQUARE) + 5e6
    assert signed_area_m2(far) == 12.0
    # Far from where it is counted from, an area is still told to the square millimetre.
    assert signed_area_m2(np.asarray(SQUARE) * 1.1 + 5e6) == pytest.approx(12.0 * 1.21, abs=1e-6)


def test_corners_are_turned_round_only_if_clockwise():
    assert counter_clockwise(SQUARE).tolist() == [list(map(float, c)) for c in SQUARE]
    assert counter_clockwise(SQUARE[::-1]).tolist() == [list(map(float, c)) for c in SQUARE]
    small = [(0.0, 0.0), (0.4, 0.0), (0.4, 0.3)]
    assert counter_clockwise(small).tolist() == [list(corner) for corner in small]


def test_an_opening_lies_on_its_wall():
    assert on_wall((1, 1), (1, 11), 2.0, 0.9).equals(LineString([(1, 3), (1, 3.9)]))
    assert on_wall((0, 0), (3, 4), 0.0, 5.0).equals(LineString([(0, 0), (3, 4)]))


@pytest.mark.parametrize(
    ("offset", "width", "field"),
    [(-0.01, 1, "offset"), (9.2, 0.9, "offset and width"), (0, 10.01, "width"), (3, -1, "width")],
)
def test_an_opening_off_its_wall_is_refused(offset, width, field):
    with pytest.raises(OutOfRangeError, match=field):
        on_wall((0, 0), (10, 0), offset, width)


def test_a_wall_of_no_length_bears_a_mere_point():
    assert on_wall((2, 3), (2, 3), 0.0, 0.0).bounds == (2, 3, 2, 3)


@pytest.mark.parametrize("length", [0.2, 10.0])
def test_an_opening_may_stand_at_either_end(length):
    assert on_wall((0, 0), (length, 0), 0.0, 0.1).bounds == pytest.approx((0, 0, 0.1, 0))
    bounds = on_wall((0, 0), (length, 0), length - 0.1, 0.1).bounds
    assert bounds == pytest.approx((length - 0.1, 0, length, 0))


def test_an_opening_may_fill_its_wall_to_the_micrometre():
    assert on_wall((0, 0), (10, 0), 9.1, 0.9000005).length == pytest.approx(0.9)


def test_segments_of_everything():
    shapes = [box(0, 0, 1, 1), LineString([(5, 5), (6, 5), (6, 6)]), Point(9, 9), None, Polygon()]
    found = segments(shapes)
    assert found.shape == (7, 2, 2)
    assert [[5, 5], [6, 5]] in found.tolist()
    assert [[9, 9], [9, 9]] in found.tolist()
    assert [[1, 1], [5, 5]] not in found.tolist()
    holed = box(0, 0, 9, 9).difference(box(1, 1, 2, 2))
    assert len(segments([holed, MultiPoint([(0, 0), (1, 1)])])) == 10
    assert segments([]).shape == (0, 2, 2)
