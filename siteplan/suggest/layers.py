"""The ground each rule bars for the middle of the machine, one layer for each rule."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely import Point, Polygon
from shapely.geometry.base import BaseGeometry

from siteplan.geometry.arrays import XY, FloatArray, ShapeArray
from siteplan.geometry.zones import keep_out_of_centre
from siteplan.rules.findings import Signal
from siteplan.units import LENGTH_TOLERANCE_M


@dataclass(frozen=True, slots=True)
class Shape:
    """The machine with its middle at the origin, turned.

    Attributes
    ----------
    frame : Polygon
        What it covers.
    outlet_xy : tuple of float
        Where its exhaust leaves [m, m].
    """

    frame: Polygon
    outlet_xy: XY

    @property
    def outside_xy(self) -> XY | None:
        """The outlet, if it lies outside the frame."""
        out = self.frame.distance(Point(self.outlet_xy)) > LENGTH_TOLERANCE_M
        return self.outlet_xy if out else None

    @property
    def radius_m(self) -> float:
        """Farthest part from the middle [m]."""
        corners = shapely.get_coordinates(self.frame)
        return float(max(np.hypot(*corners.T).max(), np.hypot(*self.outlet_xy)))


@dataclass(frozen=True)
class Layer:
    """Ground that one rule bars at one signal word.

    Attributes
    ----------
    rule : str
        The rule's id.
    signal : str or None
        What it says there; None where it cannot be judged for want of data.
    subjects : tuple of str
        Ids of the things that bar it.
    draw : callable
        Draws the shape; called once.
    """

    rule: str
    signal: Signal | None
    subjects: tuple[str, ...]
    draw: Callable[[], BaseGeometry]

    @cached_property
    def shape(self) -> BaseGeometry:
        """Where the middle of the machine must not stand; errs outward [m]."""
        return self.draw()


@dataclass(frozen=True, slots=True, eq=False)
class Keep:
    """Shapes and the distance to keep from each [m]."""

    shapes: ShapeArray
    distance_m: FloatArray

    def near(self, ground: BaseGeometry, machine: Shape) -> "Keep":
        """Return those that can bar any of the ground."""
        reach = self.distance_m * 1.001 + machine.radius_m
        close = shapely.distance(ground, self.shapes) <= reach
        return Keep(self.shapes[close], self.distance_m[close])

    def ground(self, machine: Shape) -> BaseGeometry:
        """Return where the machine's middle would be too near to any of them."""
        return shapely.union_all(list(self._parts(machine)))

    def _parts(self, machine: Shape) -> Iterator[BaseGeometry]:
        for distance in np.unique(self.distance_m).tolist():
            shapes = self.shapes[self.distance_m == distance]
            yield keep_out_of_centre(shapes, distance, machine.frame, machine.outside_xy)


def joined(keeps: Iterable[Keep]) -> Keep:
    """Return all together, each shape once, at the longest distance asked for it."""
    longest: dict[int, tuple[BaseGeometry, float]] = {}
    for keep in keeps:
        for shape, distance in zip(keep.shapes, keep.distance_m.tolist(), strict=True):
            held = longest.get(id(shape))
            if held is None or held[1] < distance:
                longest[id(shape)] = (shape, distance)
    shapes = np.empty(len(longest), dtype=np.object_)
    shapes[:] = [shape for shape, _ in longest.values()]
    return Keep(shapes, np.array([distance for _, distance in longest.values()]))


def without_covered(keep: Keep, owner: dict[int, BaseGeometry]) -> Keep:
    """Leave out the openings whose whole building is kept from at least as far."""
    distance = defaultdict(
        float, {id(s): d for s, d in zip(keep.shapes, keep.distance_m, strict=True)}
    )
    needed = [
        id(shape) not in owner or distance[id(owner[id(shape)])] < distance[id(shape)]
        for shape in keep.shapes
    ]
    chosen = np.array(needed, dtype=bool)
    return Keep(keep.shapes[chosen], keep.distance_m[chosen])
