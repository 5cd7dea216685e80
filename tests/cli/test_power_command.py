"""`siteplan power`: what it prints, and its JSON."""

import json

import pytest

from siteplan.assets import sample
from siteplan.cli.main import main

GOOD, BAD, NARROW = (
    str(sample(f"{name}.siteplan")) for name in ("good-placement", "bad-placement", "narrow-lot")
)


def printed(capsys, *arguments):
    assert main(["power", *arguments]) == 0
    return capsys.readouterr().out


def test_it_prints_loads_cords_ways_and_parts(capsys):
    said = printed(capsys, GOOD)
    for part in ("Well pump", "A+B", "Inlet cord", "10 AWG", "Single cords",
                 "Inlet with transfer equipment ←", "transfer switch or interlock"):  # fmt: skip
        assert part in said
    # The well pump, which draws most to start, is started first.
    pump = next(line for line in said.splitlines() if line.strip().startswith("Well pump"))
    assert pump.split()[-1] == "1"
    assert "Inlet cord" in pump
    assert "Can it start the motors?" in said


def test_what_is_not_known_is_a_dash_and_said(capsys):
    said = printed(capsys, NARROW)
    assert "No load is entered." in said
    told = " ".join(said.split())
    assert (
        "Not entered, so the generator is reckoned at its best: the altitude; the air temperature."
    ) in told


def test_json_holds_the_same_figures(capsys):
    found = json.loads(printed(capsys, GOOD, "--json"))
    assert found["power_format"] == 1
    assert found["running_w"] == 3000.0
    # 700 W of refrigerator, 80 and 20 W and half of the pump; freezer, blower and half of it.
    assert (found["legs"]["a_w"], found["legs"]["b_w"]) == (1300.0, 1700.0)
    ways = {one["way"]: one for one in found["ways"]}
    assert len(ways) == 4
    assert found["chosen"] == "inlet-transfer"
    assert ways["inlet-transfer"]["carries_all"]
    assert ways["single-cords"]["refuses"]["well-pump"] == "needs-240-v"
    assert not found["clashes"]
    (cord,) = found["cords"]
    # 100 ft sold; 53 ft and some inches needed.
    assert cord["stock_m"] == pytest.approx(30.48)
    assert cord["thinnest_awg"] == 10


def test_json_of_the_bad_one_has_its_way_through_the_door(capsys):
    found = json.loads(printed(capsys, BAD, "--json"))
    assert found["chosen"] == "single-cords"
    assert found["cords"][0]["gauge_awg"] == 16
    assert found["cords"][0]["current_a"]["most"] > found["cords"][0]["ampacity_a"]["most"]


@pytest.mark.parametrize("units", ["feet", "metres"])
def test_it_speaks_both_languages_and_units(capsys, units):
    said = printed(capsys, GOOD, "--language", "es", "--units", units)
    assert "Entrada de corriente con equipo de transferencia" in said
    assert ("30.48 m" in said) == (units == "metres")


def test_a_plan_with_nothing_on_it_is_no_error(tmp_path, capsys):
    path = tmp_path / "empty.siteplan"
    assert main(["new", "-o", str(path)]) == 0
    capsys.readouterr()
    said = printed(capsys, str(path))
    assert "No generator stands on the plan yet." in said
    assert json.loads(printed(capsys, str(path), "--json"))["ways"] == []
