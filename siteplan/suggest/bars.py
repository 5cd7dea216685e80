"""What each rule asks of a place by distance, as shapes and the distance to keep from them.

A table of its own beside the rule functions: they judge one place, this tells of all places.
A test samples the ground and finds no place where the two differ.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from siteplan.geometry.arrays import BoolArray, FloatArray, IntArray, ShapeArray
from siteplan.plan.around import GasCylinder, Tree
from siteplan.rules.book import rule
from siteplan.rules.carbon_monoxide_case import RULE
from siteplan.rules.carbon_monoxide_reach import rungs_by_distance
from siteplan.rules.common import accuracy_m
from siteplan.rules.findings import Signal
from siteplan.rules.gas import limits_m
from siteplan.rules.heat import burns
from siteplan.rules.ladder import rung, rungs
from siteplan.rules.left_open import ajar_for_cord
from siteplan.scene import Near, Scene

TOUCH_M = 1e-4
"""A zone that begins where shapes touch is drawn this much wider, so that it errs outward."""
_DOORS = frozenset({"door", "garage-door"})


@dataclass(frozen=True, slots=True, eq=False)
class Bar:
    """Things that a rule keeps the machine away from.

    Attributes
    ----------
    rule : str
        The rule's id.
    signal : str or None
        What it says nearer than this; None where it could not judge for want of data.
    subjects : tuple of str
        Ids of the things.
    shapes : ShapeArray
        Where they are.
    distance_m : FloatArray
        What to keep from each, the drawing's accuracy added [m].
    from_outlet : bool
        Whether it counts from the exhaust outlet alone, not from the nearest part.
    """

    rule: str
    signal: Signal | None
    subjects: tuple[str, ...]
    shapes: ShapeArray
    distance_m: FloatArray
    from_outlet: bool = False


def bars(scene: Scene) -> tuple[Bar, ...]:
    """Return every bar of every rule that judges a place by distance."""
    return tuple(
        bar for rule_id, of in BY_DISTANCE.items() for bar in of(scene, rule_id) if len(bar.shapes)
    )


def _bar(
    scene: Scene,
    rule_id: str,
    signal: Signal | None,
    near: Near,
    limit_m: float | FloatArray,
) -> Bar:
    keep = np.broadcast_to(np.maximum(limit_m + accuracy_m(scene.plan), TOUCH_M), len(near.shapes))
    names = tuple(one.id for one in near.things)
    return Bar(rule_id, signal, names, near.shapes, np.asarray(keep, dtype=np.float64))


def _by_rungs(
    scene: Scene,
    rule_id: str,
    near: Near,
    beyond_m: float | FloatArray = 0.0,
    on: Signal | None = None,
) -> Iterator[Bar]:
    """Yield a bar for each rung of the rule, and one for standing on the things."""
    steps = list(rungs(scene.plan, rule(rule_id)))
    if on is not None:
        steps.append((on, TOUCH_M))
    for signal, limit in steps:
        yield _bar(scene, rule_id, signal, near, limit + beyond_m)


Of = Callable[[Scene, str], Iterator[Bar]]


def _openings(chosen: Callable[[Scene], BoolArray]) -> Of:
    def of(scene: Scene, rule_id: str) -> Iterator[Bar]:
        near = scene.near_openings.pick(np.flatnonzero(chosen(scene)))
        yield from _by_rungs(scene, rule_id, near)

    return of


def _kinds(*kinds: str, on: Signal | None = None) -> Of:
    def of(scene: Scene, rule_id: str) -> Iterator[Bar]:
        beyond = scene.setting.around.beyond_m[scene.setting.around.places(*kinds)]
        yield from _by_rungs(scene, rule_id, scene.near(*kinds), beyond, on)

    return of


def _doors(scene: Scene) -> BoolArray:
    doors = np.array([one.kind in _DOORS for one in scene.plan.openings], dtype=bool)
    kept: BoolArray = doors & scene.setting.occupied[scene.setting.opening_building]
    return kept


def _wells(scene: Scene) -> BoolArray:
    return np.array([one.kind == "window-well" for one in scene.plan.openings], dtype=bool)


def _dwellings(scene: Scene, rule_id: str) -> Iterator[Bar]:
    near = scene.near_buildings.pick(np.flatnonzero(scene.setting.walled_for_openings))
    yield from _by_rungs(scene, rule_id, near)


def _left_open(scene: Scene, rule_id: str) -> Iterator[Bar]:
    # Beyond the reach an open opening is a caution wherever the machine stands.
    if scene.standing is None:
        return
    ajar = ajar_for_cord(scene, scene.standing)
    is_open = [one.state != "shut" or one.id in ajar for one in scene.plan.openings]
    chosen = np.flatnonzero(np.array(is_open, dtype=bool))
    near = scene.near_openings.pick(chosen)
    yield _bar(scene, rule_id, "WARNING", near, rule(rule_id).figure("reach_m"))


def _indoors(scene: Scene, rule_id: str) -> Iterator[Bar]:
    near = scene.near_buildings
    still = np.full(len(near.shapes), TOUCH_M)
    names = tuple(one.id for one in near.things)
    yield Bar(rule_id, "DANGER", names, near.shapes, still)


def _under_roof(scene: Scene, rule_id: str) -> Iterator[Bar]:
    setting = scene.setting
    eaves = Near(scene.plan.buildings, setting.roofs, scene.roof_m)
    yield _bar(scene, rule_id, "DANGER", eaves, TOUCH_M)
    over = Near(setting.shelters, setting.shelter_roofs, scene.shelter_m)
    yield _bar(scene, rule_id, "DANGER", over.pick(np.flatnonzero(~setting.free_canopy)), TOUCH_M)


def _clear_above(scene: Scene, rule_id: str) -> Iterator[Bar]:
    setting, machine = scene.setting, scene.plan.machine
    over = Near(setting.shelters, setting.shelter_roofs, scene.shelter_m)
    for place in range(len(setting.shelters)):
        height = setting.shelters[place].clear_height_m
        signal: Signal | None = None
        if height is not None and machine is not None:
            found = rung(scene.plan, rule(rule_id), max(0.0, height - machine.height_m))
            if found is None:
                continue
            signal = found[0]
        yield _bar(scene, rule_id, signal, over.pick([place]), TOUCH_M)


def _solids(scene: Scene, rule_id: str) -> Iterator[Bar]:
    near = scene.near_buildings.joined(scene.near("fence", "wall", "hedge", "tree"))
    yield from _by_rungs(scene, rule_id, near)


def _if_it_burns(near: Near, scene: Scene, rule_id: str) -> Iterator[Bar]:
    can = [burns(one) for one in near.things]
    sure = _where(can, True)
    yield from _by_rungs(scene, rule_id, near.pick(sure))
    highest = max(limit for _, limit in rungs(scene.plan, rule(rule_id)))
    yield _bar(scene, rule_id, None, near.pick(_where(can, None)), highest)


def _where(answers: list[bool | None], wanted: bool | None) -> IntArray:
    return np.flatnonzero([one is wanted for one in answers])


def _walls_that_burn(scene: Scene, rule_id: str) -> Iterator[Bar]:
    near = scene.near_buildings.joined(scene.near("fence", "wall"))
    yield from _if_it_burns(near, scene, rule_id)


def _decks(scene: Scene, rule_id: str) -> Iterator[Bar]:
    near = scene.near("deck")
    yield from _if_it_burns(near, scene, rule_id)
    yield _bar(scene, rule_id, "WARNING", near, TOUCH_M)


def _crowns(scene: Scene, rule_id: str) -> Iterator[Bar]:
    near = scene.near("tree")
    crowns = np.array([one.crown_m / 2.0 for one in near.things if isinstance(one, Tree)])
    yield from _by_rungs(scene, rule_id, near, crowns, on="CAUTION")


def _cylinders(scene: Scene, rule_id: str) -> Iterator[Bar]:
    near = scene.near("gas-cylinder")
    tanks = [one for one in near.things if isinstance(one, GasCylinder)]
    found = np.array([limits_m(scene, rule(rule_id), one, "warning_m") for one in tanks]).reshape(
        -1, 2
    )
    yield _bar(scene, rule_id, "WARNING", near, found[:, 0])
    unknown = np.flatnonzero(found[:, 1] > found[:, 0])
    yield _bar(scene, rule_id, None, near.pick(unknown), found[unknown, 1])


def _estimated(scene: Scene, rule_id: str) -> Iterator[Bar]:
    if scene.standing is None:
        return
    for one in rungs_by_distance(scene, scene.standing):
        near = scene.near_openings.pick(one.places)
        names = tuple(thing.id for thing in near.things)
        yield Bar(rule_id, one.signal, names, near.shapes, one.outlet_m, from_outlet=True)
        walls = scene.near_buildings.pick(one.walls)
        owners = tuple(thing.id for thing in walls.things)
        yield Bar(rule_id, one.signal, owners, walls.shapes, np.maximum(one.walls_m, TOUCH_M))


BY_DISTANCE: Mapping[str, Of] = {
    "separation-opening": _openings(lambda scene: scene.setting.counts),
    "separation-building": _dwellings,
    "separation-intake": _openings(lambda scene: scene.setting.intakes),
    "opening-left-open": _left_open,
    "indoors": _indoors,
    "under-roof": _under_roof,
    "window-well": _openings(_wells),
    "clear-air": _solids,
    "clear-above": _clear_above,
    "combustible-wall": _walls_that_burn,
    "brush": _kinds("brush", "hedge", on="WARNING"),
    "tree-overhead": _crowns,
    "deck": _decks,
    "outdoor-unit": _kinds("outdoor-unit"),
    "pool": _kinds("pool", on="DANGER"),
    "standing-water": _kinds("standing-water", on="WARNING"),
    "gas-regulator": _kinds("gas-regulator", "gas-meter"),
    "gas-cylinder": _cylinders,
    "fuel-store-distance": _kinds("fuel-store"),
    "inlet-space": _kinds("panel", "power-inlet", "through-wall-outlet", "electric-meter"),
    "service-drop": _kinds("service-drop", on="WARNING"),
    "vehicle-path": _kinds("driveway", on="WARNING"),
    "walk-kept-free": _kinds("walk", on="CAUTION"),
    "exit-kept-free": _openings(_doors),
    "tent": _kinds("tent"),
    RULE: _estimated,
}
"""Rules that judge a place by its distance from things, in the order of the review."""
