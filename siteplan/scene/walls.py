"""Walls of a building by number."""

import math

from siteplan.plan.lot import Building
from siteplan.plan.rings import signed_area_m2


def outward_normal(building: Building, wall: int) -> tuple[float, float]:
    """Return the unit vector pointing out of a wall."""
    (ax, ay), (bx, by) = (
        building.outline[wall],
        building.outline[(wall + 1) % len(building.outline)],
    )
    length = math.hypot(bx - ax, by - ay)
    turn = 1.0 if signed_area_m2(building.outline) > 0 else -1.0
    return (turn * (by - ay) / length, -turn * (bx - ax) / length)


def along_wall(building: Building, wall: int, offset_m: float) -> tuple[float, float]:
    """Return the place on a wall so far from its first corner [m]."""
    (ax, ay), (bx, by) = (
        building.outline[wall],
        building.outline[(wall + 1) % len(building.outline)],
    )
    share = offset_m / math.hypot(bx - ax, by - ay)
    return ax + share * (bx - ax), ay + share * (by - ay)
