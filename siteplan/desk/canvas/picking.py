"""What lies under the pointer: a tree of the plan's shapes, asked in metres."""

import numpy as np
from shapely import Point, STRtree, box
from shapely.geometry.base import BaseGeometry

from siteplan.desk import things
from siteplan.desk.canvas.shapes import XY, shape
from siteplan.plan import Plan
from siteplan.plan.machine import Cord, Placement

# A finger's breadth around a thin thing still means that thing [px].
TOLERANCE_PX = 8.0


class Picker:
    """Finds things by place; made once per plan."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self._keys: list[str] = []
        shapes: list[BaseGeometry] = []
        self._rank: list[tuple[int, float]] = []
        for key in (things.LOT, *things.ids(plan)):
            part = things.get(plan, key)
            found = None if part is None else shape(plan, part)
            if part is not None and found is not None:
                self._keys.append(key)
                shapes.append(found)
                self._rank.append((_order(part), found.area))
        self._tree = STRtree(shapes)

    def at(self, point: XY, tolerance_m: float, selected: tuple[str, ...] = ()) -> str | None:
        """Return the key of the thing at a place: selected, then machine, then the smallest."""
        found = self._tree.query(Point(point), predicate="dwithin", distance=tolerance_m)
        best = min(
            found.tolist(),
            key=lambda index: (self._keys[index] not in selected, self._rank[index]),
            default=None,
        )
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
