"""Copies and mirror images of things that are on the plan already."""

from typing import Any, cast

from siteplan.desk.things import wall_place
from siteplan.plan import Plan, edits
from siteplan.plan.around import Fixture
from siteplan.plan.lot import Building, Opening
from siteplan.plan.rings import wall_length_m
from siteplan.units import feet

XY = tuple[float, float]


def duplicate(plan: Plan, keys: tuple[str, ...]) -> tuple[Plan, tuple[str, ...]]:
    """Return the plan with copies of these things beside them, and the copies' keys.

    Raises
    ------
    EditError
        If a copy does not fit.
    """
    made: list[str] = []
    step = feet(3)
    for key in keys:
        part = edits.find(plan, key)
        if part is None:
            continue
        new = edits.fresh_id(plan, key.rstrip("0123456789").rstrip("-") or "copy")
        copy: Any = edits.changed(part, id=new)
        if isinstance(part, Building):
            # Its openings are not copied with it, and the copy has some.
            copy = edits.changed(copy, openings_complete=False)
        if isinstance(part, Opening):
            copy = _beside(plan, cast("Opening", copy))
        else:
            copy = edits.moved(copy, lambda point: (point[0] + step, point[1] - step))
        plan = edits.put(plan, copy)
        made.append(new)
    return plan, tuple(made)


def _beside(plan: Plan, opening: Opening) -> Opening:
    building = plan.building(opening.building)
    if building is None:
        return opening
    long = wall_length_m(building.outline, opening.wall)
    after = opening.offset_m + opening.width_m + feet(1)
    fits = after + opening.width_m <= long
    offset = after if fits else max(0.0, opening.offset_m - opening.width_m - feet(1))
    return edits.changed(opening, offset_m=offset)


def mirrored(plan: Plan, keys: tuple[str, ...]) -> Plan:
    """Return the plan with these things mirrored left to right about their common middle.

    Raises
    ------
    EditError
        If the plan would not hang together.
    """
    parts = [part for key in keys if (part := edits.find(plan, key)) is not None]
    xs = [x for part in parts for x, _ in _points(part)]
    if not xs:
        return plan
    middle = min(xs) + max(xs)
    for part in parts:
        plan = _mirror_one(plan, part, middle)
    return plan


def _points(part: Any) -> list[XY]:  # noqa: ANN401 - any thing with points
    single = [getattr(part, "at", None)]
    many = [*getattr(part, "outline", ()), *getattr(part, "path", ())]
    return [one for one in (*single, *many) if one is not None]


def _mirror_one(plan: Plan, part: Any, middle: float) -> Plan:  # noqa: ANN401 - any thing
    flipped: Any = edits.moved(part, lambda point: (middle - point[0], point[1]))
    if not isinstance(part, Building):
        return edits.put(plan, flipped)
    new = edits.changed(flipped, outline=tuple(flipped.outline[::-1]))
    openings = tuple(
        edits.changed(one, **_other_way(part, one.wall, one.offset_m + one.width_m))
        if one.building == part.id
        else one
        for one in plan.openings
    )
    fixtures = tuple(_mirror_hung(one, part, new) for one in plan.fixtures)
    buildings = tuple(new if one.id == new.id else one for one in plan.buildings)
    return edits.with_fields(plan, buildings=buildings, openings=openings, fixtures=fixtures)


def _mirror_hung(fixture: Fixture, old: Building, new: Building) -> Fixture:
    """Return a fixture with the wall of a mirrored building it hangs on, if it hangs on one."""
    if fixture.on is None or fixture.on.building != old.id:
        return fixture
    on = edits.changed(fixture.on, **_other_way(old, fixture.on.wall, fixture.on.offset_m))
    return edits.changed(fixture, at=wall_place(new, on.wall, on.offset_m), on=on)


def _other_way(building: Building, wall: int, end_m: float) -> dict[str, Any]:
    """Return wall and offset in a mirrored building of what ended so far along a wall [m].

    Mirroring turns the ring round; reversing it keeps it counter-clockwise, so that wall i
    becomes wall n - 2 - i, run through the other way.
    """
    count = len(building.outline)
    offset = max(0.0, wall_length_m(building.outline, wall) - end_m)
    return {"wall": (count - 2 - wall) % count, "offset_m": offset}
