"""Plans with cords and loads, small enough to reckon by hand.

The house stands from (0, 0) to (12, 8); the generator 10 m west of the middle of its west
wall, where the inlet is. A cord to the inlet lies 9.98 m and rises 0.6 m and 1.0 m.
"""

from typing import Any

from siteplan.plan.around import PowerInlet
from siteplan.plan.document import Plan
from siteplan.plan.machine import Cord, Machine, Receptacle
from siteplan.plan.needs import Load, Outage, Transfer
from tests.helpers.builders import building, lot, machine, make_plan, on_wall, standing

LAID_M = 9.98 + 0.6 + 1.0
COOL = Outage(temperature_c=20.0, altitude_m=0.0)
L14 = Receptacle(id="l14", configuration="L14-30", breaker_a=30.0)
DUPLEX = Receptacle(id="duplex", configuration="5-20", breaker_a=20.0, gfci=True)


def inlet(**fields: Any) -> PowerInlet:
    """Return an inlet in the middle of the west wall, 1 m high."""
    standard: dict[str, Any] = {"id": "inlet", "height_m": 1.0}
    return PowerInlet(at=(0.0, 4.0), on=on_wall(3, 4.0), **(standard | fields))


def load(id: str = "lamp", running_w: float = 100.0, **fields: Any) -> Load:  # noqa: A002
    """Return a load that starts at no more than it runs at, unless told otherwise."""
    standard: dict[str, Any] = {"starting_w": running_w, "continuous": False}
    return Load(id=id, running_w=running_w, **(standard | fields))


def generator(**fields: Any) -> Machine:
    """Return a 5 kW machine with an L14-30 and a 5-20 outlet, its neutral floating."""
    standard: dict[str, Any] = {
        "rated_w": 5000.0,
        "starting_w": 6250.0,
        "neutral": "floating",
        "receptacles": (L14, DUPLEX),
    }
    return machine(**(standard | fields))


def transfer(**fields: Any) -> Transfer:
    """Return a manual switch that leaves the neutral whole, fitted by the book."""
    standard: dict[str, Any] = {
        "kind": "manual-switch",
        "switches_neutral": False,
        "by_licensed_electrician": True,
        "permit": True,
        "feeder_awg": 10,
        "feeder_length_m": 10.0,
        "branch_awg": 12,
        "branch_length_m": 10.0,
    }
    return Transfer(**(standard | fields))


def good_cord(**fields: Any) -> Cord:
    """Return a four-wire cord of one piece to the inlet, nothing wrong with it."""
    standard: dict[str, Any] = {
        "id": "cord",
        "receptacle": "l14",
        "to": "inlet",
        "gauge_awg": 10,
        "wires": 4,
        "pieces_m": (15.24,),
        "outdoor_jacket": True,
        "coiled": False,
    }
    return Cord(**(standard | fields))


def household_cord(**fields: Any) -> Cord:
    """Return a three-wire 12 AWG cord from the 5-20 outlet to a place in the yard."""
    standard: dict[str, Any] = {"receptacle": "duplex", "to": None, "end": (-1.0, 4.0)}
    return good_cord(**({"gauge_awg": 12, "wires": 3} | standard | fields))


def powered(cord: Cord | None = None, *parts: Any, **fields: Any) -> Plan:
    """Return the plan with one cord (the good one to the inlet) and more parts."""
    standard: dict[str, Any] = {"transfer": transfer(), "outage": COOL, "machine": generator()}
    cords = (good_cord() if cord is None else cord,)
    fixed = () if any(isinstance(one, PowerInlet) for one in parts) else (inlet(),)
    return make_plan(
        lot(-40.0, -40.0, 60.0, 60.0),
        building(),
        standing(-10.0, 4.0, cords=cords),
        *fixed,
        *parts,
        **(standard | fields),
    )
