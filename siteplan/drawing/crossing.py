"""What a text on a drawing would cover: other texts and signs, and the lines that matter."""

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from siteplan.drawing.marks import Dimension, Fill, Mark, Point, Stroke
from siteplan.geometry.arrays import FloatArray

# Lines that are read or measured by, and that a name should not hide; edges of paths and
# crowns may run under a name.
_KEPT_CLEAR = ("lot-line", "fence", "garden-wall", "cord", "distance-", "setout-line",
               "exhaust-", "opening-swing", "service-drop")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Box:
    """A turned rectangle on the sheet: middle, half sizes [mm] and turn [rad]."""

    x: float
    y: float
    half_width: float
    half_height: float
    turn: float = 0.0

    def meets(self, other: "Box") -> bool:
        """Tell whether the two rectangles overlap (separating axes)."""
        # Most are too far apart to meet at any turn, and this is asked under a dragging hand.
        radii = self.half_width + self.half_height + other.half_width + other.half_height
        if abs(other.x - self.x) > radii or abs(other.y - self.y) > radii:
            return False
        for axis in (self.turn, self.turn + math.pi / 2, other.turn, other.turn + math.pi / 2):
            ux, uy = math.cos(axis), math.sin(axis)
            apart = abs((other.x - self.x) * ux + (other.y - self.y) * uy)
            if apart >= self.reach(axis) + other.reach(axis):
                return False
        return True

    def reach(self, axis: float) -> float:
        """Return half the rectangle's extent along a direction [rad]."""
        turn = axis - self.turn
        return abs(math.cos(turn)) * self.half_width + abs(math.sin(turn)) * self.half_height


def segments_mm(marks: Iterable[Mark], mm_per_m: float) -> FloatArray | None:
    """Return the lines that names keep clear of, as ends x, y, x, y [mm], shape (n, 4)."""
    found = [(*a, *b) for mark in marks for a, b in _lines(mark)]
    return np.array(found) * mm_per_m if found else None


def _lines(mark: Mark) -> Iterator[tuple[Point, Point]]:
    if isinstance(mark, Dimension):
        yield mark.start, mark.end
    elif isinstance(mark, Stroke) and mark.role.startswith(_KEPT_CLEAR):
        points = (*mark.points, mark.points[0]) if mark.closed else mark.points
        yield from itertools.pairwise(points)
    elif isinstance(mark, Fill) and "-wall" in mark.role:
        ring = mark.rings[0]
        yield from zip(ring, (*ring[1:], ring[0]), strict=True)


def crossed(boxes: Sequence[Box], lines: FloatArray | None) -> FloatArray:
    """Return how many of the lines touch each rectangle, by separating axes; shape (boxes,)."""
    if lines is None:
        return np.zeros(len(boxes))
    flat = np.array([(one.x, one.y, one.half_width, one.half_height, one.turn) for one in boxes])
    x, y, wide, high, turn = flat.T[:, :, None]
    cos, sin = np.cos(turn), np.sin(turn)
    middle_x, middle_y = (lines[:, 0] + lines[:, 2]) / 2 - x, (lines[:, 1] + lines[:, 3]) / 2 - y
    half_x, half_y = (lines[:, 2] - lines[:, 0]) / 2, (lines[:, 3] - lines[:, 1]) / 2
    # In the rectangle's own directions.
    u, v = middle_x * cos + middle_y * sin, middle_y * cos - middle_x * sin
    du, dv = half_x * cos + half_y * sin, half_y * cos - half_x * sin
    meets = (
        (np.abs(u) <= wide + np.abs(du))
        & (np.abs(v) <= high + np.abs(dv))
        & (np.abs(du * v - dv * u) <= high * np.abs(du) + wide * np.abs(dv))
    )
    return np.asarray(meets.sum(axis=1), dtype=np.float64)
