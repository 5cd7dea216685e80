import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiLineString, Point, Polygon, box

from siteplan.errors import OutOfRangeError
from siteplan.geometry.clearance import distances, footprint, with_outlet
from siteplan.geometry.zones import keep_out, keep_out_of_centre, room_within

D = 6.096


def placed(centre, width, length, turn, outlet):
    machine = footprint(centre, width, length, turn)
    return with_outlet(machine, (centre[0] + outlet[0], centre[1] + outlet[1]))


def sampled(region, step):
    """Return points of a region: its whole edge and a grid over its inside."""
    edge = region.boundary
    on_edge = [edge.interpolate(d) for d in np.arange(0.0, edge.length, step)]
    low_x, low_y, high_x, high_y = region.bounds
    x, y = np.meshgrid(np.arange(low_x, high_x, step), np.arange(low_y, high_y, step))
    inside = shapely.contains_xy(region, x.ravel(), y.ravel())
    return [(p.x, p.y) for p in on_edge] + list(
        zip(x.ravel()[inside], y.ravel()[inside], strict=True)
    )


def test_zone_of_a_point_lies_just_outside_its_circle():
    zone = keep_out([Point(3, 4)], D)
    assert shapely.distance(zone.boundary, Point(3, 4)) >= D
    assert shapely.hausdorff_distance(zone.boundary, Point(3, 4)) <= D * 1.0006


def test_zero_distance_is_the_target_itself():
    assert keep_out([box(0, 0, 1, 1)], 0.0).equals(box(0, 0, 1, 1))


@pytest.mark.parametrize("distance", [-0.001, math.nan, 10_000.1])
def test_distance_must_be_a_length(distance):
    said = rf"^distance \[m\] is {distance:g}; allowed is 0 to 10000$"
    with pytest.raises(OutOfRangeError, match=said):
        keep_out([Point(0, 0)], distance)


@pytest.mark.parametrize("distance", [0.001, 1.0, 10_000.0])
def test_any_length_may_be_the_distance(distance):
    assert keep_out([Point(0, 0)], distance).bounds == pytest.approx(
        (-distance, -distance, distance, distance), rel=1e-3
    )


def test_no_targets_bar_nothing():
    frame = footprint((0, 0), 0.6, 0.9, 0)
    for targets in ([], [None, Polygon()]):
        assert keep_out(targets, D).is_empty
        assert keep_out_of_centre(targets, D, frame, (1, 1)).is_empty


def test_a_court_wide_enough_stays_open_and_a_narrow_one_does_not():
    wide = box(0, 0, 40, 40).boundary
    assert len(keep_out([wide], 5.0).interiors) == 1
    assert len(keep_out([box(0, 0, 9.9, 9.9).boundary], 5.0).interiors) == 0


def test_false_hole_close_to_a_line_is_filled(monkeypatch):
    """GEOS issue 1217: a buffered line came back with a hole 0.127 from the line."""
    whole = shapely.union_all
    spoilt = [Point(0.2, 0.1).buffer(0.05)]

    def with_a_hole(shapes):
        zone = whole(shapes)
        return zone.difference(spoilt.pop()) if spoilt else zone

    monkeypatch.setattr(shapely, "union_all", with_a_hole)
    zone = keep_out([LineString([(0, 0), (1, 0)]), LineString([(50, 0), (51, 0)])], 3.0)
    assert zone.covers(Point(0.2, 0.1))


def test_true_hole_is_left_open_beside_a_false_one():
    ring = box(0, 0, 20, 20).boundary
    zone = keep_out([ring], 5.0)
    assert not zone.intersects(Point(10, 10))


def test_without_distance_only_overlap_is_barred():
    frame = footprint((0, 0), 2.0, 4.0, 0.0)
    barred = keep_out_of_centre([box(10, 10, 20, 20)], 0.0, frame)
    assert barred.equals(box(9, 8, 21, 22))


def test_turned_frame_sweeps_exactly():
    """Derived: area of a Minkowski sum: both areas, and each side by the other's support."""
    frame = footprint((0, 0), 1.0, 1.0, 45.0)
    barred = keep_out_of_centre([box(0, 0, 3, 3)], 0.0, frame)
    # Support of the turned square along each side's normal is √½.
    assert barred.area == pytest.approx(9 + 1 + 4 * 3 * math.sqrt(0.5))


def test_room_within_a_lot_keeps_frame_and_outlet_inside():
    frame = footprint((0, 0), 2.0, 4.0, 0.0)
    assert room_within(box(0, 0, 10, 10), frame).equals(box(1, 2, 9, 8))
    assert room_within(box(0, 0, 10, 10), frame, outlet_xy=(3.0, 0.0)).equals(box(1, 2, 7, 8))
    assert room_within(box(0, 0, 1.9, 10), frame).is_empty


def test_room_with_set_back():
    frame = footprint((0, 0), 2.0, 4.0, 0.0)
    room = room_within(box(0, 0, 20, 20), frame, 1.5)
    assert room.bounds == pytest.approx((2.5, 3.5, 17.5, 16.5), abs=1.1e-3)
    assert box(2.5, 3.5, 17.5, 16.5).covers(room)
    # The set-back holds for an exhaust that stands out from the frame, too.
    beyond = room_within(box(0, 0, 20, 20), frame, 1.5, (3.0, 0.0))
    assert beyond.bounds == pytest.approx((2.5, 3.5, 15.5, 16.5), abs=1.1e-3)
    assert box(2.5, 3.5, 15.5, 16.5).covers(beyond)


coordinate = st.floats(2, 28).map(lambda v: round(v, 3))
spot = st.tuples(coordinate, coordinate)
opening = st.builds(
    lambda at, turn: LineString([at, (at[0] + 0.9 * math.cos(turn), at[1] + 0.9 * math.sin(turn))]),
    spot,
    st.floats(0, 6.28),
)
target = st.one_of(
    opening, st.lists(spot, min_size=4, max_size=6).map(lambda p: Polygon(p).convex_hull)
)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(target, min_size=1, max_size=8),
    st.sampled_from([0.9144, 4.572, D]),
    st.floats(0, 360),
    st.tuples(st.floats(-0.8, 0.8), st.floats(-0.8, 0.8)),
)
def test_no_place_left_open_measures_less(targets, distance, turn, outlet):
    frame = footprint((0, 0), 0.6, 0.9, turn)
    lot = box(0, 0, 30, 30)
    zone = keep_out_of_centre(targets, distance, frame, outlet)
    open_ground = room_within(lot, frame, outlet_xy=outlet).difference(zone)
    for centre in sampled(open_ground, 0.9) if not open_ground.is_empty else []:
        machine = placed(centre, 0.6, 0.9, turn, outlet)
        assert np.min(distances(machine, targets)) >= distance
        assert lot.buffer(1e-9).covers(machine)


@settings(max_examples=15, deadline=None)
@given(st.lists(target, min_size=1, max_size=6), st.floats(0, 360))
def test_no_more_is_barred_than_the_drawing_needs(targets, turn):
    frame = footprint((0, 0), 0.6, 0.9, turn)
    zone = keep_out_of_centre(targets, D, frame, (0.1, 0.8))
    for centre in sampled(zone, 1.7):
        machine = placed(centre, 0.6, 0.9, turn, (0.1, 0.8))
        assert np.min(distances(machine, targets)) <= D * 1.0008


@settings(max_examples=20, deadline=None)
@given(st.lists(spot, min_size=2, max_size=12))
def test_zones_of_many_short_lines_have_no_false_holes(points):
    line = LineString(points)
    zone = keep_out([MultiLineString([line]), *map(Point, points)], D)
    rings = shapely.get_rings(shapely.get_parts([zone]))
    assert (shapely.distance(rings, line) >= D).all()
