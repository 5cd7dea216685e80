"""Small changes to the sample plans, one at a time: every field emptied, swapped or scaled."""

import copy
import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from siteplan.errors import SiteplanError
from siteplan.plan import Plan, load, store
from siteplan.sound.limits import presets
from tests.record.additions import ADDED, Change

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
NAMES = ("bad-placement", "good-placement", "narrow-lot", "quiet-hours")
# What says nothing of the lot: titles, ids, and where the drawing has its origin.
_LEFT_OUT = {"format", "version", "title", "prepared_by", "date", "note", "id", "name", "origin"}
_OTHERS: dict[str, tuple[Any, ...]] = {
    "buildings.kind": (
        "attached-garage", "detached-garage", "carport", "covered-porch", "shed", "other",
    ),
    "openings.kind": (
        "garage-door", "pet-door", "fixed-window", "exhaust-hood", "soffit-vent", "gable-vent",
        "foundation-vent", "air-intake", "combustion-intake", "room-air-conditioner",
        "evaporative-cooler", "window-well",
    ),
    "openings.state": ("open", "ajar-for-cord"),
    "surroundings.kind": ("deck", "walk", "pool", "standing-water", "brush", "wall", "hedge"),
    "buildings.wall_material": ("combustible", "noncombustible"),
    "accuracy.method": ("paced", "surveyed", "figure"),
    "fixtures.fuel": ("diesel",),
    "fixtures.receptacle": ("L5-30", "5-20", "14-50"),
    "machine.exhaust_side": ("front", "left", "right"),
    "machine.fuel": ("diesel", "propane", "natural-gas", "dual-fuel"),
    "machine.voltage": ("120",),
    "machine.neutral": ("bonded", "floating"),
    "machine.sound.how": ("sound-power", "guaranteed-sound-power"),
    "machine.receptacles.configuration": ("L5-30", "5-20", "14-50", "TT-30"),
    "placements.at": ([3.0, 14.0], [14.5, 9.0], [22.0, 30.0], [-4.0, 5.0], [15.0, 22.0]),
    "placements.ground": ("concrete", "gravel", "soil", "deck"),
    "placements.cover": (
        {"kind": "tarp", "open_sides": 3, "gap_above_m": 0.5},
        {"kind": "box", "open_sides": 1},
        {"kind": "tent"},
        {"kind": "canopy", "open_sides": 4, "gap_above_m": 2.0},
    ),
    "placements.cords.routing": ("drawn",),
    "placements.cords.end_fitting": ("outlet-box", "outlet-box-with-breakers"),
    "placements.cords.passes.how": ("pinched", "sealed-fitting"),
    "placements.cords.pieces_m": ([30.48], [7.62, 7.62], [15.24, 15.24, 7.62], []),
    "placements.cords.ramp_at_driveway": (True, False),
    "loads.leg": ("a", "b"),
    "loads.when": ("day", "night"),
    "loads.volts": (240,),
    "loads.via": ("inlet", None),
    "transfer.kind": ("none", "interlock", "automatic-switch"),
    "transfer": (None, {"kind": "none"}, {"kind": "interlock"}),
    "outage.limit_preset": tuple(presets()),
    "outage.hours": (24.0, 72.0),
    "outage.start": ("03:00",),
    "household.alarm_spots.place": ("sleeping-area",),
    "household.children_or_pregnancy": (True,),
    "none_here": ([],),
}  # fmt: skip
_SCALES = (0.0, 0.4, 1.6, 5.0)


def samples() -> dict[str, Plan]:
    """Return the sample plans by name."""
    return {name: load(SAMPLES / f"{name}.siteplan") for name in NAMES}


@cache
def changed() -> dict[str, Plan]:
    """Return the changed samples by sample and what was changed or added, each change once."""
    met: set[tuple[str, str]] = set()
    found: dict[str, Plan] = {}
    for name in reversed(NAMES):
        tree = json.loads((SAMPLES / f"{name}.siteplan").read_text())
        for path, value in _places(tree):
            general = ".".join(step for step in path if isinstance(step, str))
            for other in _others(general, path[-1], value):
                key = (general, json.dumps(other) if general in _OTHERS else _how(value, other))
                if key in met:
                    continue
                plan = _read(_with(tree, path, other))
                if plan is None:
                    continue
                met.add(key)
                found[f"{name}: {'.'.join(map(str, path))} = {json.dumps(other)}"] = plan
        for said, change in ADDED.get(name, {}).items():
            found[f"{name}: {said}"] = _added(tree, change)
    return found


def _added(tree: Any, change: Change) -> Plan:
    """Return a plan with things added; it must hang together."""
    for way, value in change:
        path = [int(step) if step.isdigit() else step for step in way.rstrip("+").split(".")]
        if way.endswith("+"):
            held: Any = tree
            for step in path:
                held = held[step]
            tree = _with(tree, tuple(path), [*held, value])
        else:
            tree = _with(tree, tuple(path), value)
    return store.parse(json.dumps(tree).encode())


def _places(node: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[Any, Any]]:
    """Yield the way to every value that stands in a named field, lists of numbers whole."""
    steps = node.items() if isinstance(node, dict) else enumerate(node)
    for step, value in steps:
        if step in _LEFT_OUT:
            continue
        if isinstance(step, str):
            yield (*path, step), value
        if isinstance(value, dict | list):
            yield from _places(value, (*path, step))


def _others(general: str, field: Any, value: Any) -> Iterator[Any]:
    yield from (one for one in _OTHERS.get(general, ()) if one != value)
    if value is not None:
        yield None
    if isinstance(value, bool) or (value is None and general not in _OTHERS):
        yield from (one for one in (True, False) if one is not value)
    elif isinstance(value, int | float):
        yield from (round(value * scale, 6) for scale in _SCALES)
    if value is None and field.rpartition("_")[2] in {"m", "a", "w", "l", "dba", "c", "g", "h"}:
        yield from (1.0, 40.0)


def _how(value: Any, other: Any) -> str:
    """Return how a value was changed, so that the like is not done to its neighbour again."""
    if other is None or isinstance(other, bool) or value is None or not value:
        return f"{other}"
    return f"times {other / value:g}"


def _with(tree: Any, path: tuple[Any, ...], value: Any) -> Any:
    tree = copy.deepcopy(tree)
    holder = tree
    for step in path[:-1]:
        holder = holder[step]
    holder[path[-1]] = value
    return tree


def _read(tree: Any) -> Plan | None:
    try:
        return store.parse(json.dumps(tree).encode())
    except SiteplanError:
        return None
