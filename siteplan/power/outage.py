"""The hours of an outage: running, stopping to cool and refuel, fuel to have in store."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from siteplan.power._checks import within
from siteplan.units import L_PER_GAL, feet

StretchKind = Literal["run", "cool"]

COOLING_MIN = 30.0
"""Rest before refuelling (common practice, no source: half an hour to an hour)."""
SHORTEST_COOLING_MIN = 20.0
"""The least this program lets a user plan (the project's own figure). A fire department asks
for 15 minutes at least: fire-department-generators (read)."""

CAN_LIMIT_L = 5.0 * L_PER_GAL
"""Largest approved can. Source: fire-department-generators (read)."""
STORE_LIMIT_L = 10.0 * L_PER_GAL
"""Most in all without a cabinet. Source: fire-department-generators (read); it varies by place."""
CABINET_LIMIT_L = 60.0 * L_PER_GAL
"""Most in all in a cabinet. Source: fire-department-generators (read)."""
ONTARIO_DWELLING_L, ONTARIO_GARAGE_L = 10.0, 30.0
"""Most in a dwelling, and in an attached garage or shed. Source: ontario-fire-code-4.2.4 (read
second-hand)."""
STORE_DISTANCE_M = feet(10.0)
"""Store to opening or lot line (common practice; recommended in ontario-fire-code-4.2.4)."""
STORE_MACHINE_DISTANCE_M = feet(25.0)
"""Store to the running machine, 20 to 25 ft (common practice, no source)."""

_LONGEST_OUTAGE_H = 24.0 * 60.0
_MOST_STRETCHES = 100_000
_TINY_H = 1e-9


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the outage.

    Attributes
    ----------
    kind : str
        "run", or "cool": stopped until it may be refuelled.
    start_h, end_h : float
        From the beginning of the outage [h].
    fuel_l : float
        Burnt in it [L].
    """

    kind: StretchKind
    start_h: float
    end_h: float
    fuel_l: float


@dataclass(frozen=True, slots=True)
class OutagePlan:
    """How the outage goes.

    Attributes
    ----------
    stretches : tuple of Stretch
        In order; each change of consumption, stop and start begins a new one.
    fuel_l : float
        Burnt in all [L], the first tank included.
    run_h, dark_h : float
        Hours with and without power.
    refuels : int
        Times the tank is filled again.
    """

    stretches: tuple[Stretch, ...]
    fuel_l: float
    run_h: float
    dark_h: float
    refuels: int

    def to_store_l(self, tank_l: float, *, tank_is_full: bool) -> float:
        """Return the fuel to keep in cans [L]: all that is burnt, less a tank already full."""
        return max(0.0, self.fuel_l - (tank_l if tank_is_full else 0.0))


def endurance_h(tank_l: float, rate_l_per_h: float) -> float:
    """Return how long a full tank lasts [h].

    Parameters
    ----------
    tank_l : float
        Usable content [L], 0.1 to 2000.
    rate_l_per_h : float
        Fuel use [L/h], 0.01 to 1000.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.
    """
    within("tank [L]", tank_l, 0.1, 2000.0)
    return tank_l / within("fuel use [L/h]", rate_l_per_h, 0.01, 1000.0)


def plan_outage(
    profile: Sequence[tuple[float, float]], tank_l: float, cooling_min: float = COOLING_MIN
) -> OutagePlan:
    """Return how an outage goes: run until the tank is empty, cool, refuel, run on.

    Parameters
    ----------
    profile : sequence of (float, float)
        Hours [h] and the fuel use in them [L/h], one after the other from the beginning of the
        outage; at most 60 days in all, fuel use 0.01 to 1000. Time goes on while the machine
        cools.
    tank_l : float
        Usable content of the tank [L], 0.1 to 2000; full at the beginning.
    cooling_min : float
        From stop to start with a full tank [min], 20 to 240.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.
    """
    within("tank [L]", tank_l, 0.1, 2000.0)
    within("rest before refuelling [min]", cooling_min, SHORTEST_COOLING_MIN, 240.0)
    within("outage [h]", sum(hours for hours, _ in profile), 0.0, _LONGEST_OUTAGE_H)
    stretches: list[Stretch] = []
    now, level, cooling = 0.0, tank_l, 0.0
    for hours, rate in profile:
        within("hours", hours, 0.0, _LONGEST_OUTAGE_H)
        within("fuel use [L/h]", rate, 0.01, 1000.0)
        end = now + hours
        while end - now > _TINY_H:
            stretch, level, cooling = _next(now, end, rate, level, cooling)
            if level <= rate * _TINY_H and cooling <= 0.0:
                level, cooling = tank_l, cooling_min / 60.0
            stretches.append(stretch)
            within("stretches of the outage", len(stretches), 0, _MOST_STRETCHES)
            now = stretch.end_h
    return _summed(stretches)


def _next(
    now: float, end: float, rate: float, level: float, cooling: float
) -> tuple[Stretch, float, float]:
    """Return the next stretch, and what is left of the tank and of the rest after it."""
    if cooling > _TINY_H:
        stop = min(end, now + cooling)
        return Stretch("cool", now, stop, 0.0), level, cooling - (stop - now)
    stop = min(end, now + level / rate)
    burnt = rate * (stop - now)
    return Stretch("run", now, stop, burnt), level - burnt, 0.0


def _summed(stretches: Sequence[Stretch]) -> OutagePlan:
    runs = [each for each in stretches if each.kind == "run"]
    rests = [each for each in stretches if each.kind == "cool"]
    again = [
        after
        for before, after in itertools.pairwise(stretches)
        if (before.kind, after.kind) == ("cool", "run")
    ]
    return OutagePlan(
        stretches=tuple(stretches),
        fuel_l=sum(each.fuel_l for each in runs),
        run_h=sum(each.end_h - each.start_h for each in runs),
        dark_h=sum(each.end_h - each.start_h for each in rests),
        refuels=len(again),
    )
