"""The document refuses what cannot be drawn, and what does not hang together."""

import json

import pytest
from pydantic import ValidationError

from siteplan.plan import store
from siteplan.plan.errors import BrokenFileError
from tests.helpers.plan_makers import small_plan


def tree(plan=None):
    return json.loads(store.dump(plan or small_plan()))


def set_at(root, path, value):
    *way, last = path.split(".")
    for step in way:
        root = root[int(step) if step.isdigit() else step]
    root[int(last) if last.isdigit() else last] = value


def refused(changes):
    """Return the one line with which a small plan, so changed, is refused."""
    whole = tree()
    for path, value in changes.items():
        set_at(whole, path, value)
    with pytest.raises(BrokenFileError) as caught:
        store.parse(json.dumps(whole).encode(), "p")
    line = str(caught.value)
    assert line.startswith("p: ")
    assert line.isprintable()
    assert len(line) < 700
    return line[3:]


def accepted(changes):
    whole = tree()
    for path, value in changes.items():
        set_at(whole, path, value)
    return store.parse(json.dumps(whole).encode())


# Each line names the field, the value found and what is allowed.
BAD_FIELDS = [
    ("title", 3, "title", "string", "3"),
    ("title", None, "title", "string", "None"),
    ("title", "x" * 121, "title", "at most 120", "xxx"),
    ("date", "today", "date", "match", "today"),
    ("date", "2026-02-30", "date", "calendar", "2026-02-30"),
    ("date", "٢٠٢٦-٠١-٠١", "date", "match", "٢٠٢٦"),
    ("north_deg", 360.0, "north_deg", "less than 360", "360.0"),
    ("north_deg", -0.1, "north_deg", "greater than or equal to 0", "-0.1"),
    ("north_deg", "90", "north_deg", "number", "'90'"),
    ("north_deg", True, "north_deg", "number", "True"),
    ("north_deg", [], "north_deg", "number", "[]"),
    ("north_deg", float("nan"), "north_deg", "finite", "nan"),
    ("north_deg", float("inf"), "north_deg", "finite", "inf"),
    ("north_deg", float("-inf"), "north_deg", "finite", "-inf"),
    ("north_deg", 10**39, "north_deg", "less than 360", "1000"),
    ("buildings", {}, "buildings", "array", "{}"),
    ("buildings.0.outline", [[0, 0], [1, 0]], "buildings.0.outline", "at least 3", "[["),
    ("buildings.0.outline.1", [10.0], "buildings.0.outline.1.1", "missing", ""),
    ("buildings.0.outline.1", [1, 2, 3], "buildings.0.outline.1", "at most 2", "[1, 2, 3]"),
    ("buildings.0.outline.1.0", 20000.1, "buildings.0.outline.1.0", "20000", "20000.1"),
    ("buildings.0.outline.1.0", "x", "buildings.0.outline.1.0", "number", "'x'"),
    ("buildings.0.kind", "castle", "buildings.0.kind", "'dwelling', 'attached-garage'", "castle"),
    ("buildings.0.storeys", 0, "buildings.0.storeys", "greater than or equal to 1", "0"),
    ("buildings.0.storeys", 1.5, "buildings.0.storeys", "integer", "1.5"),
    ("buildings.0.openings_complete", 1, "buildings.0.openings_complete", "boolean", "1"),
    ("openings.0.kind", "hole", "openings.0.kind", "'window-well'", "hole"),
    ("openings.0.width_m", 0, "openings.0.width_m", "greater than 0", "0"),
    ("openings.0.width_m", -1, "openings.0.width_m", "greater than 0", "-1"),
    ("openings.0.width_m", 1000.1, "openings.0.width_m", "1000", "1000.1"),
    ("openings.0.offset_m", -0.01, "openings.0.offset_m", "greater than or equal to 0", "-0.01"),
    ("surroundings.0.kind", "moat", "surroundings.0", "'fence', 'wall', 'hedge'", "moat"),
    ("surroundings.0.at", [1, "y"], "surroundings.0.at.1", "number", "'y'"),
    ("surroundings.0.depth_m", 1, "surroundings.0.depth_m", "no field", "1"),
    ("fixtures.0.rating_a", 0, "fixtures.0.rating_a", "greater than 0", "0"),
    ("machine.fuel", "coal", "machine.fuel", "'gasoline', 'diesel'", "coal"),
    ("machine.exhaust_offset_m", 100.5, "machine.exhaust_offset_m", "100", "100.5"),
    ("placements.0.cords.0.gauge_awg", 21, "placements.0.cords.0.gauge_awg", "20", "21"),
    ("placements.0.cords.0.gauge_awg", -4, "placements.0.cords.0.gauge_awg", "-3", "-4"),
    ("loads.0.duty", 1.01, "loads.0.duty", "1", "1.01"),
    ("outage.start", "24:00", "outage.start", "match", "24:00"),
    ("outage.start", "٠٩:٠٠", "outage.start", "match", "٠٩"),
    ("outage.temperature_c", 60.5, "outage.temperature_c", "60", "60.5"),
    ("nonsense", 1, "nonsense", "no field", "1"),
]


@pytest.mark.parametrize(("path", "value", "field", "allowed", "found"), BAD_FIELDS)
def test_a_bad_field_is_named_with_its_value_and_what_is_allowed(
    path, value, field, allowed, found
):
    line = refused({path: value})
    assert line.startswith(f"{field}: ")
    assert allowed in line
    assert found in line


BAD_IDS = ["", "A", "-a", "a b", "a_b", "é", "a" * 41, "a\n", 3, None]


@pytest.mark.parametrize("bad", BAD_IDS)
def test_a_bad_id_is_refused(bad):
    assert refused({"surroundings.0.id": bad}).startswith("surroundings.0.id: ")


@pytest.mark.parametrize("good", ["a", "0", "a-", "a" * 40, "12-b-c"])
def test_a_good_id_is_taken(good):
    assert accepted({"surroundings.0.id": good}).surroundings[0].id == good


def test_a_missing_field_is_named():
    whole = tree()
    del whole["openings"][0]["width_m"]
    with pytest.raises(BrokenFileError, match=r"openings\.0\.width_m: is missing$"):
        store.parse(json.dumps(whole).encode())


def test_several_mistakes_are_counted():
    assert refused({"title": 3, "note": 4}).endswith(" (and 1 more)")


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("north_deg", 359.999),
        ("north_deg", 0),
        ("buildings.0.outline.2", [10, 8]),
        ("openings.0.width_m", 3),
        ("title", "x" * 120),
        ("date", "2024-02-29"),
        ("date", ""),
        ("outage.start", "23:59"),
        ("loads.0.duty", 1),
        ("outage.temperature_c", -60),
        ("placements.0.cords.0.gauge_awg", -3),
        ("placements.0.cords.0.gauge_awg", 20),
        ("surroundings.0.at", [20000, -20000]),
    ],
)
def test_the_limits_themselves_and_whole_numbers_are_taken(path, value):
    accepted({path: value})


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        (
            {"buildings.0.outline": [[0, 0], [10, 8], [10, 0], [0, 8]]},
            "buildings.0.outline: the outline crosses or touches itself near (5.00, 4.00) m",
        ),
        (
            {"lot.outline": [[0, 0], [10, 0], [10, 0], [0, 8]]},
            "lot.outline: the outline crosses or touches itself near (10.00, 0.00) m",
        ),
        (
            {"lot.outline": [[0, 0], [0.1, 0], [0.1, 0.09]]},
            "lot.outline: the outline encloses 0.0045 m²; at least 0.01 m² is needed",
        ),
        (
            {"openings.0.offset_m": 9.2},
            "openings.0: 'door' reaches 10.100 m along a wall that is 10.000 m long",
        ),
        (
            {"openings.0.wall": 4},
            "openings.0.wall: 4 is not a wall of 'house'; its walls are 0 to 3",
        ),
        (
            {"openings.0.building": "barn"},
            "openings.0.building: there is no building 'barn'",
        ),
        (
            {"openings.0.sill_m": 2.0, "openings.0.head_m": 2.0},
            "openings.0.sill_m: 2 m is not below the head at 2 m",
        ),
        (
            {"fixtures.0.on.offset_m": 10.001},
            "fixtures.0.on.offset_m: 10.001 m is beyond the end of a wall that is 10.000 m long",
        ),
        ({"fixtures.0.on.wall": 4}, "fixtures.0.on.wall: 4 is not a wall of that building"),
        (
            {"fixtures.0.on.building": "barn"},
            "fixtures.0.on.building: there is no building 'barn'",
        ),
        (
            {"fixtures.1": {"kind": "service-drop", "id": "d", "at": [1, 1], "to": [1, 1]}},
            "fixtures.1.to: the service drop has no length",
        ),
        ({"chosen": "roof"}, "chosen: there is no placement 'roof'"),
        (
            {"placements.0.cords.0.to": "barn"},
            "placements.0.cords.0.to: there is no fixture or load 'barn'",
        ),
        (
            {"placements.0.cords.0.receptacle": "r9"},
            "placements.0.cords.0.receptacle: the machine has no receptacle 'r9'",
        ),
        (
            {"placements.0.cords.0.passes.0.opening": "gap"},
            "placements.0.cords.0.passes: there is no opening 'gap'",
        ),
        ({"loads.0.via": "gap"}, "loads.0.via: there is no cord or inlet 'gap'"),
        (
            {"surroundings.0.id": "house"},
            "surroundings.0.id: 'house' is also the id at buildings.0; each id must be its own",
        ),
        (
            {"loads.0.id": "door"},
            "loads.0.id: 'door' is also the id at openings.0; each id must be its own",
        ),
        (
            {"placements.0.cords.0.id": "door"},
            "placements.0.cords.0.id: 'door' is also the id at openings.0; each id must be its own",
        ),
    ],
)
def test_what_does_not_hang_together_is_named(changes, line):
    assert refused(changes) == line


def test_the_machine_names_each_receptacle_once():
    receptacles = [{"id": "r1", "configuration": "5-20"}, {"id": "r1", "configuration": "L14-30"}]
    line = refused({"machine.receptacles": receptacles})
    assert line.startswith("machine.receptacles.1.id: ")


def test_two_placements_may_run_the_same_cord_but_one_may_not_run_it_twice():
    cord = {"id": "cord"}
    accepted({"placements.1.cords": [cord]})
    assert "also the id" in refused({"placements.1.cords": [cord, cord]})


@pytest.mark.parametrize(
    ("offset_m", "fits"), [(9.0999, True), (9.1, True), (9.1000005, True), (9.10001, False)]
)
def test_an_opening_may_end_at_the_corner_and_no_farther(offset_m, fits):
    if fits:
        accepted({"openings.0.offset_m": offset_m})
    else:
        assert "along a wall" in refused({"openings.0.offset_m": offset_m})


@pytest.mark.parametrize(("side_m", "fits"), [(0.0999, False), (0.1, True), (0.1001, True)])
def test_an_outline_of_a_hundred_square_centimetres_is_the_smallest(side_m, fits):
    ring = [[0, 0], [side_m, 0], [side_m, side_m], [0, side_m]]
    if fits:
        accepted({"lot.outline": ring})
    else:
        assert "0.01 m²" in refused({"lot.outline": ring})


def _comb(corners, x):
    """A ring with this many corners, each but two on a gentle arc above the base."""
    inner = [[x + 10.0 - 10.0 * i / (corners - 1), 1 + i % 2] for i in range(corners - 2)]
    return [[x, 0.0], [x + 10.0, 0.0], *inner]


@pytest.mark.parametrize(("extra", "fits"), [(-4, True), (0, True), (4, False)])
def test_the_corners_of_all_outlines_together_are_bounded(extra, fits):
    # The house and the lot have four corners each; forty outlines hold the other 19 992.
    counts = [500] * 39 + [492 + extra]
    sheds = [
        {"id": f"s{i}", "kind": "shed", "outline": _comb(count, i * 20.0)}
        for i, count in enumerate(counts)
    ]
    whole = tree()
    whole["buildings"] += sheds
    raw = json.dumps(whole).encode()
    if fits:
        assert len(store.parse(raw).buildings) == 41
    else:
        with pytest.raises(BrokenFileError, match="20004 corners; at most 20000"):
            store.parse(raw)


def test_models_are_frozen():
    plan = small_plan()
    with pytest.raises(ValidationError, match="frozen"):
        plan.title = "other"
    with pytest.raises(ValidationError, match="frozen"):
        plan.buildings[0].name = "other"


def test_the_placement_under_review_is_the_chosen_one_else_the_first():
    assert small_plan(chosen="drive").placement.id == "drive"
    assert small_plan(chosen=None).placement.id == "yard"
    assert small_plan(chosen=None, placements=(), loads=()).placement is None


def test_a_building_is_found_by_its_id():
    assert small_plan().building("house").kind == "dwelling"
    assert small_plan().building("barn") is None
