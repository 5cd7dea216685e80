"""How the outage goes by the clock: fuel use by the hour, stops to refuel, quiet hours."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from siteplan.plan.document import Plan
from siteplan.plan.machine import Machine
from siteplan.plan.needs import Load
from siteplan.power.fuel import gasoline_l_per_h
from siteplan.power.outage import OutagePlan, plan_outage
from siteplan.words import Text

Span = tuple[float, float]
SHOWN_H = 24.0
_GASOLINE = frozenset({"gasoline", "dual-fuel"})
# The fuel model holds up to this share over the rating.
_MOST_LOAD = 1.1


@dataclass(frozen=True, slots=True)
class Night:
    """An outage played through.

    Attributes
    ----------
    outage : OutagePlan
        Its stretches from the beginning.
    start_h : float
        Hour of the clock at which it begins [h].
    day_w, night_w : float
        Mean power drawn outside and within the quiet hours [W].
    quiet : tuple of (float, float)
        Quiet stretches from the beginning of the outage [h].
    """

    outage: OutagePlan
    start_h: float
    day_w: float
    night_w: float
    quiet: tuple[tuple[float, float], ...]


def night(plan: Plan) -> Night | Text:
    """Return the outage played through, or what is missing for it."""
    machine, outage = plan.machine, plan.outage
    if machine is None:
        return Text("no generator is entered")
    if outage.hours is None:
        return Text("the length of the outage is not entered")
    if machine.rated_w is None or machine.tank_l is None:
        return Text("the generator's running watts or its tank are not entered")
    watts = {still: mean_w(plan.loads, "night" if still else "day") for still in (True, False)}
    if refusal := _refused(plan, machine, max(watts.values()), machine.rated_w):
        return refusal
    start_h = clock_h(outage.start)
    night_h = (clock_h(outage.quiet_from), clock_h(outage.quiet_to))
    quiet = tuple(_quiet(start_h, night_h, outage.hours))
    profile = [
        (end - begin, gasoline_l_per_h(watts[still], machine.rated_w))
        for begin, end, still in _spans(quiet, outage.hours)
    ]
    played = plan_outage(profile, machine.tank_l, outage.cooling_min)
    return Night(played, start_h, watts[False], watts[True], quiet)


def _refused(plan: Plan, machine: Machine, most_w: float, rated_w: float) -> Text | None:
    if machine.fuel not in _GASOLINE:
        return Text("fuel is reckoned for gasoline only")
    if not plan.loads:
        return Text("no load is entered")
    if most_w > _MOST_LOAD * rated_w:
        return Text("the loads together are more than the generator can run")
    return None


def mean_w(loads: tuple[Load, ...], when: str) -> float:
    """Return the mean power drawn by day or by night [W]: running power by share of time."""
    return sum(one.running_w * one.duty for one in loads if one.when in {"always", when})


def clock_h(text: str) -> float:
    """Return hours after midnight of a clock time such as 18:30."""
    hours, minutes = text.split(":")
    return int(hours) + int(minutes) / 60.0


def clock(start_h: float, after_h: float) -> str:
    """Return the clock time so many hours after a start, to the minute."""
    rest = round((start_h + after_h) * 60.0) % (24 * 60)
    return f"{rest // 60:02d}:{rest % 60:02d}"


def stops(found: Night, until_h: float) -> Iterator[tuple[float, float]]:
    """Yield (stop, start again) of each rest to refuel that begins before a time [h]."""
    for one in found.outage.stretches:
        if one.kind == "cool" and one.start_h < until_h:
            yield one.start_h, one.end_h


def _quiet(start_h: float, night_h: Span, hours: float) -> Iterator[Span]:
    begin_h, end_h = night_h
    long = (end_h - begin_h) % 24.0
    first = (begin_h - start_h) % 24.0 - 24.0
    for day in range(math.ceil(hours / 24.0) + 2):
        low, high = max(0.0, first + 24.0 * day), min(hours, first + 24.0 * day + long)
        if high > low:
            yield low, high


def _spans(quiet: tuple[Span, ...], hours: float) -> Iterator[tuple[float, float, bool]]:
    now = 0.0
    for begin, end in quiet:
        if begin > now:
            yield now, begin, False
        yield begin, end, True
        now = end
    if now < hours:
        yield now, hours, False
