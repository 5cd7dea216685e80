"""How an outage goes by the clock: loads, fuel, rests to refuel, and what to switch off."""

import math
from typing import NamedTuple

from siteplan.plan.document import Plan
from siteplan.plan.machine import Machine
from siteplan.plan.needs import Load
from siteplan.power.fuel import gasoline_saved_l, propane_l_per_h
from siteplan.power.outage import Stretch
from siteplan.rules.common import minute
from siteplan.rules.night_hours import (
    DAY_MIN,
    Period,
    Played,
    Stop,
    is_on,
    no_load_share,
    played_through,
)
from siteplan.rules.night_store import store_limit_l, stored_l
from siteplan.scene import Scene
from siteplan.words import Text

# Binary fractions of an hour fall this little short of a whole minute.
_ROUNDING_MIN = 1e-6


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

    def clock(self, hour: float, *, later: bool = False) -> str:
        """Return the time of day so many hours after the beginning, as 18:30.

        Down to the minute, for a tank is empty no later; a machine that has cooled starts no
        sooner, so that is told up to the minute.
        """
        exact = self.start_min + hour * 60.0
        told = math.ceil(exact - _ROUNDING_MIN) if later else math.floor(exact + _ROUNDING_MIN)
        return f"{told % DAY_MIN // 60:02d}:{told % 60:02d}"


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
        if load.medical or not is_on(load):
            continue
        left = tuple(one for one in plan.loads if one.id not in {*off, load.id})
        again = played_through(plan.machine, left, plan.outage)
        if not isinstance(again, Played):
            break
        off.append(load.id)
        need = again.store_l
    return tuple(off), need <= stored
