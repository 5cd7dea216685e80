"""Helps the hand: round numbers, right angles, and lines with what is already drawn."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from siteplan.desk.canvas.shapes import XY
from siteplan.plan import Plan
from siteplan.units import M_PER_IN, System

_STEP_M = {"feet": 6 * M_PER_IN, "metres": 0.1}
_FINE_M = {"feet": M_PER_IN, "metres": 0.01}
_ANGLE_DEG = 6.0
# Walls within half a degree count as parallel, within one as at right angles.
_PARALLEL_SINE, _SQUARE_SINE = math.sin(math.radians(0.5)), math.sin(math.radians(1.0))
# Walls farther apart than this do not line up by themselves [m].
_IN_SIGHT_M = 6.0


@dataclass(frozen=True, slots=True)
class Snapped:
    """A place after help, and the guide lines that explain it."""

    at: XY
    guides: tuple[tuple[XY, XY], ...] = ()


def fine(value_m: float, system: System) -> float:
    """Return a coordinate [m] on a whole inch or centimetre."""
    step = _FINE_M[system]
    return round(value_m / step) * step


def place(point: XY, system: System) -> XY:
    """Return a place on whole inches or centimetres."""
    return (fine(point[0], system), fine(point[1], system))


def corner(
    point: XY, before: tuple[XY, ...], plan: Plan, reach_m: float, system: System
) -> Snapped:
    """Return where the next corner of an outline goes.

    Tried in turn: an existing corner, lining up with existing corners, a right angle to the
    last side with a round length, whole steps.
    """
    known = known_corners(plan) + before
    if (near := nearest(point, known, reach_m)) is not None:
        return Snapped(near)
    if before:
        point, squared = _squared(point, before, system)
    else:
        step = _STEP_M[system]
        point = (round(point[0] / step) * step, round(point[1] / step) * step)
        squared = False
    return _aligned(point, known, before, reach_m, squared=squared)


def known_corners(plan: Plan) -> tuple[XY, ...]:
    """Return the corners of the lot and the buildings."""
    found = plan.lot.outline if plan.lot else ()
    for building in plan.buildings:
        found += building.outline
    return found


def nearest(point: XY, known: tuple[XY, ...], reach_m: float) -> XY | None:
    """Return the nearest of the known points within reach, or None."""
    near = min(known, key=lambda one: math.dist(one, point), default=None)
    return near if near is not None and math.dist(near, point) <= reach_m else None


def _squared(point: XY, before: tuple[XY, ...], system: System) -> tuple[XY, bool]:
    last = before[-1]
    base = 0.0
    if len(before) > 1:
        base = math.atan2(last[1] - before[-2][1], last[0] - before[-2][0])
    angle = math.atan2(point[1] - last[1], point[0] - last[0])
    quarter = base + round((angle - base) / (math.pi / 2)) * (math.pi / 2)
    near = abs(math.remainder(angle - quarter, math.tau)) <= math.radians(_ANGLE_DEG)
    used = quarter if near else angle
    step = _STEP_M[system]
    long = round(math.dist(last, point) / step) * step
    return (last[0] + long * math.cos(used), last[1] + long * math.sin(used)), near


def _aligned(
    point: XY, known: tuple[XY, ...], before: tuple[XY, ...], reach_m: float, *, squared: bool
) -> Snapped:
    x, y = point
    guides: list[tuple[XY, XY]] = []
    # On a squared side only the length may still give way, so that the angle stays true.
    free_x = not squared or abs(y - before[-1][1]) < 1e-6
    free_y = not squared or abs(x - before[-1][0]) < 1e-6
    in_x = min(known, key=lambda one: abs(one[0] - x), default=None)
    in_y = min(known, key=lambda one: abs(one[1] - y), default=None)
    if free_x and in_x is not None and abs(in_x[0] - x) <= reach_m:
        x = in_x[0]
        guides.append((in_x, (x, y)))
    if free_y and in_y is not None and abs(in_y[1] - y) <= reach_m:
        y = in_y[1]
        guides.append((in_y, (x, y)))
    return Snapped((x, y), tuple(guides))


@dataclass(frozen=True, slots=True)
class _Edge:
    """A wall: its ends, and the unit vector along it."""

    start: XY
    end: XY
    along: XY

    @property
    def across(self) -> XY:
        """The unit vector at right angles to it."""
        return (-self.along[1], self.along[0])


def wall_step(plan: Plan, moving: Iterable[str], step: XY, reach_m: float) -> Snapped:
    """Return the step of moved buildings that brings a wall against, or in line with, another's.

    Parameters
    ----------
    plan : Plan
        As it was before the move.
    moving : iterable of str
        Ids of the buildings that move.
    step : tuple of float
        The step of the hand [m].
    reach_m : float
        How far the step may be bent to bring a wall into place [m].

    Returns
    -------
    Snapped
        The step, and the walls it was bent for.
    """
    keys = set(moving)
    own = [edge for one in plan.buildings if one.id in keys for edge in _edges(one.outline)]
    others = [edge for one in plan.buildings if one.id not in keys for edge in _edges(one.outline)]
    pairs = [(mine, its) for mine in own for its in others if _are_parallel(mine, its)]
    guides: list[tuple[XY, XY]] = []
    used: XY | None = None
    for _ in range(2):
        found = min(
            ((abs(_gap(pair, step)), pair) for pair in pairs if _can(pair, step, reach_m, used)),
            key=lambda one: one[0],
            default=None,
        )
        if found is None:
            break
        mine, its = found[1]
        used, gap = mine.across, _gap(found[1], step)
        step = (step[0] + used[0] * gap, step[1] + used[1] * gap)
        guides.append((its.start, its.end))
    return Snapped(step, tuple(guides))


def _edges(outline: tuple[XY, ...]) -> list[_Edge]:
    found = []
    for index, start in enumerate(outline):
        end = outline[(index + 1) % len(outline)]
        long = math.dist(start, end)
        found.append(_Edge(start, end, ((end[0] - start[0]) / long, (end[1] - start[1]) / long)))
    return found


def _are_parallel(one: _Edge, other: _Edge) -> bool:
    turned = one.along[0] * other.along[1] - one.along[1] * other.along[0]
    return abs(turned) < _PARALLEL_SINE


def _gap(pair: tuple[_Edge, _Edge], step: XY) -> float:
    """Return how far a moved wall must still go, across itself, to the other's line [m]."""
    mine, its = pair
    away = (its.start[0] - mine.start[0] - step[0], its.start[1] - mine.start[1] - step[1])
    return away[0] * mine.across[0] + away[1] * mine.across[1]


def _can(pair: tuple[_Edge, _Edge], step: XY, reach_m: float, used: XY | None) -> bool:
    mine, its = pair
    if used is not None and abs(used[0] * mine.across[0] + used[1] * mine.across[1]) > _SQUARE_SINE:
        # What is in place across one wall stays so only if the second bend runs along it.
        return False
    return abs(_gap(pair, step)) <= reach_m and _apart_along(mine, its, step) <= _IN_SIGHT_M


def _apart_along(mine: _Edge, its: _Edge, step: XY) -> float:
    """Return how far a moved wall and another lie apart along their direction [m]."""
    ways = [
        sorted(x * mine.along[0] + y * mine.along[1] for x, y in ends)
        for ends in (
            [(x + step[0], y + step[1]) for x, y in (mine.start, mine.end)],
            [its.start, its.end],
        )
    ]
    (low, high), (its_low, its_high) = ways
    return max(0.0, its_low - high, low - its_high)
