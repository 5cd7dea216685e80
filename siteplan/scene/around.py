"""What stands around the machine, as shapes: surroundings and fixtures, sorted by kind."""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from shapely import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from siteplan.geometry.arrays import XY, BoolArray, FloatArray, IntArray, ShapeArray
from siteplan.plan.around import (
    Barrier,
    Fixture,
    Ground,
    OutdoorUnit,
    ServiceDrop,
    Shelter,
    Surrounding,
    Tree,
)
from siteplan.plan.document import Plan
from siteplan.plan.lot import Building, Opening
from siteplan.scene.walls import along_wall

Thing = Building | Opening | Surrounding | Fixture


def shapes(items: Sequence[object]) -> ShapeArray:
    """Return a flat object array of these shapes."""
    array = np.empty(len(items), dtype=np.object_)
    array[:] = items
    return array


class Near(NamedTuple):
    """Some things, their shapes, and the machine's distance to each.

    Attributes
    ----------
    things : sequence
        The things themselves.
    shapes : ShapeArray
        Where each is.
    distance_m : FloatArray
        Distance from the machine to each [m]; nan without a machine.
    """

    things: Sequence[Thing]
    shapes: ShapeArray
    distance_m: FloatArray

    def joined(self, other: "Near") -> "Near":
        """Return these things and the other ones."""
        return Near(
            [*self.things, *other.things],
            np.concatenate([self.shapes, other.shapes]),
            np.concatenate([self.distance_m, other.distance_m]),
        )

    def only(self, counts: BoolArray) -> "Near":
        """Return these things, with those that do not count infinitely far away."""
        return self._replace(distance_m=np.where(counts, self.distance_m, np.inf))

    def pick(self, chosen: Sequence[int] | IntArray) -> "Near":
        """Return the things at these places only."""
        index = np.asarray(chosen, dtype=np.intp)
        return Near(
            [self.things[place] for place in index.tolist()],
            self.shapes[index],
            self.distance_m[index],
        )


class Around(NamedTuple):
    """Surroundings and fixtures as shapes.

    Attributes
    ----------
    things : tuple
        Surroundings first, then fixtures, in the order of the plan.
    shapes : ShapeArray
        Outline, path or place of each; a tree by its trunk, an outdoor unit by its middle.
    beyond_m : FloatArray
        How far each reaches beyond that shape [m], at most.
    of_kind : dict of IntArray
        Places in `things` of each kind.
    """

    things: tuple[Surrounding | Fixture, ...]
    shapes: ShapeArray
    beyond_m: FloatArray
    of_kind: dict[str, IntArray]

    def places(self, *kinds: str) -> IntArray:
        """Return the places of all things of these kinds."""
        found = [self.of_kind[kind] for kind in kinds if kind in self.of_kind]
        return np.concatenate(found) if found else np.empty(0, dtype=np.int64)


def resolve_around(plan: Plan) -> Around:
    """Return a plan's surroundings and fixtures as shapes."""
    things = (*plan.surroundings, *plan.fixtures)
    of_kind: dict[str, list[int]] = {}
    for index, thing in enumerate(things):
        of_kind.setdefault(thing.kind, []).append(index)
    return Around(
        things,
        shapes([shape_of(one, plan) for one in things]),
        np.array([_beyond_m(one) for one in things], dtype=np.float64),
        {kind: np.array(places, dtype=np.int64) for kind, places in of_kind.items()},
    )


def fixture_xy(fixture: Fixture, plan: Plan) -> XY:
    """Return where a fixture is: on its wall if it hangs on one, else where it was put [m]."""
    building = None if fixture.on is None else plan.building(fixture.on.building)
    if fixture.on is None or building is None:
        return fixture.at
    return along_wall(building, fixture.on.wall, fixture.on.offset_m)


def shape_of(thing: Surrounding | Fixture, plan: Plan) -> BaseGeometry:
    """Return where a surrounding or fixture of a plan is."""
    if isinstance(thing, Barrier):
        return LineString(thing.path)
    if isinstance(thing, Ground | Shelter):
        return Polygon(thing.outline)
    if isinstance(thing, ServiceDrop):
        return LineString([thing.at, thing.to])
    return Point(thing.at if isinstance(thing, Tree) else fixture_xy(thing, plan))


def _beyond_m(thing: Surrounding | Fixture) -> float:
    # Which way an outdoor unit is turned is not stated: its farthest corner is taken.
    return thing.width_m * math.sqrt(0.5) if isinstance(thing, OutdoorUnit) else 0.0
