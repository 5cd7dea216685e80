"""`siteplan spots` as people and programs meet it."""

import json

import pytest

from siteplan.assets import sample
from siteplan.cli import spots
from siteplan.cli.main import main
from siteplan.plan import save
from tests.helpers import builders as b

NARROW, GOOD = sample("narrow-lot.siteplan"), sample("good-placement.siteplan")


def run(capsys, *arguments):
    code = main(["spots", *map(str, arguments)])
    return code, " ".join(capsys.readouterr().out.split())


def test_narrow_lot_says_plainly_that_there_is_no_place(capsys):
    code, out = run(capsys, NARROW)
    assert code == 1
    for said in (
        "No place on this lot passes.",
        "What bars the lot",
        "Distance to dwellings and attached structures: bars 100 % of the lot",
        "With a neighbour's consent",
        "run no engine on it",
        "WARNING",
    ):
        assert said in out
    assert "Best place for an inlet" in out
    assert "Tape " not in out


def test_good_lot_tells_places_with_tapes(capsys):
    code, out = run(capsys, GOOD, "--count", "2")
    assert code == 0
    assert out.count("Tape ") == 2
    assert "judged by the same review as the plan" in out


def test_json_is_one_object_with_units_in_its_names(capsys):
    code = main(["spots", str(GOOD), "--json", "--count", "2"])
    tree = json.loads(capsys.readouterr().out)
    assert (code, tree["spots_format"], tree["passes"]) == (0, 1, True)
    place = tree["places"][0]
    assert place["worst"] is None or place["worst"] in {"CAUTION", "NOTICE"}
    assert place["cord_m"] >= tree["nearest"]["cord_m"]
    assert [one["check"] for one in place["tapes"]] == [False, False, True]
    assert {"at_m", "exhaust_deg", "boundary_dba", "opening_m"} <= set(place)


def test_json_of_a_lot_without_a_place_gives_no_tapes(capsys):
    assert main(["spots", str(NARROW), "--json"]) == 1
    tree = json.loads(capsys.readouterr().out)
    assert tree["nearest"] is None
    assert all(one["tapes"] == [] and one["findings"] for one in tree["places"])
    assert tree["binding"][0]["rule"] == "separation-building"


def test_placements_side_by_side(capsys, tmp_path):
    near = b.standing(6.0, -3.0, id="near", name="Near the window")
    plan = b.make_plan(*_house(), b.standing(6.0, -30.0, name="Far out"), near)
    path = tmp_path / "two.siteplan"
    save(plan, path)
    code, out = run(capsys, path, "--compare")
    assert code == 1
    assert "Place Far out Near the window" in out
    assert "DANGER 0 " in out
    assert "Nearest opening 97' 10" in out
    main(["spots", str(path), "--compare", "--json"])
    rows = json.loads(capsys.readouterr().out)["placements"]
    assert [one["placement"] for one in rows] == ["here", "near"]


def _house():
    return b.lot(-40.0, -40.0, 60.0, 60.0), b.building(), b.opening()


@pytest.mark.parametrize("count", ["0", "51", "many"])
def test_count_is_bounded(capsys, count):
    assert main(["spots", str(GOOD), "--count", count]) == 2


def test_without_a_machine_one_clear_line(capsys, tmp_path):
    path = tmp_path / "no.siteplan"
    save(b.make_plan(b.lot()), path)
    assert main(["spots", str(path)]) == 2
    assert "no generator is entered" in capsys.readouterr().err
    assert main(["spots", str(path), "--compare"]) == 0
    assert "No generator stands on the plan yet." in capsys.readouterr().out


def test_spanish_and_metres(capsys):
    code, out = run(capsys, NARROW, "--language", "es", "--units", "metres")
    assert code == 1
    assert "Ningún lugar de este lote cumple." in out
    for english in ("Exhaust", "Nearest", "bars", "boundary"):
        assert english not in out


def test_inlets_are_told_with_their_cord_and_cable(capsys):
    code, out = run(capsys, GOOD, "--inlets")
    assert code == 0
    assert "Best place for an inlet" in out
    assert main(["spots", str(NARROW), "--inlets"]) == 1
    assert "No place for an inlet" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("name", "value", "shown"),
    [
        ("opening_m", 6.09596, 6.0959),
        ("boundary_m", 6.0960, 6.0960),
        ("cord_m", 12.00001, 12.0001),
        ("boundary_dba", 49.99991, 50.0),
        ("exhaust_deg", 89.99996, 90.0),
        ("cord_m", float("nan"), None),
        ("room_m", None, None),
    ],
)
def test_figures_of_a_place_are_rounded_against_the_reader(name, value, shown):
    assert spots._rounded(name, value) == shown
