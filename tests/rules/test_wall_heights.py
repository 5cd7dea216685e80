"""Walls of unknown height: a place they may enclose is not one that is met."""

import pytest

from tests.helpers.builders import building, make_plan, standing
from tests.helpers.judging import met, outcomes, unjudged, verdict

# A U open to the north; from its middle each of the three walls is 8 m off. 1.5 wall heights
# reach 4.5 m with one storey of 3 m, 9 m with two; and 20 ft (6.1 m) count whatever the height.
U = ((-9, -9), (9, -9), (9, 20), (8, 20), (8, -8), (-8, -8), (-8, 20), (-9, 20))


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({"storeys": 1}, "met"),
        ({"storeys": 2}, "DANGER"),
        ({"eave_height_m": 2.6}, "met"),
        ({"eave_height_m": 6.0}, "DANGER"),
        ({}, "unjudged"),
    ],
)
def test_a_court_between_tall_walls(fields, expected):
    plan = make_plan(building(U, **fields), standing(0.0, 0.0))
    assert verdict(plan, "walled-in") == expected


def test_the_building_is_named_and_nothing_met():
    plan = make_plan(building(U), standing(0.0, 0.0))
    (gap,) = outcomes(plan, "walled-in")
    assert gap in unjudged(plan, "walled-in")
    assert gap.subjects == ("house",)


def test_a_danger_stands_whatever_height_is_unknown():
    # Near walls make it an alcove already; how high the far ones are no longer matters.
    near = building(tuple((0.5 * x, 0.5 * y) for x, y in U), id="near", storeys=2)
    plan = make_plan(near, building(U), standing(0.0, 0.0))
    (said,) = outcomes(plan, "walled-in")
    assert said.signal == "DANGER"


def test_far_walls_enclose_nothing_however_tall():
    # Three storeys of 3 m reach 13.5 m.
    far = tuple((3.0 * x, 3.0 * y) for x, y in U)
    assert met(make_plan(building(far), standing(0.0, 0.0)), "walled-in")
