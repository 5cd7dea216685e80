"""Which way the exhaust points."""

import math

import pytest

from siteplan.plan.lot import Accuracy
from tests.helpers.builders import box, building, lot, machine, make_plan, opening, standing
from tests.helpers.judging import findings, met, outcomes, sentences, unjudged, verdict

FT = 0.3048
HAIR = 0.001
AWAY = 90.0  # own reading of "away from": more than 90° off the line
# The exhaust leaves at the back; the outlet of a machine at (0, 0) stands 0.4 m out that way.


def north_house(gap, **fields):
    """Return a house whose south wall lies this far north of an outlet at the origin."""
    return building(box(-40.0, gap, 40.0, gap + 8.0), **fields)


def aimed(bearing_deg, *parts, **fields):
    """Return a plan whose outlet stands at the origin and points on this bearing."""
    turn = math.radians(bearing_deg)
    at = (-0.4 * math.sin(turn), -0.4 * math.cos(turn))
    return make_plan(*parts, standing(*at, turn_deg=(bearing_deg + 180.0) % 360.0), **fields)


def test_a_wing_farther_off_than_the_nearest_wall_counts():
    # An L: one wing 5 m south of the outlet, the other 6 m west of it.
    ell = building(((-9, -8), (30, -8), (30, -5), (-6, -5), (-6, 20), (-9, 20)))
    for bearing, expected in ((270.0, "DANGER"), (350.0, "WARNING"), (45.0, "met"), (90.0, "met")):
        plan = aimed(bearing, ell)
        assert verdict(plan, "exhaust-direction") == expected
    (said,) = met(aimed(45.0, ell), "exhaust-direction")
    assert said.checked == 1


@pytest.mark.parametrize(
    ("gap", "off", "expected"),
    [
        # Within 25 ft: more than 90° off.
        (5.0, 89.9, "WARNING"),
        (5.0, 90.0, "met"),
        (5.0, 90.1, "met"),
        (20 * FT, 0.0, "WARNING"),
        (25 * FT, 89.9, "WARNING"),
        (50 * FT, 0.0, "met"),
        (5.0, 45.1, "WARNING"),
        # At it, under 20 ft: danger.
        (5.0, 44.9, "DANGER"),
        (20 * FT - HAIR, 0.0, "DANGER"),
        (20 * FT + HAIR, 0.0, "WARNING"),
        (25 * FT - HAIR, 89.9, "WARNING"),
        # The own dwelling within 50 ft: the same 90°.
        (25 * FT + HAIR, 89.9, "WARNING"),
        (50 * FT - HAIR, 89.9, "WARNING"),
        (50 * FT - HAIR, 90.1, "met"),
        (50 * FT + HAIR, 0.0, "met"),
    ],
)
@pytest.mark.parametrize("side", [1.0, -1.0])
def test_own_dwelling(gap, off, expected, side):
    plan = aimed((side * off) % 360.0, north_house(gap))
    assert verdict(plan, "exhaust-direction") == expected


@pytest.mark.parametrize(
    ("gap", "off", "expected"),
    [
        (5.0, 89.9, "WARNING"),
        (25 * FT - HAIR, 89.9, "WARNING"),
        (25 * FT, 89.9, "met"),
        (25 * FT + HAIR, 89.9, "met"),
        (25 * FT + HAIR, 45.1, "met"),
        (25 * FT + HAIR, 44.9, "CAUTION"),
        (50 * FT - HAIR, 44.9, "CAUTION"),
        (50 * FT + HAIR, 0.0, "met"),
    ],
)
def test_a_neighbours_dwelling(gap, off, expected):
    plan = aimed(off, north_house(gap, owner="neighbour"))
    assert verdict(plan, "exhaust-direction") == expected


def test_an_opening_of_a_shed_counts_as_another_building():
    shed = north_house(10.0, kind="shed")
    vent = opening("vent", offset_m=39.5)
    assert verdict(aimed(30.0, shed, vent), "exhaust-direction") == "CAUTION"
    assert verdict(aimed(30.0, shed), "exhaust-direction") == "unjudged"


def test_the_figures_of_a_finding():
    plan = aimed(30.0, north_house(5.0))
    (found,) = findings(plan, "exhaust-direction")
    assert found.measured.value == pytest.approx(30.0)
    assert found.limit.value == AWAY
    assert found.margin.value == pytest.approx(-60.0)
    line, axis = found.evidence
    assert math.dist(*line.points) == pytest.approx(5.0)
    assert axis.points[0] == pytest.approx((0.0, 0.0))
    assert axis.points[1] == pytest.approx((5 * math.sin(math.pi / 6), 5 * math.cos(math.pi / 6)))
    assert "30° off the line" in found.what.say()
    assert "16' 4\"" in found.what.say()


def test_a_building_gives_one_finding_the_worst_of_its_openings():
    house = north_house(5.0)
    windows = [opening("w1", offset_m=39.5), opening("w2", offset_m=45.0)]
    (found,) = findings(aimed(60.0, house, *windows), "exhaust-direction")
    # The wall is 60° off; the window to the east lies nearer the axis.
    assert found.subjects == ("w2",)


def test_a_fixed_window_is_no_target_of_its_own():
    house = north_house(5.0)
    (found,) = findings(
        aimed(60.0, house, opening("pane", kind="fixed-window", offset_m=45.0)), "exhaust-direction"
    )
    assert found.subjects == ("house",)


def test_each_building_gives_its_own_finding():
    east = building(box(5.0, -9.0, 9.0, 9.0), id="east", owner="neighbour")
    said = findings(aimed(45.0, north_house(5.0), east), "exhaust-direction")
    assert {one.subjects for one in said} == {("house",), ("east",)}


def test_accuracy_may_bring_a_wall_nearer_the_axis():
    # 0.5 m at 5 m is asin(0.1) = 5.74°.
    rough = Accuracy(method="figure", figure_m=0.5)
    doubt = math.degrees(math.asin(0.1))
    for off, expected in ((90.0 + doubt - 0.01, "WARNING"), (90.0 + doubt + 0.01, "met")):
        plan = aimed(off, north_house(5.0), accuracy=rough)
        assert verdict(plan, "exhaust-direction") == expected


def test_accuracy_shortens_the_distance():
    rough = Accuracy(method="figure", figure_m=0.5)
    near, far = (
        aimed(0.0, north_house(50 * FT + 0.5 + hair), accuracy=rough) for hair in (-HAIR, HAIR)
    )
    assert verdict(near, "exhaust-direction") == "WARNING"
    assert verdict(far, "exhaust-direction") == "met"


def test_accuracy_brings_an_opening_of_a_shed_into_reach():
    rough = Accuracy(method="figure", figure_m=0.5)
    shed, vent = north_house(50 * FT + 0.4, kind="shed"), opening("vent", offset_m=39.5)
    assert verdict(aimed(0.0, shed, vent, accuracy=rough), "exhaust-direction") == "CAUTION"


def test_as_near_as_the_accuracy_it_may_point_anywhere():
    rough = Accuracy(method="figure", figure_m=0.5)
    plan = aimed(180.0, north_house(0.45), accuracy=rough)
    assert findings(plan, "exhaust-direction")[0].measured.value == 0.0


def test_an_outlet_in_a_wall_points_at_it():
    plan = make_plan(building(box(-9, -9, 9, 9)), standing())
    (found,) = findings(plan, "exhaust-direction")
    assert found.signal == "DANGER"
    assert found.measured.value == 0.0
    assert '0" away' in found.what.say()


@pytest.mark.parametrize(
    ("side", "turn"), [("back", 0.0), ("front", 180.0), ("left", 270.0), ("right", 90.0)]
)
def test_each_side_points_its_own_way(side, turn):
    south = building(box(-40.0, -15.0, 40.0, -5.0))
    plan = make_plan(south, machine(exhaust_side=side), standing(turn_deg=turn))
    (found,) = findings(plan, "exhaust-direction")
    assert found.measured.value == pytest.approx(0.0, abs=1e-6)
    # From the outlet: half a length from the middle at front and back, half a width beside.
    out = 0.4 if side in {"back", "front"} else 0.3
    assert math.dist(*found.evidence[0].points) == pytest.approx(5.0 - out)


def test_what_points_away_is_said_with_its_angle():
    (said,) = met(aimed(135.0, north_house(5.0)), "exhaust-direction")
    assert said.subjects == ("house",)
    assert said.measured.value == pytest.approx(135.0)
    assert said.limit.value == 90.0
    assert said.margin.value == pytest.approx(45.0)
    assert said.checked == 1


def test_nothing_within_reach_is_said_so():
    (said,) = met(aimed(0.0, north_house(60.0)), "exhaust-direction")
    assert said.subjects == ()
    assert "50'" in sentences([said])


def test_a_far_neighbour_is_held_to_its_own_angle():
    (said,) = met(aimed(60.0, north_house(10.0, owner="neighbour")), "exhaust-direction")
    assert said.limit.value == 45.0


def test_no_dwelling_drawn_is_not_judged():
    plan = make_plan(lot(), standing(20.0, 20.0))
    assert [one.rule for one in unjudged(plan, "exhaust-direction")] == ["exhaust-direction"]
    assert len(outcomes(plan, "exhaust-direction")) == 1


@pytest.mark.parametrize("backward", [False, True])
def test_the_worst_of_a_building_does_not_hang_on_the_order(backward):
    house = north_house(5.0)
    windows = [opening(f"w{k}", offset_m=offset) for k, offset in enumerate((39.5, 42.0, 45.0))]
    plan = aimed(60.0, house, *(reversed(windows) if backward else windows))
    # w1: 38° off at 5.4 m, a danger; w2: 15° off, but 7.1 m away, beyond 20 ft.
    assert [one.subjects for one in findings(plan, "exhaust-direction")] == [("w1",)]


@pytest.mark.parametrize("backward", [False, True])
def test_a_danger_is_told_before_a_smaller_angle_farther_off(backward):
    # 40° off and near is DANGER; 5° off and far, beyond 20 ft, is a WARNING.
    wing = building(((-9.0, 5.0), (2.0, 5.0), (2.0, 30.0), (-9.0, 30.0)))
    near = opening("near", wall=0, offset_m=9.0, width_m=0.3)
    far = opening("far", wall=1, offset_m=15.0, width_m=0.5)
    parts = [far, near] if backward else [near, far]
    (found,) = findings(aimed(40.0, wing, *parts), "exhaust-direction")
    assert found.signal == "DANGER"


def test_an_opening_is_told_before_its_wall_at_the_same_place():
    plan = aimed(60.0, north_house(5.0), opening("w", offset_m=39.5))
    assert [one.subjects for one in findings(plan, "exhaust-direction")] == [("w",)]


def test_a_building_in_the_machines_reach_but_not_the_outlets():
    # The frame stands 50 ft less a hand from the wall, the outlet on its far side does not.
    plan = make_plan(north_house(50 * FT + 0.2), standing())
    (said,) = met(plan, "exhaust-direction")
    assert said.subjects == ("house",)
    assert said.limit.value == 45.0


def test_every_aim_is_counted():
    plan = aimed(135.0, north_house(5.0), opening("w", offset_m=39.5))
    assert met(plan, "exhaust-direction")[0].checked == 2


def test_an_exhaust_on_a_side_nobody_told_is_not_judged():
    plan = aimed(0.0, north_house(5.0), machine(exhaust_side=None))
    (said,) = unjudged(plan, "exhaust-direction")
    assert said.missing.template == "on which side of the generator its exhaust is"
    assert findings(plan, "exhaust-direction") == []
    assert met(plan, "exhaust-direction") == []
