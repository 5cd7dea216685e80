"""Copies and mirror images: what is known of the first is not taken as known of the other."""

import pytest

from siteplan.desk.rearrange import duplicate, mirrored
from siteplan.plan import edits
from siteplan.plan.around import GasPoint, Panel
from siteplan.scene.around import fixture_xy
from tests.helpers.builders import (
    box,
    building,
    fixture,
    lot,
    make_plan,
    on_wall,
    opening,
    standing,
)
from tests.helpers.judging import findings, unjudged, verdict


def test_the_openings_of_a_copied_building_are_not_all_drawn():
    garage = building(
        box(20, 0, 26, 6), id="garage", kind="detached-garage", openings_complete=True
    )
    door = opening("gd", kind="garage-door", building="garage", wall=0, offset_m=1.0, width_m=3.0)
    plan = make_plan(lot(-40, -40, 60, 60), building(), opening(), garage, door)
    plan, (copy,) = duplicate(plan, ("garage",))
    assert not plan.building(copy).openings_complete
    assert plan.building("garage").openings_complete
    # 1 m before the copy, where its door may be.
    x, y = plan.building(copy).outline[0]
    plan = edits.put(plan, standing(x + 3.0, y - 1.4))
    plan = edits.with_fields(plan, machine=make_plan(standing()).machine)
    assert verdict(plan, "separation-building") == "DANGER"
    assert copy in {name for one in unjudged(plan, "separation-opening") for name in one.subjects}


def test_what_hangs_on_a_mirrored_building_goes_with_its_wall():
    # On the south wall, 3 m from its west end: mirrored, 3 m from its east end.
    gas = fixture(GasPoint, 3.0, 0.0, "gas", kind="gas-regulator", on=on_wall(0, 3.0))
    panel = fixture(Panel, 12.0, 2.0, "panel", on=on_wall(1, 2.0))
    loose = fixture(Panel, -5.0, 2.0, "loose")
    plan = make_plan(building(), opening(), gas, panel, loose, standing(9.0, -1.0))
    turned = mirrored(plan, ("house",))
    places = {one.id: fixture_xy(one, turned) for one in turned.fixtures}
    assert places["gas"] == pytest.approx((9.0, 0.0))
    assert places["panel"] == pytest.approx((0.0, 2.0))
    assert places["loose"] == (-5.0, 2.0)
    assert findings(turned, "gas-regulator")
    back = mirrored(turned, ("house",))
    assert {one.id: fixture_xy(one, back) for one in back.fixtures} == {
        one.id: pytest.approx(fixture_xy(one, plan)) for one in plan.fixtures
    }
