"""What sound meets on a plan, as plain numbers: screens, mirrors, boundary and neighbours' walls.

What is not stated counts against the user: a fence or building of unknown height or solidity
throws sound back but screens nothing.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from siteplan.geometry.arrays import FloatArray, IntArray, as_points, as_segments
from siteplan.plan.around import Barrier
from siteplan.plan.document import Plan
from siteplan.plan.lot import Building, Opening
from siteplan.plan.rings import wall_length_m
from siteplan.scene.walls import along_wall, outward_normal

HEARD_KINDS = frozenset({"window", "fixed-window", "door"})
# A roof on posts, or a wall partly open, stops no sound that can be counted on.
_OPEN_KINDS = frozenset({"carport", "covered-porch"})
_ALONG_WALL_M = 2.0
# Where the storeys are not stated there may be a second one, which screens help less.
_STOREYS_UNLESS_STATED = 2


@dataclass(frozen=True, eq=False)
class Faces:
    """Walls and buildings with a height.

    Attributes
    ----------
    wall_ends : FloatArray
        Both ends of each straight piece of fence or garden wall [m], shape (m, 2, 2).
    wall_heights_m : FloatArray
        Their heights [m], shape (m,).
    rings : tuple of FloatArray
        Outlines of buildings [m].
    ring_heights_m : FloatArray
        Their eaves [m], shape (b,).
    owners : tuple of str
        Id of the thing behind each piece, then behind each building.
    """

    wall_ends: FloatArray
    wall_heights_m: FloatArray
    rings: tuple[FloatArray, ...]
    ring_heights_m: FloatArray
    owners: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Spots:
    """Places before neighbours' windows, and before walls whose windows are not all drawn.

    Attributes
    ----------
    on_wall : FloatArray
        Place on the wall [m], shape (n, 2).
    outward : FloatArray
        Unit vectors out of the building, shape (n, 2).
    height_m : FloatArray
        Height over the ground where it is stated [m], nan where the storey tells it, shape (n,).
    storey : IntArray
        Storey, 0 at the ground, shape (n,).
    subjects : tuple of str
        Id of the opening, or of the building where the window is not drawn.
    drawn : tuple of bool
        Whether the window is on the plan.
    """

    on_wall: FloatArray
    outward: FloatArray
    height_m: FloatArray
    storey: IntArray
    subjects: tuple[str, ...]
    drawn: tuple[bool, ...]


@dataclass(frozen=True, eq=False)
class Acoustics:
    """All that sound meets.

    Attributes
    ----------
    screens : Faces
        What is stated to be high and solid.
    mirrors : Faces
        What may throw sound back: the same and whatever is of unknown height or solidity.
    uncredited : tuple of str
        Ids of what might screen if its height and solidity were stated.
    spots : Spots
        Where neighbours hear it.
    """

    screens: Faces
    mirrors: Faces
    uncredited: tuple[str, ...]
    spots: Spots


def resolve_acoustics(plan: Plan) -> Acoustics:
    """Return what sound meets on a plan."""
    barriers = [one for one in plan.surroundings if isinstance(one, Barrier) and _may_be_solid(one)]
    buildings = [one for one in plan.buildings if one.kind not in _OPEN_KINDS]
    known = [one for one in barriers if one.height_m is not None and one.solidity == 1.0]
    tall = [one for one in buildings if one.eave_height_m is not None]
    stated = {*(one.id for one in known), *(one.id for one in tall)}
    things: tuple[Barrier | Building, ...] = (*barriers, *buildings)
    return Acoustics(
        screens=_faces(known, tall),
        mirrors=_faces(barriers, buildings),
        uncredited=tuple(one.id for one in things if one.id not in stated),
        spots=_spots(plan),
    )


def _may_be_solid(barrier: Barrier) -> bool:
    return barrier.kind != "hedge" and (barrier.solidity is None or barrier.solidity == 1.0)


def _faces(barriers: list[Barrier], buildings: list[Building]) -> Faces:
    pieces = [
        (a, b, one)
        for one in barriers
        for a, b in zip(one.path, one.path[1:], strict=False)
        if a != b
    ]
    return Faces(
        wall_ends=as_segments([(a, b) for a, b, _ in pieces]),
        wall_heights_m=np.array([_height_m(one.height_m) for *_, one in pieces]),
        rings=tuple(np.array(one.outline, dtype=np.float64) for one in buildings),
        ring_heights_m=np.array([_height_m(one.eave_height_m) for one in buildings]),
        owners=(*(one.id for *_, one in pieces), *(one.id for one in buildings)),
    )


def _height_m(stated: float | None) -> float:
    # Only mirrors may lack a height, and any wall higher than a fence rail mirrors alike.
    return 2.0 if stated is None else stated


def _spots(plan: Plan) -> Spots:
    found = [*_windows(plan), *_walls_without_windows(plan)]
    return Spots(
        on_wall=as_points([one[0] for one in found]),
        outward=as_points([one[1] for one in found]),
        height_m=np.array([one[2] for one in found], dtype=np.float64),
        storey=np.array([one[3] for one in found], dtype=np.int64),
        subjects=tuple(one[4] for one in found),
        drawn=tuple(one[5] for one in found),
    )


_Spot = tuple[tuple[float, float], tuple[float, float], float, int, str, bool]


def _windows(plan: Plan) -> Iterator[_Spot]:
    by_id = {one.id: one for one in plan.buildings if one.owner == "neighbour"}
    for opening in plan.openings:
        building = by_id.get(opening.building)
        if building is None or opening.kind not in HEARD_KINDS:
            continue
        place = along_wall(building, opening.wall, opening.offset_m + opening.width_m / 2.0)
        normal = outward_normal(building, opening.wall)
        middle = _middle_m(opening)
        if middle is not None:
            storey = max(0, round((middle - _GROUND_M) / _STOREY_M))
            yield place, normal, middle, storey, opening.id, True
            continue
        for storey in range(building.storeys or _STOREYS_UNLESS_STATED):
            yield place, normal, float("nan"), storey, opening.id, True


# Middle of a ground-floor window, and from storey to storey.
_GROUND_M, _STOREY_M = 1.5, 2.5


def _middle_m(opening: Opening) -> float | None:
    if opening.head_m is not None:
        return (opening.head_m + (opening.sill_m or 0.0)) / 2.0
    return None


def _walls_without_windows(plan: Plan) -> Iterator[_Spot]:
    """Yield places along the walls of dwellings whose openings are not all drawn."""
    for building in plan.buildings:
        if building.owner != "neighbour" or building.kind != "dwelling":
            continue
        if building.openings_complete:
            continue
        for wall in range(len(building.outline)):
            yield from _along_wall(building, wall)


def _along_wall(building: Building, wall: int) -> Iterator[_Spot]:
    length = wall_length_m(building.outline, wall)
    count = max(1, int(np.ceil(length / _ALONG_WALL_M)))
    normal = outward_normal(building, wall)
    for step in range(count):
        place = along_wall(building, wall, (step + 0.5) * length / count)
        for storey in range(building.storeys or _STOREYS_UNLESS_STATED):
            yield place, normal, float("nan"), storey, building.id, False
