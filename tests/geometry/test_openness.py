import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.geometry.openness import (
    blocked_share,
    horizon,
    open_ratio,
    sides_walled,
    sky_view,
    wall_distances,
)


def walls(*points):
    """Return the open line through the points as wall segments."""
    ends = np.asarray(points, dtype=float)
    return np.stack([ends[:-1], ends[1:]], axis=1)


def rotated(segments, degrees, about=(0.0, 0.0)):
    turn = math.radians(degrees)
    matrix = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    return (segments - np.asarray(about)) @ matrix.T + np.asarray(about)


NORTH = walls((-9, 2), (9, 2))
EAST = walls((2, 9), (2, -9))
WEST = walls((-2, 9), (-2, -9))
SOUTH = walls((-9, -2), (9, -2))


def test_ray_k_has_bearing_k_and_a_half_steps():
    # Four rays look NE, SE, SW, NW; the wall stands to the north-east only.
    free = horizon((0, 0), walls((0, 4), (4, 0)), 10.0, rays=4)
    assert free == pytest.approx([math.sqrt(8), math.inf, math.inf, math.inf])


@pytest.mark.parametrize(("reach", "met"), [(2.99, False), (3.0, True), (3.01, True)])
def test_a_wall_counts_up_to_and_at_the_reach(reach, met):
    post = walls((-1e-3, 3), (1e-3, 3))
    assert (blocked_share((0, 0), post, reach) > 0.0) is met


@pytest.mark.parametrize(("reach", "free"), [(3.99, math.inf), (4.0, 4.0), (4.01, 4.0)])
def test_a_ray_runs_up_to_and_at_the_reach(reach, free):
    # Of two rays the first looks straight along +x.
    assert horizon((0, 0), walls((4, -1), (4, 1)), reach, rays=2)[0] == free


def test_nearest_of_two_walls_stops_the_ray():
    both = np.vstack([walls((-9, 5), (9, 5)), walls((-9, 3), (9, 3))])
    assert horizon((0, 0), both, 20.0)[0] == pytest.approx(3.0, abs=1e-4)


def test_no_walls_block_nothing():
    none = np.empty((0, 2, 2))
    assert blocked_share((0, 0), none, 10.0) == 0.0
    assert open_ratio((0, 0), none, 10.0) == 1.0
    assert np.isinf(horizon((0, 0), none, 10.0)).all()
    assert sides_walled((0, 0), 1.0, none, 5.0).count == 0
    assert sky_view((0, 0), none, [], 10.0) == 1.0


def test_ring_of_walls_blocks_everything_once_only():
    ring = walls((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1))
    assert blocked_share((0, 0), np.vstack([ring, 2 * ring]), 30.0) == pytest.approx(1.0)


def test_a_point_on_a_wall_has_half_its_bearings_blocked():
    assert blocked_share((0, 0), walls((-5, 0), (5, 0)), 10.0) == pytest.approx(0.5)


def test_a_wall_of_no_length_blocks_nothing():
    assert blocked_share((0, 0), walls((1, 1), (1, 1)), 10.0) == 0.0
    assert sides_walled((0, 0), 1.0, walls((0, 1), (0, 1)), 5.0).count == 0


def test_wall_over_the_seam_at_north_is_counted_whole():
    assert blocked_share((0, 0), walls((-1, 1), (1, 1)), 10.0) == pytest.approx(0.25)


def test_reach_cuts_a_long_wall():
    # A wall 3 m off, seen within 6 m: acos(3/6) = 60° to either side.
    assert blocked_share((0, 0), walls((-90, 3), (90, 3)), 6.0) == pytest.approx(1 / 3)


@pytest.mark.parametrize("reach", [0.0, -1.0, math.nan, 10_001.0])
def test_reach_must_be_a_length(reach):
    for measure in (blocked_share, open_ratio, horizon):
        with pytest.raises(OutOfRangeError, match="reach"):
            measure((0, 0), NORTH, reach)
    with pytest.raises(OutOfRangeError, match="reach"):
        sides_walled((0, 0), 1.0, NORTH, reach)


@pytest.mark.parametrize("size", [0.0, math.nan])
def test_machine_must_have_a_size(size):
    with pytest.raises(OutOfRangeError, match="size"):
        sides_walled((0, 0), size, NORTH, 5.0)


def test_a_wall_below_the_point_hides_no_sky():
    assert sky_view((0, 0), NORTH, [-1.0], 30.0) == 1.0


def test_sky_beyond_the_reach_is_taken_as_seen():
    assert sky_view((0, 0), NORTH, [3.0], 1.9) == 1.0
    assert sky_view((0, 0), NORTH, [3.0], 2.1) < 1.0


@pytest.mark.parametrize("machine_turn", [0.0, 31.0, 45.0, 77.7])
@pytest.mark.parametrize("plan_turn", [0.0, 10.0, 45.0, 66.6])
@pytest.mark.parametrize(
    ("shape", "count", "adjoining"),
    [
        (NORTH, 1, False),
        (np.vstack([NORTH, EAST]), 2, True),
        (np.vstack([EAST, WEST]), 2, False),
        (np.vstack([NORTH, EAST, WEST]), 3, True),
        (np.vstack([NORTH, EAST, SOUTH, WEST]), 4, True),
        (walls((-9, 2), (-4, 2), (0, 2), (9, 2)), 1, False),
    ],
    ids=["wall", "corner", "passage", "alcove", "court", "wall in parts"],
)
def test_sides_counted_whatever_way_plan_and_machine_are_turned(
    shape, count, adjoining, plan_turn, machine_turn
):
    seen = sides_walled((0, 0), 1.0, rotated(shape, plan_turn), 5.0, machine_turn)
    assert (seen.count, seen.adjoining) == (count, adjoining)
    assert sum(seen.walled) == count


def test_alcove_counts_three_near_its_mouth():
    mouth = walls((-2, -1.5), (-2, 2), (2, 2), (2, -1.5))
    assert sides_walled((0, 0), 1.0, mouth, 5.0).count == 3


def test_sides_are_told_clockwise_from_their_bearing():
    seen = sides_walled((0, 0), 1.0, np.vstack([NORTH, EAST]), 5.0)
    offset = round(seen.bearing_deg)
    facing = {
        round((offset + 90 * side) % 360 / 90) % 4
        for side, walled in enumerate(seen.walled)
        if walled
    }
    assert facing == {0, 1}


def test_of_a_passage_and_a_corner_the_corner_is_told():
    # Walls 2 m off to 45° and to 255°: 150° from one to the other, so that by one turn of the
    # four sides they stand on opposite ones, by another on two that meet.
    wide, narrow = rotated(NORTH * [2 / 9, 1], -45.0), rotated(NORTH * [1 / 9, 1], -255.0)
    for turn in (0.0, 15.0, 60.0):
        seen = sides_walled((0, 0), 1.0, np.vstack([wide, narrow]), 5.0, turn)
        assert (seen.count, seen.adjoining) == (2, True)


@pytest.mark.parametrize(("reach", "count"), [(1.99, 0), (2.01, 1)])
def test_a_side_is_walled_within_reach_only(reach, count):
    assert sides_walled((0, 0), 1.0, NORTH, reach).count == count


def test_a_wall_is_as_far_as_its_nearest_place():
    both = np.vstack([walls((-9, 3), (9, 3)), walls((-9, -4), (9, -4)), walls((20, 0), (21, 0))])
    assert wall_distances((0, 0), both).tolist() == [3.0, 4.0, 20.0]
    assert wall_distances((7, 7), both + 7).tolist() == [3.0, 4.0, 20.0]
    assert wall_distances((0, 0), []).shape == (0,)
    # A wall of no length is a place: 3, 4, 5.
    assert wall_distances((0, 0), walls((3, 4), (3, 4))).tolist() == [5.0]


def test_sides_count_each_wall_within_its_own_reach():
    room = np.vstack([NORTH, EAST, SOUTH, WEST])
    assert sides_walled((0, 0), 1.0, room, [5.0] * 4).count == 4
    assert sides_walled((0, 0), 1.0, room, [5.0, 5.0, 5.0, 1.9]).count == 3
    assert sides_walled((0, 0), 1.0, room, [1.9, 5.0, 1.9, 5.0]).count == 2


def test_the_mere_tip_of_a_slanted_wall_walls_no_side():
    # The tip is 4.301 m off; from the reach of 4.32 m on the strip meets it by a hair only.
    assert sides_walled((0, 0), 1.0, walls((2.5, 3.5), (-3, 9)), 4.32).count == 0
    assert sides_walled((0, 0), 1.0, walls((2.5, 3.5), (-3, 9)), 4.6).count == 1


def test_bearing_of_the_first_side_is_told_within_a_full_turn():
    seen = sides_walled((0, 0), 1.0, np.empty((0, 2, 2)), 5.0, turn_deg=725.0)
    assert seen.bearing_deg == pytest.approx(5.0)


def test_a_small_machine_has_sides_too():
    assert sides_walled((0, 0), 0.1, NORTH, 5.0).count == 1


@pytest.mark.parametrize(("half", "count"), [(0.18, 0), (0.26, 1)])
def test_a_side_is_walled_from_about_half_its_width(half, count):
    assert sides_walled((0, 0), 1.0, walls((-half, 2), (half, 2)), 5.0).count == count


centimetres = st.integers(-800, 800).map(lambda n: n / 100)
spot = st.tuples(centimetres, centimetres)


def clear_of_origin(ends):
    (x0, y0), (x1, y1) = ends
    length = math.dist(*ends)
    return length > 0 and abs(x0 * y1 - x1 * y0) / length > 0.02


# A wall through the eye has no definite span; that case has its own test above.
segment = st.tuples(spot, spot).filter(clear_of_origin)
segments = st.lists(segment, min_size=1, max_size=8).map(lambda s: np.asarray(s, dtype=float))


@settings(max_examples=60, deadline=None)
@given(segments, segment)
def test_one_more_wall_never_opens_a_place(shape, extra):
    more = np.vstack([shape, [extra]])
    assert blocked_share((0, 0), more, 6.0) >= blocked_share((0, 0), shape, 6.0) - 1e-12
    assert (horizon((0, 0), more, 6.0) <= horizon((0, 0), shape, 6.0)).all()
    before, after = (sides_walled((0, 0), 0.8, s, 6.0) for s in (shape, more))
    assert (after.count, after.adjoining) >= (before.count, before.adjoining)


@settings(max_examples=40, deadline=None)
@given(segments, st.floats(0, 360))
def test_turning_everything_changes_nothing(shape, turn):
    turned = rotated(shape, turn)
    before, after = (blocked_share((0, 0), s, 6.0) for s in (shape, turned))
    assert after == pytest.approx(before, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(segments)
def test_rays_agree_with_every_wall_tried_against_every_ray(shape):
    """The plain all-pairs solution of a + t·d = r·u by Cramer's rule."""
    bearing = np.radians((np.arange(720) + 0.5) / 2)
    best = np.full(720, np.inf)
    for (x0, y0), (x1, y1) in shape:
        a = np.array(
            [[np.sin(bearing), np.full(720, x0 - x1)], [np.cos(bearing), np.full(720, y0 - y1)]]
        )
        det = a[0, 0] * a[1, 1] - a[0, 1] * a[1, 0]
        with np.errstate(divide="ignore", invalid="ignore"):
            run = (x0 * a[1, 1] - a[0, 1] * y0) / det
            t = (a[0, 0] * y0 - x0 * a[1, 0]) / det
        hit = (t > 1e-9) & (t < 1 - 1e-9) & (run >= 0) & (run <= 6.0)
        best[hit] = np.minimum(best[hit], run[hit])
    # Rays within a hair of a wall's end may fall on either side of it.
    found = horizon((0, 0), shape, 6.0)
    differing = ~np.isclose(found, best, atol=1e-6)
    assert np.count_nonzero(differing) <= 2 * len(shape)
    assert (found[differing] <= best[differing] + 1e-6).all()


def circle(middle, radius, count=720):
    turns = np.linspace(0.0, 2.0 * math.pi, count + 1)
    return walls(
        *((middle[0] + radius * math.sin(t), middle[1] + radius * math.cos(t)) for t in turns)
    )


@pytest.mark.parametrize(
    ("height", "expected"), [(10.0, 0.5), (10.0 * math.sqrt(3.0), 0.25), (0.0, 1.0), (-5.0, 1.0)]
)
def test_sky_seen_from_the_middle_of_a_round_yard(height, expected):
    # cos² of the horizon's height: 45° leaves a half, 60° a quarter. Oke 1981, from memory.
    yard = circle((5.0, -3.0), 10.0)
    assert sky_view((5.0, -3.0), yard, height, 30.0) == pytest.approx(expected, abs=1e-4)
    assert sky_view((5.0, -3.0), yard, [height] * len(yard), 30.0) == pytest.approx(
        expected, abs=1e-4
    )


def test_sky_is_looked_at_from_the_place_itself():
    yard = circle((50.0, -30.0), 10.0)
    assert sky_view((50.0, -30.0), yard, 10.0, 12.0) == pytest.approx(0.5, abs=1e-4)


def test_the_part_of_a_wall_beyond_the_reach_hides_no_sky():
    # A wall 3 m off and 3 m high, seen within 6 m: 60° to either side, its slope cos a. The
    # integral of 1/(1 + cos² a) is atan(tan a/√2)/√2.
    seen = math.sqrt(2.0) * math.atan(math.sqrt(1.5)) / (2.0 * math.pi) + 2.0 / 3.0
    assert sky_view((0, 0), walls((-90, 3), (90, 3)), 3.0, 6.0) == pytest.approx(seen, abs=2e-4)


def test_sky_is_cut_by_walls_up_to_the_reach_only():
    yard = circle((0.0, 0.0), 10.0)
    assert sky_view((0.0, 0.0), yard, 10.0, 10.01) == pytest.approx(0.5, abs=1e-4)
    assert sky_view((0.0, 0.0), yard, 10.0, 9.99) == 1.0


def test_walls_may_be_given_as_whole_numbers():
    whole = [[[-9, 2], [9, 2]], [[2, 9], [2, -9]]]
    assert sky_view((0, 0), whole, [2, 2], 5) == sky_view(
        (0.0, 0.0), np.array(whole, float), 2.0, 5.0
    )
    assert blocked_share((0, 0), whole, 5) == blocked_share((0.0, 0.0), np.array(whole, float), 5.0)


def test_open_ratio_counts_the_rays_it_is_asked_for():
    # Of four rays, to NE, SE, SW and NW, one meets a wall half-way: 3/4 + 1/16 of the area.
    post = walls((2.0, 2.2), (2.2, 2.0))
    reach = 2.0 * math.hypot(2.1, 2.1)
    assert open_ratio((0, 0), post, reach, rays=4) == pytest.approx(3 / 4 + 1 / 16)


def test_a_wall_at_arms_length_counts():
    assert sides_walled((0, 0), 1.0, walls((-9, 0.4), (9, 0.4)), 5.0).count == 1
    assert horizon((0, 0), walls((-9, 0.4), (9, 0.4)), 5.0, rays=720)[0] == pytest.approx(
        0.4, abs=1e-4
    )


def test_only_rays_within_a_walls_span_meet_it():
    # From bearing 10.2° to 20.2°: the rays at 10.5°, 11.5° ... 19.5°.
    ends = [(5 * math.sin(math.radians(t)), 5 * math.cos(math.radians(t))) for t in (10.2, 20.2)]
    met = np.flatnonzero(np.isfinite(horizon((0, 0), walls(*ends), 10.0, rays=360)))
    assert met.tolist() == list(range(10, 20))


def test_a_wall_that_points_at_the_place_is_as_far_as_its_end():
    pointing = walls((10, 10), (5, 5))
    assert wall_distances((0, 0), pointing) == pytest.approx([math.hypot(5, 5)])
    assert wall_distances((0, 0), pointing[:, ::-1]) == pytest.approx([math.hypot(5, 5)])


def test_a_far_place_is_judged_by_the_walls_about_it():
    ring = circle((500.0, -300.0), 4.0)
    assert blocked_share((500.0, -300.0), ring, 5.0) == pytest.approx(1.0)
    assert np.isfinite(horizon((500.0, -300.0), ring, 5.0)).all()


def test_the_shortest_and_longest_reach_are_lengths():
    post = walls((-0.1, 0.3), (0.1, 0.3))
    assert blocked_share((0, 0), post, 0.5) > 0.0
    assert blocked_share((0, 0), post, 10_000.0) > 0.0
    assert sides_walled((0, 0), 10_000.0, post, 1.0).count == 0


@pytest.mark.parametrize(("size", "reach", "quantity"), [(0.0, 5.0, "size"), (1.0, 0.0, "reach")])
def test_what_is_out_of_range_is_named_with_its_range(size, reach, quantity):
    with pytest.raises(OutOfRangeError) as caught:
        sides_walled((0, 0), size, NORTH, reach)
    assert str(caught.value) == f"{quantity} [m] is 0; allowed is 0 to 10000"


def test_the_four_sides_start_at_the_sheets_top_unless_told():
    seen = sides_walled((0, 0), 1.0, NORTH, 5.0)
    assert seen.bearing_deg % 3.0 == pytest.approx(0.0)


@pytest.mark.parametrize("turn", [5e-324, 1e-310, 1e-308, 1e-300, 1e-15, -1e-308])
def test_next_to_no_turn_is_as_no_turn(turn):
    # Walls that point at the place are seen end on; warnings are errors here.
    shape = np.concatenate([
        walls((0.0, 1.0), (0.0, 3.0)), walls((1.0, 0.0), (3.0, 0.0)), walls((2.0, -2.0), (2.0, 2.0))
    ])  # fmt: skip
    turned = sides_walled((0.0, 0.0), 1.0, shape, 6.0, turn)
    assert (turned.count, turned.walled) == (1, (False, True, False, False))
