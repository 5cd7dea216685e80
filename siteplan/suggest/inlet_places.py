"""The best places for a power inlet, each with the machine's place that goes with it."""

from siteplan.plan.around import PowerInlet, ThroughWallOutlet
from siteplan.plan.document import Plan
from siteplan.plan.edits import changed, drop, with_fields
from siteplan.suggest.ranked import spots
from siteplan.suggest.spot import Spot

_LOOKED_AT = 12


def inlet_places(plan: Plan, count: int = 3) -> tuple[Spot, ...]:
    """Return places for the machine by where an inlet would hang, as if there were none yet.

    Parameters
    ----------
    plan : Plan
        With a machine.
    count : int
        Inlets wanted, 1 to 12.

    Returns
    -------
    tuple of Spot
        Each with another `inlet`, the least cord and cable together first; none where no
        place passes or nothing of the own walls is free.

    Raises
    ------
    NoMachineError
        If the plan has no machine.
    """
    best: dict[tuple[str, int, float], Spot] = {}
    for spot in spots(_without_inlets(plan), _LOOKED_AT).places:
        if spot.inlet is None or not spot.passes:
            continue
        on = (spot.inlet.on.building, spot.inlet.on.wall, spot.inlet.on.offset_m)
        if on not in best or cable_m(spot) < cable_m(best[on]):
            best[on] = spot
    return tuple(sorted(best.values(), key=cable_m)[:count])


def cable_m(spot: Spot) -> float:
    """Return cord and cable to the panel together [m]."""
    feeder = 0.0 if spot.inlet is None else (spot.inlet.feeder_m or 0.0)
    return (spot.cord_m or 0.0) + feeder


def _without_inlets(plan: Plan) -> Plan:
    inlets = [one.id for one in plan.fixtures if isinstance(one, PowerInlet | ThroughWallOutlet)]
    loads = tuple(changed(one, via=None) for one in plan.loads)
    bare = tuple(changed(one, cords=()) for one in plan.placements)
    return drop(with_fields(plan, loads=loads, placements=bare), inlets)
