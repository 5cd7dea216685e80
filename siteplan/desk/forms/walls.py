"""Names of a building's walls: which side they face, and how long they are."""

from siteplan.desk.text import length, tr
from siteplan.plan.lot import Building
from siteplan.plan.rings import wall_length_m
from siteplan.scene.walls import outward_normal


def wall_options(building: Building) -> list[tuple[object, str]]:
    """Return each wall's index with its name."""
    return [(index, wall_name(building, index)) for index in range(len(building.outline))]


def wall_name(building: Building, wall: int) -> str:
    """Return what a wall is called: the side of the drawing it faces, and its length."""
    side = _side(*outward_normal(building, wall))
    return tr("{side}, {length}", side=side, length=length(wall_length_m(building.outline, wall)))


def _side(out_x: float, out_y: float) -> str:
    if abs(out_x) >= abs(out_y):
        return tr("Right side") if out_x > 0 else tr("Left side")
    return tr("Upper side") if out_y > 0 else tr("Lower side")
