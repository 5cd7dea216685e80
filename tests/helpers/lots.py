"""Random lots for property tests, and turning, moving or mirroring a whole plan."""

import math
from collections.abc import Callable
from typing import Any

from hypothesis import strategies as st

from siteplan.plan.around import (
    FuelStore,
    GasCylinder,
    GasPoint,
    OutdoorUnit,
    Panel,
    PowerInlet,
    ServiceDrop,
)
from siteplan.plan.document import Plan
from siteplan.plan.edits import changed
from siteplan.plan.lot import Accuracy, Lot
from siteplan.plan.machine import Machine, Placement
from tests.helpers.builders import (
    box,
    building,
    cord,
    cover,
    fence,
    fixture,
    ground_area,
    machine,
    make_plan,
    on_wall,
    opening,
    passing,
    roof,
    standing,
    tree,
)

Move = Callable[[tuple[float, float]], tuple[float, float]]
_KINDS = ["dwelling", "dwelling", "attached-garage", "detached-garage", "shed", "carport", "other"]
_OPENINGS = ["door", "window", "fixed-window", "soffit-vent", "air-intake", "garage-door",
             "room-air-conditioner", "window-well", "exhaust-hood"]  # fmt: skip
_GROUNDS = ["deck", "driveway", "walk", "pool", "standing-water", "brush"]
_MAYBE = st.sampled_from([None, True, False])


def number(low: float, high: float) -> st.SearchStrategy[float]:
    """Return numbers of millimetres: free of the edge cases of binary fractions."""
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda value: value / 1000.0)


@st.composite
def buildings(draw: Any, name: str) -> Any:
    x, y = draw(number(-30, 30)), draw(number(-30, 30))
    width, depth = draw(number(3, 12)), draw(number(3, 12))
    return building(
        box(x, y, x + width, y + depth),
        id=name,
        kind=draw(st.sampled_from(_KINDS)),
        owner=draw(st.sampled_from(["own", "neighbour"])),
        overhang_m=draw(st.sampled_from([None, 0.0, 0.5])),
        eave_height_m=draw(st.sampled_from([None, 2.5, 6.0])),
        wall_material=draw(st.sampled_from([None, "combustible", "noncombustible"])),
        storeys=draw(st.sampled_from([None, 1, 3])),
        openings_complete=draw(st.booleans()),
    )


@st.composite
def openings(draw: Any, name: str, owner: Any) -> Any:
    wall = draw(st.integers(0, 3))
    (ax, ay), (bx, by) = owner.outline[wall], owner.outline[(wall + 1) % 4]
    long = math.dist((ax, ay), (bx, by))
    width = draw(number(0.3, 1.5))
    return opening(
        name,
        kind=draw(st.sampled_from(_OPENINGS)),
        building=owner.id,
        wall=wall,
        offset_m=draw(number(0.0, long - width - 0.01)),
        width_m=width,
        state=draw(st.sampled_from(["shut", "shut", "open", "ajar-for-cord"])),
        sill_m=draw(st.sampled_from([None, 1.0])),
    )


@st.composite
def barriers(draw: Any, name: str) -> Any:
    x, y = draw(number(-20, 20)), draw(number(-20, 20))
    return fence(
        (x, y),
        (x + draw(number(0.5, 15)), y + draw(number(-15, 15))),
        id=name,
        kind=draw(st.sampled_from(["fence", "wall", "hedge"])),
        height_m=draw(st.sampled_from([None, 0.3, 1.8])),
        solidity=draw(st.sampled_from([None, 0.2, 1.0])),
        combustible=draw(_MAYBE),
    )


@st.composite
def roofs(draw: Any, name: str) -> Any:
    x, y = draw(number(-20, 20)), draw(number(-20, 20))
    return roof(
        draw(st.sampled_from(["overhang", "canopy", "tent"])),
        box(x, y, x + draw(number(1, 8)), y + draw(number(1, 8))),
        id=name,
        open_sides=draw(st.sampled_from([None, 3, 4])),
        clear_height_m=draw(st.sampled_from([None, 1.0, 3.0])),
    )


@st.composite
def grounds(draw: Any, name: str) -> Any:
    x, y = draw(number(-20, 20)), draw(number(-20, 20))
    outline = box(x, y, x + draw(number(1, 8)), y + draw(number(1, 8)))
    kind = draw(st.sampled_from(_GROUNDS))
    return ground_area(kind, outline, id=name, combustible=draw(_MAYBE))


@st.composite
def trees(draw: Any, name: str) -> Any:
    return tree(draw(number(-20, 20)), draw(number(-20, 20)), draw(number(1, 8)), id=name)


@st.composite
def fixtures(draw: Any, name: str, owner: Any) -> Any:
    x, y = draw(number(-20, 20)), draw(number(-20, 20))
    model = draw(
        st.sampled_from(
            [FuelStore, GasCylinder, GasPoint, OutdoorUnit, Panel, PowerInlet, ServiceDrop]
        )
    )
    fields: dict[str, Any] = {}
    if model is GasPoint:
        fields = {"kind": draw(st.sampled_from(["gas-regulator", "gas-meter"]))}
    elif model is ServiceDrop:
        fields = {"to": (x + draw(number(1, 9)), y + draw(number(1, 9)))}
    elif model is GasCylinder:
        fields = {"filled_on_site": draw(_MAYBE)}
    elif model is FuelStore:
        fields = {
            "stored_l": draw(st.sampled_from([None, 10.0, 120.0])),
            "in_cabinet": draw(_MAYBE),
        }
    elif model is PowerInlet:
        fields = {"on": on_wall(draw(st.integers(0, 3)), 1.5, building=owner.id)}
    return fixture(model, x, y, id=name, **fields)


@st.composite
def plans(draw: Any) -> Plan:
    """Return a lot with one to three buildings, what stands around, and a machine on it."""
    houses = [draw(buildings(f"b{k}")) for k in range(draw(st.integers(1, 3)))]
    parts: list[Any] = [*houses]
    parts += [
        draw(openings(f"o{k}", draw(st.sampled_from(houses))))
        for k in range(draw(st.integers(0, 5)))
    ]
    parts += [
        draw(st.one_of(*(make(f"s{k}") for make in (barriers, roofs, grounds, trees))))
        for k in range(draw(st.integers(0, 3)))
    ]
    parts += [draw(fixtures(f"f{k}", houses[0])) for k in range(draw(st.integers(0, 3)))]
    here = standing(
        draw(number(-25, 25)),
        draw(number(-25, 25)),
        draw(number(0, 359.9)),
        cover=draw(st.sampled_from([None, cover(open_sides=4, gap_above_m=1.0)])),
        ground=draw(st.sampled_from([None, "gravel", "grass"])),
        cords=tuple(
            cord(passes=(passing(part.id),)) for part in parts if part.id == "o0"
        ),
    )  # fmt: skip
    generator = machine(
        exhaust_side=draw(st.sampled_from(["front", "right", "back", "left"])),
        exhaust_offset_m=draw(number(-0.3, 0.3)),
    )
    accuracy = Accuracy(method="figure", figure_m=draw(st.sampled_from([0.0, 0.1, 0.6])))
    yard = Lot(outline=box(-40.0, -40.0, 40.0, 40.0))
    return make_plan(yard, *parts, here, generator, accuracy)


def transformed(plan: Plan, move: Move, turn_deg: float, *, mirrored: bool = False) -> Plan:
    """Return the whole plan with every point passed through `move`.

    `turn_deg` is what the move adds to a bearing; a mirrored plan has its bearings negated
    first and left and right of the machine exchanged.
    """
    fields: dict[str, Any] = {
        "lot": None
        if plan.lot is None
        else Lot(outline=tuple(move(point) for point in plan.lot.outline)),
        "buildings": tuple(_moved(one, move) for one in plan.buildings),
        "surroundings": tuple(_moved(one, move) for one in plan.surroundings),
        "fixtures": tuple(_moved(one, move) for one in plan.fixtures),
        "placements": tuple(_placed(one, move, turn_deg, mirrored) for one in plan.placements),
    }
    if mirrored and plan.machine is not None:
        fields["machine"] = _mirrored(plan.machine)
    whole = {name: getattr(plan, name) for name in Plan.model_fields}
    return Plan(**(whole | fields))


def _moved(thing: Any, move: Move) -> Any:
    fields: dict[str, Any] = {}
    for name in ("at", "to"):
        if hasattr(thing, name):
            fields[name] = move(getattr(thing, name))
    for name in ("outline", "path"):
        if hasattr(thing, name):
            fields[name] = tuple(move(point) for point in getattr(thing, name))
    return changed(thing, **fields)


def _placed(placement: Placement, move: Move, turn_deg: float, mirrored: bool) -> Placement:
    turn = -placement.turn_deg if mirrored else placement.turn_deg
    return changed(placement, at=move(placement.at), turn_deg=(turn + turn_deg) % 360.0)


def _mirrored(generator: Machine) -> Machine:
    swap = {"left": "right", "right": "left"}
    side = swap.get(generator.exhaust_side, generator.exhaust_side)
    return changed(generator, exhaust_side=side, exhaust_offset_m=-generator.exhaust_offset_m)


def rotation(turn_deg: float) -> Move:
    """Return the turn about the origin, clockwise."""
    turn = math.radians(turn_deg)
    c, s = math.cos(turn), math.sin(turn)
    return lambda point: (c * point[0] + s * point[1], -s * point[0] + c * point[1])
