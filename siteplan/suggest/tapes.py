"""Finding a place in the yard with a tape, from corners of the own buildings."""

import math
from dataclasses import dataclass

from siteplan.geometry.arrays import XY
from siteplan.geometry.ties import TapeError, setting_out
from siteplan.plan.document import Plan
from siteplan.plan.labels import label
from siteplan.plan.lot import Building
from siteplan.rules.common import accuracy_m
from siteplan.scene import Scene
from siteplan.suggest.compass import compass_text
from siteplan.words import Text

LONGEST_TAPE_M = 30.0
_LETTERS = "ABC"


@dataclass(frozen=True, slots=True)
class Tape:
    """One tape: its letter on the drawing, the corner it starts from, and what it must read."""

    letter: str
    corner_xy: XY
    corner: Text
    length_m: float
    check: bool


@dataclass(frozen=True, slots=True)
class SetOut:
    """The tapes to the middle of the machine, and how far off they may leave it [m]."""

    tapes: tuple[Tape, ...]
    place_xy: XY
    error_m: float


def set_out(scene: Scene, at: XY | None = None) -> SetOut | None:
    """Return the tapes from house corners to a place, or None where no two corners serve.

    Parameters
    ----------
    scene : Scene
        The plan as shapes.
    at : tuple of float, optional
        The place [m]; the machine's middle if not given.
    """
    if at is None:
        if scene.standing is None:
            return None
        at = scene.standing.placement.at
    known = fixed_corners(scene.plan)
    try:
        ties = setting_out(
            at,
            [building.outline[index] for building, index in known],
            accuracy_m(scene.plan),
            LONGEST_TAPE_M,
            scene.setting.walls,
        )
    except TapeError:
        return None
    picked = [*zip(ties.corners, ties.distances_m, (False, False), strict=True)]
    if ties.check_corner is not None and ties.check_m is not None:
        picked.append((ties.check_corner, ties.check_m, True))
    tapes = [
        Tape(letter, known[which][0].outline[known[which][1]],
             corner_text(scene.plan, *known[which]), away, check)
        for letter, (which, away, check) in zip(_LETTERS, picked, strict=False)
    ]  # fmt: skip
    return SetOut(tuple(tapes), at, ties.error_m)


def fixed_corners(plan: Plan) -> list[tuple[Building, int]]:
    """Return the corners of the own buildings, which one can hold a tape to."""
    return [
        (building, index)
        for building in plan.buildings
        if building.owner == "own"
        for index in range(len(building.outline))
    ]


def corner_text(plan: Plan, building: Building, index: int) -> Text:
    """Return what to call a corner: by the side of its building's middle it lies on."""
    x = [point[0] for point in building.outline]
    y = [point[1] for point in building.outline]
    across = building.outline[index][0] - (min(x) + max(x)) / 2
    up = building.outline[index][1] - (min(y) + max(y)) / 2
    point = compass_text(plan, math.degrees(math.atan2(across, up)))
    return Text("{point} corner of {building}", {"point": point, "building": label(building)})
