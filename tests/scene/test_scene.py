"""The scene: shapes of a plan, what counts, and what is kept from the last one."""

import math

import numpy as np
import pytest
import shapely

from siteplan.plan.around import FuelStore, OutdoorUnit, Panel, ServiceDrop
from siteplan.plan.edits import put, stand
from siteplan.scene import Near, resolve
from siteplan.scene.resolve import SIDE_TURN
from siteplan.scene.setting import opening_ends, outward_normal
from siteplan.scene.uprights import resolve_uprights
from tests.helpers.builders import (
    box,
    building,
    fence,
    fixture,
    ground_area,
    house_plan,
    lot,
    machine,
    make_plan,
    opening,
    roof,
    standing,
    tree,
)

AROUND = [
    fence((0, 5), (3, 5), (3, 9), id="fence"),
    ground_area("pool", box(5, 5, 9, 9), id="pool"),
    tree(0.0, 10.0, id="tree"),
    roof("tent", box(20, 0, 25, 5), id="tent"),
    fixture(Panel, 0.0, 7.0, id="panel"),
    fixture(OutdoorUnit, 0.0, -8.0, id="unit", width_m=1.0),
    fixture(ServiceDrop, -5.0, 20.0, id="drop", to=(5.0, 20.0)),
]


def test_surroundings_come_before_fixtures_and_are_found_by_kind():
    around = resolve(make_plan(*AROUND)).setting.around
    assert [one.id for one in around.things] == [
        "fence", "pool", "tree", "tent", "panel", "unit", "drop"
    ]  # fmt: skip
    assert around.places("pool", "tree").tolist() == [1, 2]
    assert around.places("tree", "no-such-kind").tolist() == [2]
    assert around.places("no-such-kind").tolist() == []


def test_each_thing_has_its_shape():
    around = resolve(make_plan(*AROUND)).setting.around
    kinds = [shape.geom_type for shape in around.shapes]
    assert kinds == ["LineString", "Polygon", "Point", "Polygon", "Point", "Point", "LineString"]
    assert around.shapes[0].length == pytest.approx(7.0)
    assert around.shapes[6].length == pytest.approx(10.0)
    assert around.beyond_m.tolist() == pytest.approx([0, 0, 0, 0, 0, math.sqrt(0.5), 0])


def test_distances_to_what_stands_around():
    scene = resolve(make_plan(*AROUND, standing()))
    # The frame reaches 0.4 m north and south, 0.3 m east and west.
    expected = [4.6, math.hypot(4.7, 4.6), 9.6, 19.7, 6.6, 7.6 - math.sqrt(0.5), 19.6]
    assert scene.around_m.tolist() == pytest.approx(expected)


def test_a_thing_within_its_own_reach_is_at_no_distance():
    scene = resolve(make_plan(fixture(OutdoorUnit, 0.0, 0.5, width_m=1.0), standing()))
    assert scene.around_m.tolist() == [0.0]


def test_near_names_things_with_their_distances():
    scene = resolve(make_plan(*AROUND, standing()))
    near = scene.near("panel", "tree")
    assert [one.id for one in near.things] == ["panel", "tree"]
    assert near.distance_m.tolist() == pytest.approx([6.6, 9.6])
    both = near.joined(scene.near("drop", "service-drop"))
    assert [one.id for one in both.things] == ["panel", "tree", "drop"]
    assert both.shapes[2].geom_type == "LineString"
    assert both.distance_m[2] == pytest.approx(19.6)
    assert [one.id for one in both.pick([2, 0]).things] == ["drop", "panel"]
    assert both.pick([2, 0]).distance_m.tolist() == pytest.approx([19.6, 6.6])
    assert both.pick([]).things == []


def test_without_a_machine_no_distance_is_known():
    scene = resolve(make_plan(*AROUND, building(), opening()))
    for distances in (scene.around_m, scene.wall_m, scene.opening_m, scene.roof_m, scene.shelter_m):
        assert np.isnan(distances).all()
    assert scene.standing is None


@pytest.mark.parametrize("reverse", [False, True])
def test_walls_of_a_building_face_outward(reverse):
    ring = tuple(reversed(box(0, 0, 4, 4))) if reverse else box(0, 0, 4, 4)
    walls = resolve_uprights(make_plan(building(ring)))
    assert len(walls.segments) == 4
    away = walls.turned_away((2.0, 9.0))
    (facing,) = walls.segments[~away]
    assert sorted(facing.tolist()) == [[0.0, 4.0], [4.0, 4.0]]
    assert walls.turned_away((2.0, 2.0)).all()
    # From a place in line with a wall, that wall shows nothing.
    assert walls.turned_away((4.0, 9.0)).sum() == 3


def test_a_fence_never_turns_away():
    walls = resolve_uprights(make_plan(fence((0, 0), (9, 0))))
    assert not walls.turned_away((4.0, 5.0)).any()
    assert not walls.turned_away((4.0, -5.0)).any()


def test_uprights_keep_what_is_not_stated_apart():
    plan = make_plan(
        building(eave_height_m=None, storeys=2),
        fence((0, 0), (1, 0), (2, 0), id="f", height_m=None, solidity=None),
        fence((0, 0), (1, 0), id="g", height_m=0.5, solidity=0.1),
    )
    walls = resolve_uprights(plan)
    assert walls.owner.tolist() == [0, 0, 0, 0, 1, 1, 2]
    assert [one.id for one in walls.things] == ["house", "f", "g"]
    assert np.isnan(walls.height_m).tolist() == [True] * 6 + [False]
    assert walls.solidity[:4].tolist() == [1.0] * 4
    assert np.isnan(walls.solidity[4:6]).all()
    assert walls.storeys[0] == 2.0
    assert np.isnan(walls.storeys[4:]).all()
    assert walls.built.tolist() == [True] * 4 + [False] * 3
    assert walls.counting(0.6, 0.75).tolist() == [True] * 6 + [False]


@pytest.mark.parametrize(
    ("height", "solidity", "counts"),
    [(0.59, 1.0, False), (0.6, 1.0, True), (1.8, 0.25, False), (1.8, 0.26, True)],
)
def test_which_fences_count_as_walls(height, solidity, counts):
    walls = resolve_uprights(make_plan(fence((0, 0), (1, 0), height_m=height, solidity=solidity)))
    assert walls.counting(0.6, 0.75).tolist() == [counts]


def test_a_plan_without_walls_has_none():
    walls = resolve_uprights(make_plan())
    assert walls.segments.shape == (0, 2, 2)
    assert walls.counting(0.6, 0.75).tolist() == []


@pytest.mark.parametrize(("wall", "normal"), [(0, (0, -1)), (1, (1, 0)), (2, (0, 1)), (3, (-1, 0))])
def test_normals_point_out_of_the_house(wall, normal):
    house = building(box(0, 0, 12, 8))
    assert outward_normal(house, wall) == pytest.approx(normal)
    turned = building(tuple(reversed(box(0, 0, 12, 8))))
    a, b = turned.outline[wall], turned.outline[(wall + 1) % 4]
    middle = ((a[0] + b[0]) / 2 - 6, (a[1] + b[1]) / 2 - 4)
    out = outward_normal(turned, wall)
    assert out[0] * middle[0] + out[1] * middle[1] > 0


def test_openings_lie_on_their_walls():
    house = building(box(0, 0, 12, 8), overhang_m=0.5)
    ends = opening_ends(opening(wall=1, offset_m=2.0, width_m=1.5), house)
    assert ends == ((12.0, 2.0), (12.0, 3.5))
    vent = opening_ends(opening(kind="soffit-vent", wall=1, offset_m=2.0, width_m=1.5), house)
    assert vent == ((12.5, 2.0), (12.5, 3.5))
    last = opening_ends(opening(wall=3, offset_m=2.0, width_m=1.0), house)
    assert last == ((0.0, 6.0), (0.0, 5.0))


def test_the_outlet_stands_on_the_side_it_is_told():
    assert SIDE_TURN == {"front": 0.0, "right": 90.0, "back": 180.0, "left": 270.0}
    at = {"front": (0.0, 0.4), "right": (0.3, 0.0), "back": (0.0, -0.4), "left": (-0.3, 0.0)}
    for side, place in at.items():
        here = resolve(make_plan(machine(exhaust_side=side), standing())).standing
        assert here.outlet_xy == pytest.approx(place)
        assert here.exhaust_deg == SIDE_TURN[side]
    aside = resolve(make_plan(machine(exhaust_offset_m=0.1), standing())).standing
    assert aside.outlet_xy == pytest.approx((-0.1, -0.4))  # clockwise from south is west


def test_a_turned_machine_turns_its_outlet():
    here = resolve(make_plan(machine(exhaust_side="right"), standing(5.0, 5.0, 270.0))).standing
    assert here.exhaust_deg == 0.0
    assert here.outlet_xy == pytest.approx((5.0, 5.3))


def test_a_dragged_machine_keeps_the_setting():
    first = resolve(house_plan(6.0, 20.0))
    moved = resolve(stand(first.plan, (7.0, 21.0), 30.0), first)
    assert moved.setting is first.setting
    assert moved.standing.placement.at == (7.0, 21.0)


@pytest.mark.parametrize(
    "thing",
    [
        building(box(50, 50, 55, 55), id="more"),
        opening("more", wall=1),
        tree(9.0, 30.0, id="more"),
        fixture(FuelStore, 9.0, 30.0, id="more"),
    ],
)
def test_whatever_else_changes_makes_a_new_setting(thing):
    first = resolve(house_plan(6.0, 20.0))
    changed = resolve(put(first.plan, thing), first)
    assert changed.setting is not first.setting
    assert changed.setting.plan is not first.plan


def test_a_changed_lot_makes_a_new_setting():
    first = resolve(house_plan(6.0, 20.0))
    assert first.setting.lot.area == pytest.approx(10_000.0)
    other = resolve(first.plan.model_copy(update={"lot": lot(0, 0, 9, 9)}), first)
    assert other.setting.lot.area == pytest.approx(81.0)


def test_roofs_reach_to_the_drip_line_with_square_corners():
    scene = resolve(make_plan(building(box(0, 0, 10, 10), overhang_m=0.5)))
    assert scene.setting.roofs[0].equals(shapely.box(-0.5, -0.5, 10.5, 10.5))
    assert scene.setting.walls[0].equals(shapely.box(0, 0, 10, 10))


def test_near_is_a_plain_value():
    none = Near([], np.empty(0, dtype=object), np.empty(0))
    assert none.joined(none).things == []
