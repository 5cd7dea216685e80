"""Things put where tapes and deeds say."""

import math

import pytest

from siteplan.errors import SiteplanError
from siteplan.geometry.survey import NoTraverseError
from siteplan.geometry.ties import TapeError
from siteplan.plan.errors import EditError
from siteplan.plan.rings import signed_area_m2
from siteplan.suggest.placing import (
    corner_by_tapes,
    lot_by_bearings,
    opening_by_tapes,
    stand_by_tapes,
)
from tests.helpers import builders as b

FT = 0.3048
# Read: engineering.purdue.edu, traverse calculations; balanced corners as northing, easting.
LEGS_FT = [("N26°10'E", 285.10), ("S75°25'E", 610.45), ("S15°30'W", 720.48),
           ("N1°42'W", 203.00), ("N53°06'W", 647.02)]  # fmt: skip
CORNERS_FT = [(10000.0, 10000.0), (10255.96, 10125.66), (10102.44, 10716.31),
              (9408.37, 10523.62), (9611.34, 10517.55)]  # fmt: skip
LEGS = [(bearing, length * FT) for bearing, length in LEGS_FT]


def test_a_published_deed_balanced_by_the_compass_rule():
    plan, read = lot_by_bearings(b.make_plan(), LEGS, balance=True)
    expected = [((e - 10000.0) * FT, (n - 10000.0) * FT) for n, e in CORNERS_FT]
    assert len(plan.lot.outline) == 5
    for found, wanted in zip(plan.lot.outline, expected, strict=True):
        assert found == pytest.approx(wanted, abs=0.012 * FT)
    assert read.closure_m / FT == pytest.approx(0.8833, abs=5e-4)
    assert abs(signed_area_m2(plan.lot.outline)) / FT**2 == pytest.approx(272_608.1, abs=30.0)


def test_an_open_deed_is_not_closed_silently():
    plan, read = lot_by_bearings(b.make_plan(), LEGS)
    assert len(plan.lot.outline) == 6
    first, last = plan.lot.outline[0], plan.lot.outline[-1]
    assert math.dist(first, last) == pytest.approx(read.closure_m)
    assert [leg.azimuth_deg for leg in plan.lot.legs][:2] == pytest.approx(
        [26.0 + 10 / 60, 104.583333]
    )


def test_bearings_turn_with_the_drawing():
    """North a quarter turn clockwise from the top: a leg due north runs to the right."""
    legs = [("N", 10.0), ("E", 10.0), ("S", 10.0), ("W", 10.0)]
    plan, _ = lot_by_bearings(b.make_plan(north_deg=90.0), legs)
    assert plan.lot.outline[1] == pytest.approx((10.0, 0.0))
    assert plan.lot.outline[2] == pytest.approx((10.0, -10.0))


@pytest.mark.parametrize("legs", [[], [("N", -1.0)], [("up", 5.0)], [("N", 5.0), ("S", 5.0)]])
def test_what_makes_no_lot_is_refused(legs):
    with pytest.raises(SiteplanError):
        lot_by_bearings(b.make_plan(), legs)
    with pytest.raises(NoTraverseError):
        lot_by_bearings(b.make_plan(), [])


def test_a_machine_stands_where_tapes_meet():
    plan = b.house_plan(3.0, 20.0)
    corners = [(0.0, 8.0), (12.0, 8.0), (12.0, 0.0)]
    tapes = [math.dist(one, (5.0, 17.0)) for one in corners]
    found = stand_by_tapes(plan, corners, tapes)
    assert found.plan.placement.at == pytest.approx((5.0, 17.0), abs=1e-6)
    assert found.fix.misfit_m < 1e-6


def test_of_two_places_the_one_on_its_side_is_taken():
    corners = [(0.0, 8.0), (12.0, 8.0)]
    tapes = [math.dist(one, (5.0, 17.0)) for one in corners]
    north = stand_by_tapes(b.house_plan(3.0, 20.0), corners, tapes)
    south = stand_by_tapes(b.house_plan(3.0, -9.0), corners, tapes)
    assert north.plan.placement.at == pytest.approx((5.0, 17.0))
    assert south.plan.placement.at == pytest.approx((5.0, -1.0))
    assert len(north.fix.places) == 2


def test_a_corner_of_house_or_lot_goes_where_tapes_meet():
    plan = b.house_plan(3.0, 20.0)
    corners = [(0.0, 0.0), (0.0, 8.0)]
    tapes = [math.dist(one, (13.0, 8.5)) for one in corners]
    house = corner_by_tapes(plan, "house", 2, corners, tapes).plan.building("house")
    assert house.outline[2] == pytest.approx((13.0, 8.5))
    tapes = [math.dist(one, (61.0, 59.0)) for one in corners]
    lot = corner_by_tapes(plan, None, 2, corners, tapes).plan.lot
    assert lot.outline[2] == pytest.approx((61.0, 59.0))


def test_what_is_not_there_cannot_be_placed():
    plan = b.make_plan(b.building())
    with pytest.raises(EditError, match="no such corner"):
        corner_by_tapes(plan, "house", 9, [(0, 0), (1, 0)], [1.0, 1.0])
    with pytest.raises(EditError, match="no generator"):
        stand_by_tapes(plan, [(0, 0), (1, 0)], [1.0, 1.0])
    with pytest.raises(TapeError):
        stand_by_tapes(b.house_plan(3.0, 20.0), [(0, 0)], [1.0])


def test_an_opening_lies_as_taped_from_both_corners():
    plan = opening_by_tapes(b.house_plan(3.0, 20.0), "window", 4.0, 6.5)
    window = plan.openings[0]
    assert (window.offset_m, window.width_m) == (4.0, pytest.approx(12.0 - 4.0 - 6.5))
    with pytest.raises(EditError):
        opening_by_tapes(plan, "window", 8.0, 6.0)
    with pytest.raises(EditError, match="no such opening"):
        opening_by_tapes(plan, "gone", 1.0, 1.0)
