"""How to find the machine's place in the yard by tape, with the marks that show it."""

import math
from dataclasses import dataclass

from siteplan.drawing.marks import Dimension, Mark, Marks, Symbol
from siteplan.drawing.walls import building_name
from siteplan.geometry.ties import TapeError, setting_out
from siteplan.paper.sections.place import compass
from siteplan.paper.subject import Subject
from siteplan.plan.lot import Building
from siteplan.rules.common import accuracy_m
from siteplan.words import Quantity, Text

LONGEST_TAPE_M = 30.0
_LETTERS = "ABC"


@dataclass(frozen=True, slots=True)
class Tape:
    """One tape: its letter on the drawing, the corner it starts from, and what it must read."""

    letter: str
    corner_xy: tuple[float, float]
    corner: Text
    length_m: float
    check: bool


@dataclass(frozen=True, slots=True)
class SetOut:
    """The tapes to the middle of the machine, and how far off they may leave it [m]."""

    tapes: tuple[Tape, ...]
    place_xy: tuple[float, float]
    error_m: float


def set_out(subject: Subject) -> SetOut | None:
    """Return the tapes from house corners to the machine, or None where no two corners serve."""
    standing = subject.scene.standing
    if standing is None:
        return None
    known = [
        (point, building, index)
        for building in subject.plan.buildings
        if building.owner == "own"
        for index, point in enumerate(building.outline)
    ]
    at = standing.placement.at
    try:
        ties = setting_out(
            at,
            [point for point, _, _ in known],
            accuracy_m(subject.plan),
            LONGEST_TAPE_M,
            subject.scene.setting.walls,
        )
    except TapeError:
        return None
    picked = [*zip(ties.corners, ties.distances_m, (False, False), strict=True)]
    if ties.check_corner is not None and ties.check_m is not None:
        picked.append((ties.check_corner, ties.check_m, True))
    tapes = []
    for letter, (which, away, check) in zip(_LETTERS, picked, strict=False):
        point, building, index = known[which]
        tapes.append(Tape(letter, point, _corner(subject, building, index), away, check))
    return SetOut(tuple(tapes), at, ties.error_m)


def tape_marks(found: SetOut | None, subject: Subject) -> Marks:
    """Return the tapes as lines with their lengths and letters at their corners."""
    if found is None:
        return ()
    marks: list[Mark] = []
    for tape in found.tapes:
        text = f"{tape.letter} {tape_length(subject, tape)}"
        marks.append(Dimension(tape.corner_xy, found.place_xy, text, "setout-line"))
        marks.append(Symbol("tag", tape.corner_xy, "setout-line", size_mm=4.6, text=tape.letter))
    return tuple(marks)


def tape_length(subject: Subject, tape: Tape) -> str:
    """Return a tape's reading, rounded to the nearest, for it is a place and no limit."""
    return subject.show(Quantity(tape.length_m, "length", "near"))


def _corner(subject: Subject, building: Building, index: int) -> Text:
    x = [point[0] for point in building.outline]
    y = [point[1] for point in building.outline]
    across = building.outline[index][0] - (min(x) + max(x)) / 2
    up = building.outline[index][1] - (min(y) + max(y)) / 2
    point = compass(subject, math.degrees(math.atan2(across, up)))
    values: dict[str, Quantity | Text | str | int] = {
        "point": Text(point),
        "building": building_name(building),
    }
    return Text("{point} corner of {building}", values)
