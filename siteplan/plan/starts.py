"""Typical lots and generators to start from: nearly right, and there to be changed.

Nothing here counts as known: every dwelling comes with its openings not yet complete, so a
review of a start says plainly what is still to be drawn.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Literal

from siteplan.assets import data_book
from siteplan.plan.document import Plan
from siteplan.plan.errors import EditError
from siteplan.plan.lot import Building, Lot, Opening
from siteplan.plan.machine import Machine, Receptacle

_DOOR_M = 0.914
_WINDOW_M = 1.2
_NEIGHBOUR_DEPTH_M = 10.0
_LEAST_YARD_M = 1.0


@dataclass(frozen=True, slots=True)
class Start:
    """A typical lot by its sizes [m].

    Attributes
    ----------
    id, title : str
        Its name and heading.
    lot_width_m, lot_depth_m : float
        Along the street, and away from it.
    house_width_m, house_depth_m : float
        Of the dwelling, without its garage.
    front_m, side_m : float
        From the street, and from the lot's left edge, to whatever stands first.
    garage : str
        On which side of the house, if there is one.
    garage_width_m, garage_depth_m : float
        Of the garage.
    storeys : int
        Of the house.
    neighbour_left_m, neighbour_right_m, neighbour_back_m : float
        From the boundary to the neighbour's house; 0 where there is none.
    """

    id: str
    title: str
    lot_width_m: float
    lot_depth_m: float
    house_width_m: float
    house_depth_m: float
    front_m: float
    side_m: float
    garage: Literal["none", "left", "right"]
    garage_width_m: float
    garage_depth_m: float
    storeys: int
    neighbour_left_m: float
    neighbour_right_m: float
    neighbour_back_m: float


@dataclass(frozen=True, slots=True)
class MachineStart:
    """A typical generator: its heading and the machine."""

    id: str
    title: str
    machine: Machine


def resized(start: Start, **sizes: float) -> Start:
    """Return the start with some of its sizes [m] replaced by what was typed."""
    return replace(start, **sizes)  # type: ignore[arg-type]


@cache
def starts() -> Mapping[str, Start]:
    """Return the typical lots by id, in the order of the book."""
    return {row["id"]: Start(**row) for row in _book()["start"]}


@cache
def machine_starts() -> Mapping[str, MachineStart]:
    """Return the typical generators by id, in the order of the book."""
    return {row["id"]: _machine(dict(row)) for row in _book()["machine"]}


def plan_from(start: Start) -> Plan:
    """Return a first plan of a typical lot: street at the bottom, north up.

    Raises
    ------
    EditError
        If the house does not fit on the lot.
    """
    garage_m = 0.0 if start.garage == "none" else start.garage_width_m
    if start.side_m + start.house_width_m + garage_m > start.lot_width_m:
        msg = "the house and its garage are wider than the lot leaves room for"
        raise EditError(msg)
    if start.front_m + start.house_depth_m + _LEAST_YARD_M > start.lot_depth_m:
        msg = "the house is deeper than the lot leaves room for"
        raise EditError(msg)
    buildings = tuple(_buildings(start))
    openings = tuple(one for building in buildings for one in _openings(building))
    lot = Lot(outline=_box(0.0, 0.0, start.lot_width_m, start.lot_depth_m))
    return Plan(lot=lot, buildings=buildings, openings=openings)


def _book() -> dict[str, Any]:
    return data_book("starts.toml")


def _machine(row: dict[str, Any]) -> MachineStart:
    name, title = row.pop("id"), row.pop("title")
    row["receptacles"] = tuple(
        Receptacle(id=f"outlet-{number}", configuration=configuration)
        for number, configuration in enumerate(row["receptacles"], start=1)
    )
    return MachineStart(name, title, Machine(name=title, exhaust_side="back", **row))


def _box(x: float, y: float, width: float, depth: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))


def _buildings(start: Start) -> Iterator[Building]:
    garage_m = start.garage_width_m if start.garage == "left" else 0.0
    x, y = start.side_m + garage_m, start.front_m
    yield Building(
        id="house",
        outline=_box(x, y, start.house_width_m, start.house_depth_m),
        storeys=start.storeys,
    )
    if start.garage != "none":
        at = start.side_m if start.garage == "left" else x + start.house_width_m
        size = (start.garage_width_m, start.garage_depth_m)
        yield Building(id="garage", kind="attached-garage", outline=_box(at, y, *size), storeys=1)
    yield from _neighbours(start)


def _neighbours(start: Start) -> Iterator[Building]:
    wide, deep = start.house_width_m, start.house_depth_m
    if start.neighbour_left_m:
        ring = _box(-start.neighbour_left_m - wide, start.front_m, wide, deep)
        yield _neighbour("neighbour-left", ring)
    if start.neighbour_right_m:
        ring = _box(start.lot_width_m + start.neighbour_right_m, start.front_m, wide, deep)
        yield _neighbour("neighbour-right", ring)
    if start.neighbour_back_m:
        left = (start.lot_width_m - wide) / 2.0
        ring = _box(left, start.lot_depth_m + start.neighbour_back_m, wide, _NEIGHBOUR_DEPTH_M)
        yield _neighbour("neighbour-back", ring)


def _neighbour(name: str, ring: tuple[tuple[float, float], ...]) -> Building:
    return Building(id=name, owner="neighbour", outline=ring)


def _openings(building: Building) -> Iterator[Opening]:
    """Yield a door before and behind, with windows beside each: the first to be put right."""
    if building.id == "garage":
        wide = building.outline[1][0] - building.outline[0][0]
        yield Opening(
            id="garage-door",
            kind="garage-door",
            building="garage",
            wall=0,
            offset_m=wide * 0.15,
            width_m=wide * 0.7,
        )
    if building.id != "house":
        return
    wide = building.outline[1][0] - building.outline[0][0]
    for wall, side in ((0, "front"), (2, "back")):
        door = wide / 2.0 - _DOOR_M / 2.0
        yield _opening(f"{side}-door", "door", wall, door, _DOOR_M)
        for number, middle in enumerate((wide * 0.2, wide * 0.8), start=1):
            offset = middle - _WINDOW_M / 2.0
            yield _opening(f"{side}-window-{number}", "window", wall, offset, _WINDOW_M)


def _opening(
    name: str, kind: Literal["door", "window"], wall: int, offset_m: float, width_m: float
) -> Opening:
    return Opening(
        id=name, kind=kind, building="house", wall=wall, offset_m=offset_m, width_m=width_m
    )
