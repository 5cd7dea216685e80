"""Where on the house a power inlet can hang: places on the walls, and the way to the panel."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from siteplan.geometry.arrays import XY, BoolArray, FloatArray, ShapeArray
from siteplan.plan.around import GasCylinder, OnWall, Panel
from siteplan.plan.lot import Building
from siteplan.plan.rings import wall as wall_ends
from siteplan.rules.book import rule
from siteplan.rules.common import accuracy_m
from siteplan.rules.gas import limits_m
from siteplan.scene import Scene
from siteplan.scene.around import fixture_xy
from siteplan.scene.cords import UNKNOWN_INLET_HEIGHT_M
from siteplan.scene.walls import outward_normal

STEP_M = 0.5
# A cord's end lies this far off the wall, so that it never starts inside it.
_OFF_WALL_M = 0.02
_KINDS = frozenset({"dwelling", "attached-garage"})
_IN_THE_WAY = ("fence", "wall", "hedge", "tree", "outdoor-unit", "fuel-store", "pool",
               "standing-water")  # fmt: skip


@dataclass(frozen=True, slots=True)
class InletPlace:
    """A place on a wall for a power inlet.

    Attributes
    ----------
    on : OnWall
        Building, wall, and distance from the wall's first corner [m].
    at : tuple of float
        Just off the wall, where the cord ends [m].
    height_m : float
        Taken for it, over the ground [m].
    feeder_m : float or None
        Cable to the panel, at right angles along the walls, up and down [m]; None without a
        panel on the plan.
    """

    on: OnWall
    at: XY
    height_m: float
    feeder_m: float | None


def inlet_candidates(scene: Scene) -> tuple[InletPlace, ...]:
    """Return the places, every half metre along the own walls, where an inlet can hang.

    Clear of openings beside it, its working space free and on the lot, gas meters, regulators
    and cylinders as far off as from any source of ignition. What a wall is made of, and what
    hangs on it that is not drawn, must be looked at on site.
    """
    found = [
        place
        for building in scene.plan.buildings
        if building.owner == "own" and building.kind in _KINDS
        for wall in range(len(building.outline))
        for place in _on_wall(scene, building, wall)
    ]
    free = _free(scene, found)
    return tuple(place for place, good in zip(found, free.tolist(), strict=True) if good)


def _on_wall(scene: Scene, building: Building, wall: int) -> Iterator[InletPlace]:
    start, end = (np.asarray(one) for one in wall_ends(building.outline, wall))
    length = float(np.hypot(*(end - start)))
    half = rule("inlet-space").figure("width_m") / 2.0
    offsets = np.arange(half, length - half + 1e-9, STEP_M)
    for opening in scene.plan.openings:
        if opening.building == building.id and opening.wall == wall:
            before = offsets + half <= opening.offset_m
            offsets = offsets[before | (offsets - half >= opening.offset_m + opening.width_m)]
    along, out = (end - start) / length, np.asarray(outward_normal(building, wall))
    panel = _panel_xy(scene)
    for offset in offsets.tolist():
        foot = start + along * offset
        x, y = (foot + out * _OFF_WALL_M).tolist()
        feeder = None
        if panel is not None:
            inward = panel - foot
            feeder = float(abs(inward @ along) + abs(inward @ out)) + UNKNOWN_INLET_HEIGHT_M
        on = OnWall(building=building.id, wall=wall, offset_m=offset)
        yield InletPlace(on, (x, y), UNKNOWN_INLET_HEIGHT_M, feeder)


def _panel_xy(scene: Scene) -> FloatArray | None:
    panels = [one for one in scene.plan.fixtures if isinstance(one, Panel)]
    return np.asarray(fixture_xy(panels[0], scene.plan)) if panels else None


def _free(scene: Scene, places: list[InletPlace]) -> BoolArray:
    """Tell which places have their working space free and no gas near."""
    if not places:
        return np.zeros(0, dtype=np.bool_)
    setting, slack = scene.setting, accuracy_m(scene.plan)
    spaces = _spaces(scene, places)
    points = shapely.points([place.at for place in places])
    free = _clear_of(spaces, setting.walls, 0.0)
    around = setting.around
    index = around.places(*_IN_THE_WAY)
    free &= _clear_of(spaces, around.shapes[index], slack + around.beyond_m[index])
    gas = around.shapes[around.places("gas-regulator", "gas-meter")]
    # An inlet is a source of ignition, no generator: the shorter figure is meant for it.
    free &= _clear_of(points, gas, rule("gas-regulator").figure("danger_m") + slack)
    cylinders, keep = around.places("gas-cylinder"), rule("gas-cylinder")
    tanks = [one for one in scene.near("gas-cylinder").things if isinstance(one, GasCylinder)]
    # One of which it is not known how it is filled may need the longer distance.
    longest = np.array([limits_m(scene, keep, one, "warning_m")[1] for one in tanks])
    free &= _clear_of(points, around.shapes[cylinders], longest + slack)
    if setting.lot is not None:
        free &= shapely.covers(setting.lot, spaces)
    return free


def _clear_of(shapes: ShapeArray, things: ShapeArray, keep_m: float | FloatArray) -> BoolArray:
    """Tell which shapes keep more than a distance from every thing."""
    if not len(things):
        return np.ones(len(shapes), dtype=np.bool_)
    apart = shapely.distance(shapes[:, None], things[None])
    clear: BoolArray = (apart > keep_m).all(axis=1)
    return clear


def _spaces(scene: Scene, places: list[InletPlace]) -> ShapeArray:
    """Return the working space in front of each place, a hair off the wall."""
    book = rule("inlet-space")
    corners = []
    for place in places:
        building = scene.plan.building(place.on.building)
        assert building is not None  # noqa: S101 - it came from the plan
        out = np.asarray(outward_normal(building, place.on.wall))
        half = np.array([-out[1], out[0]]) * book.figure("width_m") / 2.0
        near = np.asarray(place.at)
        far = near + out * (book.figure("warning_m") - _OFF_WALL_M)
        corners.append([near - half, near + half, far + half, far - half])
    return np.asarray(shapely.polygons(np.asarray(corners)), dtype=np.object_)
