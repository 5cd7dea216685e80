"""Places that hold exhaust: indoors, under roofs, walled in, wells."""

import math

import pytest

from siteplan.plan.lot import Accuracy
from tests.helpers.builders import (
    FT,
    box,
    building,
    fence,
    house_plan,
    machine,
    make_plan,
    north_of_machine,
    opening,
    roof,
    standing,
)
from tests.helpers.judging import findings, met, outcomes, sentences, unjudged, verdict
from tests.helpers.zoo import L_SHAPE, U_SHAPE

HAIR = 0.001
OVER = box(-3.0, -3.0, 3.0, 3.0)


@pytest.mark.parametrize(
    "kind",
    ["dwelling", "attached-garage", "detached-garage", "carport", "covered-porch", "shed", "other"],
)
@pytest.mark.parametrize("owner", ["own", "neighbour"])
def test_in_any_building_is_danger(kind, owner):
    plan = make_plan(building(OVER, kind=kind, owner=owner, id="it"), standing())
    (found,) = findings(plan, "indoors")
    assert found.signal == "DANGER"
    assert found.subjects == ("it",)
    assert found.evidence[0].shape == "area"
    assert found.evidence[0].points == OVER
    assert not met(plan, "indoors")
    # What stands in a building does not stand clear of every roof.
    assert not met(plan, "under-roof")


@pytest.mark.parametrize(("gap", "expected"), [(-HAIR, "DANGER"), (0.0, "DANGER"), (HAIR, "met")])
def test_partly_in_a_building_is_indoors(gap, expected):
    y = north_of_machine(gap)
    plan = make_plan(building(box(-5.0, y, 5.0, y + 5.0), kind="shed"), standing())
    assert verdict(plan, "indoors") == expected


def test_only_the_building_it_stands_in_is_named():
    plan = make_plan(building(OVER, id="in"), building(box(9, 9, 12, 12), id="out"), standing())
    assert [one.subjects for one in findings(plan, "indoors")] == [("in",)]


def test_outside_counts_every_building():
    plan = make_plan(
        building(box(9, 9, 12, 12), id="a"), building(box(19, 9, 22, 12), id="b"), standing()
    )
    (said,) = met(plan, "indoors")
    assert said.checked == 2


@pytest.mark.parametrize(
    ("beyond", "expected"), [(-HAIR, "DANGER"), (0.0, "DANGER"), (HAIR, "met")]
)
def test_under_the_eaves_up_to_the_drip_line(beyond, expected):
    y = north_of_machine(0.6 + beyond)
    plan = make_plan(building(box(-9, y, 9, y + 9), overhang_m=0.6), standing())
    assert verdict(plan, "under-roof") == expected


def test_within_the_drawings_accuracy_of_the_drip_line_counts_as_under():
    rough = Accuracy(method="taped")  # 0.10 m
    for beyond, expected in ((0.1 - HAIR, "DANGER"), (0.1 + HAIR, "met")):
        y = north_of_machine(0.6 + beyond)
        plan = make_plan(building(box(-9, y, 9, y + 9), overhang_m=0.6), standing(), rough)
        assert verdict(plan, "under-roof") == expected


def test_a_corner_of_the_roof_reaches_out_squarely():
    # 0.5 m out both ways from the wall's corner: 0.71 m off, beyond a rounded drip line.
    y = north_of_machine(0.59)
    plan = make_plan(building(box(0.89, y, 9, y + 9), overhang_m=0.6), standing())
    assert verdict(plan, "under-roof") == "DANGER"


@pytest.mark.parametrize(
    ("distance", "asked"), [(3.0 - HAIR, True), (3.0, False), (3.0 + HAIR, False)]
)
def test_an_unknown_overhang_is_asked_for_within_three_metres(distance, asked):
    y = north_of_machine(distance)
    plan = make_plan(building(box(-9, y, 9, y + 9), overhang_m=None), standing())
    assert bool(unjudged(plan, "under-roof")) is asked


def test_machine_inside_a_house_with_eaves_is_indoors_not_under_eaves():
    plan = house_plan(6.0, 4.0)
    assert findings(plan, "indoors")
    assert not findings(plan, "under-roof")


@pytest.mark.parametrize("kind", ["overhang", "tent", "canopy"])
def test_under_a_roof_without_a_house(kind):
    plan = make_plan(roof(kind, OVER), standing())
    (found,) = findings(plan, "under-roof")
    assert found.signal == "DANGER"
    assert found.subjects == ("roof",)
    assert not met(plan, "under-roof")


@pytest.mark.parametrize(
    ("kind", "expected"), [("canopy", "met"), ("overhang", "DANGER"), ("tent", "DANGER")]
)
def test_only_a_canopy_open_on_four_sides_is_let_pass(kind, expected):
    plan = make_plan(roof(kind, OVER, open_sides=4, clear_height_m=3.0), standing())
    assert verdict(plan, "under-roof") == expected


@pytest.mark.parametrize(
    ("sides", "expected"), [(4, "met"), (3, "DANGER"), (0, "DANGER"), (None, "DANGER")]
)
def test_a_canopy_with_a_closed_side_is_a_roof(sides, expected):
    plan = make_plan(roof("canopy", OVER, open_sides=sides), standing())
    assert verdict(plan, "under-roof") == expected


@pytest.mark.parametrize("eaves", [0.0, 0.9])
@pytest.mark.parametrize(("gap", "expected"), [(0.29, "DANGER"), (0.31, "met")])
def test_a_canopy_against_a_house_is_a_porch(gap, expected, eaves):
    house = building(box(-9.0, 3.0 + gap + eaves, 9.0, 12.0), overhang_m=eaves)
    plan = make_plan(roof("canopy", OVER, open_sides=4), house, standing())
    assert verdict(plan, "under-roof") == expected


def test_no_roof_drawn_says_nothing_but_a_house_far_off_is_checked():
    plan = make_plan(building(box(50, 50, 60, 60)), roof("tent", box(70, 0, 75, 5)), standing())
    (said,) = met(plan, "under-roof")
    assert said.checked == 2


def ring_of(*sides, reach=3.0, **fields):
    """Return fences on some sides of the machine."""
    corners = {
        "north": ((-reach, reach), (reach, reach)),
        "east": ((reach, reach), (reach, -reach)),
        "south": ((reach, -reach), (-reach, -reach)),
        "west": ((-reach, -reach), (-reach, reach)),
    }
    return [fence(*corners[side], id=f"fence-{side}", **fields) for side in sides]


@pytest.mark.parametrize(
    ("sides", "expected", "named"),
    [
        (["north"], "met", "1 of its four sides"),
        (["north", "south"], "CAUTION", "passage"),
        (["north", "east"], "WARNING", "inside corner"),
        (["north", "east", "south"], "DANGER", "alcove"),
        (["north", "east", "south", "west"], "DANGER", "courtyard"),
    ],
)
def test_walled_sides(sides, expected, named):
    plan = make_plan(*ring_of(*sides), standing())
    assert verdict(plan, "walled-in") == expected
    said = outcomes(plan, "walled-in")
    assert named in sentences(said)
    assert set(said[0].subjects) == {f"fence-{side}" for side in sides}
    assert said[0].measured.value == len(sides)
    assert said[0].limit.value == 3
    assert said[0].margin.value == 3 - len(sides)


def test_walls_round_the_place_are_shown_as_lines():
    (found,) = findings(make_plan(*ring_of("north", "east"), standing()), "walled-in")
    assert {one.shape for one in found.evidence} == {"line"}
    assert len(found.evidence) == 2


@pytest.mark.parametrize("turn", [0.0, 17.0, 45.0, 90.0, 233.0])
def test_walled_sides_do_not_hang_on_which_way_it_points(turn):
    plan = make_plan(*ring_of("north", "east", "south"), standing(turn_deg=turn))
    assert verdict(plan, "walled-in") == "DANGER"


@pytest.mark.parametrize(
    ("height", "expected"), [(0.599, "met"), (0.6, "DANGER"), (0.601, "DANGER"), (None, "DANGER")]
)
def test_a_fence_counts_from_the_machines_own_height(height, expected):
    plan = make_plan(*ring_of("north", "east", "south", height_m=height), standing())
    assert verdict(plan, "walled-in") == expected


@pytest.mark.parametrize(
    ("solidity", "expected"), [(0.24, "met"), (0.25, "met"), (0.26, "DANGER"), (None, "DANGER")]
)
def test_a_fence_three_quarters_open_is_no_wall(solidity, expected):
    # ASHRAE 62.1 equipment well, borrowed: less than 75 % free area.
    plan = make_plan(*ring_of("north", "east", "south", solidity=solidity), standing())
    assert verdict(plan, "walled-in") == expected


@pytest.mark.parametrize(("gap", "expected"), [(-HAIR, "DANGER"), (0.0, "DANGER"), (HAIR, "met")])
def test_walls_count_within_twenty_feet_of_the_machine(gap, expected):
    reach = 20 * FT + 0.4 + gap  # half the machine's length is added
    walls = ring_of("north", "east", "south", reach=reach)
    assert verdict(make_plan(*walls, standing()), "walled-in") == expected


def test_the_drawings_accuracy_lengthens_that_reach():
    walls = ring_of("north", "east", "south", reach=20 * FT + 0.4 + 0.3)
    fine, rough = (Accuracy(method="figure", figure_m=figure) for figure in (0.29, 0.31))
    assert verdict(make_plan(*walls, standing(), fine), "walled-in") == "met"
    assert verdict(make_plan(*walls, standing(), rough), "walled-in") == "DANGER"


@pytest.mark.parametrize(
    ("fields", "half_width", "expected"),
    [
        # A well narrower than three wall heights: walls count out to 1.5 heights.
        ({"eave_height_m": 8.0}, 12.0 - HAIR, "DANGER"),
        ({"eave_height_m": 8.0}, 12.0 + HAIR, "met"),
        ({"eave_height_m": None, "storeys": 3}, 13.5 - HAIR, "DANGER"),
        ({"eave_height_m": None, "storeys": 3}, 13.5 + HAIR, "met"),
        ({"eave_height_m": None, "storeys": None}, 20 * FT - HAIR, "DANGER"),
        ({"eave_height_m": None, "storeys": None}, 20 * FT + HAIR, "unjudged"),
        ({"eave_height_m": None, "storeys": None}, 13.5 + HAIR, "met"),
        ({"eave_height_m": 8.0, "storeys": 9}, 12.0 + HAIR, "met"),
    ],
)
def test_tall_walls_enclose_from_farther(fields, half_width, expected):
    d = half_width + 0.4
    outline = ((-d - 1, -d - 1), (d + 1, -d - 1), (d + 1, d + 1), (-d - 1, d + 1), (-d - 1, d),
               (d, d), (d, -d), (-d - 1, -d))  # fmt: skip
    plan = make_plan(building(outline, **fields), standing())
    assert verdict(plan, "walled-in") == expected


@pytest.mark.parametrize(
    ("outline", "at", "expected"),
    [(U_SHAPE, (7.0, 7.0), "DANGER"), (L_SHAPE, (6.0, 6.0), "WARNING")],
)
def test_a_house_walls_in_by_its_own_shape(outline, at, expected):
    plan = make_plan(building(outline), standing(*at))
    assert verdict(plan, "walled-in") == expected


def test_low_eaves_are_a_wall_all_the_same():
    low = make_plan(building(U_SHAPE, eave_height_m=0.1), standing(7.0, 7.0))
    assert verdict(low, "walled-in") == "DANGER"


def test_the_longer_side_of_the_machine_is_what_a_wall_must_cover():
    # A fence 0.6 m long covers a third of a machine 1.8 m long, and all of one 0.5 m long.
    def walls():
        return [
            fence((-0.3, 2.0), (0.3, 2.0), id="n"),
            fence((2.0, 0.3), (2.0, -0.3), id="e"),
            fence((0.3, -2.0), (-0.3, -2.0), id="s"),
        ]

    small = make_plan(*walls(), machine(width_m=0.5, length_m=0.5), standing())
    long = make_plan(*walls(), machine(width_m=0.5, length_m=1.8), standing())
    wide = make_plan(*walls(), machine(width_m=1.8, length_m=0.5), standing())
    assert [verdict(one, "walled-in") for one in (small, long, wide)] == ["DANGER", "met", "met"]


def test_walls_out_of_reach_name_nothing():
    plan = make_plan(building(box(50, 50, 60, 60)), standing())
    for rule in ("walled-in", "horizon-blocked"):
        (said,) = met(plan, rule)
        assert said.subjects == ()
        assert said.measured.value == 0.0


@pytest.mark.parametrize("rule", ["walled-in", "horizon-blocked"])
def test_no_wall_drawn_is_not_judged(rule):
    assert verdict(make_plan(standing()), rule) == "unjudged"


def arc(share, radius=4.0, count=90):
    """Return a fence along a part of a circle about the machine."""
    turns = [2 * math.pi * share * k / count for k in range(count + 1)]
    return fence(*((radius * math.sin(t), radius * math.cos(t)) for t in turns))


@pytest.mark.parametrize(
    ("share", "expected"),
    [
        # US clean-air ordinances: over 50 %; Nebraska act: under 20 % open. Both borrowed.
        (0.499, "met"),
        (0.5, "met"),
        (0.501, "WARNING"),
        (0.799, "WARNING"),
        (0.8, "DANGER"),
        (0.801, "DANGER"),
    ],
)
def test_share_of_the_horizon(share, expected):
    plan = make_plan(arc(share), standing())
    assert verdict(plan, "horizon-blocked") == expected
    (said,) = outcomes(plan, "horizon-blocked")
    assert said.measured.value == pytest.approx(share)
    assert said.limit.value == 0.5
    assert said.margin.value == pytest.approx(0.5 - share)
    assert said.subjects == ("fence",)


@pytest.mark.parametrize(("gap", "expected"), [(-0.01, "DANGER"), (0.01, "met")])
def test_the_horizon_is_looked_at_within_twenty_feet(gap, expected):
    plan = make_plan(
        *ring_of("north", "east", "south", "west", reach=20 * FT + 0.4 + gap), standing()
    )
    # The corners of the square lie beyond the reach; the sides just within or beyond it.
    near = outcomes(plan, "horizon-blocked")[0].measured.value
    assert (near > 0.0) is (gap < 0.0)
    assert (
        verdict(
            make_plan(arc(0.9, radius=20 * FT + 0.4 + gap, count=480), standing()),
            "horizon-blocked",
        )
        == expected
    )


def test_horizon_counts_solid_fences_as_high_as_the_machine_only():
    for fields in ({"height_m": 0.5}, {"solidity": 0.2}):
        walls = ring_of("north", "east", "south", "west", **fields)
        assert verdict(make_plan(*walls, standing()), "horizon-blocked") == "met"


def test_a_window_well_is_refused_at_its_rim_only():
    # The limits are among the distance rules; here: other openings are no wells.
    plan = make_plan(
        building(box(-9, 2.0, 9, 9)),
        opening("a", kind="window", offset_m=8.5),
        opening("b", kind="window-well", wall=2),
        standing(),
    )
    assert verdict(plan, "window-well") == "met"


def test_a_house_put_against_a_canopy_takes_no_finding_away():
    low = roof("canopy", OVER, open_sides=4, clear_height_m=1.0)
    alone = make_plan(low, standing())
    against = make_plan(low, building(box(-9.0, 3.0, 9.0, 12.0)), standing())
    for plan in (alone, against):
        assert verdict(plan, "clear-above") == "WARNING"
    assert verdict(against, "under-roof") == "DANGER"


def test_in_a_house_its_own_walls_stand_on_every_side():
    plan = make_plan(building(OVER), standing())
    assert verdict(plan, "walled-in") == "DANGER"
    assert outcomes(plan, "walled-in")[0].measured.value == 4


def test_only_the_walls_that_face_the_machine_are_shown():
    (found,) = findings(make_plan(building(L_SHAPE), standing(4.9, 4.9)), "walled-in")
    assert {line.points for line in found.evidence} == {
        ((12.0, 4.0), (4.0, 4.0)),
        ((4.0, 4.0), (4.0, 12.0)),
    }


@pytest.mark.parametrize(
    ("sides", "says"),
    [
        (["north", "south"], "at most one side"),
        (["north", "east"], "at most one side"),
        (["north", "east", "south"], "Do not run it here"),
    ],
)
def test_what_to_do_about_walls(sides, says):
    (found,) = findings(make_plan(*ring_of(*sides), standing()), "walled-in")
    assert says in found.do.say()


@pytest.mark.parametrize(
    ("share", "says"), [(0.6, "at most one side"), (0.9, "Do not run it here")]
)
def test_what_to_do_about_the_horizon(share, says):
    (found,) = findings(make_plan(arc(share), standing()), "horizon-blocked")
    assert says in found.do.say()
    assert len(found.evidence) == 90


def test_an_unknown_overhang_is_asked_for_farther_off_on_a_rough_drawing():
    rough = Accuracy(method="figure", figure_m=0.5)
    for distance, asked in ((3.5 - HAIR, True), (3.5 + HAIR, False)):
        y = north_of_machine(distance)
        plan = make_plan(building(box(-9, y, 9, y + 9), overhang_m=None), standing(), rough)
        assert bool(unjudged(plan, "under-roof")) is asked


def test_a_near_unknown_overhang_is_told_with_its_distance():
    y = north_of_machine(0.5)
    plan = make_plan(building(box(-9, y, 9, y + 9), overhang_m=None), standing())
    assert "1' 7\"" in sentences(unjudged(plan, "under-roof"))
