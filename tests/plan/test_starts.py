"""Typical lots to start from."""

import pytest
import shapely
from shapely import Polygon

from siteplan.plan.document import problems
from siteplan.plan.errors import EditError
from siteplan.plan.starts import machine_starts, plan_from, resized, starts
from siteplan.rules import review


@pytest.mark.parametrize("name", list(starts()))
def test_start_hangs_together_and_own_buildings_stand_on_the_lot(name: str) -> None:
    plan = plan_from(starts()[name])
    assert list(problems(plan)) == []
    assert plan.lot is not None
    lot = Polygon(plan.lot.outline)
    for building in plan.buildings:
        walls = Polygon(building.outline)
        inside = lot.covers(walls) if building.owner == "own" else not lot.intersects(walls)
        assert inside, building.id


@pytest.mark.parametrize("name", list(starts()))
def test_start_takes_nothing_for_known(name: str) -> None:
    plan = plan_from(starts()[name])
    assert not any(building.openings_complete for building in plan.buildings)
    assert plan.accuracy is None
    found = review(plan)
    assert found.met == ()
    assert {one.rule for one in found.unjudged} >= {"separation-opening", "indoors"}


def test_typed_sizes_are_the_sizes_drawn() -> None:
    start = resized(starts()["mid-block"], lot_width_m=20.0, lot_depth_m=50.0, house_width_m=12.0)
    plan = plan_from(start)
    assert plan.lot is not None
    assert shapely.bounds(Polygon(plan.lot.outline)).tolist() == [0.0, 0.0, 20.0, 50.0]
    house = plan.building("house")
    assert house is not None
    assert house.outline[1][0] - house.outline[0][0] == pytest.approx(12.0)


def test_garage_touches_the_house_on_its_side() -> None:
    for name, side in (("mid-block", 1), ("deep-yard", -1)):
        plan = plan_from(starts()[name])
        house, garage = plan.building("house"), plan.building("garage")
        assert house is not None
        assert garage is not None
        assert Polygon(house.outline).distance(Polygon(garage.outline)) == 0.0
        assert side * (garage.outline[0][0] - house.outline[0][0]) > 0


@pytest.mark.parametrize("size", [{"house_width_m": 15.0}, {"house_depth_m": 28.0}])
def test_house_that_does_not_fit_is_refused(size: dict[str, float]) -> None:
    # 2.4 + 15 + 3.8 m is wider than 18.288 m; 7.62 + 28 m and a yard is deeper than 36.576 m.
    with pytest.raises(EditError):
        plan_from(resized(starts()["mid-block"], **size))


def test_typical_machines_state_what_the_rules_ask_and_no_more() -> None:
    for start in machine_starts().values():
        machine = start.machine
        assert machine.rated_w is not None
        assert machine.starting_w is not None
        assert machine.starting_w > machine.rated_w
        assert machine.receptacles
        # What only the plate of one's own machine can tell stays unknown.
        assert machine.neutral is None
        assert machine.sound is None
        assert machine.co_label_g_per_h is None
