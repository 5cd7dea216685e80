"""Handles of a selected thing: what can be pulled, and what pulling it does to the plan."""

import math
from dataclasses import dataclass
from typing import Literal

from siteplan.desk import things
from siteplan.desk.canvas.shapes import XY, nearest_wall
from siteplan.geometry.clearance import unit_vector
from siteplan.plan import Plan, edits
from siteplan.plan.around import Barrier, Ground, ServiceDrop, Shelter
from siteplan.plan.base import Model
from siteplan.plan.lot import Building, Lot, Opening
from siteplan.plan.machine import Cord, Placement
from siteplan.plan.rings import wall_length_m
from siteplan.scene.setting import opening_ends

_TURN_HANDLE_PX = 34.0
_WALL_REACH_M = 3.0


@dataclass(frozen=True, slots=True)
class Handle:
    """A point that can be pulled: a corner, an end of an opening, or the turning handle."""

    kind: Literal["corner", "near-end", "far-end", "turn", "end"]
    index: int
    at: XY


def handles(plan: Plan, key: str, px_per_m: float) -> list[Handle]:
    """Return the handles of a thing."""
    part = things.get(plan, key)
    if (name := _corners_field(part)) is not None:
        return [Handle("corner", index, at) for index, at in enumerate(getattr(part, name))]
    if isinstance(part, ServiceDrop):
        return [Handle("end", 0, part.to)]
    if isinstance(part, Opening) and (building := plan.building(part.building)) is not None:
        near, far = opening_ends(part, building)
        return [Handle("near-end", 0, near), Handle("far-end", 0, far)]
    if isinstance(part, Placement):
        return [Handle("turn", 0, _turn_place(plan, part, px_per_m))]
    return []


def _corners_field(part: Model | None) -> str | None:
    """Return the field that holds a part's corners, if it has any."""
    if isinstance(part, Barrier):
        return "path"
    if isinstance(part, Cord):
        return "waypoints"
    return "outline" if isinstance(part, Lot | Building | Ground | Shelter) else None


def _turn_place(plan: Plan, placement: Placement, px_per_m: float) -> XY:
    half = 0.5 if plan.machine is None else plan.machine.length_m / 2
    reach = half + _TURN_HANDLE_PX / px_per_m
    ahead = unit_vector(placement.turn_deg)
    return (placement.at[0] + float(ahead[0]) * reach, placement.at[1] + float(ahead[1]) * reach)


def pulled(plan: Plan, key: str, handle: Handle, to: XY) -> Plan:
    """Return the plan with a handle of a thing pulled to a place.

    Raises
    ------
    EditError
        If the plan would not hang together.
    """
    part = things.get(plan, key)
    if isinstance(part, Placement):
        return edits.stand(plan, part.at, turn_towards(part.at, to))
    if isinstance(part, Opening):
        return edits.put(plan, _stretched(plan, part, handle, to))
    if isinstance(part, ServiceDrop):
        return edits.put(plan, edits.changed(part, to=to))
    name = _corners_field(part)
    if part is None or name is None:
        return plan
    points = list(getattr(part, name))
    points[handle.index] = to
    fields: dict[str, object] = {name: tuple(points)}
    if isinstance(part, Lot):
        # Pulled corners no longer are what the deed says.
        fields["legs"] = ()
    return things.replaced(plan, key, edits.changed(part, **fields))


def turn_towards(at: XY, to: XY) -> float:
    """Return the turn [°] that faces a place, in steps of 5°."""
    turn = math.degrees(math.atan2(to[0] - at[0], to[1] - at[1]))
    return round(turn / 5.0) * 5.0 % 360.0


def _stretched(plan: Plan, opening: Opening, handle: Handle, to: XY) -> Opening:
    building = plan.building(opening.building)
    if building is None:
        return opening
    start = building.outline[opening.wall]
    end = building.outline[(opening.wall + 1) % len(building.outline)]
    long = math.dist(start, end)
    along = (
        (to[0] - start[0]) * (end[0] - start[0]) + (to[1] - start[1]) * (end[1] - start[1])
    ) / long
    along = min(long, max(0.0, along))
    near, far = opening.offset_m, opening.offset_m + opening.width_m
    near, far = (along, far) if handle.kind == "near-end" else (near, along)
    return edits.changed(opening, offset_m=min(near, far), width_m=max(0.05, abs(far - near)))


def opening_slid(plan: Plan, opening: Opening, to: XY) -> Plan:
    """Return the plan with an opening moved along the walls to the place nearest the pointer.

    Raises
    ------
    EditError
        If it does not fit there.
    """
    found = nearest_wall(plan, to, _WALL_REACH_M)
    if found is None:
        return plan
    building, wall, along, _ = found
    long = wall_length_m(building.outline, wall)
    offset = min(max(0.0, along - opening.width_m / 2), max(0.0, long - opening.width_m))
    return edits.put(plan, edits.changed(opening, building=building.id, wall=wall, offset_m=offset))
