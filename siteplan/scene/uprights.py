"""Everything that stands like a wall, piece by piece: building walls, fences, walls, hedges."""

from typing import NamedTuple

import numpy as np

from siteplan.geometry.arrays import XY, BoolArray, FloatArray, IntArray
from siteplan.plan.around import Barrier
from siteplan.plan.document import Plan
from siteplan.plan.lot import Building
from siteplan.plan.rings import signed_area_m2


class Uprights(NamedTuple):
    """Pieces of wall.

    Attributes
    ----------
    things : tuple
        Buildings and barriers.
    segments : FloatArray
        Both ends of each piece [m], shape (n, 2, 2); a building lies to the left of its own.
    owner : IntArray
        Place in `things` of each piece, shape (n,).
    height_m : FloatArray
        Height of each [m], nan if not stated.
    solidity : FloatArray
        Solid share of each, 0 to 1, nan if not stated; 1 for a building.
    built : BoolArray
        Whether it is a building's wall.
    storeys : FloatArray
        Storeys of the building, nan if not stated or not a building.
    """

    things: tuple[Building | Barrier, ...]
    segments: FloatArray
    owner: IntArray
    height_m: FloatArray
    solidity: FloatArray
    built: BoolArray
    storeys: FloatArray

    def counting(self, height_m: float, free_share: float) -> BoolArray:
        """Tell which pieces are as high as the machine [m] and solid enough to count as walls.

        A height or solidity that is not stated counts: walls are then taken to be there.
        """
        # A building is a wall whatever its eaves: they only tell from how far it encloses.
        low = (self.height_m < height_m) & ~self.built
        airy = self.solidity <= 1.0 - free_share
        counts: BoolArray = ~(low | airy)
        return counts

    def turned_away(self, place: XY) -> BoolArray:
        """Tell which pieces are building walls that turn their inner side to a place."""
        (ax, ay), (bx, by) = self.segments[:, 0].T, self.segments[:, 1].T
        left = (bx - ax) * (place[1] - ay) - (by - ay) * (place[0] - ax)
        away: BoolArray = self.built & (left >= 0.0)
        return away


def resolve_uprights(plan: Plan) -> Uprights:
    """Return every piece of wall on the plan."""
    barriers = [one for one in plan.surroundings if isinstance(one, Barrier)]
    things: tuple[Building | Barrier, ...] = (*plan.buildings, *barriers)
    pieces = [_pieces(one) for one in things]
    owner = np.repeat(np.arange(len(things)), [len(one) for one in pieces])
    return Uprights(
        things=things,
        segments=np.concatenate(pieces) if pieces else np.empty((0, 2, 2)),
        owner=owner,
        height_m=_numbers([_height_m(one) for one in things])[owner],
        solidity=_numbers([_solidity(one) for one in things])[owner],
        built=np.array([isinstance(one, Building) for one in things], dtype=bool)[owner],
        storeys=_numbers([getattr(one, "storeys", None) for one in things])[owner],
    )


def _numbers(values: list[float | None]) -> FloatArray:
    return np.array([np.nan if one is None else one for one in values], dtype=np.float64)


def _pieces(thing: Building | Barrier) -> FloatArray:
    if isinstance(thing, Barrier):
        line = np.asarray(thing.path, dtype=np.float64)
        return np.stack([line[:-1], line[1:]], axis=1)
    ring = np.asarray(thing.outline, dtype=np.float64)
    if signed_area_m2(thing.outline) < 0.0:
        ring = ring[::-1]
    return np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)


def _height_m(thing: Building | Barrier) -> float | None:
    return thing.height_m if isinstance(thing, Barrier) else thing.eave_height_m


def _solidity(thing: Building | Barrier) -> float | None:
    return thing.solidity if isinstance(thing, Barrier) else 1.0
