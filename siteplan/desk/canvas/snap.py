"""Helps the hand: round numbers, right angles, and lines with what is already drawn."""

import math
from dataclasses import dataclass

from siteplan.desk.canvas.shapes import XY
from siteplan.plan import Plan
from siteplan.units import M_PER_IN, System

_STEP_M = {"feet": 6 * M_PER_IN, "metres": 0.1}
_FINE_M = {"feet": M_PER_IN, "metres": 0.01}
_ANGLE_DEG = 6.0


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
