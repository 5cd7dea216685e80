import heapq
import itertools
import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, affinity, box

from siteplan.geometry.nearest import nearest_by_route
from siteplan.geometry.routes import NoWayRoundError, RouteGraph, shortest_route


def plain_length(start, goal, obstacles):
    """Return the shortest length over all corners, tried pair by pair with shapely alone."""
    solid = shapely.unary_union(obstacles)
    core = solid.buffer(-1e-6, join_style="mitre")
    rings = shapely.get_rings(shapely.get_parts([solid]))
    places = [start, goal, *map(tuple, shapely.get_coordinates(rings))]
    best, queue = {0: 0.0}, [(0.0, 0)]
    while queue:
        walked, here = heapq.heappop(queue)
        if here == 1:
            return walked
        if walked > best[here]:
            continue
        for there, place in enumerate(places):
            length = walked + math.dist(places[here], place)
            leg = LineString([places[here], place])
            if length < best.get(there, math.inf) and not core.intersects(leg):
                best[there] = length
                heapq.heappush(queue, (length, there))
    return math.inf


def length_or_inf(start, goal, obstacles, boundary=None):
    try:
        return shortest_route(start, goal, obstacles, boundary).length_m
    except NoWayRoundError:
        return math.inf


# Half-metre blocks and places: corners in line, touching and overlapping walls are the rule.
half = st.integers(0, 24).map(lambda n: n / 2)
place = st.tuples(half, half)
block = st.tuples(half, half, st.integers(1, 8), st.integers(1, 8)).map(
    lambda b: box(b[0], b[1], b[0] + b[2] / 2, b[1] + b[3] / 2)
)
blocks = st.lists(block, min_size=1, max_size=7)
turned = st.builds(affinity.rotate, block, st.floats(0, 90).map(lambda t: round(t, 3)))


def free(at, obstacles):
    return not shapely.unary_union(obstacles).buffer(0.01).contains(Point(at))


@settings(max_examples=60, deadline=None)
@given(place, place, blocks)
def test_right_angled_blocks_agree_with_every_pair_of_corners_tried(start, goal, obstacles):
    assume(free(start, obstacles) and free(goal, obstacles))
    # Two blocks that meet in one point close the way; the plain search does not know that.
    touching = [
        a.touches(b) and a.intersection(b).length == 0
        for a, b in itertools.combinations(obstacles, 2)
    ]
    assume(not any(touching))
    expected = plain_length(start, goal, obstacles)
    assert length_or_inf(start, goal, obstacles) == pytest.approx(expected, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(place, place, st.lists(turned, min_size=1, max_size=6))
def test_turned_blocks_agree_with_every_pair_of_corners_tried(start, goal, obstacles):
    assume(free(start, obstacles) and free(goal, obstacles))
    expected = plain_length(start, goal, obstacles)
    assume(math.isfinite(expected))
    # Where two blocks cross, the corner between them is rounded to a millimetre.
    assert length_or_inf(start, goal, obstacles) == pytest.approx(expected, abs=5e-3)


@settings(max_examples=60, deadline=None)
@given(place, place, blocks, block)
def test_what_holds_for_every_route(start, goal, obstacles, extra):
    assume(free(start, [*obstacles, extra]) and free(goal, [*obstacles, extra]))
    try:
        route = shortest_route(start, goal, obstacles)
    except NoWayRoundError:
        assert math.isinf(length_or_inf(goal, start, obstacles))
        assert math.isinf(length_or_inf(start, goal, [*obstacles, extra]))
        return
    line = LineString([*route.points, goal])
    assert line.length == pytest.approx(route.length_m)
    assert (route.points[0], route.points[-1]) == (start, goal)
    assert route.length_m >= math.dist(start, goal) - 1e-12
    core = shapely.unary_union(obstacles).buffer(-1e-5, join_style="mitre")
    assert line.intersection(core).length == 0.0
    assert length_or_inf(goal, start, obstacles) == pytest.approx(route.length_m, abs=1e-12)
    assert length_or_inf(start, goal, [*obstacles, extra]) >= route.length_m - 1e-9


@settings(max_examples=40, deadline=None)
@given(place, place, blocks, st.floats(0, 360), st.tuples(st.floats(-90, 90), st.floats(-90, 90)))
def test_turning_and_shifting_the_plan_changes_no_length(start, goal, obstacles, turn, shift):
    assume(free(start, obstacles) and free(goal, obstacles))

    def moved(shape):
        return affinity.translate(affinity.rotate(shape, turn, origin=(0, 0)), *shift)

    before = length_or_inf(start, goal, obstacles)
    after = length_or_inf(
        *(moved(Point(p)).coords[0] for p in (start, goal)), [moved(b) for b in obstacles]
    )
    # Corners where turned blocks cross fall on other cells of the millimetre grid.
    assert after == pytest.approx(before, abs=8e-3)


def test_free_line_of_sight_is_the_route():
    route = shortest_route((0, 0), (3, 4), [box(10, 10, 11, 11)])
    assert route.length_m == 5.0
    assert route.points == ((0, 0), (3, 4))


def test_no_obstacles_at_all():
    assert shortest_route((0, 0), (3, 4), []).length_m == 5.0
    assert shortest_route((1, 1), (1, 1), [None, Polygon()]).length_m == 0.0


def test_sliding_along_a_wall_is_free():
    assert shortest_route((-1, 1), (3, 1), [box(0, 0, 1, 1), box(1, 0, 2, 1)]).points == (
        (-1, 1),
        (3, 1),
    )


def test_sliding_between_two_walls_that_face_away_is_free():
    # The line along y = 1 has one block below and, farther on, one above.
    assert shortest_route((-1, 1), (5, 1), [box(0, 0, 1, 1), box(2, 1, 3, 2)]).length_m == 6.0


def test_diagonal_through_a_block_is_not_free():
    assert shortest_route((-1, -1), (2, 2), [box(0, 0, 1, 1)]).length_m == pytest.approx(
        2 * math.sqrt(5)
    )


def test_blocks_that_meet_in_one_point_leave_no_way_between():
    shut = [box(0, 0, 5, 5), box(5, 5, 10, 10)]
    with pytest.raises(NoWayRoundError) as error:
        shortest_route((1, 9), (9, 1), shut, box(0, 0, 10, 10))
    assert error.value.solid_end is None
    open_by_a_hand = [box(0, 0, 4.9, 5), box(5, 5, 10, 10)]
    assert math.isfinite(length_or_inf((1, 9), (9, 1), open_by_a_hand, box(0, 0, 10, 10)))


def test_way_round_blocks_that_meet_in_one_point():
    route = shortest_route((4, 6), (6, 4), [box(0, 0, 5, 5), box(5, 5, 10, 10)])
    assert route.length_m == pytest.approx(2 * math.sqrt(17) + 10)


def test_courtyard_is_free_ground_without_a_way_out():
    ring = box(0, 0, 10, 10).difference(box(2, 2, 8, 8)).union(box(4, 2, 6, 5))
    assert shortest_route((3, 3), (7, 3), [ring]).length_m == pytest.approx(
        2 * math.hypot(1, 2) + 2
    )
    with pytest.raises(NoWayRoundError):
        shortest_route((3, 3), (20, 3), [ring])


def test_touching_blocks_enclose_a_courtyard_too():
    four = [box(0, 0, 10, 2), box(0, 8, 10, 10), box(0, 2, 2, 8), box(8, 2, 10, 8)]
    with pytest.raises(NoWayRoundError):
        shortest_route((5, 5), (20, 5), four)
    assert math.isfinite(length_or_inf((5, 5), (20, 5), four[:3]))


def test_a_fence_is_walked_round():
    route = shortest_route((-1, 0), (1, 0), [LineString([(0, -3), (0, 4)])])
    assert route.length_m == pytest.approx(2 * math.hypot(0.995, 3.005) + 0.01)


def test_boundary_is_not_left_even_where_shorter():
    lot = Polygon([(0, 0), (10, 0), (10, 10), (6, 10), (6, 4), (4, 4), (4, 10), (0, 10)])
    outside = 8.0
    route = shortest_route((1, 9), (9, 9), [], lot)
    assert route.length_m == pytest.approx(2 * math.hypot(3, 5) + 2)
    assert route.length_m > outside


def test_block_over_the_boundary_shuts_that_side():
    lot = box(0, 0, 10, 10)
    route = shortest_route((1, 5), (9, 5), [box(4, -5, 6, 8)], lot)
    assert route.points == ((1, 5), (4, 8), (6, 8), (9, 5))


@pytest.mark.parametrize("end", ["start", "goal"])
def test_an_end_within_a_solid_is_named(end):
    ends = [(0.5, 0.5), (5, 5)]
    with pytest.raises(NoWayRoundError, match=f"the {end} lies inside") as error:
        shortest_route(*(ends if end == "start" else ends[::-1]), [box(0, 0, 1, 1)])
    assert error.value.solid_end == end


@pytest.mark.parametrize("off", [10.01, 11.0, 5000.0])
def test_an_end_off_the_lot_is_named(off):
    with pytest.raises(NoWayRoundError, match="the goal lies"):
        shortest_route((1, 1), (off, 1), [], box(0, 0, 10, 10))


@pytest.mark.parametrize(("depth", "moved"), [(0.0, True), (0.0019, True), (0.0021, False)])
def test_an_end_on_a_wall_or_a_hair_inside_is_moved_onto_it(depth, moved):
    wall = [box(0, 0, 1, 1)]
    if moved:
        assert shortest_route((1 - depth, 0.5), (3, 0.5), wall).points == ((1, 0.5), (3, 0.5))
    else:
        with pytest.raises(NoWayRoundError):
            shortest_route((1 - depth, 0.5), (3, 0.5), wall)


@pytest.mark.parametrize(("gap", "shut"), [(0.0, True), (0.0004, True), (0.003, False)])
def test_gaps_under_half_a_millimetre_are_shut(gap, shut):
    lot = box(0, 0, 10, 10)
    pair = [box(0, 4, 5, 6), box(5 + gap, 4, 10, 6)]
    assert math.isinf(length_or_inf((5, 1), (5, 9), pair, lot)) is shut


def test_overlapping_and_crossed_outlines_are_mended():
    bow = Polygon([(0, 0), (2, 2), (2, 0), (0, 2)])
    assert not bow.is_valid
    route = shortest_route((1, -1), (1, 3), [bow, box(0.5, 0.5, 1.5, 1.5)])
    assert route.length_m == pytest.approx(2 * math.hypot(1, 1) + 2)


def test_a_tree_gives_the_routes_of_the_graph():
    graph = RouteGraph.build([box(0, 0, 1, 1), box(3, -2, 4, 5), box(1, 2, 2, 7)])
    tree = graph.tree((-1, 0.5))
    for goal in ((5, 1), (2.5, 0.5), (0.5, 8), (-3, -3)):
        assert tree.to(goal).length_m == pytest.approx(graph.route((-1, 0.5), goal).length_m)
    # A corner is told with the length of a route that can turn there, so never a shorter one.
    to_corners = np.array([tree.to(tuple(corner)).length_m for corner in graph.ground.corners])
    assert (tree.corner_m >= to_corners - 1e-12).all()
    assert tree.corner_m.min() == pytest.approx(to_corners.min())
    with pytest.raises(NoWayRoundError, match="goal"):
        tree.to((0.5, 0.5))


@settings(max_examples=30, deadline=None)
@given(place, blocks, st.lists(place, min_size=1, max_size=12), st.booleans())
def test_lengths_to_many_places_are_those_of_single_routes(start, obstacles, goals, fenced):
    lot = box(-1, -1, 11, 11) if fenced else None
    graph = RouteGraph.build(obstacles, lot)
    try:
        tree = graph.tree(start)
    except NoWayRoundError:
        return
    expected = [length_or_inf(start, goal, obstacles, lot) for goal in goals]
    assert tree.lengths_m(goals) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(("depth", "reached"), [(0.0, True), (0.0019, True), (0.0021, False)])
def test_many_places_a_hair_inside_a_wall_count_as_on_it(depth, reached):
    tree = RouteGraph.build([box(0, 0, 1, 1)]).tree((3, 0.5))
    length = tree.lengths_m([(1 - depth, 0.5), (2, 0.5)])
    assert length[1] == 1.0
    assert length[0] == pytest.approx(2.0, abs=3e-3) if reached else math.isinf(length[0])


def test_no_places_have_no_lengths():
    assert RouteGraph.build([]).tree((0, 0)).lengths_m([]).shape == (0,)


def test_a_spike_stays_solid():
    spike = Polygon([(0, 0), (10, 0.02), (0, 0.04)])
    route = shortest_route((5, -1), (5, 1), [spike])
    assert route.length_m > 7.0


def test_region_that_holds_the_source_is_reached_at_once():
    graph = RouteGraph.build([box(0, 0, 1, 1)])
    route = nearest_by_route((5, 5), box(4, 4, 6, 6), graph)
    assert (route.length_m, route.points) == (0.0, ((5, 5),))


def test_nearest_of_a_region_behind_a_wall():
    graph = RouteGraph.build([box(-4, 0, 4, 1)])
    route = nearest_by_route((0, -1), box(-1, 2, 10, 5), graph)
    assert route.points[:2] == ((0, -1), (4, 0))
    assert route.points[-1] == pytest.approx((4, 2))
    assert route.length_m == pytest.approx(math.hypot(4, 1) + 2)


@pytest.mark.parametrize("region", [Polygon(), box(1, 1, 2, 2)])
def test_region_that_is_empty_or_enclosed_has_no_way(region):
    shell = box(0, 0, 3, 3).difference(box(0.5, 0.5, 2.5, 2.5))
    with pytest.raises(NoWayRoundError):
        nearest_by_route((9, 9), region, RouteGraph.build([shell]))


def test_part_of_a_region_under_a_solid_does_not_count():
    graph = RouteGraph.build([box(0, 0, 4, 4)])
    assert nearest_by_route((-1, 2.5), box(1, 1, 5, 3), graph).points[-1] == pytest.approx((4, 3))


@settings(max_examples=40, deadline=None)
@given(place, blocks, st.lists(turned, min_size=1, max_size=3))
def test_no_sampled_place_of_the_region_is_nearer_on_foot(source, obstacles, parts):
    assume(free(source, obstacles))
    region = shapely.unary_union(parts)
    graph = RouteGraph.build(obstacles)
    solid = shapely.unary_union(obstacles)
    edge = region.difference(solid).boundary
    samples = [edge.interpolate(d) for d in np.arange(0.0, edge.length, 0.1)]
    lengths = [math.inf]
    for sample in samples:
        try:
            lengths.append(graph.route(source, (sample.x, sample.y)).length_m)
        except NoWayRoundError:
            continue
    try:
        route = nearest_by_route(source, region, graph)
    except NoWayRoundError:
        assert min(lengths) == math.inf
        return
    assert region.distance(Point(route.points[-1])) < 1e-9
    assert route.length_m <= min(lengths) + 1e-6
    assert graph.route(source, route.points[-1]).length_m == pytest.approx(route.length_m, abs=1e-6)
