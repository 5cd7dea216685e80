"""The hours of an outage: running, stopping to cool and refuel, fuel to have in store."""

from collections.abc import Sequence
from typing import Literal, NamedTuple

from siteplan.power._checks import within
from siteplan.units import L_PER_GAL, feet

StretchKind = Literal["run", "cool", "off"]

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


class Stretch(NamedTuple):
    """A part of the outage.

    Attributes
    ----------
    kind : str
        "run"; "cool": stopped until it is refuelled; "off": stopped by plan.
    start_h, end_h : float
        From the beginning of the outage [h].
    fuel_l : float
        Burnt in it [L].
    """

    kind: StretchKind
    start_h: float
    end_h: float
    fuel_l: float


class OutagePlan(NamedTuple):
    """How the outage goes.

    Attributes
    ----------
    stretches : tuple of Stretch
        In order; each change of consumption, stop and start begins a new one.
    fuel_l : float
        Burnt in all [L], the first tank included.
    run_h, cool_h, off_h : float
        Hours running, stopped to cool and refuel, and stopped by plan.
    refuels : int
        Times the machine is started on a tank filled again.
    """

    stretches: tuple[Stretch, ...]
    fuel_l: float
    run_h: float
    cool_h: float
    off_h: float
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
        outage; at most 60 days in all. Fuel use 0.01 to 1000, or 0 where the machine is stopped
        by plan: if long enough to cool, the tank is full again after it. Time goes on while
        the machine cools.
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
    machine = _Machine(tank_l, cooling_min / 60.0)
    stretches: list[Stretch] = []
    now = 0.0
    for hours, rate in profile:
        within("hours", hours, 0.0, _LONGEST_OUTAGE_H)
        if rate != 0.0:
            within("fuel use [L/h]", rate, 0.01, 1000.0)
        end = now + hours
        while end - now > _TINY_H:
            stretches.append(machine.next(now, end, rate))
            within("stretches of the outage", len(stretches), 0, _MOST_STRETCHES)
            now = stretches[-1].end_h
    return _summed(stretches, machine.refuels)


class _Machine:
    """Tank and rest of a machine while an outage is played through."""

    def __init__(self, tank_l: float, rest_h: float) -> None:
        self._tank_l, self._rest_h = tank_l, rest_h
        self._level_l, self._rest_left_h = tank_l, 0.0
        self._filled = False
        self.refuels = 0

    def next(self, now: float, end: float, rate: float) -> Stretch:
        """Return the next stretch, at most until `end`."""
        if rate == 0.0:
            return self._off(now, end)
        return self._cool(now, end) if self._rest_left_h > _TINY_H else self._run(now, end, rate)

    def _fill(self, rest_left_h: float) -> None:
        self._level_l, self._rest_left_h, self._filled = self._tank_l, rest_left_h, True

    def _off(self, now: float, end: float) -> Stretch:
        self._rest_left_h = max(0.0, self._rest_left_h - (end - now))
        if end - now >= self._rest_h - _TINY_H and self._level_l < self._tank_l:
            self._fill(0.0)
        return Stretch("off", now, end, 0.0)

    def _cool(self, now: float, end: float) -> Stretch:
        stop = min(end, now + self._rest_left_h)
        self._rest_left_h -= stop - now
        return Stretch("cool", now, stop, 0.0)

    def _run(self, now: float, end: float, rate: float) -> Stretch:
        if self._filled:
            self.refuels += 1
            self._filled = False
        stop = min(end, now + self._level_l / rate)
        burnt = rate * (stop - now)
        self._level_l -= burnt
        if self._level_l <= rate * _TINY_H:
            self._fill(self._rest_h)
        return Stretch("run", now, stop, burnt)


def _summed(stretches: Sequence[Stretch], refuels: int) -> OutagePlan:
    def hours(kind: StretchKind) -> float:
        return sum(each.end_h - each.start_h for each in stretches if each.kind == kind)

    return OutagePlan(
        stretches=tuple(stretches),
        fuel_l=sum(each.fuel_l for each in stretches),
        run_h=hours("run"),
        cool_h=hours("cool"),
        off_h=hours("off"),
        refuels=refuels,
    )
