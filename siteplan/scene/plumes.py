"""The way of exhaust through the air: round the buildings, or over the lowest roof.

The stretched string of the handbooks: the shortest way from the outlet to the nearest edge of an
opening that goes through no building. Fences, hedges and open-sided roofs hold nothing back here,
and where a building is not known well enough it is left out, which shortens the way.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from siteplan.geometry.arrays import FloatArray, IntArray, ShapeArray
from siteplan.geometry.clearance import distances
from siteplan.geometry.routes import NoWayRoundError, Route, RouteGraph, RouteTree
from siteplan.plan.lot import Building, Opening

XY = tuple[float, float]

_OPEN_SIDED = frozenset({"carport", "covered-porch"})
# Exhaust is followed round the buildings near the lot, as many as have this many corners in all;
# a building left out holds nothing back.
_MOST_CORNERS = 200
# Heights where the plan does not say, on the side that makes the way over a roof short: figures of
# this program's own.
UNKNOWN_EAVE_M = 2.1
UNKNOWN_HEAD_M = 2.0
UNKNOWN_EXHAUST_M = 0.6


@dataclass(frozen=True, eq=False)
class Airways:
    """The buildings that exhaust goes round.

    Attributes
    ----------
    solids : ShapeArray
        Their walls.
    lowest_eave_m : float
        Eaves of the lowest of them [m]; 0 if there is none.
    faces_m : FloatArray
        Shorter and longer side of each building of the plan, shape (buildings, 2) [m]; nan for
        one that is open at its sides.
    eaves_m : FloatArray
        Eave height of each building of the plan [m].
    """

    solids: ShapeArray
    lowest_eave_m: float
    faces_m: FloatArray
    eaves_m: FloatArray

    @cached_property
    def graph(self) -> RouteGraph:
        """Ways round them; a review asks for faces only and does not pay for it."""
        return RouteGraph.build(self.solids)


def resolve_airways(
    buildings: Sequence[Building], walls: ShapeArray, lot: Polygon | None
) -> Airways:
    """Return the ways of exhaust round the buildings of a plan."""
    eaves = np.array([eave_m(one) for one in buildings], dtype=np.float64)
    closed = np.array([one.kind not in _OPEN_SIDED for one in buildings], dtype=bool)
    kept = _nearest(buildings, walls, np.flatnonzero(closed), lot)
    faces = np.full((len(buildings), 2), np.nan)
    if closed.any():
        faces[closed] = _sides_m(walls[closed])
    lowest = float(eaves[kept].min()) if len(kept) else 0.0
    return Airways(walls[kept], lowest, faces, eaves)


def eave_m(building: Building) -> float:
    """Return a building's eave height, or a low one if it is not stated [m]."""
    return UNKNOWN_EAVE_M if building.eave_height_m is None else building.eave_height_m


def _nearest(
    buildings: Sequence[Building], walls: ShapeArray, closed: IntArray, lot: Polygon | None
) -> IntArray:
    centre: BaseGeometry = shapely.MultiPolygon(list(walls)).centroid if lot is None else lot
    away = shapely.distance(walls[closed], centre)
    order = closed[np.argsort(away, kind="stable")]
    corners = np.cumsum([len(buildings[index].outline) for index in order.tolist()])
    return order[corners <= _MOST_CORNERS]


def _sides_m(walls: ShapeArray) -> FloatArray:
    boxes = shapely.minimum_rotated_rectangle(walls)
    corners = np.stack([shapely.get_coordinates(one)[:3] for one in boxes])
    sides = np.hypot(*np.moveaxis(np.diff(corners, axis=1), -1, 0))
    return np.sort(sides, axis=1)


class Outlet(NamedTuple):
    """Where exhaust leaves, and how high [m]."""

    at: XY
    height_m: float


def outlet_height_m(stated_m: float | None) -> float:
    """Return how high exhaust leaves [m]; the plan need not say."""
    return UNKNOWN_EXHAUST_M if stated_m is None else stated_m


def path_lengths_m(
    airways: Airways, outlet: Outlet, openings: Sequence[Opening], segments: ShapeArray
) -> FloatArray:
    """Return the shortest way through the air to each opening [m], shape (openings,).

    It goes round the buildings or over the lowest roof, whichever is shorter; straight where the
    outlet itself lies within a building.
    """
    if not len(openings):
        return np.empty(0)
    straight = straight_lengths_m(outlet, segments)
    tree = _tree(airways, outlet)
    if tree is None:
        return straight
    places = _edges(outlet.at, segments)
    around = tree.lengths_m(places.reshape(-1, 2)).reshape(len(openings), -1).min(axis=1)
    return np.asarray(np.minimum(around, _over_roof_m(airways, outlet, openings, straight)))


def straight_lengths_m(outlet: Outlet, segments: ShapeArray) -> FloatArray:
    """Return the straight line from the outlet to the nearest edge of each opening [m]."""
    return distances(shapely.Point(outlet.at), segments)


def path_to(airways: Airways, outlet: Outlet, segment: BaseGeometry) -> Route | None:
    """Return the way round the buildings to the nearest edge of an opening; None if none."""
    tree = _tree(airways, outlet)
    if tree is None:
        return None
    places = _edges(outlet.at, np.array([segment], dtype=np.object_))[0]
    nearest = places[int(np.argmin(tree.lengths_m(places)))]
    try:
        return tree.to((float(nearest[0]), float(nearest[1])))
    except NoWayRoundError:
        return None


def _tree(airways: Airways, outlet: Outlet) -> RouteTree | None:
    try:
        return airways.graph.tree(outlet.at)
    except NoWayRoundError:
        return None


def _edges(at: XY, segments: ShapeArray) -> FloatArray:
    """Return both ends, the middle and the nearest point of each opening, shape (n, 4, 2)."""
    ends = shapely.get_coordinates(segments).reshape(-1, 2, 2)
    start, along = ends[:, 0], ends[:, 1] - ends[:, 0]
    share = ((np.asarray(at) - start) * along).sum(axis=1) / (along**2).sum(axis=1)
    foot = start + along * np.clip(share, 0.0, 1.0)[:, None]
    return np.stack([ends[:, 0], ends[:, 1], ends.mean(axis=1), foot], axis=1)


def _over_roof_m(
    airways: Airways, outlet: Outlet, openings: Sequence[Opening], straight_m: FloatArray
) -> FloatArray:
    """Return the shortest way that climbs to the lowest eaves and comes down again [m].

    Mirrored at the eaves, such a way is at least as long as the straight line.
    """
    eave = airways.lowest_eave_m
    heads = np.array(
        [UNKNOWN_HEAD_M if one.head_m is None else one.head_m for one in openings],
        dtype=np.float64,
    )
    climb = max(eave - outlet.height_m, 0.0) + np.maximum(eave - heads, 0.0)
    return np.asarray(np.hypot(straight_m, climb))


def bearings_deg(at: XY, segments: ShapeArray, north_deg: float) -> FloatArray:
    """Return the direction to the middle of each opening, clockwise from true north [°].

    `north_deg` is where north lies on the drawing, clockwise from its top.
    """
    middles = shapely.get_coordinates(segments).reshape(-1, 2, 2).mean(axis=1)
    across, up = (middles - np.asarray(at)).T
    return np.asarray((np.degrees(np.arctan2(across, up)) - north_deg) % 360.0)
