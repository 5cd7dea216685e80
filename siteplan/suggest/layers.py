"""The ground each rule bars for the middle of the machine, one layer for each rule."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely import Point, Polygon
from shapely.geometry.base import BaseGeometry

from siteplan.geometry.arrays import XY, FloatArray, ShapeArray
from siteplan.geometry.zones import keep_out_of_centre
from siteplan.rules.findings import Signal
from siteplan.suggest.bars import Bar
from siteplan.units import LENGTH_TOLERANCE_M

# Less than zones are drawn outward: a distance found by search is that near to its figure [m].
_HAIR_M = 1e-5


@dataclass(frozen=True, slots=True)
class Shape:
    """The machine with its middle at the origin, turned.

    Attributes
    ----------
    frame : Polygon
        What it covers.
    outlet_xy : tuple of float
        Where its exhaust leaves [m, m].
    any_way : bool
        Whether the frame covers the machine however it is turned, the outlet anywhere in it.
    """

    frame: Polygon
    outlet_xy: XY
    any_way: bool = False

    @property
    def outside_xy(self) -> XY | None:
        """The outlet, if it lies outside the frame."""
        out = self.frame.distance(Point(self.outlet_xy)) > LENGTH_TOLERANCE_M
        return self.outlet_xy if out else None

    @property
    def exhaust_frame(self) -> Polygon:
        """All places where the outlet may be: one, or the whole frame."""
        return self.frame if self.any_way else Polygon([self.outlet_xy] * 4)

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
    """Shapes and the distance to keep from each [m], by the whole machine or by its outlet."""

    shapes: ShapeArray
    distance_m: FloatArray
    from_outlet: bool = False

    def near(self, ground: BaseGeometry, machine: Shape) -> "Keep":
        """Return those that can bar any of the ground."""
        if not len(self.shapes):
            return self
        reach = self.distance_m * 1.001 + machine.radius_m
        close = shapely.distance(ground, self.shapes) <= reach
        return Keep(self.shapes[close], self.distance_m[close], self.from_outlet)

    def ground(self, machine: Shape) -> BaseGeometry:
        """Return where the machine's middle would be too near to any of them."""
        if not len(self.shapes):
            return Polygon()
        return shapely.union_all(list(self._parts(machine)))

    def _parts(self, machine: Shape) -> Iterator[BaseGeometry]:
        for distance in np.unique(self.distance_m).tolist():
            shapes = self.shapes[self.distance_m == distance]
            if self.from_outlet:
                yield keep_out_of_centre(shapes, distance, machine.exhaust_frame)
            else:
                yield keep_out_of_centre(shapes, distance, machine.frame, machine.outside_xy)


def keeps(found: Sequence[Bar], owner: Mapping[int, BaseGeometry]) -> tuple[Keep, Keep]:
    """Return what the machine and what its outlet must keep, as few shapes as will do.

    Each shape comes once, at the longest distance; openings whose whole building is kept from
    as far are left out, as is what the whole machine keeps where only its outlet must.
    """
    whole, outlet = (
        _longest(bar for bar in found if bar.from_outlet == from_outlet)
        for from_outlet in (False, True)
    )
    return _needed(whole, whole, owner), _needed(outlet, whole, owner, from_outlet=True)


_Longest = dict[int, tuple[BaseGeometry, float]]


def _longest(found: Iterable[Bar]) -> _Longest:
    longest: _Longest = {}
    for bar in found:
        for shape, distance in zip(bar.shapes, bar.distance_m.tolist(), strict=True):
            held = longest.get(id(shape))
            if held is None or held[1] < distance:
                longest[id(shape)] = (shape, distance)
    return longest


def _needed(
    some: _Longest,
    whole: _Longest,
    owner: Mapping[int, BaseGeometry],
    *,
    from_outlet: bool = False,
) -> Keep:
    kept: list[tuple[BaseGeometry, float]] = []
    for key, (shape, distance) in some.items():
        house = owner.get(key)
        covered = [] if house is None else [id(house)]
        covered += [key] if from_outlet else []
        if all(whole.get(one, (None, -1.0))[1] < distance - _HAIR_M for one in covered):
            kept.append((shape, distance))
    shapes = np.empty(len(kept), dtype=np.object_)
    shapes[:] = [shape for shape, _ in kept]
    return Keep(shapes, np.array([distance for _, distance in kept]), from_outlet)
