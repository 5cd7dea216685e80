"""`siteplan night`: what it prints, and its JSON."""

import json

import pytest

from siteplan.assets import sample
from siteplan.cli.main import main

QUIET, NARROW = (str(sample(f"{name}.siteplan")) for name in ("quiet-hours", "narrow-lot"))


def test_it_prints_levels_fuel_hours_and_cards(capsys):
    assert main(["night", QUIET]) == 0
    said = capsys.readouterr().out
    for part in ("Levels", "north boundary", "above (limit", "Fuel", "03:51", "Refuel", "GFCI"):
        assert part in said


def test_it_says_what_is_missing(capsys):
    assert main(["night", NARROW]) == 0
    assert "Not judged, because this is missing" in capsys.readouterr().out


def test_json_holds_the_same_figures(capsys):
    assert main(["night", QUIET, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["night_format"] == 1
    loud = [one for one in found["sound"]["windows"] if one["night"] == "above"]
    assert [one["subjects"] for one in loud] == [["north-bedroom"]]
    assert all(one["night"] == "within" for one in found["sound"]["sides"])
    assert [one["stop"] for one in found["fuel"]["stops"]] == ["03:51", "14:04"]
    assert len(found["cards"]) == 8
    assert main(["night", NARROW, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["fuel"].keys() == {"missing"}


@pytest.mark.parametrize("language", ["en", "es"])
def test_it_speaks_both_languages_and_units(capsys, language):
    assert main(["night", QUIET, "--language", language, "--units", "metres"]) == 0
    assert " L" in capsys.readouterr().out


def test_a_plan_without_a_machine_is_no_error(tmp_path, capsys):
    path = tmp_path / "empty.siteplan"
    assert main(["new", "-o", str(path)]) == 0
    assert main(["night", str(path)]) == 0
    assert "No generator stands" in capsys.readouterr().out
    assert main(["night", str(path), "--json"]) == 0
