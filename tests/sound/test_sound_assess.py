import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.sound.assess import assess, open_distance_m
from siteplan.sound.receivers import window_heights_m
from siteplan.sound.screens import Screens

# Open-ground levels over hard ground by the inverse square: LwA - 20 lg d - 8, air aside.
LWA = 98.0
EAR = [(15.0, 0.0, 1.5)]
FENCE_AT_5 = [[(5, -40), (5, 40)]]
HOUSE = [(5, -20), (13, -20), (13, 20), (5, 20)]


def test_open_ground_is_the_inverse_square():
    found = assess((0, 0), [(15, 0, 1.5), (30, 0, 1.5)], LWA)
    slant = np.hypot([15, 30], 1.0)
    np.testing.assert_allclose(found.level_dba, LWA - 20 * np.log10(slant) - 8, atol=0.2)
    assert found.governing.tolist() == [-1, -1]


@pytest.mark.parametrize(("distance", "near"), [(2.99, True), (3.0, False), (3.01, False)])
def test_too_near_is_not_modelled(distance, near):
    found = assess((0, 0), [(distance, 0, 0.5)], LWA)
    assert found.too_near.tolist() == [near]
    assert bool(np.isnan(found.level_dba[0])) is near
    assert found.worst == (None if near else 0)


@pytest.mark.parametrize(("height", "credited"), [(1.45, False), (1.467, True), (1.5, True)])
def test_a_screen_must_stand_clear_of_the_line_of_sight(height, credited):
    # Line from 1.0 m to 1.5 m over 15 m is at 1.1667 m where the fence stands at 5 m.
    found = assess((0, 0), EAR, LWA, Screens.build(FENCE_AT_5, [height]))
    assert bool(found.credit_db[0] > 0) is credited
    assert found.governing[0] == (0 if credited else -1)


@pytest.mark.parametrize(("reach", "credited"), [(1.99, False), (2.0, False), (2.01, True)])
def test_a_screen_must_reach_past_the_path_by_more_than_its_height(reach, credited):
    fence = Screens.build([[(5, -40), (5, reach)]], [2.0])
    assert bool(assess((0, 0), EAR, LWA, fence).credit_db[0] > 0) is credited


def test_credits_end_at_ten_and_fifteen():
    fence = assess((0, 0), EAR, LWA, Screens.build([[(5, -400), (5, 400)]], [8.0]))
    house = assess((0, 0), EAR, LWA, Screens.build((), (), [np.multiply(HOUSE, (1, 9))], [8.0]))
    assert fence.credit_db.tolist() == [10.0]
    assert house.credit_db.tolist() == [15.0]
    np.testing.assert_allclose(house.level_dba, house.open_dba - 15.0)


def test_a_low_screen_earns_less_than_its_ceiling():
    found = assess((0, 0), EAR, LWA, Screens.build(FENCE_AT_5, [1.8]))
    assert 4.0 < found.credit_db[0] < 10.0


@pytest.mark.parametrize(("behind", "added"), [(2.99, 3.0), (3.0, 3.0), (3.01, 0.0)])
def test_a_wall_beside_the_set_adds_three(behind, added):
    wall = Screens.build([[(-behind, -4), (-behind, 4)]], [2.0])
    assert assess((0, 0), EAR, LWA, wall).beside_db.tolist() == [added]


@pytest.mark.parametrize(("height", "added"), [(0.99, 0.0), (1.0, 0.0), (1.01, 3.0)])
def test_a_low_wall_beside_the_set_adds_nothing(height, added):
    wall = Screens.build([[(-2, -4), (-2, 4)]], [height])
    assert assess((0, 0), EAR, LWA, wall).beside_db.tolist() == [added]


def test_corners_add_six_and_bays_nine():
    back, side, other = [(-2, -3), (-2, 3)], [(-2, -2), (3, -2)], [(-2, 2), (3, 2)]
    for walls, added in ([back], 3), ([back, side], 6), ([back, side, other], 9):
        found = assess((0, 0), EAR, LWA, Screens.build(walls, [2.5] * len(walls)))
        assert found.beside_db.tolist() == [added]


def test_a_shaft_adds_no_more_than_a_bay():
    square = [(-2, -2), (2, -2), (2, 2), (-2, 2)]
    walls = [[square[i], square[(i + 1) % 4]] for i in range(4)]
    inside = assess((0, 0), [(0, 0, 4.0)], LWA, Screens.build(walls, [2.5] * 4))
    assert inside.beside_db.tolist() == [9.0]


def test_a_house_wall_in_two_pieces_is_one_wall():
    walls = [[(-2, -4), (-2, 0)], [(-2, 0), (-2, 4)]]
    assert assess((0, 0), EAR, LWA, Screens.build(walls, [2.5, 2.5])).beside_db.tolist() == [3.0]


def test_the_side_of_a_house_that_looks_away_adds_nothing():
    house = Screens.build((), (), [[(-9, 2), (1, 2), (1, 8), (-9, 8)]], [5.0])
    assert assess((0, 0), [(0, -15, 1.5)], LWA, house).beside_db.tolist() == [3.0]


def test_a_wall_between_throws_sound_the_other_way():
    wall = Screens.build([[(2, -40), (2, 40)]], [1.8])
    found = assess((0, 0), [(15, 0, 1.5), (-15, 0, 1.5)], LWA, wall)
    assert found.beside_db.tolist() == [0.0, 3.0]
    assert found.credit_db[0] > 0.0
    assert found.credit_db[1] == 0.0


def test_no_credit_for_a_fence_while_a_wall_throws_sound_over_it():
    both = [*FENCE_AT_5, [(-2, -4), (-2, 4)]]
    found = assess((0, 0), EAR, LWA, Screens.build(both, [1.8, 2.5]))
    assert (found.credit_db[0], found.beside_db[0]) == (0.0, 3.0)


def test_a_house_keeps_its_credit_beside_a_wall():
    found = assess((0, 0), EAR, LWA, Screens.build([[(-2, -4), (-2, 4)]], [2.5], [HOUSE], [5.0]))
    assert found.credit_db[0] > 0.0
    assert found.governing.tolist() == [1]


def test_an_upper_window_loses_the_fence():
    heights = window_heights_m([0, 1]).tolist()
    assert heights == [1.5, 4.0]
    ears = [(15, 0, h) for h in heights]
    low, high = assess((0, 0), ears, LWA, Screens.build(FENCE_AT_5, [1.8])).credit_db
    assert low > 0.0
    assert high == 0.0


def test_the_worst_point_is_the_loudest():
    ears = [(2, 0, 0.5), (20, 0, 1.5), (9, 0, 1.5), (30, 0, 1.5)]
    assert assess((0, 0), ears, LWA).worst == 2


@settings(max_examples=20, deadline=None)
@given(st.floats(-np.pi, np.pi), st.floats(-200, 200), st.floats(-200, 200))
def test_turning_and_shifting_the_lot_changes_nothing(angle, east, north):
    turn = np.array([(np.cos(angle), -np.sin(angle)), (np.sin(angle), np.cos(angle))])

    def moved(points):
        return np.asarray(points, dtype=float) @ turn.T + (east, north)

    walls, house = [[(-2, -4), (-2, 4)], [(1, -9), (5, -9)]], [(6, -20), (13, -20), (13, 6), (6, 6)]
    flat = np.array([(20, 1), (-9, 3), (2, -15), (9, 0), (4, 9)])
    heights = np.array([1.5, 1.5, 1.5, 1.5, 4.0])
    before = assess(
        (0, 0), np.column_stack([flat, heights]), LWA, Screens.build(walls, [2, 2], [house], [5])
    )
    there = Screens.build([moved(w) for w in walls], [2, 2], [moved(house)], [5])
    after = assess(moved((0, 0)), np.column_stack([moved(flat), heights]), LWA, there)
    np.testing.assert_allclose(after.level_dba, before.level_dba, atol=1e-6)
    np.testing.assert_array_equal(after.governing, before.governing)
    assert before.governing.max() == 2
    assert before.indoors.any()
    assert before.beside_db.max() == 3.0


@settings(max_examples=30, deadline=None)
@given(st.floats(0.5, 20), st.floats(0.5, 8), st.floats(3.1, 60), st.floats(0, 0.5))
def test_a_screen_never_raises_and_soft_ground_never_raises(at, height, distance, ground):
    ears = [(distance, 0, 1.5), (0, distance, 4.0)]
    fence = Screens.build([[(at, -30), (at, 30)]], [height])
    bare = assess((0, 0), ears, LWA)
    screened = assess((0, 0), ears, LWA, fence)
    assert np.all(screened.level_dba - screened.beside_db <= bare.level_dba + 1e-9)
    soft = assess((0, 0), ears, LWA, ground_factor=ground)
    assert np.all(soft.level_dba <= bare.level_dba + 1e-9)


@pytest.mark.parametrize(
    ("power", "ground"), [(39.9, 0.0), (160.1, 0.0), (np.nan, 0.0), (98, 0.51), (98, -0.01)]
)
def test_numbers_out_of_range_are_refused(power, ground):
    with pytest.raises(OutOfRangeError):
        assess((0, 0), EAR, power, ground_factor=ground)


def test_indoors_is_not_modelled():
    house = Screens.build((), (), [HOUSE], [5.0])
    ears = [(9, 0, 1.5), (5.005, 0, 1.5), (4.5, 0, 1.5), (13.5, 0, 1.5)]
    found = assess((0, 0), ears, LWA, house)
    assert found.indoors.tolist() == [True, False, False, False]
    assert np.isnan(found.level_dba).tolist() == [True, False, False, False]


@pytest.mark.parametrize("limit", [45.0, 50.0, 60.0])
def test_open_distance_is_where_the_level_is_met(limit):
    distance = open_distance_m(98, limit)
    assert assess((0, 0), [(distance, 0, 1.5)], 98).level_dba[0] == pytest.approx(limit, abs=0.01)


def test_walls_beside_the_set_need_more_distance():
    # 3 dB are 1.41 times as far by the inverse square
    ratio = open_distance_m(90, 60, 3.0) / open_distance_m(90, 60)
    assert ratio == pytest.approx(1.41, abs=0.02)


def test_open_distances_end_at_both_sides():
    assert open_distance_m(60, 55) == 3.0
    assert open_distance_m(160, 0) == np.inf


@pytest.mark.parametrize(("power", "limit", "beside"), [(39, 50, 0), (98, -1, 0), (98, 50, 9.1)])
def test_impossible_distances_are_refused(power, limit, beside):
    with pytest.raises(OutOfRangeError):
        open_distance_m(power, limit, beside)
