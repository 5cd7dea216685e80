"""Edits give a new plan and leave the old one as it was."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from siteplan.plan import around, edits, lot, machine, needs, store
from siteplan.plan.document import problems
from siteplan.plan.errors import EditError
from tests.helpers.plan_makers import plans, small_plan


def test_putting_adds_at_the_end():
    shed = lot.Building(id="shed", kind="shed", outline=((20, 0), (22, 0), (22, 2), (20, 2)))
    new = edits.put(small_plan(), shed)
    assert [one.id for one in new.buildings] == ["house", "shed"]


def test_putting_what_is_there_replaces_it_in_its_place():
    plan = small_plan()
    new = edits.put(plan, edits.changed(plan.placements[0], name="Yard"))
    assert [(one.id, one.name) for one in new.placements] == [("yard", "Yard"), ("drive", "")]


THINGS = [
    (lot.Building(id="n", outline=((20, 0), (22, 0), (22, 2))), "buildings"),
    (lot.Opening(id="n", building="house", wall=1, offset_m=1, width_m=1), "openings"),
    (around.Tree(id="n", at=(0.0, 0.0)), "surroundings"),
    (around.Barrier(kind="fence", id="n", path=((0, 0), (1, 1))), "surroundings"),
    (around.Ground(kind="deck", id="n", outline=((0, 0), (1, 0), (1, 1))), "surroundings"),
    (around.Shelter(kind="tent", id="n", outline=((0, 0), (1, 0), (1, 1))), "surroundings"),
    (around.Meter(id="n", at=(0.0, 0.0)), "fixtures"),
    (around.ServiceDrop(id="n", at=(0.0, 0.0), to=(1.0, 1.0)), "fixtures"),
    (machine.Placement(id="n", at=(0.0, 0.0)), "placements"),
    (needs.Load(id="n", running_w=1.0), "loads"),
]


@pytest.mark.parametrize(("thing", "collection"), THINGS)
def test_each_thing_goes_where_its_like_are_and_comes_away_again(thing, collection):
    plan = small_plan()
    new = edits.put(plan, thing)
    assert getattr(new, collection)[-1] == thing
    assert edits.find(new, "n") == thing
    assert edits.find(plan, "n") is None
    assert edits.drop(new, {"n"}) == plan


BAD_EDITS = {
    "id taken elsewhere": lambda plan: edits.put(plan, around.Tree(id="house", at=(0.0, 0.0))),
    "opening on no wall": lambda plan: edits.put(
        plan, lot.Opening(id="w", building="barn", wall=0, offset_m=0, width_m=1)
    ),
    "house too small for its door": lambda plan: edits.put(
        plan, edits.changed(plan.buildings[0], outline=((0, 0), (1.5, 0), (1.5, 8)))
    ),
    "outline crosses itself": lambda plan: edits.put(
        plan, edits.changed(plan.buildings[0], outline=((0, 0), (10, 8), (10, 0), (0, 8)))
    ),
    "value out of range": lambda plan: edits.changed(plan.openings[0], width_m=-1.0),
    "wrong type": lambda plan: edits.changed(plan.openings[0], width_m="1"),
    "not a number": lambda plan: edits.changed(plan.openings[0], width_m=float("nan")),
    "unknown field": lambda plan: edits.changed(plan.openings[0], breadth_m=1.0),
    "unknown field of the plan": lambda plan: edits.with_fields(plan, colour="red"),
    "wrong type in the plan": lambda plan: edits.with_fields(plan, title=3),
    "title too long": lambda plan: edits.with_fields(plan, title="x" * 121),
    "half a character": lambda plan: edits.with_fields(plan, title="\ud800"),
    "too many placements": lambda plan: edits.with_fields(
        plan,
        placements=plan.placements
        + tuple(machine.Placement(id=f"p{i}", at=(0.0, 0.0)) for i in range(19)),
    ),
    "stand off the drawing": lambda plan: edits.stand(plan, (20_001.0, 0.0)),
    "stand nowhere": lambda plan: edits.stand(plan, (float("nan"), 0.0)),
    "turn to nowhere": lambda plan: edits.stand(plan, (0.0, 0.0), float("inf")),
    "shift off the drawing": lambda plan: edits.shifted(plan, {"house"}, 19_995.0, 0.0),
    "cord to nothing": lambda plan: edits.put_cord(plan, machine.Cord(id="c2", to="barn")),
    "alarm with a taken id": lambda plan: edits.put_alarm_spot(
        plan, needs.AlarmSpot(id="house", place="storey")
    ),
}


@pytest.mark.parametrize("edit", BAD_EDITS.values(), ids=BAD_EDITS)
def test_a_bad_edit_says_why_and_leaves_the_plan(edit):
    plan = small_plan()
    with pytest.raises(EditError) as caught:
        edit(plan)
    assert str(caught.value).isprintable()
    assert plan == small_plan()


@pytest.mark.parametrize("edit", [edits.stand, edits.put_cord])
def test_without_a_placement_nothing_can_stand_or_be_plugged_in(edit):
    plan = small_plan(placements=(), chosen=None, loads=())
    argument = (1.0, 2.0) if edit is edits.stand else machine.Cord(id="c")
    with pytest.raises(EditError, match="generator"):
        edit(plan, argument)


def test_standing_moves_the_placement_under_review_and_no_other():
    new = edits.stand(small_plan(), (1.0, 2.0), 45.0)
    assert (new.placements[0].at, new.placements[0].turn_deg) == ((1.0, 2.0), 45.0)
    assert new.placements[1] == small_plan().placements[1]
    assert edits.stand(new, (3.0, 4.0)).placements[0].turn_deg == 45.0


@pytest.mark.parametrize(
    ("asked", "kept"), [(0, 0), (359.5, 359.5), (360, 0), (-90, 270), (725, 5), (-1e-17, 0)]
)
def test_any_turn_comes_into_one_round(asked, kept):
    assert edits.stand(small_plan(), (0.0, 0.0), float(asked)).placements[0].turn_deg == kept


def test_dropping_a_building_takes_what_is_on_it_and_every_reference_to_that():
    new = edits.drop(small_plan(), {"house"})
    assert new.buildings == ()
    assert new.openings == ()
    assert [one.id for one in new.fixtures] == ["meter"]
    cord = new.placements[0].cords[0]
    assert (cord.to, cord.passes) == (None, ())
    assert new.loads[0].via == "cord"


def test_a_building_that_loses_an_opening_is_no_longer_said_to_have_all_of_them_drawn():
    plan = small_plan()
    whole = edits.put(plan, edits.changed(plan.building("house"), openings_complete=True))
    assert edits.drop(whole, {"oak"}).building("house").openings_complete
    assert not edits.drop(whole, {"door"}).building("house").openings_complete


def test_dropping_a_cord_unplugs_its_load():
    new = edits.drop(small_plan(), {"cord"})
    assert new.placements[0].cords == ()
    assert new.loads[0].via is None


def test_dropping_an_inlet_unplugs_cord_and_load():
    plan = edits.put(small_plan(), needs.Load(id="well", running_w=750.0, via="inlet"))
    new = edits.drop(plan, {"inlet"})
    assert new.placements[0].cords[0].to is None
    assert [one.via for one in new.loads] == ["cord", None]


def test_dropping_a_load_unplugs_the_cord_to_it():
    cord = machine.Cord(id="cord", to="fridge")
    plan = edits.put_cord(small_plan(), cord)
    assert edits.drop(plan, {"fridge"}).placements[0].cords[0].to is None


def test_dropping_the_chosen_placement_leaves_the_first():
    new = edits.drop(small_plan(), {"yard"})
    assert new.chosen is None
    assert new.placement.id == "drive"
    assert new.loads[0].via is None


def test_dropping_an_alarm_spot():
    assert edits.drop(small_plan(), {"ground-floor"}).household.alarm_spots == ()


def test_dropping_nothing_known_changes_nothing():
    assert edits.drop(small_plan(), {"never-there"}) == small_plan()


def test_a_moved_building_takes_what_hangs_on_its_walls():
    plan = small_plan()
    new = edits.shifted(plan, ["house", "house"], 1.0, -2.0)
    assert new.buildings[0].outline == ((1.0, -2.0), (11.0, -2.0), (11.0, 6.0), (1.0, 6.0))
    assert new.openings == plan.openings
    assert (new.fixtures[0].at, new.fixtures[0].on) == ((6.0, -2.0), plan.fixtures[0].on)
    assert new.fixtures[1] == plan.fixtures[1]
    assert new.placements == plan.placements


def test_a_fixture_moved_alone_comes_off_its_wall():
    new = edits.shifted(small_plan(), {"inlet"}, 1.0, -1.0)
    assert (new.fixtures[0].at, new.fixtures[0].on) == ((6.0, -1.0), None)


def test_a_fixture_moved_with_its_building_moves_once():
    plan = small_plan()
    new = edits.shifted(plan, {"inlet", "house"}, 1.0, 0.0)
    assert (new.fixtures[0].at, new.fixtures[0].on) == ((6.0, 0.0), plan.fixtures[0].on)


def test_lines_areas_and_both_ends_move():
    plan = small_plan()
    for thing in (
        around.Barrier(kind="fence", id="f", path=((0, 0), (1, 1))),
        around.Ground(kind="deck", id="d", outline=((0, 0), (1, 0), (1, 1))),
        around.ServiceDrop(id="s", at=(0, 0), to=(1, 1)),
        needs.Load(id="pump", running_w=1.0, at=(0, 0)),
    ):
        plan = edits.put(plan, thing)
    new = edits.shifted(plan, {"f", "d", "s", "pump", "drive"}, 10.0, 20.0)
    assert edits.find(new, "f").path == ((10, 20), (11, 21))
    assert edits.find(new, "d").outline == ((10, 20), (11, 20), (11, 21))
    assert (edits.find(new, "s").at, edits.find(new, "s").to) == ((10, 20), (11, 21))
    assert edits.find(new, "pump").at == (10, 20)
    assert edits.find(new, "drive").at == (30, 20)


def test_a_load_that_stands_nowhere_can_be_moved_along():
    assert edits.shifted(small_plan(), {"fridge"}, 1.0, 1.0) == small_plan()


def test_a_cord_is_added_then_replaced():
    plan = edits.put_cord(small_plan(), machine.Cord(id="second"))
    plan = edits.put_cord(plan, machine.Cord(id="cord", gauge_awg=10))
    assert [(one.id, one.gauge_awg) for one in plan.placements[0].cords] == [
        ("cord", 10),
        ("second", None),
    ]


def test_an_alarm_spot_is_added_then_replaced():
    plan = edits.put_alarm_spot(small_plan(), needs.AlarmSpot(id="attic", place="storey"))
    plan = edits.put_alarm_spot(plan, needs.AlarmSpot(id="ground-floor", place="sleeping-area"))
    assert [(one.id, one.place) for one in plan.household.alarm_spots] == [
        ("ground-floor", "sleeping-area"),
        ("attic", "storey"),
    ]


def test_a_fresh_id_is_used_nowhere():
    plan = small_plan()
    for stem in ("house", "cord", "ground-floor"):
        assert edits.fresh_id(plan, stem) == f"{stem}-1"
    plan = edits.put(plan, around.Tree(id="tree-1", at=(0.0, 0.0)))
    plan = edits.put_cord(plan, machine.Cord(id="tree-2"))
    plan = edits.put_alarm_spot(plan, needs.AlarmSpot(id="tree-3", place="storey"))
    assert edits.fresh_id(plan, "tree") == "tree-4"


def test_what_an_edit_leaves_alone_stays_the_same_object():
    plan = small_plan()
    new = edits.with_fields(plan, title="Other")
    assert new.buildings is plan.buildings
    assert new.openings is plan.openings
    assert edits.stand(plan, (0.0, 0.0)).buildings is plan.buildings


@given(plans(), st.data())
def test_any_edit_gives_a_plan_that_can_be_saved_and_read_again(plan, data):
    ids = [one.id for name in edits.COLLECTIONS for one in getattr(plan, name)]
    some = data.draw(st.sets(st.sampled_from(ids)) if ids else st.just(set()))
    step = data.draw(st.tuples(st.floats(-50, 50), st.floats(-50, 50)))
    for new in (edits.drop(plan, some), edits.with_fields(plan, title="x")):
        assert list(problems(new)) == []
        assert store.parse(store.dump(new).encode()) == new
    assert not some & {
        one.id for name in edits.COLLECTIONS for one in getattr(edits.drop(plan, some), name)
    }
    try:
        there = edits.shifted(plan, some, *step)
    except EditError:
        return
    assert store.parse(store.dump(there).encode()) == there
