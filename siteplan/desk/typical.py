"""Lots to start from: invented, of common sizes; every figure can be typed over."""

from dataclasses import dataclass
from typing import Literal

from siteplan.desk import making
from siteplan.plan import Plan
from siteplan.units import feet

Garage = Literal["none", "attached", "detached"]
_GARAGE_WIDTH_M, _GARAGE_DEPTH_M = feet(22), feet(22)
_SIDE_GAP_M = feet(3)
# Share of the lot's spare depth that lies in front of the house (common practice).
_FRONT_SHARE = 0.4


@dataclass(frozen=True, slots=True)
class Start:
    """Sizes to begin with [m]."""

    lot_width_m: float
    lot_depth_m: float
    house_width_m: float
    house_depth_m: float
    garage: Garage = "none"


TYPICAL: dict[str, Start] = {
    "town": Start(feet(40), feet(100), feet(24), feet(44)),
    "suburban": Start(feet(80), feet(120), feet(42), feet(30), "attached"),
    "wide": Start(feet(120), feet(160), feet(52), feet(34), "detached"),
}


def begun(plan: Plan, start: Start) -> making.Made:
    """Return the plan with a rectangular lot, a house on it and its garage.

    No opening is drawn: which there are, only someone who looks at the house can say.

    Raises
    ------
    EditError
        If a size cannot be drawn.
    """
    lot = making.shape_outline("rectangle", start.lot_width_m, start.lot_depth_m)
    plan, _ = making.set_lot(plan, lot)
    attached = start.garage == "attached"
    wide = start.house_width_m + (_GARAGE_WIDTH_M if attached else 0.0)
    left = (start.lot_width_m - wide) / 2
    front = (start.lot_depth_m - start.house_depth_m) * _FRONT_SHARE
    house = making.shape_outline(
        "rectangle", start.house_width_m, start.house_depth_m, (left, front)
    )
    plan, key = making.add_building(plan, "dwelling", house)
    if attached:
        at = (left + start.house_width_m, front)
        plan, _ = making.add_building(plan, "attached-garage", _garage(at))
    elif start.garage == "detached":
        at = (
            start.lot_width_m - _GARAGE_WIDTH_M - _SIDE_GAP_M,
            start.lot_depth_m - _GARAGE_DEPTH_M - _SIDE_GAP_M,
        )
        plan, _ = making.add_building(plan, "detached-garage", _garage(at))
    return plan, key


def _garage(at: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    return making.shape_outline("rectangle", _GARAGE_WIDTH_M, _GARAGE_DEPTH_M, at)
