"""Who may import whom: the contracts hold, and DEVELOPERS.md says the same as they do."""

import ast
import re
import tomllib
from itertools import pairwise
from pathlib import Path

import pytest
from importlinter.cli import EXIT_STATUS_SUCCESS, lint_imports

ROOT = Path(__file__).resolve().parents[2]
CONTRACTS = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"][
    "importlinter"
]["contracts"]


def _layers():
    """Layers from the top down: each a set of names, and whether these may import each other."""
    (contract,) = [one for one in CONTRACTS if one["type"] == "layers"]
    return [
        ({part.strip() for part in re.split("[|:]", layer)}, ":" in layer)
        for layer in contract["layers"]
        if layer != "__main__"
    ]


LAYERS = _layers()
ROOMS = set().union(*(names for names, _ in LAYERS))


def _below(rooms):
    """All rooms in layers lower than the lowest of these."""
    lowest = max(index for index, (names, _) in enumerate(LAYERS) if names & rooms)
    return set().union(*(names for names, _ in LAYERS[lowest + 1 :]))


def _by_contract(room):
    (index,) = [index for index, (names, _) in enumerate(LAYERS) if room in names]
    names, mutual = LAYERS[index]
    allowed = _below(names) | (names - {room} if mutual else set())
    for contract in CONTRACTS:
        if contract["type"] == "forbidden" and f"siteplan.{room}" in contract["source_modules"]:
            allowed -= {one.removeprefix("siteplan.") for one in contract["forbidden_modules"]}
    return allowed


def _table():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| `(\w+)` \| [^|]+ \| ([^|]+) \|$", text, re.MULTILINE)
    assert len(rows) == len(dict(rows))
    return dict(rows)


def _by_table(room, text):
    if text == "nothing":
        return set()
    if text.startswith("everything but "):
        return ROOMS - {room, text.removeprefix("everything but ")}
    allowed = set()
    for part in text.split(", "):
        # `desk.launch` is a door into a room: the room counts, and the doors are tested below.
        name = part.removesuffix(" and below").strip("`").split(".")[0]
        allowed |= {name} | (_below({name}) if part.endswith(" and below") else set())
    return allowed


TABLE = _table()


def test_the_table_has_every_room_once():
    assert set(TABLE) == ROOMS
    found = {path.stem for path in (ROOT / "siteplan").iterdir() if path.suffix in {"", ".py"}}
    assert {name for name in found if not name.startswith("_")} == ROOMS


@pytest.mark.parametrize("room", sorted(ROOMS))
def test_the_table_says_what_the_contracts_say(room):
    assert _by_table(room, TABLE[room]) == _by_contract(room)


def _imports(path):
    """The siteplan modules that a file imports, wherever in it."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (one.name for one in node.names)
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            yield from (f"{node.module}.{one.name}" for one in node.names)


def _files(room):
    folder = ROOT / "siteplan" / room
    return sorted(folder.rglob("*.py")) if folder.is_dir() else [folder.with_suffix(".py")]


@pytest.mark.parametrize("room", sorted(ROOMS))
def test_no_file_imports_more_than_the_table_says(room):
    # Read from the source, so that a mistake in the contracts' tool would show.
    allowed = _by_table(room, TABLE[room]) | {room, "__version__"}
    for path in _files(room):
        for name in _imports(path):
            parts = name.split(".")
            if parts[0] == "siteplan" and len(parts) > 1:
                assert parts[1] in allowed, f"{path.name} imports {name}"


def test_the_command_line_enters_the_desk_by_its_doors_alone():
    doors = set(re.findall(r"`(desk\.\w+)`", TABLE["cli"]))
    used = {
        ".".join(name.split(".")[1:3])
        for path in _files("cli")
        for name in _imports(path)
        if name.startswith("siteplan.desk")
    }
    assert used <= doors
    assert used


def test_qt_is_imported_in_the_desk_alone():
    for room in ROOMS - {"desk"}:
        for path in _files(room):
            for name in _imports(path):
                assert name.split(".")[0] not in {"PySide6", "pyqtgraph", "shiboken6"}


def test_layers_are_listed_from_the_top_down():
    # What a room may import only grows on the way up, desk and command line apart.
    for (upper, _), (lower, _) in pairwise(LAYERS):
        assert _below(upper) > _below(lower)


def test_every_contract_holds(monkeypatch, capsys):
    monkeypatch.chdir(ROOT)
    monkeypatch.syspath_prepend(str(ROOT))
    status = lint_imports(config_filename="pyproject.toml", no_cache=True)
    assert status == EXIT_STATUS_SUCCESS, capsys.readouterr().out
