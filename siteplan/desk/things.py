"""Everything in a plan that can be selected and edited, under one kind of key.

A key is the id of a thing, or a name beginning with @ for the parts of which a plan has one.
"""

from collections.abc import Iterator
from typing import Any, cast

from siteplan.desk.labels import kind_label, model_label
from siteplan.plan import Plan, edits
from siteplan.plan.around import Fixture
from siteplan.plan.base import Model
from siteplan.plan.lot import Building, Opening
from siteplan.plan.machine import Cord
from siteplan.plan.needs import AlarmSpot
from siteplan.plan.rings import wall_length_m
from siteplan.scene.walls import outward_normal
from siteplan.words import plain

# A fixture hangs this far off its wall, so that its sign stands free of it [m].
_OUT_OF_WALL_M = 0.05

PLAN, LOT, MACHINE, OUTAGE = "@plan", "@lot", "@machine", "@outage"
HOUSEHOLD, TRANSFER, WIND = "@household", "@transfer", "@wind"
_PARTS = {
    LOT: "lot",
    MACHINE: "machine",
    OUTAGE: "outage",
    HOUSEHOLD: "household",
    TRANSFER: "transfer",
    WIND: "wind",
}


def get(plan: Plan, key: str) -> Model | None:
    """Return the part of the plan with this key, or None."""
    if key == PLAN:
        return plan
    if key in _PARTS:
        return cast("Model | None", getattr(plan, _PARTS[key]))
    return edits.find(plan, key) or _cord(plan, key) or _spot(plan, key)


def _cord(plan: Plan, key: str) -> Cord | None:
    cords = plan.placement.cords if plan.placement else ()
    return next((one for one in cords if one.id == key), None)


def _spot(plan: Plan, key: str) -> AlarmSpot | None:
    return next((one for one in plan.household.alarm_spots if one.id == key), None)


def replaced(plan: Plan, key: str, part: Model) -> Plan:
    """Return the plan with the part of this key replaced.

    Raises
    ------
    EditError
        If the plan would not hang together.
    """
    if isinstance(part, Plan):
        return part
    if key in _PARTS:
        return edits.with_fields(plan, **{_PARTS[key]: part})
    if isinstance(part, Cord):
        return edits.put_cord(plan, part)
    if isinstance(part, AlarmSpot):
        return edits.put_alarm_spot(plan, part)
    if isinstance(part, Building):
        return with_building(plan, part)
    return edits.put(plan, cast("edits.Thing", part))


def with_building(plan: Plan, new: Building) -> Plan:
    """Return the plan with a building changed; what is on its walls stays on them.

    Raises
    ------
    EditError
        If an opening no longer fits on its wall, or the outline crosses itself.
    """
    fields: dict[str, Any] = {
        "buildings": tuple(new if one.id == new.id else one for one in plan.buildings),
        "openings": tuple(
            _slid(one, wall_length_m(new.outline, one.wall))
            if one.building == new.id and one.wall < len(new.outline)
            else one
            for one in plan.openings
        ),
        "fixtures": tuple(
            _hung(one, new) if one.on is not None and one.on.building == new.id else one
            for one in plan.fixtures
        ),
    }
    return edits.with_fields(plan, **fields)


def _slid(opening: Opening, long_m: float) -> Opening:
    if opening.offset_m + opening.width_m <= long_m:
        return opening
    return edits.changed(opening, offset_m=max(0.0, long_m - opening.width_m))


def _hung(fixture: Fixture, building: Building) -> Fixture:
    on = fixture.on
    if on is None or on.wall >= len(building.outline):
        return fixture
    offset = min(on.offset_m, wall_length_m(building.outline, on.wall))
    place = wall_place(building, on.wall, offset)
    return edits.changed(fixture, at=place, on=edits.changed(on, offset_m=offset))


def wall_place(building: Building, wall: int, offset_m: float) -> tuple[float, float]:
    """Return the place just outside a wall, so far along it [m]."""
    start, end = building.outline[wall], building.outline[(wall + 1) % len(building.outline)]
    share = offset_m / wall_length_m(building.outline, wall)
    out = outward_normal(building, wall)
    return (
        start[0] + share * (end[0] - start[0]) + out[0] * _OUT_OF_WALL_M,
        start[1] + share * (end[1] - start[1]) + out[1] * _OUT_OF_WALL_M,
    )


def without(plan: Plan, keys: tuple[str, ...]) -> Plan:
    """Return the plan without these things; parts of which a plan has one are emptied.

    Raises
    ------
    EditError
        If the plan would not hang together.
    """
    gone: dict[str, Any] = {
        _PARTS[key]: None for key in keys if key in (LOT, MACHINE, TRANSFER, WIND)
    }
    kept_spots = tuple(one for one in plan.household.alarm_spots if one.id not in keys)
    if kept_spots != plan.household.alarm_spots:
        gone["household"] = edits.changed(plan.household, alarm_spots=kept_spots)
    if gone:
        plan = edits.with_fields(plan, **gone)
    return edits.drop(plan, [key for key in keys if not key.startswith("@")])


def ids(plan: Plan) -> Iterator[str]:
    """Yield the id of everything that can be selected by id, in the order of the document."""
    for name in edits.COLLECTIONS:
        for one in getattr(plan, name):
            yield one.id
    for cord in plan.placement.cords if plan.placement else ():
        yield cord.id
    for spot in plan.household.alarm_spots:
        yield spot.id


def kind_name(part: Model) -> str:
    """Return the plain word for what the part is."""
    kind = getattr(part, "kind", None)
    name = type(part).__name__
    if isinstance(kind, str) and name not in ("Transfer", "Cover"):
        return kind_label(kind)
    return model_label(name)


def label(part: Model) -> str:
    """Return the part's own name, else the plain word for what it is with its number."""
    own = getattr(part, "name", "")
    if own:
        return plain(own)
    number = str(getattr(part, "id", "")).rpartition("-")[2]
    # The first of its kind needs no number.
    numbered = number.isdigit() and number != "1"
    return f"{kind_name(part)} {number}" if numbered else kind_name(part)


def label_of(plan: Plan, key: str) -> str:
    """Return the label of the thing with this key, or the key itself if it is gone."""
    part = get(plan, key)
    return plain(key) if part is None else label(part)
