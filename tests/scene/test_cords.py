"""Cords as they lie, on lots small enough to reckon by hand."""

import math

import pytest

from siteplan.plan.around import Ground, OnWall, PowerInlet
from siteplan.plan.document import Plan
from siteplan.plan.lot import Building, Lot, Opening
from siteplan.plan.machine import Cord, Machine, Pass, Placement
from siteplan.scene import resolve
from siteplan.scene.cords import MACHINE_RISE_M, UNKNOWN_INLET_HEIGHT_M, UNKNOWN_SILL_M, CordRun


def box(x0: float, y0: float, x1: float, y1: float):
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def laid(cord: Cord, **more: object) -> CordRun:
    """A 2 m house of walls from (-1, -1) to (1, 1); the machine 3 m west of its middle."""
    fields: dict[str, object] = {
        "lot": Lot(outline=box(-10.0, -10.0, 10.0, 10.0)),
        "buildings": (Building(id="house", outline=box(-1.0, -1.0, 1.0, 1.0)),),
        "machine": Machine(),
        "placements": (Placement(id="here", at=(-3.0, 0.0), cords=(cord,)),),
    }
    return resolve(Plan(**(fields | more))).cord_runs[0]


def test_way_round_a_block_is_the_closed_form() -> None:
    # 2·√5 + 2 for a block of 2 m between ends 3 m from its middle (closed form).
    run = laid(Cord(id="c", end=(3.0, 0.0)))
    assert run.plan_m == pytest.approx(2.0 * math.sqrt(5.0) + 2.0, abs=1e-9)
    assert run.laid_m == pytest.approx(run.plan_m + MACHINE_RISE_M)


def test_way_to_an_inlet_ends_off_the_wall_and_climbs_to_it() -> None:
    inlet = PowerInlet(
        id="inlet", at=(0.0, 0.0), on=OnWall(building="house", wall=3, offset_m=1.0), height_m=1.2
    )
    run = laid(Cord(id="c", to="inlet"), fixtures=(inlet,))
    # Wall 3 runs down the west side from (-1, 1); its middle is (-1, 0), 2 cm off is (-1.02, 0).
    assert run.outdoors[-1] == pytest.approx((-1.02, 0.0))
    assert run.plan_m == pytest.approx(1.98)
    assert run.rise_m == pytest.approx(MACHINE_RISE_M + 1.2)


def test_unknown_height_of_an_inlet_is_taken_long() -> None:
    inlet = PowerInlet(id="inlet", at=(-1.5, 0.0))
    run = laid(Cord(id="c", to="inlet"), fixtures=(inlet,))
    assert run.rise_m == pytest.approx(MACHINE_RISE_M + UNKNOWN_INLET_HEIGHT_M)


def test_way_through_a_door_goes_on_indoors_and_over_its_sill() -> None:
    door = Opening(id="door", kind="door", building="house", wall=3, offset_m=0.5, width_m=1.0)
    cord = Cord(id="c", end=(0.5, 0.0), passes=(Pass(opening="door", how="held-ajar"),))
    run = laid(cord, openings=(door,))
    assert run.plan_m == pytest.approx(3.5)
    assert run.indoors[-1] == (0.5, 0.0)
    assert run.rise_m == pytest.approx(MACHINE_RISE_M + 2.0 * UNKNOWN_SILL_M)
    assert run.crossings == ()


def test_end_in_the_house_without_a_stated_way_in_has_no_way() -> None:
    run = laid(Cord(id="c", end=(0.0, 0.0)))
    assert run.trouble == "way-in-unknown"
    assert math.isnan(run.plan_m)


def test_cord_without_an_end_says_so() -> None:
    assert laid(Cord(id="c")).trouble == "no-end"


def test_end_shut_in_by_a_pool_ring_has_no_way() -> None:
    ring = Ground(kind="pool", id="moat", outline=box(4.0, -2.0, 8.0, 2.0))
    run = laid(Cord(id="c", end=(6.0, 0.0)), surroundings=(ring,))
    assert run.trouble == "no-way"


def test_open_porch_does_not_block_the_way() -> None:
    porch = Building(id="porch", kind="covered-porch", outline=box(2.0, -5.0, 4.0, 5.0))
    house = Building(id="house", outline=box(6.0, -1.0, 8.0, 1.0))
    run = laid(Cord(id="c", end=(5.0, 0.0)), buildings=(house, porch))
    assert run.plan_m == pytest.approx(8.0)


def test_crossing_of_a_driveway_is_marked_in_its_middle() -> None:
    drive = Ground(kind="driveway", id="drive", outline=box(-8.0, -9.0, -5.0, 9.0))
    run = laid(Cord(id="c", end=(-9.0, 0.0)), surroundings=(drive,))
    (crossing,) = run.crossings
    assert (crossing.kind, crossing.subject) == ("driveway", "drive")
    assert crossing.at == pytest.approx((-6.5, 0.0))


def test_cord_past_a_doorway_is_marked_but_not_the_door_it_goes_through() -> None:
    door = Opening(id="door", kind="door", building="house", wall=0, offset_m=0.5, width_m=1.0)
    # Drawn 0.5 m before the south wall, through the 0.9 m in front of the door.
    cord = Cord(id="c", end=(3.0, -1.5), routing="drawn", waypoints=((-3.0, -1.5),))
    assert [one.subject for one in laid(cord, openings=(door,)).crossings] == ["door"]
    through = Cord(id="c", end=(0.0, 0.0), passes=(Pass(opening="door", how="held-ajar"),))
    assert laid(through, openings=(door,)).crossings == ()


def test_drawn_way_is_taken_as_drawn() -> None:
    cord = Cord(id="c", end=(-3.0, 8.0), routing="drawn", waypoints=((-7.0, 0.0), (-7.0, 8.0)))
    assert laid(cord).plan_m == pytest.approx(4.0 + 8.0 + 4.0)


def test_yard_is_kept_while_only_the_machine_moves() -> None:
    plan = Plan(
        buildings=(Building(id="house", outline=box(-1.0, -1.0, 1.0, 1.0)),),
        machine=Machine(),
        placements=(Placement(id="here", at=(-3.0, 0.0), cords=(Cord(id="c", end=(3.0, 0.0)),)),),
    )
    first = resolve(plan)
    second = resolve(plan.model_copy(update={"title": "again"}), first)
    assert second.yard is first.yard


@pytest.mark.parametrize(
    ("depth_m", "trouble"), [(0.0, None), (0.09, None), (0.11, "way-in-unknown")]
)
def test_a_way_drawn_through_a_corner_is_no_way_round(depth_m: float, trouble: str | None) -> None:
    # Along y = x + 2 - d a way cuts d·√2 off the north-west corner (-1, 1) of the house.
    off = 2.0 - depth_m / math.sqrt(2.0)
    cord = Cord(id="c", routing="drawn", waypoints=((-2.0, -2.0 + off),), end=(1.0, 1.0 + off))
    assert laid(cord).trouble == trouble
