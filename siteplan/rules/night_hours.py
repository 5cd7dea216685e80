"""An outage played through by the clock: what is on when, what it burns, and when to refuel."""

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from siteplan.plan.machine import Machine
from siteplan.plan.needs import Load, Outage
from siteplan.power.fuel import (
    INVERTER_NO_LOAD_SHARE,
    NO_LOAD_SHARE,
    FuelModel,
    gasoline_l_per_h,
    propane_l_per_h,
)
from siteplan.power.outage import OutagePlan, endurance_h, plan_outage
from siteplan.rules.common import minute
from siteplan.words import Text

DAY_MIN = 24 * 60
_DAY_H = 24.0
# Fuels that are poured or carried to the machine and burn as the model says.
_MODELLED = frozenset({"gasoline", "dual-fuel", "propane"})
_LONGEST_H, _LARGEST_TANK_L = 1440.0, 2000.0
# No generator is rated less (common practice, no source); below it the models of fuel do not hold.
_LEAST_TANK_L, _LEAST_RATED_W = 0.1, 100.0
_TINY_H = 1e-9


class Period(NamedTuple):
    """A part of the outage in which the same loads are on.

    Attributes
    ----------
    start_h, end_h : float
        From the beginning of the outage [h].
    quiet : bool
        Whether it lies in the quiet hours.
    loads : tuple of str
        Ids of the loads that are on.
    mean_w : float
        Mean power: running watts by the share of time each runs [W].
    most_l_per_h, least_l_per_h : float
        Fuel use by the conservative and the optimistic model [L/h]; 0 if nothing is on, for
        then the machine stands still.
    """

    start_h: float
    end_h: float
    quiet: bool
    loads: tuple[str, ...]
    mean_w: float
    most_l_per_h: float
    least_l_per_h: float


class Stop(NamedTuple):
    """A rest to cool and refuel.

    Attributes
    ----------
    stop_h, start_h : float
        When the machine stops and runs again, from the beginning of the outage [h].
    asleep : bool
        Whether a part of it lies in the quiet hours.
    """

    stop_h: float
    start_h: float
    asleep: bool


class Played(NamedTuple):
    """An outage of a machine that has all the data, by both models."""

    machine: Machine
    tank_l: float
    hours: float
    quiet: tuple[tuple[float, float], ...]
    periods: tuple[Period, ...]
    most: OutagePlan
    least: OutagePlan
    stops: tuple[Stop, ...]
    overloaded: bool

    @property
    def store_l(self) -> float:
        """Fuel to keep in store beside a full tank [L]."""
        return self.most.to_store_l(self.tank_l, tank_is_full=True)

    @property
    def shortest_tank_h(self) -> float:
        """How long a full tank lasts where most is burnt [h]; endless if nothing is."""
        most = max(one.most_l_per_h for one in self.periods)
        return math.inf if most == 0.0 else endurance_h(self.tank_l, most)


# The three rules of fuel and the papers ask for the same outage, at every step of a drag.
@lru_cache(maxsize=16)
def played_through(
    machine: Machine | None, loads: tuple[Load, ...], outage: Outage
) -> "Played | tuple[Text, ...]":
    """Return the outage played through, or what is missing for it."""
    missing = tuple(_missing(machine, loads, outage))
    rated_w = None if machine is None else machine.rated_w
    tank_l = None if machine is None else machine.tank_l
    if missing or machine is None or rated_w is None or tank_l is None or outage.hours is None:
        return missing
    quiet = tuple(quiet_spans(outage, outage.hours))
    periods = tuple(_period(machine, rated_w, loads, span) for span in _spans(quiet, outage.hours))
    most = plan_outage(
        [(one.end_h - one.start_h, one.most_l_per_h) for one in periods],
        tank_l,
        outage.cooling_min,
    )
    least = plan_outage(
        [(one.end_h - one.start_h, one.least_l_per_h) for one in periods],
        tank_l,
        outage.cooling_min,
    )
    return Played(
        machine=machine,
        tank_l=tank_l,
        hours=outage.hours,
        quiet=quiet,
        periods=periods,
        most=most,
        least=least,
        stops=tuple(_stops(most, quiet)),
        overloaded=any(one.mean_w > rated_w for one in periods),
    )


def _missing(machine: Machine | None, loads: tuple[Load, ...], outage: Outage) -> Iterator[Text]:
    if machine is None:
        yield Text("the generator")
        return
    if machine.fuel not in _MODELLED:
        yield _FUEL_TEXTS[machine.fuel]
        return
    if machine.rated_w is None or machine.rated_w < _LEAST_RATED_W:
        yield Text("the running watts on the generator's label")
    if machine.tank_l is None or not _LEAST_TANK_L <= machine.tank_l <= _LARGEST_TANK_L:
        yield Text("what the generator's tank holds")
    if outage.hours is None:
        yield Text("how long the outage may last")
    elif outage.hours > _LONGEST_H:
        yield Text("an outage of at most 60 days")
    if not any(is_on(one) for one in loads):
        yield Text("the appliances that will run")


_FUEL_TEXTS = {
    "diesel": Text("the fuel use of a diesel generator, for which its manual governs"),
    "natural-gas": Text("the tank: natural gas comes by pipe, as long as it comes"),
}


def is_on(load: Load) -> bool:
    """Return whether a load draws anything at all."""
    return load.running_w > 0.0 and load.duty > 0.0


def quiet_spans(outage: Outage, hours: float) -> Iterator[tuple[float, float]]:
    """Yield the quiet stretches of an outage, from its beginning [h]."""
    begin, end = minute(outage.quiet_from), minute(outage.quiet_to)
    long_h = (end - begin) % DAY_MIN / 60.0
    first = (begin - minute(outage.start)) % DAY_MIN / 60.0 - _DAY_H
    for day in range(math.ceil(hours / _DAY_H) + 2):
        low, high = max(0.0, first + day * _DAY_H), min(hours, first + day * _DAY_H + long_h)
        if high - low > _TINY_H:
            yield low, high


def _spans(
    quiet: Sequence[tuple[float, float]], hours: float
) -> Iterator[tuple[float, float, bool]]:
    now = 0.0
    for begin, end in quiet:
        if begin - now > _TINY_H:
            yield now, begin, False
        yield begin, end, True
        now = end
    if hours - now > _TINY_H:
        yield now, hours, False


def _period(
    machine: Machine, rated_w: float, loads: tuple[Load, ...], span: tuple[float, float, bool]
) -> Period:
    start_h, end_h, quiet = span
    on = [
        one for one in loads if is_on(one) and one.when in {"always", "night" if quiet else "day"}
    ]
    mean_w = sum(one.running_w * one.duty for one in on)

    def rate(model: FuelModel) -> float:
        return fuel_l_per_h(machine, rated_w, mean_w, model) if on else 0.0

    ids = tuple(one.id for one in on)
    return Period(start_h, end_h, quiet, ids, mean_w, rate("conservative"), rate("optimistic"))


def no_load_share(machine: Machine) -> float:
    """Return fuel without load over fuel at full load; only a stated inverter throttles down."""
    return INVERTER_NO_LOAD_SHARE if machine.inverter else NO_LOAD_SHARE


def fuel_l_per_h(machine: Machine, rated_w: float, mean_w: float, model: FuelModel) -> float:
    """Return the fuel use at a mean load [L/h], of its own fuel; at most that of full load.

    Parameters
    ----------
    machine : Machine
        Tells the fuel, and whether it throttles down.
    rated_w : float
        Running rating [W].
    mean_w : float
        Mean load [W].
    model : str
        "conservative" or "optimistic".
    """
    gasoline = gasoline_l_per_h(min(mean_w, rated_w), rated_w, model, no_load_share(machine))
    return propane_l_per_h(gasoline) if machine.fuel == "propane" else gasoline


def _stops(outage: OutagePlan, quiet: Sequence[tuple[float, float]]) -> Iterator[Stop]:
    for one in outage.stretches:
        if one.kind == "cool":
            asleep = any(one.start_h < high and one.end_h > low for low, high in quiet)
            yield Stop(one.start_h, one.end_h, asleep)
