"""What lies under the pointer: a tree of the plan's shapes, asked in metres."""

from collections.abc import Collection

import numpy as np
from shapely import Point, STRtree, box
from shapely.geometry.base import BaseGeometry

from siteplan.desk import things
from siteplan.desk.canvas.shapes import XY, shape
from siteplan.plan import Plan
from siteplan.plan.machine import Cord, Placement

# A finger's breadth around a thin thing still means that thing [px].
TOLERANCE_PX = 8.0
# Things under this size are told apart by how near they are, not by their size.
_SMALL_M2 = 1.0


class Picker:
    """Finds things by place; made once per plan."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self._keys: list[str] = []
        self._shapes: list[BaseGeometry] = []
        self._rank: list[tuple[int, float]] = []
        for key in (things.LOT, *things.ids(plan)):
            part = things.get(plan, key)
            found = None if part is None else shape(plan, part)
            if part is not None and found is not None:
                self._keys.append(key)
                self._shapes.append(found)
                self._rank.append((_order(part), found.area))
        self._tree = STRtree(self._shapes)

    def at(
        self,
        point: XY,
        tolerance_m: float,
        selected: tuple[str, ...] = (),
        among: Collection[str] | None = None,
    ) -> str | None:
        """Return the key of the thing at a place, or None.

        What is selected comes first, then the machine, then small things by nearness, then
        large ones by size.
        """
        spot = Point(point)
        found = self._tree.query(spot, predicate="dwithin", distance=tolerance_m)

        def rank(index: int) -> tuple[bool, int, float, float]:
            order, area = self._rank[index]
            away = self._shapes[index].distance(spot)
            return (self._keys[index] not in selected, order, max(area, _SMALL_M2), away)

        keys = [index for index in found.tolist() if among is None or self._keys[index] in among]
        best = min(keys, key=rank, default=None)
        return None if best is None else self._keys[best]

    def inside(self, one: XY, other: XY) -> list[str]:
        """Return the keys of the things wholly inside a rectangle, the lot apart."""
        left, right = sorted((one[0], other[0]))
        low, high = sorted((one[1], other[1]))
        found = np.sort(self._tree.query(box(left, low, right, high), predicate="contains"))
        return [self._keys[index] for index in found if self._keys[index] != things.LOT]


def _order(part: object) -> int:
    if isinstance(part, Placement):
        return 0
    return 2 if isinstance(part, Cord) else 1
