import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import box

from siteplan.errors import OutOfRangeError
from siteplan.geometry.ties import TapeError, place_from_tapes, setting_out

HOUSE = [(0, 0), (10, 0), (10, 8), (0, 8)]


def test_two_tapes_meet_in_two_places():
    fix = place_from_tapes([(0, 0), (6, 0)], [5.0, 5.0])
    assert sorted(fix.places) == [pytest.approx((3, -4)), pytest.approx((3, 4))]
    assert fix.misfit_m == pytest.approx(0.0, abs=1e-9)


def test_a_third_tape_tells_which():
    fix = place_from_tapes([(0, 0), (6, 0), (0, 9)], [5.0, 5.0, math.hypot(3, 5)])
    assert fix.places == (pytest.approx((3, 4)),)
    assert fix.misfit_m == pytest.approx(0.0, abs=1e-9)


def test_third_corner_in_line_with_the_others_cannot_tell():
    fix = place_from_tapes([(0, 0), (6, 0), (9, 0)], [5.0, 5.0, math.hypot(6, 4)])
    assert len(fix.places) == 2


def test_a_misread_third_tape_shows_as_misfit():
    good = [5.0, 5.0, math.hypot(3, 5)]
    fix = place_from_tapes([(0, 0), (6, 0), (0, 9)], [*good[:2], good[2] + 0.3])
    assert 0.05 < fix.misfit_m < 0.3
    assert math.dist(fix.places[0], (3, 4)) < 0.3


def test_tapes_that_fall_short_of_each_other_show_the_gap():
    fix = place_from_tapes([(0, 0), (10, 0)], [4.0, 5.0])
    assert fix.places == (pytest.approx((4.5, 0.0)),)
    assert fix.misfit_m == pytest.approx(0.5)


def test_a_tape_that_cannot_reach_the_other_s_circle_shows_the_gap():
    fix = place_from_tapes([(0, 0), (2, 0)], [10.0, 5.0])
    assert fix.misfit_m == pytest.approx(1.5, abs=1e-3)


@pytest.mark.parametrize(
    ("corners", "tapes"),
    [([(0, 0)], [5.0]), ([(0, 0), (0, 0)], [5.0, 5.0]), ([(0, 0), (1, 0)], [5.0]), ([], [])],
)
def test_one_corner_fixes_nothing(corners, tapes):
    with pytest.raises(TapeError, match="two different corners"):
        place_from_tapes(corners, tapes)


@pytest.mark.parametrize("tape", [0.0, -1.0, math.nan, 1000.1])
def test_a_tape_must_be_a_length(tape):
    with pytest.raises(OutOfRangeError, match="tape"):
        place_from_tapes([(0, 0), (1, 0)], [1.0, tape])


def test_setting_out_names_distances_and_a_check():
    ties = setting_out((5, -6), HOUSE, 0.05)
    for corner, distance in zip(ties.corners, ties.distances_m, strict=True):
        assert distance == math.dist(HOUSE[corner], (5, -6))
    assert ties.check_corner not in ties.corners
    assert ties.check_m == math.dist(HOUSE[ties.check_corner], (5, -6))


def test_tapes_do_not_run_through_the_house():
    ties = setting_out((5, -6), HOUSE, 0.05, solids=[box(0, 0, 10, 8)])
    assert ties.corners == (0, 1)
    assert ties.check_corner is None
    assert ties.check_m is None
    assert ties.mirror_xy == pytest.approx((5, 6))


def test_tapes_at_a_right_angle_are_chosen():
    ties = setting_out((0, 0), [(5, 0), (5, 1), (0, 5), (-9, 0.5)], 0.05)
    assert ties.corners == (0, 2)
    assert ties.error_m == pytest.approx(0.05 * math.sqrt(2))


@pytest.mark.parametrize(("longest", "fits"), [(4.99, False), (5.0, True), (5.01, True)])
def test_corners_beyond_the_tape_are_not_used(longest, fits):
    corners = [(5, 0), (0, 4)]
    if fits:
        assert setting_out((0, 0), corners, 0.05, longest_tape_m=longest).corners == (0, 1)
    else:
        with pytest.raises(TapeError, match="no two fixed corners"):
            setting_out((0, 0), corners, 0.05, longest_tape_m=longest)


@pytest.mark.parametrize(("off", "fits"), [(29.99, True), (30.0, True), (30.01, False)])
def test_a_tape_is_30_m_long_unless_told(off, fits):
    corners = [(103.0, 100.0), (100.0, 100.0 + off)]
    if fits:
        assert setting_out((100.0, 100.0), corners, 0.05).distances_m == (3.0, pytest.approx(off))
    else:
        with pytest.raises(TapeError):
            setting_out((100.0, 100.0), corners, 0.05)


def test_the_check_tape_is_the_one_that_tells_the_mirror_image_best():
    # The two tapes start at (5, 0) and (0, 5); their wrong place is (5, 5).
    corners = [(5, 0), (0, 5), (9, -3), (9, 8.5), (-6, 6)]
    ties = setting_out((0, 0), corners, 0.05)
    assert ties.corners == (0, 1)
    assert ties.mirror_xy == pytest.approx((5, 5))
    apart = [abs(math.hypot(x, y) - math.hypot(x - 5, y - 5)) for x, y in corners]
    assert ties.check_corner == 3
    assert apart[3] == max(apart)


def test_a_corner_at_the_place_itself_is_no_help():
    assert setting_out((0, 0), [(0, 0), (5, 0), (0, 5)], 0.05).corners == (1, 2)


@pytest.mark.parametrize(("off", "places"), [(0.04, 2), (0.2, 1)])
def test_both_places_are_told_while_they_fit_the_tapes_as_read(off, places):
    # A third corner nearly in line with the others tells the sides apart by little.
    third = (9.0, off)
    tapes = [5.0, 5.0, math.dist(third, (3, 4))]
    assert len(place_from_tapes([(0, 0), (6, 0), third], tapes).places) == places


@pytest.mark.parametrize("corners", [[], [(1, 1)], [(1, 0), (2, 0)], [(1, 0), (-3, 0)]])
def test_corners_in_one_line_with_the_place_do_not_fix_it(corners):
    with pytest.raises(TapeError):
        setting_out((0, 0), corners, 0.05)


spot = st.tuples(st.floats(-20, 20), st.floats(-20, 20))


@settings(max_examples=50, deadline=None)
@given(spot)
def test_what_is_set_out_is_found_again(place):
    assume(min(math.dist(place, c) for c in HOUSE) > 0.1)
    ties = setting_out(place, HOUSE, 0.02, longest_tape_m=60.0)
    used = [*ties.corners, ties.check_corner]
    fix = place_from_tapes(
        [HOUSE[c] for c in used], [*ties.distances_m, ties.check_m], accuracy_m=1e-6
    )
    assert fix.places[0] == pytest.approx(place, abs=1e-5)
    pair = place_from_tapes([HOUSE[c] for c in ties.corners], ties.distances_m)
    assert min(math.dist(ties.mirror_xy, p) for p in pair.places) < 1e-3


@settings(max_examples=50, deadline=None)
@given(spot, st.sampled_from([(1, 1), (1, -1), (-1, 1), (-1, -1)]))
def test_misread_tapes_stay_within_the_error_told(place, signs):
    """First-order bound: one millimetre of tape, all four ways of being off."""
    assume(min(math.dist(place, c) for c in HOUSE) > 1.0)
    ties = setting_out(place, HOUSE, 0.001, longest_tape_m=60.0)
    read = [d + s * 0.001 for d, s in zip(ties.distances_m, signs, strict=True)]
    fix = place_from_tapes([HOUSE[c] for c in ties.corners], read)
    assert min(math.dist(place, p) for p in fix.places) <= ties.error_m * 1.02
    assert np.isfinite(ties.error_m)
