"""New things with sensible first sizes. Each function takes a plan and returns plan and key."""

import math
from dataclasses import dataclass
from typing import Any, Literal, cast

from pydantic import TypeAdapter

from siteplan.desk import things
from siteplan.plan import Plan, edits
from siteplan.plan.around import Barrier, Fixture, OnWall, Surrounding, Tree
from siteplan.plan.errors import EditError
from siteplan.plan.lot import Building, BuildingKind, Lot, Opening, OpeningKind
from siteplan.plan.machine import Cord, Machine, Placement
from siteplan.plan.needs import AlarmSpot, Load, Transfer
from siteplan.plan.rings import signed_area_m2
from siteplan.units import feet

XY = tuple[float, float]

# The window shows at once which way the exhaust blows, and turns it by hand.
NEW_MACHINE = Machine(exhaust_side="back")
Made = tuple[Plan, str]

# Width, sill and head [m] of openings as they are commonly built (common practice).
OPENING_SIZES: dict[str, tuple[float, float, float]] = {
    "door": (0.91, 0.0, 2.03),
    "window": (0.91, 0.91, 2.03),
    "fixed-window": (1.22, 0.91, 2.03),
    "garage-door": (2.44, 0.0, 2.13),
    "pet-door": (0.30, 0.05, 0.45),
    "exhaust-hood": (0.15, 0.4, 0.55),
    "soffit-vent": (0.40, 2.5, 2.55),
    "gable-vent": (0.45, 3.5, 4.0),
    "foundation-vent": (0.40, 0.15, 0.35),
    "air-intake": (0.25, 0.5, 0.75),
    "combustion-intake": (0.10, 0.5, 0.6),
    "room-air-conditioner": (0.66, 0.91, 1.31),
    "evaporative-cooler": (0.70, 0.9, 1.6),
    "window-well": (0.91, 0.1, 0.6),
}
# Eave heights [m] (common practice).
EAVES: dict[str, float] = {"dwelling": 2.7, "attached-garage": 2.7, "detached-garage": 2.5}
PATH_FIXTURES = (
    "power-inlet",
    "through-wall-outlet",
    "panel",
    "electric-meter",
    "house-receptacle",
)
"""Fixtures of the power path."""
Outline = Literal["rectangle", "L", "U"]


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on a wall: its building, wall, near edge from the wall's first corner, width [m]."""

    building: str
    wall: int
    offset_m: float
    width_m: float

    def ends(self, plan: Plan) -> tuple[XY, XY, XY] | None:
        """Return the wall's first corner and both ends of the place [m]."""
        building = plan.building(self.building)
        if building is None:
            return None
        start = building.outline[self.wall]
        end = building.outline[(self.wall + 1) % len(building.outline)]
        long = math.dist(start, end)

        def at(along: float) -> XY:
            share = along / long
            return (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))

        return start, at(self.offset_m), at(self.offset_m + self.width_m)


def shape_outline(
    kind: Outline, width_m: float, depth_m: float, at: XY = (0.0, 0.0)
) -> tuple[XY, ...]:
    """Return the corners of a rectangle, an L or a U, counter-clockwise from the lower left.

    The wings of an L and a U are half as deep, and a third as wide, as the whole.
    """
    w, d = width_m, depth_m
    corners: dict[Outline, list[XY]] = {
        "rectangle": [(0, 0), (w, 0), (w, d), (0, d)],
        "L": [(0, 0), (w, 0), (w, d / 2), (w / 2, d / 2), (w / 2, d), (0, d)],
        "U": [
            (0, 0),
            (w, 0),
            (w, d),
            (2 * w / 3, d),
            (2 * w / 3, d / 2),
            (w / 3, d / 2),
            (w / 3, d),
            (0, d),
        ],
    }
    return tuple((x + at[0], y + at[1]) for x, y in corners[kind])


def set_lot(plan: Plan, outline: tuple[XY, ...]) -> Made:
    """Give the plan this lot boundary.

    Raises
    ------
    EditError
        If the outline crosses itself.
    """
    lot = (
        Lot(outline=outline)
        if plan.lot is None
        else edits.changed(plan.lot, outline=outline, legs=())
    )
    return edits.with_fields(plan, lot=lot), "@lot"


def add_building(plan: Plan, kind: str, outline: tuple[XY, ...]) -> Made:
    """Add a building; its corners are put counter-clockwise.

    Raises
    ------
    EditError
        If the outline crosses itself.
    """
    ring = outline if signed_area_m2(outline) > 0 else outline[::-1]
    key = edits.fresh_id(plan, "house" if kind == "dwelling" else kind)
    building = Building(
        id=key,
        kind=cast("BuildingKind", kind),
        outline=ring,
        eave_height_m=EAVES.get(kind, 2.4),
    )
    return edits.put(plan, building), key


def building_place(plan: Plan, kind: str, width_m: float, depth_m: float) -> XY:
    """Return where a new building goes: middle of the lot, behind the house, or beside the last.

    A porch goes against the back wall of the household's own house; any other outbuilding
    stands behind it. A further dwelling is a neighbour's and goes beside the last building.
    """
    home = next((one for one in plan.buildings if one.is_home), None)
    if home is not None and kind != "dwelling":
        xs, ys = [x for x, _ in home.outline], [y for _, y in home.outline]
        gap = 0.0 if kind == "covered-porch" else feet(6)
        return ((min(xs) + max(xs) - width_m) / 2, max(ys) + gap)
    if plan.buildings:
        last = plan.buildings[-1].outline
        return (max(x for x, _ in last) + feet(6), min(y for _, y in last))
    if plan.lot is None:
        return (0.0, 0.0)
    xs, ys = [x for x, _ in plan.lot.outline], [y for _, y in plan.lot.outline]
    return ((min(xs) + max(xs) - width_m) / 2, (min(ys) + max(ys) - depth_m) / 2)


def add_opening(plan: Plan, kind: str, spot: Spot) -> Made:
    """Add an opening.

    Raises
    ------
    EditError
        If it does not fit on its wall.
    """
    _, sill, head = OPENING_SIZES[kind]
    key = edits.fresh_id(plan, kind)
    opening = Opening(
        id=key,
        kind=cast("OpeningKind", kind),
        building=spot.building,
        wall=spot.wall,
        offset_m=spot.offset_m,
        width_m=spot.width_m,
        sill_m=sill,
        head_m=head,
    )
    return edits.put(plan, opening), key


_FIXTURE: TypeAdapter[Any] = TypeAdapter(Fixture)
_SURROUNDING: TypeAdapter[Any] = TypeAdapter(Surrounding)
# Fixtures that hang on a wall.
ON_WALL = (
    "panel",
    "electric-meter",
    "gas-regulator",
    "gas-meter",
    "power-inlet",
    "through-wall-outlet",
    "house-receptacle",
)


def add_fixture_on_wall(plan: Plan, kind: str, spot: Spot) -> Made:
    """Add a fixture on a wall.

    Raises
    ------
    EditError
        If it does not fit there.
    """
    building = plan.building(spot.building)
    if building is None:
        msg = "the wall is gone"
        raise EditError(msg)
    along = spot.offset_m + spot.width_m / 2
    on = OnWall(building=spot.building, wall=spot.wall, offset_m=along)
    place = things.wall_place(building, spot.wall, along)
    key = edits.fresh_id(plan, kind)
    fixture = _FIXTURE.validate_python({"kind": kind, "id": key, "at": place, "on": on})
    return edits.put(plan, fixture), key


def add_fixture(plan: Plan, kind: str, at: XY) -> Made:
    """Add a fixture that stands on the ground; a service line starts a lot's width away.

    Raises
    ------
    EditError
        If it would be off the drawing.
    """
    key = edits.fresh_id(plan, kind)
    fields: dict[str, Any] = {"kind": kind, "id": key, "at": at}
    if kind == "service-drop":
        fields["to"] = (at[0] + feet(20), at[1])
    return edits.put(plan, _FIXTURE.validate_python(fields)), key


def add_line(plan: Plan, kind: str, points: tuple[XY, ...]) -> Made:
    """Add a fence, garden wall or hedge.

    Raises
    ------
    EditError
        If it would be off the drawing.
    """
    key = edits.fresh_id(plan, kind)
    barrier = Barrier(kind=cast("Any", kind), id=key, path=points, height_m=1.8)
    return edits.put(plan, barrier), key


def add_area(plan: Plan, kind: str, outline: tuple[XY, ...]) -> Made:
    """Add a flat area, or a roof without a house.

    Raises
    ------
    EditError
        If the outline crosses itself.
    """
    key = edits.fresh_id(plan, kind)
    area = _SURROUNDING.validate_python({"kind": kind, "id": key, "outline": outline})
    return edits.put(plan, area), key


def add_tree(plan: Plan, at: XY) -> Made:
    """Add a tree.

    Raises
    ------
    EditError
        If it would be off the drawing.
    """
    key = edits.fresh_id(plan, "tree")
    return edits.put(plan, Tree(id=key, at=at)), key


def stand_machine(plan: Plan, at: XY) -> Made:
    """Stand the generator: the placement under review moves, or a first one is made.

    Raises
    ------
    EditError
        If the place is off the drawing.
    """
    if plan.machine is None:
        plan = edits.with_fields(plan, machine=NEW_MACHINE)
    placement = plan.placement
    if placement is not None:
        return edits.stand(plan, at), placement.id
    return add_placement(plan, at)


def add_placement(plan: Plan, at: XY) -> Made:
    """Add another placement, and take it under review.

    Raises
    ------
    EditError
        If the place is off the drawing.
    """
    if plan.machine is None:
        plan = edits.with_fields(plan, machine=NEW_MACHINE)
    key = edits.fresh_id(plan, "place")
    cords = plan.placement.cords if plan.placement else ()
    plan = edits.put(plan, Placement(id=key, at=at, cords=cords))
    return edits.with_fields(plan, chosen=key), key


def add_cord(plan: Plan, points: tuple[XY, ...], to: str | None) -> Made:
    """Add a cord by these bends; without a thing to go to, the last bend is its free end.

    Raises
    ------
    EditError
        If there is no placement.
    """
    key = edits.fresh_id(plan, "cord")
    end = None if to is not None or not points else points[-1]
    bends = points if to is not None else points[:-1]
    cord = Cord(id=key, to=to, end=end, waypoints=bends, routing="drawn" if bends else "routed")
    return edits.put_cord(plan, cord), key


def add_load(
    plan: Plan,
    name: str,
    running_w: float,
    starting_w: float | None,
    *,
    appliance: str = "other",
    volts: float = 120.0,
) -> Made:
    """Add an appliance, by the book's name for its kind.

    Raises
    ------
    EditError
        If a figure is not allowed.
    """
    key = edits.fresh_id(plan, "load")
    load = Load(
        id=key,
        name=name,
        appliance=appliance,
        running_w=running_w,
        starting_w=starting_w,
        volts=240 if volts > 180.0 else 120,
    )
    return edits.put(plan, load), key


def add_alarm(plan: Plan, place: str) -> Made:
    """Add a storey or sleeping area where a CO alarm belongs.

    Raises
    ------
    EditError
        If the plan would not hang together.
    """
    key = edits.fresh_id(plan, place)
    return edits.put_alarm_spot(plan, AlarmSpot(id=key, place=cast("Any", place))), key


def set_transfer(plan: Plan) -> Made:
    """Begin to describe the transfer equipment.

    Raises
    ------
    EditError
        If the plan would not hang together.
    """
    transfer = plan.transfer or Transfer()
    return edits.with_fields(plan, transfer=transfer), "@transfer"
