"""Separation beyond its limits: which openings and buildings count, and what is not judged."""

import pytest

from siteplan.plan.lot import Accuracy, Override
from tests.helpers.builders import (
    FT,
    box,
    building,
    house_plan,
    lot,
    machine,
    make_plan,
    north_of_machine,
    opening,
    standing,
)
from tests.helpers.judging import findings, met, outcomes, sentences, unjudged, verdict

HAIR = 0.001


def house(gap, **fields):
    y = north_of_machine(gap)
    return building(box(-20.0, y, 20.0, y + 8.0), **fields)


def window(**fields):
    return opening("window", offset_m=19.5, **fields)


def test_a_fixed_window_does_not_count_but_the_wall_does():
    plan = make_plan(house(3.0), window(kind="fixed-window"), standing())
    assert verdict(plan, "separation-opening") == "unjudged"
    assert verdict(plan, "separation-building") == "DANGER"


@pytest.mark.parametrize("state", ["shut", "ajar-for-cord", "open"])
def test_an_opening_counts_open_or_shut(state):
    assert (
        verdict(make_plan(house(6.0), window(state=state), standing()), "separation-opening")
        == "WARNING"
    )


@pytest.mark.parametrize("kind", ["shed", "detached-garage", "other", "carport"])
def test_openings_of_every_building_count(kind):
    plan = make_plan(house(6.0, kind=kind), window(), standing())
    assert verdict(plan, "separation-opening", "window") == "WARNING"


@pytest.mark.parametrize("kind", ["shed", "detached-garage", "other", "carport"])
def test_walls_of_a_building_that_stands_apart_do_not(kind):
    plan = make_plan(house(6.0, kind=kind), standing())
    assert verdict(plan, "separation-building") == "unjudged"


@pytest.mark.parametrize(
    "kind", ["carport", "covered-porch", "shed", "other", "detached-garage", "attached-garage"]
)
@pytest.mark.parametrize(("gap", "counts"), [(0.0, True), (0.299, True), (0.301, False)])
def test_what_stands_against_a_dwelling_counts_with_it(kind, gap, counts):
    y = north_of_machine(5.0)
    annex = building(box(-2.0, y, 2.0, y + 2.0), kind=kind, id="annex")
    dwelling = building(box(-9.0, y + 2.0 + gap, 9.0, y + 10.0))
    said = outcomes(make_plan(annex, dwelling, standing()), "separation-building")
    named = any("annex" in one.subjects for one in said)
    assert named is (counts or kind == "attached-garage")


@pytest.mark.parametrize("between", ["attached-garage", "covered-porch"])
def test_what_stands_against_an_attached_structure_counts_too(between):
    y = north_of_machine(5.0)
    annex = building(box(-2.0, y, 2.0, y + 3.0), kind="carport", id="annex")
    middle = building(box(-2.0, y + 3.0, 2.0, y + 6.0), kind=between, id="middle")
    dwelling = building(box(-9.0, y + 6.0, 9.0, y + 10.0))
    found = findings(make_plan(annex, middle, dwelling, standing()), "separation-building")
    assert [one.subjects for one in found] == [("annex",)]


def test_sheds_against_each_other_and_no_dwelling_do_not_count():
    y = north_of_machine(5.0)
    parts = [
        building(box(x, y, x + 2.0, y + 2.0), kind="shed", id=f"shed{x:.0f}") for x in (0.0, 2.0)
    ]
    assert verdict(make_plan(*parts, standing()), "separation-building") == "unjudged"


def test_neighbours_buildings_and_openings_are_named_as_such():
    plan = make_plan(house(6.0, owner="neighbour"), window(), standing())
    assert "(a neighbour's)" in sentences(findings(plan, "separation-opening"))
    assert "(a neighbour's)" in sentences(findings(plan, "separation-building"))
    own = make_plan(house(6.0), window(), standing())
    assert "neighbour" not in sentences(findings(own, "separation-opening"))


def test_every_opening_too_near_is_named_and_the_nearest_that_keeps_its_distance():
    house_ = house(19 * FT)
    plan = make_plan(
        house_,
        opening("near", offset_m=19.5),
        opening("nearish", offset_m=22.0),
        opening("far", offset_m=36.0),
        opening("farther", offset_m=38.5),
        opening("pane", kind="fixed-window", offset_m=24.0),
        standing(),
    )
    assert {one.subjects for one in findings(plan, "separation-opening")} == {
        ("near",),
        ("nearish",),
    }
    (said,) = met(plan, "separation-opening")
    assert said.subjects == ("far",)
    assert said.checked == 4


@pytest.mark.parametrize(
    ("gap", "stated", "asked"),
    [
        (25 * FT - HAIR, False, True),
        (25 * FT, False, False),
        (25 * FT - HAIR, True, False),
    ],
)
def test_undrawn_openings_of_a_near_dwelling_are_asked_for(gap, stated, asked):
    plan = make_plan(house(gap, openings_complete=stated), standing())
    said = [one for one in unjudged(plan, "separation-opening") if one.subjects == ("house",)]
    assert bool(said) is asked


def test_undrawn_openings_are_reckoned_from_the_drip_line():
    plan = make_plan(house(25 * FT + 0.5, openings_complete=False, overhang_m=0.6), standing())
    assert ("house",) in [one.subjects for one in unjudged(plan, "separation-opening")]


def test_a_local_figure_asks_for_openings_of_dwellings_farther_off():
    longer = Override(rule="separation-opening", distance_m=20.0, reason="Town code")
    plan = make_plan(house(15.0, openings_complete=False), standing(), longer)
    assert ("house",) in [one.subjects for one in unjudged(plan, "separation-opening")]


def test_undrawn_openings_of_a_shed_are_not_asked_for():
    plan = make_plan(house(3.0, kind="shed", openings_complete=False), standing())
    assert not any(one.subjects for one in unjudged(plan, "separation-opening"))


@pytest.mark.parametrize(
    ("gap", "overhang", "expected"),
    [
        (20 * FT + 0.6 - HAIR, 0.6, "WARNING"),
        (20 * FT + 0.6 + HAIR, 0.6, "CAUTION"),
        (25 * FT + 0.6 + HAIR, 0.6, "met"),
        (25 * FT, 0.0, "met"),
    ],
)
def test_soffit_vents_are_measured_from_the_drip_line(gap, overhang, expected):
    plan = make_plan(house(gap, overhang_m=overhang), window(kind="soffit-vent"), standing())
    assert verdict(plan, "separation-opening", "window") == expected


@pytest.mark.parametrize("outline_turned", [False, True])
def test_the_drip_line_lies_outside_whichever_way_the_outline_runs(outline_turned):
    y = north_of_machine(20 * FT + 0.6 - HAIR)
    ring = box(-20.0, y, 20.0, y + 8.0)
    wall = 0
    if outline_turned:
        ring, wall = tuple(reversed(ring)), 2  # reversed, its south wall is the third
    plan = make_plan(
        building(ring, overhang_m=0.6), window(kind="soffit-vent", wall=wall), standing()
    )
    assert verdict(plan, "separation-opening") == "WARNING"


@pytest.mark.parametrize(
    ("gap", "asked"),
    [(3.0, True), (25 * FT + 3.0 - HAIR, True), (25 * FT + 3.0, False)],
)
def test_a_soffit_vent_under_an_unknown_overhang_is_not_judged(gap, asked):
    plan = make_plan(house(gap, overhang_m=None), window(kind="soffit-vent"), standing())
    said = [one for one in unjudged(plan, "separation-opening") if one.subjects == ("window",)]
    assert bool(said) is asked


def test_other_openings_under_an_unknown_overhang_are_judged():
    plan = make_plan(house(3.0, overhang_m=None), window(), standing())
    assert not unjudged(plan, "separation-opening")


def test_the_outlet_counts_where_it_stands_off_the_frame():
    far_out = machine(exhaust_side="left", exhaust_offset_m=2.0)
    # The left side's offset runs clockwise from the side's outward bearing: northward.
    plan = make_plan(house(20 * FT + 1.0), far_out, standing())
    assert verdict(plan, "separation-building") == "WARNING"
    assert findings(plan, "separation-building")[0].measured.value == pytest.approx(
        20 * FT + 1.0 + 0.4 - 2.0
    )


def test_distance_is_measured_from_the_turned_frame():
    # Turned by a quarter, the frame's half width of 0.3 m faces north.
    plan = make_plan(house(10.0), standing(turn_deg=90.0))
    assert met(plan, "separation-building")[0].measured.value == pytest.approx(10.1)


def test_no_building_is_not_judged():
    plan = make_plan(lot(), standing(20.0, 20.0))
    for rule in ("separation-opening", "separation-building", "separation-intake", "indoors"):
        assert verdict(plan, rule) == "unjudged"


def test_intakes_are_told_apart_from_other_openings():
    plan = house_plan(6.0, -8.0)
    assert verdict(plan, "separation-intake") == "unjudged"
    with_intake = house_plan(6.0, -8.0, opening("ac", kind="room-air-conditioner", offset_m=5.0))
    assert [one.subjects for one in findings(with_intake, "separation-intake")] == [("ac",)]


@pytest.mark.parametrize(("over", "asked"), [(-HAIR, True), (HAIR, False)])
def test_a_rough_drawing_asks_for_openings_and_drip_lines_farther_off(over, asked):
    rough = Accuracy(method="figure", figure_m=0.5)
    plan = make_plan(house(25 * FT + 0.5 + over, openings_complete=False), standing(), rough)
    assert bool([one for one in unjudged(plan, "separation-opening") if one.subjects]) is asked
    vent = window(kind="soffit-vent")
    far = make_plan(house(25 * FT + 3.5 + over, overhang_m=None), vent, standing(), rough)
    assert bool(unjudged(far, "separation-opening")) is asked


@pytest.mark.parametrize("kind", ["detached-garage", "other"])
@pytest.mark.parametrize("owner", ["own", "neighbour"])
def test_walls_stand_for_undrawn_openings_where_people_may_be(kind, owner):
    apart = {"kind": kind, "owner": owner, "openings_complete": False}
    far_home = building(box(0.0, 500.0, 9.0, 510.0), id="home")
    for gap, expected in ((14.9, "DANGER"), (15.0, "WARNING"), (20.0, "CAUTION"), (25.0, "met")):
        plan = make_plan(house(gap * FT, **apart), far_home, standing())
        assert verdict(plan, "separation-building") == expected
        # The exhaust at the machine's back points away; turned about it points there.
        there = make_plan(house(gap * FT, **apart), standing(turn_deg=180.0))
        assert verdict(plan, "exhaust-direction") == "met"
        assert verdict(there, "exhaust-direction") in {"DANGER", "WARNING", "CAUTION"}
    far = opening("far", offset_m=0.0)
    near = make_plan(house(6.0, **apart), far, standing())
    assert [one.subjects for one in unjudged(near, "separation-opening")] == [("house",)]


def test_a_shed_apart_is_no_place_for_people():
    plan = make_plan(house(6.0, kind="shed", openings_complete=False), standing())
    assert verdict(plan, "separation-building") == "unjudged"


def test_other_buildings_do_not_keep_the_distance_of_an_undrawn_home():
    for other in ({"owner": "neighbour"}, {"kind": "attached-garage"}):
        far = make_plan(house(9.0, **other), standing())
        assert verdict(far, "separation-building") == "unjudged"
        assert "your own" in sentences(unjudged(far, "separation-building"))
        near = make_plan(house(5.0, **other), standing())
        assert verdict(near, "separation-building") == "WARNING"
