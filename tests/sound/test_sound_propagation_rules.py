"""What must hold of any place: invariances, and the ways round against a general search."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.sparse.csgraph import dijkstra
from scipy.spatial import ConvexHull
from shapely.geometry import LineString, MultiPoint, Point, Polygon

from siteplan.errors import OutOfRangeError
from siteplan.sound import NO_SCREENS, Conditions, Screens, propagation
from siteplan.sound.air_absorption import absorption_db_per_m
from siteplan.sound.cuts import find_cuts
from siteplan.sound.rating import assumed_spectrum_db
from siteplan.sound.screens import convex_hull

POWER = assumed_spectrum_db(98.9, "low")
SOURCE = (0.0, 0.0, 0.5)
GRID = np.array([(x, y, 1.5) for x in (-20.0, -7.3, 4.1, 15.0) for y in (-16.0, 3.7, 12.0)])
CORNER = st.tuples(st.floats(-25, 25), st.floats(-25, 25))
WALL = st.tuples(CORNER, CORNER).filter(lambda w: np.hypot(*np.subtract(*w)) > 0.5)
WALLS = st.lists(st.tuples(WALL, st.floats(0.5, 6)), min_size=0, max_size=6)


def ring(jitters, phase, middle, radii):
    """Return a star-shaped, thus simple, outline."""
    turns = phase + 2 * np.pi / len(jitters) * (np.arange(len(jitters)) + jitters)
    radii = np.resize(radii, len(turns))
    return np.column_stack([np.cos(turns) * radii, np.sin(turns) * radii]) + middle


RINGS = st.builds(
    ring,
    st.lists(st.floats(-0.2, 0.2), min_size=3, max_size=8),
    st.floats(0, 2 * np.pi),
    CORNER,
    st.lists(st.floats(1, 8), min_size=2, max_size=5),
)


def built(walls, rings=(), height=5.0):
    return Screens.build(
        [w for w, _ in walls], [h for _, h in walls], list(rings), [height] * len(rings)
    )


@settings(max_examples=30, deadline=None)
@given(WALLS, WALL, st.floats(0.5, 6), st.lists(RINGS, max_size=2))
def test_a_further_wall_never_raises_a_level(walls, more, height, rings):
    before = propagation(SOURCE, GRID, POWER, built(walls, rings)).level_dba
    after = propagation(SOURCE, GRID, POWER, built([*walls, (more, height)], rings)).level_dba
    # A wall that meets two others end to end would part a row; chance does not make such.
    assert np.all(after <= before + 1e-9)


@settings(max_examples=30, deadline=None)
@given(WALLS, st.lists(RINGS, max_size=2), RINGS)
def test_a_further_building_never_raises_a_level(walls, rings, more):
    before = propagation(SOURCE, GRID, POWER, built(walls, rings)).level_dba
    after = propagation(SOURCE, GRID, POWER, built(walls, [*rings, more])).level_dba
    assert np.all(after <= before + 1e-9)


@settings(max_examples=30, deadline=None)
@given(WALLS, st.lists(RINGS, max_size=2), st.floats(-np.pi, np.pi), CORNER)
def test_turning_and_shifting_the_place_changes_nothing(walls, rings, angle, shift):
    turn = np.array([(np.cos(angle), -np.sin(angle)), (np.sin(angle), np.cos(angle))])

    def moved(points):
        return np.asarray(points) @ turn.T + shift

    there = built([(moved(w), h) for w, h in walls], [moved(r) for r in rings])
    ears = np.column_stack([moved(GRID[:, :2]), GRID[:, 2]])
    before = propagation(SOURCE, GRID, POWER, built(walls, rings))
    after = propagation((*moved(SOURCE[:2]), SOURCE[2]), ears, POWER, there)
    # A wall just at the edge of the line of sight may fall to either side of it.
    assume(np.array_equal(before.governing, after.governing))
    np.testing.assert_allclose(after.bands_db, before.bands_db, atol=1e-4)


@settings(max_examples=20, deadline=None)
@given(WALLS, st.lists(RINGS, max_size=2))
def test_ten_decibels_more_power_are_ten_more_everywhere(walls, rings):
    screens = built(walls, rings)
    before = propagation(SOURCE, GRID, POWER, screens, reflection_factor=0.8).level_dba
    after = propagation(SOURCE, GRID, POWER + 10, screens, reflection_factor=0.8).level_dba
    np.testing.assert_allclose(after, before + 10)


@settings(max_examples=20, deadline=None)
@given(WALLS, st.lists(RINGS, max_size=2), st.floats(0, 1), st.floats(0, 1))
def test_reflections_only_add(walls, rings, factor, more):
    screens = built(walls, rings)
    levels = [
        propagation(SOURCE, GRID, POWER, screens, reflection_factor=f).level_dba
        for f in (0.0, min(factor, more), max(factor, more))
    ]
    assert np.all(np.diff(levels, axis=0) >= -1e-9)


@settings(max_examples=30, deadline=None)
@given(st.floats(1, 400), st.floats(0.01, 100), st.floats(0, 1), st.floats(0.5, 8))
def test_levels_fall_with_distance(near, further, factor, height):
    how = Conditions(ground=(factor,) * 3)
    ears = [(near, 0, height), (near + further, 0, height)]
    levels = propagation(SOURCE, ears, POWER, conditions=how).level_dba
    # The porous-ground term itself steps by a few hundredths where the middle region begins.
    assert levels[1] <= levels[0] + 0.05


EARS = [(30.0, 1.0), (-28.0, 9.0), (3.0, 26.0), (-5.0, -31.0)]


@settings(max_examples=25, deadline=None)
@given(RINGS, st.integers(1, 7))
def test_ways_round_a_row_of_walls_are_never_too_long(corners, dropped):
    points = corners[: max(2, len(corners) - dropped)]
    line = LineString(points)
    assume(line.distance(Point(0, 0)) > 0.2)
    walls = np.stack([points[:-1], points[1:]], axis=1)
    cuts = cuts_of(Screens.build(walls, [9.0] * len(walls)))
    grown = line.buffer(1e-4, cap_style="square", join_style="mitre")
    for receiver, sides in zip(cuts.receiver, cuts.side_detours_m, strict=True):
        assume(line.distance(Point(EARS[receiver])) > 0.2)
        straight, shortest = np.hypot(*EARS[receiver]), searched(grown, EARS[receiver])
        assert straight + sides.min() <= shortest + 1e-3
        if len(walls) == 1:
            assert straight + sides.min() == pytest.approx(shortest, abs=2e-3)


@settings(max_examples=25, deadline=None)
@given(RINGS)
def test_ways_round_a_building_are_never_too_long(corners):
    house = Polygon(corners)
    assume(house.distance(Point(0, 0)) > 0.1)
    cuts = cuts_of(Screens.build((), (), [corners], [9]))
    for receiver, sides in zip(cuts.receiver, cuts.side_detours_m, strict=True):
        ear = EARS[receiver]
        assume(house.distance(Point(ear)) > 0.1)
        lengths = np.hypot(*ear) + sides
        assert lengths.min() <= searched(house, ear) + 1e-6
        if house.convex_hull.distance(MultiPoint([(0, 0), ear])) > 0.01:
            # Both taut strings together are the outline of everything.
            whole = MultiPoint([*corners, (0, 0), ear]).convex_hull.length
            assert lengths.sum() == pytest.approx(whole, abs=1e-6)


def test_from_a_nook_the_first_face_is_what_must_be_cleared():
    # A house open to the north round the set; by Pythagoras from (0, 0) by (4, -2) and (-4, -2)
    house = [(-6, -6), (6, -6), (6, 6), (4, 6), (4, -2), (-4, -2), (-4, 6), (-6, 6)]
    screens = Screens.build((), (), [house], [9.0])
    cuts = find_cuts(np.array([0.0, 0, 1]), np.array([(3.0, -20, 1)]), screens, 1.0)
    ways = np.sqrt(20) + np.array([np.hypot(1, 18), np.hypot(7, 18)])
    np.testing.assert_allclose(np.sort(cuts.side_detours_m[0]) + np.hypot(3, 20), ways)
    np.testing.assert_array_equal(cuts.side_depths_m, 0.0)


@pytest.mark.parametrize(("start", "goal"), [((0, -3), (14, -2.9)), ((0, -2.9), (14, -3))])
def test_a_string_along_a_face_touches_both_its_corners(start, goal):
    house = Screens.build((), (), [[(5, -3), (9, -3), (9, 3), (5, 3)]], [9.0])
    cuts = find_cuts(np.array([*start, 1.0]), np.array([(*goal, 1.0)]), house, 1.0)
    assert cuts.side_depths_m[0].tolist() == pytest.approx([4.0, 4.0])
    short = 4 + np.hypot(5, 0.1) + 5
    assert cuts.side_detours_m[0].min() == pytest.approx(short - np.hypot(14, 0.1))


def test_searched_cases_do_occur():
    house = [(4, -5), (9, -5), (9, 6), (4, 6)]
    assert cuts_of(Screens.build((), (), [house], [9])).receiver.tolist() == [0]
    assert cuts_of(Screens.build([[(4, -5), (4, 6)]], [9])).receiver.tolist() == [0]


def cuts_of(screens):
    ears = np.array([(x, y, 1.0) for x, y in EARS])
    return find_cuts(np.array([0.0, 0.0, 1.0]), ears, screens, 1.0)


def searched(obstacle, goal):
    """Return the length of the shortest way from the origin round an obstacle [m]."""
    nodes = [(0.0, 0.0), goal, *obstacle.exterior.coords[:-1]]
    core = obstacle.buffer(-2e-5)
    matrix = np.zeros((len(nodes), len(nodes)))
    for i, a in enumerate(nodes):
        for j, b in enumerate(nodes[:i]):
            if not LineString([a, b]).intersects(core):
                matrix[i, j] = np.hypot(a[0] - b[0], a[1] - b[1])
    return dijkstra(matrix, directed=False, indices=0)[1]


@settings(max_examples=30, deadline=None)
@given(st.lists(CORNER, min_size=3, max_size=12, unique=True))
def test_hull_agrees_with_a_library(points):
    points = np.round(points, 3)
    assume(MultiPoint(points).convex_hull.area > 1)
    theirs = ConvexHull(points)
    ours = convex_hull(points)
    assert Polygon(ours).area == pytest.approx(theirs.volume)
    assert {tuple(p) for p in ours} <= {tuple(p) for p in points[theirs.vertices]}


def test_a_fence_in_pieces_is_one_fence():
    x = np.linspace(-30, 30, 41)
    bent = np.column_stack([np.full(41, 4.0), x])
    pieces = np.stack([bent[:-1], bent[1:]], axis=1)
    shuffled = np.random.default_rng(3).permutation(pieces)
    shuffled[::3] = shuffled[::3, ::-1]
    whole = propagation(SOURCE, GRID, POWER, Screens.build([[(4, -30), (4, 30)]], [1.8]))
    parts = propagation(SOURCE, GRID, POWER, Screens.build(shuffled, [1.8] * 40))
    np.testing.assert_allclose(parts.level_dba, whole.level_dba)
    assert np.any(whole.level_dba < whole.open_dba - 3)


def test_a_wall_drawn_twice_is_no_closed_ring():
    once = propagation(SOURCE, GRID, POWER, Screens.build([[(4, -5), (4, 9)]], [3.0]))
    twice = [[(4, -5), (4, 9)], [(4, 9), (4, -5)]]
    again = propagation(SOURCE, GRID, POWER, Screens.build(twice, [3.0, 3.0]))
    np.testing.assert_allclose(again.level_dba, once.level_dba)
    assert np.any(once.level_dba < once.open_dba - 3)


def test_a_lower_piece_does_not_run_on():
    walls = [[(4, -30), (4, 0.5)], [(4, 0.5), (4, 30)]]
    even = propagation(SOURCE, [(15, 0, 1.5)], POWER, Screens.build(walls, [1.8, 1.8]))
    stepped = propagation(SOURCE, [(15, 0, 1.5)], POWER, Screens.build(walls, [1.8, 1.2]))
    assert stepped.level_dba[0] > even.level_dba[0] + 1


def test_a_closed_fence_has_no_way_round():
    square = 6.0 * np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
    walls = np.stack([square, np.roll(square, -1, axis=0)], axis=1)
    cuts = find_cuts(
        np.array([0.0, 0, 1]), np.array([[15.0, 1, 1]]), Screens.build(walls, [2.0] * 4), 1.0
    )
    assert np.all(np.isinf(cuts.side_detours_m))
    assert cuts.obstacle.tolist() == [1]


@pytest.mark.parametrize(("offset", "credited"), [(-0.02, -1), (0.0, -1), (0.009, -1), (0.02, 0)])
def test_a_receiver_on_a_wall_is_not_behind_it(offset, credited):
    wall = Screens.build([[(10, -30), (10, 30)]], [2.0])
    assert propagation(SOURCE, [(10 + offset, 0, 1.5)], POWER, wall).governing[0] == credited


def test_no_credit_inside_a_building():
    house = Screens.build((), (), [[(5, -5), (15, -5), (15, 5), (5, 5)]], [4.0])
    inside, behind = propagation(SOURCE, [(10, 0, 1.5), (20, 0, 1.5)], POWER, house).governing
    assert (inside, behind) == (-1, 0)


def test_a_roof_below_both_ends_screens_nothing():
    shed = Screens.build((), (), [[(5, -5), (8, -5), (8, 5), (5, 5)]], [3.0])
    for source_height, ear_height, number in ((1, 1, 0), (1, 4, 0), (4, 1, 0), (3.1, 3.1, -1)):
        found = propagation((0, 0, source_height), [(15, 0, ear_height)], POWER, shed)
        assert found.governing[0] == number


@pytest.mark.parametrize(("width", "screened"), [(5.3, False), (5.5, True)])
def test_a_wall_narrower_than_the_wave_lets_it_pass(width, screened):
    # 63 Hz is 5.40 m long at 340 m/s
    wall = Screens.build([[(4, -width / 2), (4, width / 2)]], [3.0])
    found = propagation(SOURCE, [(15, 0, 1.5)], POWER, wall)
    free = propagation(SOURCE, [(15, 0, 1.5)], POWER, NO_SCREENS)
    assert bool(found.bands_db[0, 0] < free.bands_db[0, 0] - 0.1) is screened


def test_each_receiver_has_its_own_ground():
    ears = [(15, 0, 1.5), (0, 15, 1.5)]
    mixed = propagation(SOURCE, ears, POWER, conditions=Conditions(ground=([0, 1], 0, [0, 1])))
    hard, soft = (
        propagation(SOURCE, ears, POWER, conditions=Conditions(ground=(g, 0, g))).level_dba[0]
        for g in (0, 1)
    )
    np.testing.assert_allclose(mixed.level_dba, [hard, soft])


def test_air_acts_along_the_slant():
    ear = [(300, 0, 40)]
    cold, warm = (Conditions(temperature_c=t, humidity_percent=h) for t, h in ((0, 20), (30, 90)))
    difference = (
        propagation(SOURCE, ear, POWER, conditions=cold).bands_db
        - propagation(SOURCE, ear, POWER, conditions=warm).bands_db
    )[0]
    slant = np.sqrt(300**2 + 39.5**2)
    expected = slant * (absorption_db_per_m(30, 90) - absorption_db_per_m(0, 20))
    np.testing.assert_allclose(difference, expected)


def test_the_later_edition_screens_a_little_less():
    fence = Screens.build([[(4, -30), (4, 30)]], [1.8])
    old, new = (
        propagation(SOURCE, [(15, 0, 1.5)], POWER, fence, conditions=Conditions(edition=e))
        for e in ("1996", "2024")
    )
    gains = [found.open_dba[0] - found.level_dba[0] for found in (old, new)]
    assert 0.0 < gains[0] - gains[1] < 0.1


def test_a_taller_source_must_be_hidden_as_a_whole():
    fence = Screens.build([[(4, -30), (4, 30)]], [1.8])
    low = propagation(SOURCE, [(15, 0, 1.5)], POWER, fence)
    tall = propagation(SOURCE, [(15, 0, 1.5)], POWER, fence, top_height_m=1.0)
    assert tall.level_dba[0] > low.level_dba[0] + 0.5
    np.testing.assert_allclose(tall.open_dba, low.open_dba)


def test_many_receivers_come_out_in_their_order():
    ears = np.column_stack([np.linspace(5, 60, 1500), np.zeros(1500), np.full(1500, 1.5)])
    walls = [[(3 + i / 100, 5), (3 + i / 100, 9)] for i in range(300)]
    found = propagation(SOURCE, ears, POWER, Screens.build(walls, [2.0] * 300))
    assert found.level_dba.shape == (1500,)
    np.testing.assert_allclose(found.level_dba, propagation(SOURCE, ears, POWER).level_dba)


def test_no_receivers_give_no_levels():
    assert propagation(SOURCE, [], POWER).bands_db.shape == (0, 8)


@pytest.mark.parametrize(
    ("source", "receivers", "power"),
    [
        ((0, 0, np.nan), [(9, 0, 1)], POWER),
        ((0, 0, -0.1), [(9, 0, 1)], POWER),
        (SOURCE, [(9, 0, -1)], POWER),
        (SOURCE, [(9, 0, 201)], POWER),
        (SOURCE, [(10001, 0, 1)], POWER),
        (SOURCE, [(np.inf, 0, 1)], POWER),
        (SOURCE, [(9, 0, 1)], [np.nan] * 8),
    ],
)
def test_impossible_numbers_are_refused(source, receivers, power):
    with pytest.raises(OutOfRangeError):
        propagation(source, receivers, power)


@pytest.mark.parametrize(
    ("source", "receivers", "power"),
    [((0, 0), [(9, 0, 1)], POWER), (SOURCE, [(9, 0)], POWER), (SOURCE, [(9, 0, 1)], [90.0] * 7)],
)
def test_wrong_shapes_are_refused(source, receivers, power):
    with pytest.raises((ValueError, IndexError)):
        propagation(source, receivers, power)


@pytest.mark.parametrize("factor", [-0.01, 1.01, np.nan])
def test_impossible_reflections_are_refused(factor):
    with pytest.raises(OutOfRangeError, match="reflection factor"):
        propagation(SOURCE, GRID, POWER, reflection_factor=factor)


@pytest.mark.parametrize(("ear", "depth"), [(2.99, 4.0), (3.0, 0.0), (3.01, 0.0)])
def test_an_ear_at_the_height_of_the_roof_sees_past_the_near_edge(ear, depth):
    shed = Screens.build((), (), [[(5, -9), (9, -9), (9, 9), (5, 9)]], [3.0])
    cuts = find_cuts(np.array([0.0, 0, 1]), np.array([(15.0, 0, ear)]), shed, 1.0)
    assert cuts.depth_m.tolist() == pytest.approx([depth])
    assert cuts.to_source_m.tolist() == pytest.approx([np.hypot(5, 2)])


@pytest.mark.parametrize(("set_height", "depth"), [(2.99, 4.0), (3.0, 0.0), (3.01, 0.0)])
def test_a_set_at_the_height_of_the_roof_sees_past_the_far_edge(set_height, depth):
    shed = Screens.build((), (), [[(5, -9), (9, -9), (9, 9), (5, 9)]], [3.0])
    ears = np.array([(15.0, 0, 1.5)])
    cuts = find_cuts(np.array([0.0, 0, set_height]), ears, shed, set_height)
    assert cuts.depth_m.tolist() == pytest.approx([depth])
    assert cuts.to_receiver_m.tolist() == pytest.approx([np.hypot(6, 1.5)])


def test_screens_refuse_what_is_no_wall():
    with pytest.raises(ValueError, match="one height"):
        Screens.build([[(0, 0), (1, 1)]], [])
    with pytest.raises(ValueError, match="three corners"):
        Screens.build((), (), [[(0, 0), (1, 1)]], [3.0])
    with pytest.raises(OutOfRangeError, match="wall height"):
        Screens.build([[(0, 0), (1, 1)]], [-1.0])
    with pytest.raises(OutOfRangeError, match="building height"):
        Screens.build((), (), [[(0, 0), (1, 1), (0, 1)]], [np.nan])
