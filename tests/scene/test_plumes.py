"""The way of exhaust: hand-drawn cases, and what may never lengthen it."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.scene import resolve
from siteplan.scene.plumes import Outlet, bearings_deg, path_lengths_m, path_to
from tests.helpers.builders import box, building, fence, grown, make_plan, opening, standing

# House x 0..12, y 0..8; a window in the north wall (wall 2 runs west from x 12), x 2..3.
TALL = building(eave_height_m=9.0)
NORTH = opening("north", wall=2, offset_m=9.0, width_m=1.0, head_m=2.0)
SOUTH = opening("south", wall=0, offset_m=2.0, width_m=1.0, head_m=2.0)


def path(plan, outlet=(2.5, -5.0), height_m=1.0):
    setting = resolve(plan).setting
    lengths = path_lengths_m(
        setting.airways, Outlet(outlet, height_m), plan.openings, setting.openings
    )
    return dict(zip([one.id for one in plan.openings], lengths.tolist(), strict=True))


def test_in_sight_it_is_the_straight_line_to_the_nearest_edge():
    assert path(make_plan(TALL, SOUTH))["south"] == pytest.approx(5.0)
    # 3-4-5: the window's near edge is 3 m to the west of the outlet's foot.
    away = path(make_plan(TALL, SOUTH), outlet=(6.0, -4.0))["south"]
    assert away == pytest.approx(5.0)


def test_behind_the_house_it_goes_round_the_corners():
    # From (2.5, -5) to the corner (0, 0), up the west wall, along the north one to x 2.
    by_hand = math.hypot(2.5, 5.0) + 8.0 + 2.0
    assert path(make_plan(TALL, NORTH))["north"] == pytest.approx(by_hand, abs=2e-3)


def test_a_low_roof_is_gone_over_where_that_is_shorter():
    low = building(eave_height_m=2.5)
    # Straight 13 m, 1.5 m up from an outlet at 1 m, 0.5 m down to a head at 2 m.
    assert path(make_plan(low, NORTH))["north"] == pytest.approx(math.hypot(13.0, 2.0))


def test_an_unknown_eave_shortens_and_an_open_sided_roof_holds_nothing():
    known, unknown = building(eave_height_m=9.0), building(eave_height_m=None)
    assert path(make_plan(unknown, NORTH))["north"] < path(make_plan(known, NORTH))["north"]
    carport = building(eave_height_m=9.0, kind="carport")
    assert path(make_plan(carport, NORTH))["north"] == pytest.approx(13.0)


def test_a_fence_does_not_lengthen_it():
    plan = make_plan(TALL, SOUTH)
    wall = fence((-50.0, -2.0), (50.0, -2.0), height_m=3.0)
    assert path(grown(plan, wall)) == path(plan)


def test_an_outlet_in_a_building_gets_the_straight_line():
    plan = make_plan(TALL, NORTH, SOUTH)
    assert path(plan, outlet=(2.5, 4.0)) == pytest.approx({"north": 4.0, "south": 4.0})
    setting = resolve(plan).setting
    assert path_to(setting.airways, Outlet((2.5, 4.0), 1.0), setting.openings[0]) is None


def test_the_way_itself_is_as_long_as_its_length():
    plan = make_plan(TALL, NORTH)
    setting = resolve(plan).setting
    way = path_to(setting.airways, Outlet((2.5, -5.0), 1.0), setting.openings[0])
    assert way is not None
    assert way.length_m == pytest.approx(path(plan)["north"], abs=1e-6)
    assert len(way.points) == 4


def test_bearings_run_from_true_north():
    plan = make_plan(TALL, SOUTH)
    segments = resolve(plan).setting.openings
    assert bearings_deg((2.5, -5.0), segments, 0.0) == pytest.approx([0.0])
    assert bearings_deg((10.0, 0.0), segments, 0.0) == pytest.approx([270.0])
    # North lies a quarter turn clockwise from the drawing's top: the top is then west.
    assert bearings_deg((2.5, -5.0), segments, 90.0) == pytest.approx([270.0])


@settings(max_examples=60, deadline=None)
@given(
    st.floats(-20.0, 30.0),
    st.floats(-20.0, -0.5),
    st.floats(0.0, 12.0),
    st.floats(2.0, 20.0),
)
def test_it_is_never_shorter_than_the_straight_line_and_drawing_more_never_shortens_it(
    x, y, eave, width
):
    plan = make_plan(building(eave_height_m=eave), NORTH, SOUTH, standing(x, y))
    shed = building(box(-1.0, -0.4, width, -0.2), id="shed", kind="shed", eave_height_m=eave)
    lengths = np.array(list(path(plan, outlet=(x, y)).values()))
    straight = np.array(
        [_straight(x, y, 2.0, 3.0, 8.0), _straight(x, y, 2.0, 3.0, 0.0)], dtype=np.float64
    )
    assert (lengths >= straight - 1e-6).all()
    more = np.array(list(path(grown(plan, shed), outlet=(x, y)).values()))
    assert (more >= lengths - 1e-2).all()


def _straight(x, y, left, right, level):
    return math.hypot(x - min(max(x, left), right), y - level)
