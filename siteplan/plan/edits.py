"""Edits: each takes a plan and returns a new one. Order is kept, so undo restores it."""

from collections.abc import Callable, Collection, Iterable
from typing import Any, Literal, TypeVar, cast

from pydantic import ValidationError

from siteplan.plan.around import Barrier, Fixture, Ground, Shelter, Surrounding, Tree
from siteplan.plan.base import Model, Point
from siteplan.plan.document import Plan
from siteplan.plan.errors import EditError
from siteplan.plan.lot import Building, Opening
from siteplan.plan.machine import Cord, Placement
from siteplan.plan.mistakes import explain
from siteplan.plan.needs import AlarmSpot, Load

Thing = Building | Opening | Surrounding | Fixture | Placement | Load
Collected = Literal["buildings", "openings", "surroundings", "fixtures", "placements", "loads"]
COLLECTIONS: tuple[Collected, ...] = (
    "buildings",
    "openings",
    "surroundings",
    "fixtures",
    "placements",
    "loads",
)
_M = TypeVar("_M", bound=Model)


def changed(thing: _M, **fields: Any) -> _M:  # noqa: ANN401 - any field of any model
    """Return the thing with some fields changed, checked again.

    Raises
    ------
    EditError
        If a value is not allowed.
    """
    values = {name: getattr(thing, name) for name in type(thing).model_fields}
    try:
        return type(thing)(**(values | fields))
    except ValidationError as error:
        raise EditError(explain(error)) from error


def find(plan: Plan, thing_id: str) -> Thing | None:
    """Return the building, opening, surrounding, fixture, placement or load with this id."""
    for collection in COLLECTIONS:
        for thing in cast("tuple[Thing, ...]", getattr(plan, collection)):
            if thing.id == thing_id:
                return thing
    return None


def collection_of(thing: Thing) -> Collected:
    """Return the name of the plan's field that holds things like this one."""
    if isinstance(thing, Building):
        return "buildings"
    if isinstance(thing, Opening):
        return "openings"
    if isinstance(thing, Placement):
        return "placements"
    if isinstance(thing, Load):
        return "loads"
    return "surroundings" if isinstance(thing, Barrier | Ground | Shelter | Tree) else "fixtures"


def put(plan: Plan, thing: Thing) -> Plan:
    """Return the plan with the thing added, or in place of the one with its id.

    Raises
    ------
    EditError
        If the plan would not hang together.
    """
    collection = collection_of(thing)
    old: tuple[Thing, ...] = getattr(plan, collection)
    kept = tuple(thing if one.id == thing.id else one for one in old)
    new = kept if any(one.id == thing.id for one in old) else (*old, thing)
    return with_fields(plan, **{collection: new})


def with_fields(plan: Plan, **fields: Any) -> Plan:  # noqa: ANN401 - any field of the plan
    """Return the plan with some fields replaced, checked as a whole.

    Fields left alone stay the same objects, by which a scene knows what need not be resolved
    again.

    Raises
    ------
    EditError
        If a value is not allowed, or the plan would not hang together.
    """
    checked = changed(plan, **fields)
    return plan.model_copy(update={name: getattr(checked, name) for name in fields})


def stand(plan: Plan, at: tuple[float, float], turn_deg: float | None = None) -> Plan:
    """Return the plan with the machine of the placement under review moved and turned.

    This is the edit under a dragging hand, so nothing but the placement is looked at.

    Raises
    ------
    EditError
        If there is no placement, or the place is off the drawing.
    """
    placement = plan.placement
    if placement is None:
        msg = "there is no generator on the plan yet"
        raise EditError(msg)
    # Just under zero, one remainder rounds up to 360 itself; the second brings that to zero.
    turn = placement.turn_deg if turn_deg is None else turn_deg % 360.0 % 360.0
    moved = changed(placement, at=at, turn_deg=turn)
    placements = tuple(moved if one.id == placement.id else one for one in plan.placements)
    return plan.model_copy(update={"placements": placements})


def drop(plan: Plan, ids: Collection[str]) -> Plan:
    """Return the plan without these things and without what cannot be without them.

    Of a building that loses an opening nobody has said any more that all of them are drawn.
    """
    gone = set(ids) | {one.id for one in plan.openings if one.building in ids}
    gone |= {one.id for one in plan.fixtures if one.on is not None and one.on.building in ids}
    fields: dict[str, Any] = {
        name: tuple(one for one in getattr(plan, name) if one.id not in gone)
        for name in COLLECTIONS
    }
    opened = {one.building for one in plan.openings if one.id in gone}
    fields["buildings"] = tuple(
        changed(one, openings_complete=False) if one.id in opened else one
        for one in fields["buildings"]
    )
    fields["placements"] = tuple(
        changed(one, cords=tuple(_cords_without(one.cords, gone))) for one in fields["placements"]
    )
    cord_ids = {cord.id for one in fields["placements"] for cord in one.cords}
    feeds = cord_ids | {one.id for one in fields["fixtures"]}
    fields["loads"] = tuple(
        changed(one, via=None) if one.via is not None and one.via not in feeds else one
        for one in fields["loads"]
    )
    if plan.chosen in gone:
        fields["chosen"] = None
    spots = tuple(one for one in plan.household.alarm_spots if one.id not in gone)
    fields["household"] = changed(plan.household, alarm_spots=spots)
    return with_fields(plan, **fields)


def _cords_without(cords: Iterable[Cord], gone: Collection[str]) -> Iterable[Cord]:
    for cord in cords:
        if cord.id in gone:
            continue
        passes = tuple(step for step in cord.passes if step.opening not in gone)
        to = None if cord.to in gone else cord.to
        yield (
            cord if passes == cord.passes and to == cord.to else changed(cord, passes=passes, to=to)
        )


def put_cord(plan: Plan, cord: Cord) -> Plan:
    """Return the plan with a cord of the placement under review added or replaced.

    Raises
    ------
    EditError
        If there is no placement, or the cord points at nothing.
    """
    placement = plan.placement
    if placement is None:
        msg = "stand the generator first; its cords belong to where it stands"
        raise EditError(msg)
    kept = tuple(cord if one.id == cord.id else one for one in placement.cords)
    cords = kept if any(one.id == cord.id for one in placement.cords) else (*kept, cord)
    return put(plan, changed(placement, cords=cords))


def put_alarm_spot(plan: Plan, spot: AlarmSpot) -> Plan:
    """Return the plan with an alarm spot added or replaced."""
    old = plan.household.alarm_spots
    kept = tuple(spot if one.id == spot.id else one for one in old)
    spots = kept if any(one.id == spot.id for one in old) else (*old, spot)
    return with_fields(plan, household=changed(plan.household, alarm_spots=spots))


def fresh_id(plan: Plan, stem: str) -> str:
    """Return an id that the plan does not use yet: stem-1, stem-2 and so on."""
    used = {one.id for name in COLLECTIONS for one in getattr(plan, name)}
    used |= {cord.id for one in plan.placements for cord in one.cords}
    used |= {spot.id for spot in plan.household.alarm_spots}
    number = 1
    while f"{stem}-{number}" in used:
        number += 1
    return f"{stem}-{number}"


def shifted(plan: Plan, ids: Collection[str], dx_m: float, dy_m: float) -> Plan:
    """Return the plan with these things moved together.

    Openings and fixtures on a wall go with their building; a fixture moved without its
    building comes off the wall.

    Raises
    ------
    EditError
        If something would leave the drawing.
    """

    def move(point: Point) -> Point:
        return (point[0] + dx_m, point[1] + dy_m)

    def shift(thing: Thing) -> Thing:
        on = getattr(thing, "on", None)
        carried = on is not None and on.building in ids
        if not carried and thing.id not in ids:
            return thing
        new = moved(thing, move)
        return changed(new, on=on) if carried else new

    return with_fields(
        plan, **{name: tuple(shift(one) for one in getattr(plan, name)) for name in COLLECTIONS}
    )


def moved(thing: Thing, move: Callable[[Point], Point]) -> Thing:
    """Return the thing with each of its points passed through `move`, off any wall."""
    fields: dict[str, Any] = {} if getattr(thing, "on", None) is None else {"on": None}
    for name in ("at", "to"):
        if getattr(thing, name, None) is not None:
            fields[name] = move(getattr(thing, name))
    for name in ("outline", "path"):
        if getattr(thing, name, None) is not None:
            fields[name] = tuple(move(point) for point in getattr(thing, name))
    return changed(thing, **fields)
