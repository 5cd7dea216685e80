"""Putting things where tapes and deeds say: edits of a plan from measured distances."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from siteplan.geometry.arrays import XY
from siteplan.geometry.survey import Leg as Bearing
from siteplan.geometry.survey import Traverse, azimuth_deg, balanced, traverse
from siteplan.geometry.ties import Fix, place_from_tapes
from siteplan.plan.document import Plan
from siteplan.plan.edits import changed, put, stand, with_fields
from siteplan.plan.errors import EditError
from siteplan.plan.lot import Building, Leg, Lot, Opening
from siteplan.plan.rings import wall_length_m
from siteplan.rules.common import accuracy_m


@dataclass(frozen=True, slots=True)
class Found:
    """A place found by tapes, and the plan with the thing put there.

    Attributes
    ----------
    plan : Plan
        With the thing at the place that fits best.
    fix : Fix
        Every place that fits, and by how much the tapes disagree [m].
    """

    plan: Plan
    fix: Fix


def stand_by_tapes(plan: Plan, corners: Sequence[XY], tapes_m: Sequence[float]) -> Found:
    """Return the plan with the machine's middle where tapes from corners meet.

    Where two tapes meet on either side, the place nearer to where it stood is taken.

    Raises
    ------
    TapeError, OutOfRangeError
        If the tapes determine no place.
    EditError
        If no machine stands on the plan.
    """
    placement = plan.placement
    if placement is None:
        raise EditError("there is no generator on the plan yet")
    fix = place_from_tapes(corners, tapes_m, accuracy_m(plan))
    return Found(stand(plan, _nearer(fix, placement.at)), fix)


def corner_by_tapes(
    plan: Plan, thing_id: str | None, corner: int, corners: Sequence[XY], tapes_m: Sequence[float]
) -> Found:
    """Return the plan with a corner of a building, or of the lot (None), where tapes meet.

    Raises
    ------
    TapeError, OutOfRangeError
        If the tapes determine no place.
    EditError
        If there is no such corner, or the outline would cross itself.
    """
    thing = plan.lot if thing_id is None else plan.building(thing_id)
    if thing is None or not 0 <= corner < len(thing.outline):
        raise EditError("there is no such corner")
    fix = place_from_tapes(corners, tapes_m, accuracy_m(plan))
    at = _nearer(fix, thing.outline[corner])
    outline = (*thing.outline[:corner], at, *thing.outline[corner + 1 :])
    if isinstance(thing, Building):
        return Found(put(plan, changed(thing, outline=outline)), fix)
    return Found(with_fields(plan, lot=changed(thing, outline=outline, legs=())), fix)


def opening_by_tapes(plan: Plan, opening_id: str, from_start_m: float, from_end_m: float) -> Plan:
    """Return the plan with an opening so far from either corner of its wall, as taped.

    From the wall's first corner to the opening's near side, and from its far side to the
    wall's other corner [m]; so its width follows.

    Raises
    ------
    EditError
        If there is no such opening, or nothing of the wall is left for it.
    """
    opening = next((one for one in plan.openings if one.id == opening_id), None)
    building = None if opening is None else plan.building(opening.building)
    if not isinstance(opening, Opening) or building is None:
        raise EditError("there is no such opening")
    width = wall_length_m(building.outline, opening.wall) - from_start_m - from_end_m
    return put(plan, changed(opening, offset_m=from_start_m, width_m=width))


def _nearer(fix: Fix, before: XY) -> XY:
    return min(fix.places, key=lambda place: math.dist(place, before))


def lot_by_bearings(
    plan: Plan, legs: Sequence[Bearing], *, balance: bool = False, start: XY = (0.0, 0.0)
) -> tuple[Plan, Traverse]:
    """Return the plan with a lot from its deed, and how well the deed closes.

    Parameters
    ----------
    plan : Plan
        Its north turns the bearings onto the drawing.
    legs : sequence of (bearing, length_m)
        As `siteplan.geometry.traverse` takes them.
    balance : bool
        Whether the gap is spread over the legs by the compass rule. Without it the lot runs
        straight from the end of the last leg to the first corner, and the gap is told.
    start : tuple of float
        The first corner [m].

    Raises
    ------
    NoTraverseError, UnitTextError, OutOfRangeError
        If the legs make no traverse.
    EditError
        If they enclose no lot.
    """
    as_read = traverse(legs)
    points = (balanced(legs) if balance else as_read).points
    gap = math.dist(points[0], points[-1])
    ring = points[:-1] if balance or gap <= _CLOSED_M else points
    turn = math.radians(plan.north_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    outline = tuple((start[0] + x * cos + y * sin, start[1] - x * sin + y * cos) for x, y in ring)
    entered = tuple(Leg(azimuth_deg=azimuth_deg(b), length_m=long) for b, long in legs)
    origin = None if plan.lot is None else plan.lot.origin
    fields = {"outline": outline, "legs": entered, "origin": origin}
    lot = Lot(outline=((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)))
    return with_fields(plan, lot=changed(lot, **fields)), as_read


# A last corner this near to the first is the first.
_CLOSED_M = 0.01
