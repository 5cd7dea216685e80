"""The commands that draw, print, export and bring: files, exit codes, nothing overwritten."""

import json
import sys

import pytest
from PIL import Image

from siteplan.assets import sample
from siteplan.cli.main import main
from siteplan.drawing.style import look
from siteplan.plan.store import load
from tests.paper.test_geojson import FOOTPRINT, PARCEL, collection

PLAN = str(sample("good-placement.siteplan"))


def run(*arguments):
    return main([str(one) for one in arguments])


@pytest.mark.parametrize(
    ("command", "name", "begins"),
    [
        (("draw",), "a.svg", b"<?xml"),
        (("draw", "--theme", "dark", "--around", "machine"), "a.svg", b"<?xml"),
        (("draw", "--scale", "1:500", "--sheet", "a4"), "a.svg", b"<?xml"),
        (("draw", "--dpi", "60"), "a.png", b"\x89PNG"),
        (("paper", "--for", "household"), "a.pdf", b"%PDF"),
        (("paper", "--for", "records", "--archive"), "a.pdf", b"%PDF"),
        (("paper", "--for", "installer", "--units", "metres"), "a.pdf", b"%PDF"),
        (("export",), "a.csv", b"outcome"),
        (("export", "--table", "distances"), "a.csv", b"subject"),
        (("export", "--table", "parts"), "a.csv", b"part"),
    ],
)
def test_a_file_is_written_once_and_not_overwritten(command, name, begins, tmp_path, capsys):
    path = tmp_path / name
    first, *options = command
    assert run(first, PLAN, "-o", path, *options) == 0
    content = path.read_bytes()
    assert content.startswith(begins)
    path.write_bytes(b"mine")
    assert run(first, PLAN, "-o", path, *options) == 2
    assert path.read_bytes() == b"mine"
    assert "--force" in capsys.readouterr().err
    assert run(first, PLAN, "-o", path, *options, "--force") == 0
    assert path.read_bytes() != b"mine"


def test_the_zone_is_drawn_beneath_the_plan_if_asked_for(tmp_path):
    bare, zoned = tmp_path / "bare.svg", tmp_path / "zoned.svg"
    assert run("draw", PLAN, "-o", bare) == 0
    assert run("draw", PLAN, "-o", zoned, "--zone") == 0
    said = "No rule forbids it"
    assert said not in bare.read_text(encoding="utf-8")
    text = zoned.read_text(encoding="utf-8")
    assert said in text
    tint = look("standing-zone").fill
    assert text.index(tint) < text.index(look("dwelling-floor").fill)


def test_a_zone_needs_a_machine(tmp_path, capsys):
    empty = tmp_path / "empty.siteplan"
    assert run("new", "-o", empty) == 0
    assert run("draw", empty, "-o", tmp_path / "a.svg", "--zone") == 2
    assert "generator" in capsys.readouterr().err


def test_a_picture_has_the_pixels_asked_for(tmp_path):
    path = tmp_path / "a.png"
    assert run("draw", PLAN, "-o", path, "--dpi", "50", "--sheet", "letter") == 0
    with Image.open(path) as picture:
        assert sorted(picture.size) == [425, 550]


@pytest.mark.parametrize(
    "arguments",
    [
        ("draw", PLAN, "-o", "a.gif"),
        ("draw", PLAN, "-o", "a.png", "--dpi", "5"),
        ("draw", PLAN, "-o", "a.png", "--dpi", "1201"),
        ("draw", PLAN, "-o", "a.png", "--dpi", "nan"),
        ("draw", PLAN, "-o", "a.svg", "--scale", "1:17"),
        ("draw", PLAN, "-o", "a.svg", "--scale", "1:50"),
        ("export", PLAN, "-o", "a.txt"),
        ("export", PLAN, "-o", "a.geojson"),
    ],
)
def test_what_cannot_be_asked_for_is_refused_in_one_line(arguments, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert run(*arguments) == 2
    said = capsys.readouterr().err.strip()
    assert said.startswith("siteplan: ")
    assert "\n" not in said
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", [("draw", "a.svg"), ("paper", "a.pdf"), ("export", "a.csv")])
def test_codes_for_files_that_are_not_there_or_no_plan(command, tmp_path):
    name, output = command
    more = ("--for", "records") if name == "paper" else ()
    assert run(name, tmp_path / "none", "-o", tmp_path / output, *more) == 4
    broken = tmp_path / "broken"
    broken.write_text('{"format": "siteplan"', encoding="utf-8")
    assert run(name, broken, "-o", tmp_path / output, *more) == 3
    assert run(name, PLAN, "-o", tmp_path / "no" / "folder" / output, *more) == 4


def test_a_parcel_becomes_a_plan_that_can_be_reviewed(tmp_path, capsys):
    source, target = tmp_path / "lot.geojson", tmp_path / "lot.siteplan"
    source.write_bytes(collection(PARCEL, FOOTPRINT))
    assert run("bring", source, "-o", target) == 0
    assert "buildings: 1" in capsys.readouterr().err
    assert load(target).lot.origin is not None
    assert run("export", target, "-o", tmp_path / "back.geojson") == 0
    tree = json.loads((tmp_path / "back.geojson").read_text(encoding="utf-8"))
    assert len(tree["features"]) == 2
    assert run("bring", source, "-o", target) == 2


def test_codes_for_parcels_that_cannot_be_read(tmp_path):
    target = tmp_path / "lot.siteplan"
    assert run("bring", tmp_path / "none", "-o", target) == 4
    bad = tmp_path / "bad"
    bad.write_bytes(b'{"type": "Polygon", "coordinates": [[[500000, 4000000]]]}')
    assert run("bring", bad, "-o", target) == 3
    assert not target.exists()


@pytest.mark.parametrize("command", [("draw", "a.svg"), ("paper", "a.pdf"), ("export", "a.csv")])
def test_no_qt_is_loaded(command, tmp_path, monkeypatch):
    for name in [one for one in sys.modules if one.startswith("PySide6")]:
        monkeypatch.delitem(sys.modules, name)
    name, output = command
    more = ("--for", "records") if name == "paper" else ()
    assert run(name, PLAN, "-o", tmp_path / output, *more) == 0
    assert not any(one.startswith("PySide6") for one in sys.modules)
