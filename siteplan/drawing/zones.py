"""Areas on the ground as marks: where the machine must not stand, and where it may."""

from collections.abc import Iterator

from shapely.geometry.base import BaseGeometry

from siteplan.drawing.marks import Fill, Mark, Marks, Role
from siteplan.drawing.walls import polygons, rings_of


def zone_marks(shape: BaseGeometry, role: Role) -> Marks:
    """Return an area as fills, holes kept; lines and points of a mixed shape are left out.

    Parameters
    ----------
    shape : geometry
        In metres. A keep-out zone must have been drawn outward already, as
        `siteplan.geometry.zones` does: this changes nothing about it.
    role : str
        "keep-out" or "standing-zone".
    """
    return tuple(_fills(shape, role))


def _fills(shape: BaseGeometry, role: Role) -> Iterator[Mark]:
    for piece in polygons(shape):
        yield Fill(rings_of(piece), role)
