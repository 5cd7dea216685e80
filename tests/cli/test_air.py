"""`siteplan air`: what it prints, what it writes, and the caution on both."""

import json
from pathlib import Path

import pvlib
import pytest

from siteplan.air.thresholds import CAUTION
from siteplan.assets import sample
from siteplan.cli.main import main
from siteplan.plan import load
from tests.rules.test_carbon_monoxide_only_raises import LEAVE

BAD, GOOD = (str(sample(f"{name}-placement.siteplan")) for name in ("bad", "good"))
# A year of hourly wind (TMY3), kept by pvlib for its own tests: Greensboro, North Carolina.
TMY3 = str(Path(pvlib.__file__).parent / "data" / "723170TYA.CSV")


def words(text):
    return " ".join(text.split())


@pytest.mark.parametrize("name", [BAD, GOOD])
def test_the_caution_stands_at_both_ends_and_nothing_reads_as_leave(name, capsys):
    assert main(["air", name]) == 0
    said = words(capsys.readouterr().out)
    assert said.count(CAUTION) == 2
    assert not LEAVE.search(said)


def test_json_is_whole_and_ranked(capsys):
    assert main(["air", BAD, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["caution"] == CAUTION
    assert found["run_h"] == 8.0
    assert not found["run_stated"]
    doses = [one["mean_room_ppm"] for one in found["openings"]]
    assert doses == sorted(doses, reverse=True)
    worst = found["openings"][0]
    assert set(worst["indicative"]["minutes_to_ppm"]) == {"70", "150", "400"}
    assert worst["worst"]["outdoor_ppm"] >= worst["indicative"]["outdoor_ppm"]
    times = found["openings"][-1]["indicative"]["minutes_to_10_percent"]
    assert all(one is None or one > 0.0 for one in times.values())


def test_wind_of_a_weather_file_goes_into_the_plan(tmp_path, capsys):
    out = tmp_path / "windy.siteplan"
    assert main(["air", GOOD, "--wind", TMY3, "-o", str(out)]) == 0
    said = words(capsys.readouterr().out)
    assert "723170TYA.CSV" in said
    assert "of the hours" in said
    wind = load(out).wind
    assert wind.origin == "723170TYA.CSV"
    assert sum(one.share for one in wind.sectors) + wind.calm_share == pytest.approx(1.0)
    assert load(out).model_copy(update={"wind": None}) == load(GOOD)
    # It is there already.
    assert main(["air", GOOD, "--wind", TMY3, "-o", str(out)]) == 2


def test_wind_agrees_with_another_reader_of_the_file(tmp_path, capsys):
    hours, _ = pvlib.iotools.read_tmy3(TMY3, map_variables=False)
    assert main(["air", GOOD, "--wind", TMY3, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    calm = float((hours["Wspd (m/s)"] < 0.5).mean())
    assert found["wind"]["calm_share"] == pytest.approx(calm)
    # Within 45 degrees of straight at the worst opening, or still; sectors blur the edges.
    bearing = found["openings"][0]["bearing_deg"]
    off = (hours["Wdir (degrees)"] - (bearing + 180.0) + 180.0) % 360.0 - 180.0
    share = float(((off.abs() <= 45.0) | (hours["Wspd (m/s)"] < 0.5)).mean())
    assert found["openings"][0]["downwind_share"] == pytest.approx(share, abs=0.03)


def test_what_cannot_be_estimated_is_said(tmp_path, capsys):
    empty = tmp_path / "empty.siteplan"
    assert main(["new", "-o", str(empty)]) == 0
    assert main(["air", str(empty)]) == 2
    assert "nothing to estimate" in capsys.readouterr().err
    assert main(["air", GOOD, "--wind", GOOD]) == 2
    assert "neither an EPW nor a TMY3" in capsys.readouterr().err
    assert main(["air", GOOD, "--wind", str(tmp_path / "none.epw")]) == 4


def test_the_review_of_a_file_with_an_estimate_carries_the_caution(capsys):
    main(["review", GOOD])
    assert CAUTION in words(capsys.readouterr().out)
    main(["review", GOOD, "--json"])
    found = json.loads(capsys.readouterr().out)
    (one,) = [one for one in found["findings"] if one["rule"] == "co-estimate"]
    assert CAUTION in one["do"]
