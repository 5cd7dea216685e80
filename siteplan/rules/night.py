"""How an outage goes by the clock: loads, fuel, rests to refuel, and what to switch off."""

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from siteplan.plan.around import FuelStore
from siteplan.plan.document import Plan
from siteplan.plan.machine import Machine
from siteplan.plan.needs import Load, Outage
from siteplan.power.fuel import (
    INVERTER_NO_LOAD_SHARE,
    NO_LOAD_SHARE,
    FuelModel,
    gasoline_l_per_h,
    gasoline_saved_l,
    propane_l_per_h,
)
from siteplan.power.outage import OutagePlan, Stretch, endurance_h, plan_outage
from siteplan.rules.book import rule
from siteplan.rules.common import minute
from siteplan.scene import Scene
from siteplan.words import Text

DAY_MIN = 24 * 60
_DAY_H = 24.0
# Fuels that are poured or carried to the machine and burn as the model says.
_MODELLED = frozenset({"gasoline", "dual-fuel", "propane"})
_LONGEST_H, _LARGEST_TANK_L = 1440.0, 2000.0
_LEAST_TANK_L, _LEAST_RATED_W = 0.1, 1.0
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


class Saving(NamedTuple):
    """What leaving a load off saves: its id, the hours it is on [h], the fuel at least [L]."""

    load: str
    hours: float
    saved_l: float


class NightPlan(NamedTuple):
    """The outage played through, or what is missing for it.

    Attributes
    ----------
    missing : tuple of Text
        What must be entered first; everything else is then empty.
    start_min : int
        Minute of the day at which the outage begins.
    hours : float
        Its length [h].
    cooling_min : float
        Rest before refuelling [min].
    quiet : tuple of (float, float)
        Quiet stretches from the beginning of the outage [h].
    periods : tuple of Period
        In order.
    stretches : tuple of Stretch
        Running, cooling and off, by the conservative model.
    stops : tuple of Stop
        Rests to refuel.
    fuel_most_l, fuel_least_l : float
        Burnt by the conservative and the optimistic model, the first tank included [L].
    tank_l : float
        The tank, full at the beginning [L].
    shortest_tank_h : float
        How long a full tank lasts where most is burnt [h].
    store_l : float
        To keep in store beside the full tank [L].
    stored_l : float or None
        What is in store [L]; None if no store or not every amount is entered.
    store_limit_l : float or None
        The most that may be stored as it is stored [L]; None for fuels without such a limit.
    savings : tuple of Saving
        Loads by the fuel that leaving them off saves, most first; medical loads are not among
        them.
    leave_off : tuple of str
        Least needed loads to leave off so that the fuel in store lasts; empty if it does anyway
        or if the amount in store is not known.
    lasts_then : bool or None
        Whether the fuel lasts after that; None if the amount in store is not known.
    overloaded : bool
        Whether the loads draw more than the rating in some period; full load is then burnt.
    """

    missing: tuple[Text, ...] = ()
    start_min: int = 0
    hours: float = 0.0
    cooling_min: float = 0.0
    quiet: tuple[tuple[float, float], ...] = ()
    periods: tuple[Period, ...] = ()
    stretches: tuple[Stretch, ...] = ()
    stops: tuple[Stop, ...] = ()
    fuel_most_l: float = 0.0
    fuel_least_l: float = 0.0
    tank_l: float = 0.0
    shortest_tank_h: float = 0.0
    store_l: float = 0.0
    stored_l: float | None = None
    store_limit_l: float | None = None
    savings: tuple[Saving, ...] = ()
    leave_off: tuple[str, ...] = ()
    lasts_then: bool | None = None
    overloaded: bool = False

    def clock(self, hour: float) -> str:
        """Return the time of day so many hours after the beginning, as 18:30."""
        minute = round(self.start_min + hour * 60.0) % DAY_MIN
        return f"{minute // 60:02d}:{minute % 60:02d}"


def night_plan(scene: Scene) -> NightPlan:
    """Return how the planned outage goes, or what is missing for telling."""
    plan = scene.plan
    played = played_through(plan.machine, plan.loads, plan.outage)
    if not isinstance(played, Played):
        return NightPlan(missing=played)
    stored, machine = stored_l(plan), played.machine
    off, lasts = _leave_off(plan, played, stored)
    return NightPlan(
        start_min=minute(plan.outage.start),
        hours=played.hours,
        cooling_min=plan.outage.cooling_min,
        quiet=played.quiet,
        periods=played.periods,
        stretches=played.most.stretches,
        stops=played.stops,
        fuel_most_l=played.most.fuel_l,
        fuel_least_l=played.least.fuel_l,
        tank_l=played.tank_l,
        shortest_tank_h=played.shortest_tank_h,
        store_l=played.store_l,
        stored_l=stored,
        store_limit_l=store_limit_l(plan),
        savings=_savings(plan.loads, machine, played.periods),
        leave_off=off,
        lasts_then=lasts,
        overloaded=played.overloaded,
    )


# -- playing the outage through ------------------------------------------------


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
    if not any(_on(one) for one in loads):
        yield Text("the appliances that will run")


_FUEL_TEXTS = {
    "diesel": Text("the fuel use of a diesel generator, for which its manual governs"),
    "natural-gas": Text("the tank: natural gas comes by pipe, as long as it comes"),
}


def _on(load: Load) -> bool:
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
    on = [one for one in loads if _on(one) and one.when in {"always", "night" if quiet else "day"}]
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


# -- the store -----------------------------------------------------------------


def _stores(plan: Plan) -> list[FuelStore]:
    """Return the stores that hold the machine's fuel; only gasoline is drawn as a store."""
    if plan.machine is None or plan.machine.fuel == "propane":
        return []
    return [one for one in plan.fixtures if isinstance(one, FuelStore) and one.fuel == "gasoline"]


def stored_l(plan: Plan) -> float | None:
    """Return the machine's fuel in store [L]; None if no amount, or not every one, is entered."""
    amounts = [one.stored_l for one in _stores(plan)]
    known = [one for one in amounts if one is not None]
    return sum(known) if known and len(known) == len(amounts) else None


def store_limit_l(plan: Plan) -> float | None:
    """Return the most gasoline that may be stored [L]; more only if every store is a cabinet."""
    if plan.machine is None or plan.machine.fuel == "propane":
        return None
    stores, book = _stores(plan), rule("fuel-store-amount")
    cabinet = bool(stores) and all(one.in_cabinet for one in stores)
    return book.figure("cabinet_l" if cabinet else "gasoline_l")


# -- what to switch off --------------------------------------------------------


def _savings(
    loads: tuple[Load, ...], machine: Machine, periods: tuple[Period, ...]
) -> tuple[Saving, ...]:
    found = []
    for one in loads:
        hours = sum(part.end_h - part.start_h for part in periods if one.id in part.loads)
        if one.medical or hours == 0.0:
            continue
        mean_w = one.running_w * one.duty
        saved = gasoline_saved_l(mean_w, hours, no_load_share=no_load_share(machine))
        saved = propane_l_per_h(saved) if machine.fuel == "propane" else saved
        found.append(Saving(one.id, hours, saved))
    return tuple(sorted(found, key=lambda one: -one.saved_l))


def _leave_off(
    plan: Plan, played: Played, stored: float | None
) -> tuple[tuple[str, ...], bool | None]:
    """Return the least needed loads to leave off, and whether the fuel lasts then.

    Loads are listed by need, so the last go first; what keeps somebody alive never goes.
    """
    if stored is None:
        return (), None
    off: list[str] = []
    need = played.store_l
    for load in reversed(plan.loads):
        if need <= stored:
            break
        if load.medical or not _on(load):
            continue
        left = tuple(one for one in plan.loads if one.id not in {*off, load.id})
        again = played_through(plan.machine, left, plan.outage)
        if not isinstance(again, Played):
            break
        off.append(load.id)
        need = again.store_l
    return tuple(off), need <= stored
