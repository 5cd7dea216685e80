"""What hangs on which cord."""

import pytest

from siteplan.plan.around import Panel, ThroughWallOutlet
from siteplan.scene import resolve
from tests.helpers.builders import fixture, standing
from tests.helpers.powering import generator, good_cord, household_cord, inlet, load, powered

WALL = fixture(ThroughWallOutlet, 0.0, 5.0, "wall")
PANEL = fixture(Panel, 5.0, 5.0, "panel")


def hanging(cords, *loads):
    plan = powered(None, inlet(), WALL, PANEL, *loads,
                   placements=(standing(-10.0, 4.0, cords=cords),))  # fmt: skip
    return {feed.cord.id: [one.id for one in feed.loads] for feed in resolve(plan).feeds}


@pytest.mark.parametrize(
    ("via", "expected"),
    [
        ("to-inlet", {"to-inlet": ["lamp"], "to-wall": []}),
        ("inlet", {"to-inlet": ["lamp"], "to-wall": []}),
        # The house's circuits hang behind the inlet.
        ("panel", {"to-inlet": ["lamp"], "to-wall": []}),
        ("to-wall", {"to-inlet": [], "to-wall": ["lamp"]}),
        ("wall", {"to-inlet": [], "to-wall": ["lamp"]}),
        (None, {"to-inlet": [], "to-wall": []}),
    ],
)
def test_a_load_hangs_where_it_says(via, expected):
    cords = (good_cord(id="to-inlet"), household_cord(id="to-wall", to="wall", end=None))
    assert hanging(cords, load(via=via)) == expected


def test_a_load_hangs_on_the_cord_that_ends_at_it():
    direct = household_cord(id="direct", to="lamp", end=None)
    assert hanging((good_cord(), direct), load(at=(-1.0, 4.0))) == {
        "cord": [], "direct": ["lamp"],
    }  # fmt: skip
    # Unless it says otherwise.
    assert hanging((good_cord(), direct), load(at=(-1.0, 4.0), via="inlet"))["cord"] == ["lamp"]


def test_a_load_hangs_on_the_first_of_two_cords_to_one_inlet():
    cords = (good_cord(id="one"), good_cord(id="two"))
    assert hanging(cords, load(via="inlet")) == {"one": ["lamp"], "two": []}


def test_a_load_by_an_inlet_that_no_cord_reaches_hangs_on_nothing():
    assert hanging((household_cord(id="spare"),), load(via="inlet")) == {"spare": []}


def test_ends_outlets_and_lengths():
    plan = powered(good_cord(pieces_m=(3.0, 4.5)), machine=generator())
    (feed,) = resolve(plan).feeds
    assert feed.inlet is not None
    assert feed.outlet is not None
    assert (feed.inlet.id, feed.outlet.configuration) == ("inlet", "L14-30")
    assert feed.pieces_m == pytest.approx(7.5)
    assert feed.shared
    (bare,) = resolve(powered(household_cord(pieces_m=(), receptacle=None))).feeds
    assert (bare.inlet, bare.outlet, bare.pieces_m, bare.shared) == (None, None, None, False)
    (boxed,) = resolve(powered(household_cord(end_fitting="outlet-box"))).feeds
    assert boxed.shared
