"""Short ways to build plans for tests: parts by small functions, joined by `make_plan`.

Everything is in metres, x to the east and y to the north of the drawing's origin. Parts get
ids in the order they are asked for unless a test names them.
"""

from collections.abc import Iterable
from typing import Any

from siteplan.plan.around import (
    Barrier,
    FuelStore,
    GasCylinder,
    GasPoint,
    Ground,
    Meter,
    OnWall,
    OutdoorUnit,
    Panel,
    PowerInlet,
    ServiceDrop,
    Shelter,
    ThroughWallOutlet,
    Tree,
    WallReceptacle,
)
from siteplan.plan.document import Plan
from siteplan.plan.lot import Accuracy, Building, Lot, Opening, Override
from siteplan.plan.machine import Cord, Cover, Machine, Pass, Placement
from siteplan.plan.needs import AlarmSpot, Household, Load

FT = 0.3048
EXACT = Accuracy(method="figure", figure_m=0.0)
"""A drawing without error, so that a distance as drawn is the distance judged."""
SURROUNDINGS = (Barrier, Ground, Shelter, Tree)
FIXTURES = (
    Panel,
    Meter,
    GasPoint,
    OutdoorUnit,
    FuelStore,
    GasCylinder,
    PowerInlet,
    ThroughWallOutlet,
    WallReceptacle,
    ServiceDrop,
)
_HOME: dict[type, str] = {
    Building: "buildings",
    Opening: "openings",
    Placement: "placements",
    Load: "loads",
    Override: "overrides",
    **dict.fromkeys(SURROUNDINGS, "surroundings"),
    **dict.fromkeys(FIXTURES, "fixtures"),
}
_ALONE: dict[type, str] = {
    Lot: "lot",
    Machine: "machine",
    Accuracy: "accuracy",
    Household: "household",
}


def make_plan(*parts: Any, **fields: Any) -> Plan:
    """Return a plan of these parts, each put where its type belongs; exact unless told otherwise.

    A placement without a machine among the parts gets the standard `machine()`.
    """
    gathered: dict[str, Any] = {"accuracy": EXACT}
    for part in parts:
        if type(part) in _ALONE:
            gathered[_ALONE[type(part)]] = part
        else:
            home = _HOME[type(part)]
            gathered[home] = (*gathered.get(home, ()), part)
    if "placements" in gathered:
        gathered.setdefault("machine", machine())
    return Plan(**(gathered | fields))


def grown(plan: Plan, *parts: Any) -> Plan:
    """Return the plan with more parts."""
    fields = {name: getattr(plan, name) for name in Plan.model_fields}
    for part in parts:
        home = _HOME[type(part)]
        fields[home] = (*fields[home], part)
    return Plan(**fields)


def box(x0: float, y0: float, x1: float, y1: float) -> tuple[tuple[float, float], ...]:
    """Return a rectangle's corners, counter-clockwise from the south-west.

    As a building's outline: wall 0 faces south, 1 east, 2 north, 3 west.
    """
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def lot(x0: float = 0.0, y0: float = 0.0, x1: float = 60.0, y1: float = 60.0) -> Lot:
    return Lot(outline=box(x0, y0, x1, y1))


def building(
    outline: Iterable[tuple[float, float]] = box(0.0, 0.0, 12.0, 8.0),
    id: str = "house",  # noqa: A002 - the document's own name
    kind: Any = "dwelling",
    **fields: Any,
) -> Building:
    """Return a building; a dwelling whose openings are all drawn, without overhang."""
    standard: dict[str, Any] = {
        "overhang_m": 0.0,
        "openings_complete": True,
        "wall_material": "noncombustible",
    }
    return Building(id=id, kind=kind, outline=tuple(outline), **(standard | fields))


def opening(
    id: str = "window",  # noqa: A002
    kind: Any = "window",
    *,
    building: str = "house",
    wall: int = 0,
    offset_m: float = 1.0,
    width_m: float = 1.0,
    **fields: Any,
) -> Opening:
    return Opening(
        id=id, kind=kind, building=building, wall=wall, offset_m=offset_m, width_m=width_m, **fields
    )


WIDTH_M, LENGTH_M, HEIGHT_M = 0.6, 0.8, 0.6


def machine(**fields: Any) -> Machine:
    """Return a generator 0.6 m wide, 0.8 m long and 0.6 m high, exhaust at its back."""
    standard: dict[str, Any] = {"width_m": WIDTH_M, "length_m": LENGTH_M, "height_m": HEIGHT_M}
    standard["exhaust_side"] = "back"
    return Machine(**(standard | fields))


def standing(x: float = 0.0, y: float = 0.0, turn_deg: float = 0.0, **fields: Any) -> Placement:
    """Return a placement on dry level concrete, nothing over it."""
    standard: dict[str, Any] = {"id": "here", "ground": "concrete", "level_and_dry": True}
    return Placement(at=(x, y), turn_deg=turn_deg, **(standard | fields))


def north_of_machine(gap_m: float) -> float:
    """Return the y that lies this far [m] north of a machine standing at (0, 0), turn 0."""
    return LENGTH_M / 2.0 + gap_m


def ground_area(
    kind: Any,
    outline: Iterable[tuple[float, float]],
    id: str = "area",  # noqa: A002
    **fields: Any,
) -> Ground:
    return Ground(kind=kind, id=id, outline=tuple(outline), **fields)


def roof(
    kind: Any,
    outline: Iterable[tuple[float, float]],
    id: str = "roof",  # noqa: A002
    **fields: Any,
) -> Shelter:
    return Shelter(kind=kind, id=id, outline=tuple(outline), **fields)


def fence(*path: tuple[float, float], id: str = "fence", **fields: Any) -> Barrier:  # noqa: A002
    """Return a solid noncombustible fence 1.8 m high unless told otherwise."""
    standard: dict[str, Any] = {
        "kind": "fence",
        "height_m": 1.8,
        "solidity": 1.0,
        "combustible": False,
    }
    return Barrier(id=id, path=path, **(standard | fields))


def tree(x: float, y: float, crown_m: float = 4.0, id: str = "tree", **fields: Any) -> Tree:  # noqa: A002
    return Tree(id=id, at=(x, y), crown_m=crown_m, **fields)


def fixture(model: type, x: float, y: float, id: str = "fixture", **fields: Any) -> Any:  # noqa: A002
    """Return a fixture of this model at a place."""
    return model(id=id, at=(x, y), **fields)


def on_wall(wall: int, offset_m: float, building: str = "house") -> OnWall:
    return OnWall(building=building, wall=wall, offset_m=offset_m)


def cover(kind: Any = "canopy", **fields: Any) -> Cover:
    return Cover(kind=kind, **fields)


def cord(id: str = "cord", **fields: Any) -> Cord:  # noqa: A002
    return Cord(id=id, **fields)


def passing(opening: str, how: Any = "held-ajar") -> Pass:
    return Pass(opening=opening, how=how)


def household(*spots: AlarmSpot, **fields: Any) -> Household:
    return Household(alarm_spots=spots, **fields)


def alarm_spot(id: str, place: Any = "storey", **fields: Any) -> AlarmSpot:  # noqa: A002
    """Return a spot with a working alarm on batteries unless told otherwise."""
    standard: dict[str, Any] = {"alarm": True, "battery": True}
    return AlarmSpot(id=id, place=place, **(standard | fields))


def house_plan(x: float, y: float, *parts: Any, **fields: Any) -> Plan:
    """Return a lot with a 12 m by 8 m house (north-east of 0, 0), a window to the south, a
    door to the north, and the machine at (x, y)."""
    return make_plan(
        lot(-40.0, -40.0, 60.0, 60.0),
        building(),
        opening(),
        opening("door", kind="door", wall=2, offset_m=5.0),
        standing(x, y),
        *parts,
        **fields,
    )
