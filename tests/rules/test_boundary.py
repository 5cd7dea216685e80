"""The boundary, the neighbours, walks, and openings left open."""

import pytest

from siteplan.plan.lot import Accuracy, Lot, Override
from siteplan.plan.machine import Cord
from tests.helpers.builders import (
    FT,
    box,
    building,
    cord,
    ground_area,
    lot,
    make_plan,
    north_of_machine,
    opening,
    passing,
    standing,
)
from tests.helpers.judging import findings, met, outcomes, sentences, unjudged, verdict

HAIR = 0.001


def lot_north(gap):
    y = north_of_machine(gap)
    return Lot(outline=box(-99.0, y - 150.0, 99.0, y))


@pytest.mark.parametrize(("gap", "expected"), [(-HAIR, "WARNING"), (0.0, "met"), (HAIR, "met")])
def test_on_the_lot(gap, expected):
    plan = make_plan(lot_north(gap), standing())
    assert verdict(plan, "on-the-lot") == expected
    for one in findings(plan, "on-the-lot"):
        assert one.evidence[0].points == plan.lot.outline


@pytest.mark.parametrize("rule", ["on-the-lot", "lot-set-back"])
def test_no_boundary_is_not_judged(rule):
    assert verdict(make_plan(standing()), rule) == "unjudged"


@pytest.mark.parametrize("y", [0.0, 5.0, 500.0])
def test_off_the_lot_there_is_no_set_back_left(y):
    plan = make_plan(Lot(outline=box(-5, -40, 5, 0)), standing(0.0, y))
    (found,) = findings(plan, "lot-set-back")
    assert found.measured.value == 0.0


def test_set_back_figures():
    rough = Accuracy(method="figure", figure_m=0.25)
    (found,) = findings(make_plan(lot_north(1.0), standing(), rough), "lot-set-back")
    assert found.measured.value == pytest.approx(0.75)
    assert found.limit.value == pytest.approx(5 * FT)
    assert found.evidence[0].points[1][1] == pytest.approx(north_of_machine(1.0))
    (said,) = met(make_plan(lot_north(3.0), standing(), rough), "lot-set-back")
    assert said.measured.value == pytest.approx(2.75)
    assert said.limit.value == pytest.approx(5 * FT)
    assert "9'" in said.what.say()


def test_an_exhaust_outlet_over_the_line_is_not_the_frame():
    # Only the frame must stand on the lot, a hair of rounding aside; the exhaust is judged by
    # its direction.
    assert verdict(make_plan(lot_north(0.0), standing(turn_deg=180.0)), "on-the-lot") == "met"


@pytest.mark.parametrize(
    ("gap", "expected"), [(25 * FT - HAIR, "unjudged"), (25 * FT, "met"), (25 * FT + HAIR, "met")]
)
def test_neighbours_are_asked_for_where_the_boundary_is_near(gap, expected):
    assert verdict(make_plan(lot_north(gap), standing()), "neighbours-drawn") == expected


def test_a_far_boundary_is_told_with_its_distance():
    (said,) = met(make_plan(lot_north(10.0), standing()), "neighbours-drawn")
    assert said.measured.value == pytest.approx(10.0)
    assert said.limit.value == pytest.approx(25 * FT)


@pytest.mark.parametrize("name", ["opening", "building", "intake"])
def test_a_longer_separation_asks_for_neighbours_farther_off(name):
    longer = Override(rule=f"separation-{name}", distance_m=20.0, reason="Town code")
    assert verdict(make_plan(lot_north(19.9), standing(), longer), "neighbours-drawn") == "unjudged"
    assert verdict(make_plan(lot_north(20.0), standing(), longer), "neighbours-drawn") == "met"


def test_neighbours_drawn_are_counted():
    houses = [building(box(x, 50, x + 5, 60), id=f"n{x}", owner="neighbour") for x in (0, 20)]
    own = building(box(-30, 50, -20, 60), id="own")
    (said,) = met(make_plan(lot_north(2.0), *houses, own, standing()), "neighbours-drawn")
    assert said.checked == 2
    assert "2 buildings" in said.what.say()


def test_without_a_boundary_a_neighbour_must_be_drawn():
    assert verdict(make_plan(building(), standing(40.0, 0.0)), "neighbours-drawn") == "unjudged"


def test_without_a_boundary_nobody_knows_on_which_sides_neighbours_are():
    theirs = building(owner="neighbour")
    assert verdict(make_plan(theirs, standing(40.0, 0.0)), "neighbours-drawn") == "unjudged"


# A lot of 40 m by 20 m; the machine 2 m from its north side and 4 m from its east one.
NORTH, EAST = box(10, 23, 15, 30), box(45, 2, 50, 8)
NORTH_EAST, SOUTH = box(42, 22, 50, 30), box(10, -9, 15, -3)


@pytest.mark.parametrize(
    ("theirs", "expected"),
    [
        ([NORTH, EAST], "met"),
        ([NORTH], "unjudged"),
        ([EAST], "unjudged"),
        ([SOUTH], "unjudged"),
        ([NORTH_EAST], "met"),
        ([SOUTH, NORTH_EAST], "met"),
    ],
)
def test_a_neighbour_is_asked_for_on_every_side_within_reach(theirs, expected):
    houses = [building(one, id=f"n{k}", owner="neighbour") for k, one in enumerate(theirs)]
    # One corner of the north side juts out by a foot: still one side.
    yard = Lot(outline=((0, 0), (40, 0), (40, 20), (25, 20.3), (0, 20)))
    plan = make_plan(yard, *houses, standing(35.7, 17.6))
    assert verdict(plan, "neighbours-drawn") == expected
    for one in unjudged(plan, "neighbours-drawn"):
        assert ("13'" in one.missing.say()) is (theirs == [NORTH])


@pytest.mark.parametrize(
    ("rule", "kind", "expected"),
    [
        ("walk-kept-free", "walk", "CAUTION"),
        ("vehicle-path", "driveway", "WARNING"),
        ("deck", "deck", "WARNING"),
        ("brush", "brush", "WARNING"),
        ("pool", "pool", "DANGER"),
        ("standing-water", "standing-water", "WARNING"),
    ],
)
def test_standing_on_it(rule, kind, expected):
    on_it = make_plan(ground_area(kind, box(-3, -3, 3, 3), combustible=False), standing())
    (found,) = findings(on_it, rule)
    assert found.signal == expected
    assert "stands on" in found.what.say()
    assert found.evidence[0].shape == "area"
    assert found.measured.value == 0.0
    assert ("pit" in found.do.say()) is (kind == "pool")
    rough = Accuracy(method="figure", figure_m=0.5)
    for gap, stands in ((0.5 - HAIR, True), (0.5, True), (0.5 + HAIR, False)):
        y = north_of_machine(gap)
        near = make_plan(ground_area(kind, box(-9, y, 9, y + 2)), standing(), rough)
        assert ("stands on" in sentences(findings(near, rule))) is stands


@pytest.mark.parametrize(
    ("rule", "kind"), [("walk-kept-free", "walk"), ("standing-water", "standing-water")]
)
def test_beside_it_is_met(rule, kind):
    y = north_of_machine(HAIR)
    (said,) = met(make_plan(ground_area(kind, box(-9, y, 9, y + 2)), standing()), rule)
    assert said.measured.value == pytest.approx(HAIR)
    assert said.limit.value == 0.0


@pytest.mark.parametrize(
    ("combustible", "expected"), [(True, "WARNING"), (False, "met"), (None, "unjudged")]
)
def test_a_near_deck_by_what_it_is_made_of(combustible, expected):
    y = north_of_machine(1.0)
    plan = make_plan(ground_area("deck", box(-9, y, 9, y + 2), combustible=combustible), standing())
    assert verdict(plan, "deck") == expected


@pytest.mark.parametrize(
    ("material", "gap", "expected"),
    [
        ("combustible", 1.0, "WARNING"),
        ("noncombustible", 1.0, "met"),
        (None, 5 * FT - HAIR, "unjudged"),
        (None, 5 * FT, "met"),
        ("noncombustible", 9.0, "met"),
    ],
)
def test_a_wall_by_what_it_is_made_of(material, gap, expected):
    y = north_of_machine(gap)
    shed = building(box(-9, y, 9, y + 2), kind="shed", wall_material=material)
    plan = make_plan(shed, standing())
    assert verdict(plan, "combustible-wall") == expected
    if expected == "met" and material == "noncombustible":
        (said,) = met(plan, "combustible-wall")
        assert said.limit.value == pytest.approx(5 * FT)
        assert said.checked == 1


def test_walls_known_and_unknown_are_judged_each():
    y = north_of_machine(1.0)
    sheds = [
        building(box(x, y, x + 1, y + 2), kind="shed", id=name, wall_material=material)
        for name, x, material in (
            ("timber", -3.0, "combustible"), ("brick", 0.0, "noncombustible"), ("what", 3.0, None)
        )
    ]  # fmt: skip
    far = building(box(0, 50, 9, 59), kind="shed", id="far", wall_material="combustible")
    near = make_plan(*sheds, far, standing(-2.5, 0.0))
    assert [one.subjects for one in findings(near, "combustible-wall")] == [("timber",)]
    assert [one.subjects for one in met(near, "combustible-wall")] == [("what",)]
    at_unknown = make_plan(*sheds, far, standing(3.5, 0.0))
    assert [one.subjects for one in unjudged(at_unknown, "combustible-wall")] == [("what",)]
    assert "what" in sentences(unjudged(at_unknown, "combustible-wall"))


def house(*openings):
    return [building(box(-20, 10.4, 20, 20)), *openings]


def window(name="window", **fields):
    return opening(name, offset_m=19.5, **fields)


@pytest.mark.parametrize(
    ("state", "gap", "expected"),
    [
        ("shut", 1.0, "met"),
        ("open", 50 * FT - HAIR, "WARNING"),
        ("open", 50 * FT, "CAUTION"),
        ("open", 50 * FT + HAIR, "CAUTION"),
        ("ajar-for-cord", 50 * FT - HAIR, "WARNING"),
        ("ajar-for-cord", 50 * FT, "CAUTION"),
    ],
)
def test_openings_left_open(state, gap, expected):
    y = north_of_machine(gap)
    plan = make_plan(building(box(-20, y, 20, y + 9)), window(state=state), standing())
    assert verdict(plan, "opening-left-open") == expected
    for one in findings(plan, "opening-left-open"):
        assert one.subjects == ("window",)
        assert one.measured.value == pytest.approx(gap)
        assert len(one.evidence) == 1
        assert ("ajar for a cord" in one.what.say()) is (state == "ajar-for-cord")
        assert ("cord" in one.do.say()) is (state == "ajar-for-cord")


@pytest.mark.parametrize(
    ("how", "expected"),
    [("held-ajar", "WARNING"), ("pinched", "WARNING"), ("sealed-fitting", "met")],
)
def test_a_cord_through_an_opening_keeps_it_ajar(how, expected):
    here = standing(cords=(cord(passes=(passing("window", how),)),))
    plan = make_plan(*house(window()), here)
    assert verdict(plan, "opening-left-open") == expected
    if expected == "WARNING":
        assert "ajar for a cord" in sentences(findings(plan, "opening-left-open"))


def test_a_cord_of_another_placement_does_not():
    other = standing(30.0, 0.0, id="other", cords=(Cord(id="c", passes=(passing("window"),)),))
    plan = make_plan(*house(window()), standing(), other)
    assert verdict(plan, "opening-left-open") == "met"


@pytest.mark.parametrize("state", ["open", "ajar-for-cord"])
def test_a_fixed_window_that_stands_open_is_an_opening(state):
    plan = make_plan(*house(window(kind="fixed-window", state=state)), standing())
    assert verdict(plan, "opening-left-open") == "WARNING"
    (said,) = met(plan, "separation-opening")
    assert said.subjects == ("window",)


def test_a_fixed_window_with_a_cord_in_it_stands_ajar():
    through = cord(passes=(passing("window"),))
    parts = house(window(kind="fixed-window"))
    plan = make_plan(*parts, standing(cords=(through,)))
    assert verdict(plan, "opening-left-open") == "WARNING"
    shut = make_plan(*parts, standing())
    assert verdict(shut, "opening-left-open") == "unjudged"


def test_every_shut_opening_is_counted():
    plan = make_plan(*house(window(), opening("b"), opening("c", kind="fixed-window")), standing())
    assert met(plan, "opening-left-open")[0].checked == 2


def test_an_opening_both_open_and_passed_by_a_cord_is_named_once():
    here = standing(cords=(cord(passes=(passing("window"),)),))
    plan = make_plan(*house(window(state="open")), here)
    assert len(outcomes(plan, "opening-left-open")) == 1


def test_only_doors_of_dwellings_are_ways_out():
    y = north_of_machine(0.5)
    shed = building(box(-3, y, 3, y + 2), kind="shed")
    plan = make_plan(shed, opening("door", kind="door", offset_m=2.5), lot(), standing())
    assert verdict(plan, "exit-kept-free") == "unjudged"
    home = building(box(-3, y, 3, y + 2))
    plan = make_plan(home, opening("window", offset_m=2.5), standing())
    assert verdict(plan, "exit-kept-free") == "unjudged"


def test_fireproof_things_are_counted():
    y = north_of_machine(1.0)
    sheds = [
        building(box(x, y, x + 1, y + 2), kind="shed", id=f"s{k}")
        for k, x in enumerate((-3.0, 0.0, 3.0))
    ]
    (said,) = met(make_plan(*sheds, standing()), "combustible-wall")
    assert said.checked == 3
