"""A night's plan in sentences, for window, paper and command line."""

from collections.abc import Iterator

from siteplan.plan.document import Plan
from siteplan.plan.labels import label
from siteplan.rules.common import listed
from siteplan.rules.missing import not_judged
from siteplan.rules.night import NightPlan
from siteplan.rules.night_hours import Period
from siteplan.words import Quantity, Text, Value

_MOST_SAVINGS = 5
_MOST_STOPS = 4


def missing_line(night: NightPlan) -> Text:
    """Return what must be entered before the night can be planned."""
    return not_judged(joined(night.missing))


def joined(texts: tuple[Text, ...]) -> Text:
    """Return texts one after the other, with commas between, or that there is nothing."""
    return listed(texts) if texts else Text("nothing")


def refuel_line(night: NightPlan, bed: str) -> Text:
    """Return when it may be refuelled, by the clock; or what is missing for telling.

    Parameters
    ----------
    night : NightPlan
    bed : str
        When the quiet hours begin, as 22:00.
    """
    if night.missing:
        return missing_line(night)
    values: dict[str, Value] = {
        "rest": Quantity(night.cooling_min * 60.0, "time", "up"),
        "end": night.clock(night.hours),
        "bed": bed,
    }
    if not night.stops:
        return Text(
            "Only when stopped and cooled for {rest}. One full tank lasts until {end}, the end of "
            "the outage planned for.",
            values,
        )
    values["times"] = _times(night)
    if any(one.asleep for one in night.stops):
        return Text(
            "Only when stopped and cooled for {rest}. By the plan the tank runs empty: {times}. "
            "A stop falls while people sleep: refuel before {bed} instead.",
            values,
        )
    return Text(
        "Only when stopped and cooled for {rest}. By the plan the tank runs empty: {times}.",
        values,
    )


def _times(night: NightPlan) -> Text:
    """Return when it stops and runs again, the first few stops."""
    told = tuple(
        Text(
            "stop at {stop}, on again at {again}",
            {"stop": night.clock(one.stop_h), "again": night.clock(one.start_h, later=True)},
        )
        for one in night.stops[:_MOST_STOPS]
    )
    more = len(night.stops) - len(told)
    values: dict[str, Value] = {"times": joined(told), "count": more}
    return Text("{times} and {count} more", values) if more else joined(told)


def _volume(value_l: float) -> Quantity:
    return Quantity(value_l, "volume", "up")


def hours_text(hours: float) -> Quantity:
    """Return a length of time in hours as a quantity."""
    return Quantity(hours * 3600.0, "time", "down")


def fuel_lines(night: NightPlan, plan: Plan) -> Iterator[Text]:
    """Yield what the outage burns, how long a tank lasts, and what to keep in store."""
    values: dict[str, Value] = {
        "most": _volume(night.fuel_most_l),
        "least": Quantity(night.fuel_least_l, "volume", "down"),
        "hours": hours_text(night.hours),
        "store": _volume(night.store_l),
        "tank": hours_text(min(night.shortest_tank_h, night.hours)),
        "stops": len(night.stops),
        "rest": Quantity(night.cooling_min * 60.0, "time", "up"),
    }
    yield Text("{hours} take {least} to {most}, the first full tank included.", values)
    if night.stops:
        yield Text(
            "A full tank lasts {tank} where most is drawn. Stops to cool and refuel: {stops}, "
            "{rest} each.",
            values,
        )
    else:
        yield Text("One full tank lasts for the whole outage.")
    yield Text("Keep {store} in store beside a full tank.", values)
    yield from _store_lines(night, plan)
    yield from medical_lines(night, plan)
    if night.overloaded:
        yield Text("The loads draw more than the generator's rating; switch some off.")


def medical_lines(night: NightPlan, plan: Plan) -> Iterator[Text]:
    """Yield what whoever lives by a machine needs while the generator rests."""
    medical = tuple(one.id for one in plan.loads if one.medical)
    if medical and night.stops:
        yield Text("{loads}: have a battery for every stop.", {"loads": names(plan, medical)})


def _store_lines(night: NightPlan, plan: Plan) -> Iterator[Text]:
    if night.store_limit_l is not None and night.store_l > night.store_limit_l:
        limit = Quantity(night.store_limit_l, "volume", "down")
        yield Text(
            "That is more than the {limit} that may be stored: plan where to buy more.",
            {"limit": limit},
        )
    if night.stored_l is None:
        return
    stored = Quantity(night.stored_l, "volume", "down")
    if night.stored_l >= night.store_l:
        yield Text("{stored} is in store: enough.", {"stored": stored})
        return
    yield Text("{stored} is in store: not enough.", {"stored": stored})
    if night.leave_off:
        values: dict[str, Value] = {"loads": names(plan, night.leave_off)}
        if night.lasts_then:
            yield Text("It lasts if these are left off: {loads}.", values)
        else:
            yield Text("Even with these left off it does not last: {loads}.", values)


def saving_lines(night: NightPlan, plan: Plan) -> Iterator[Text]:
    """Yield what leaving a load off saves, most first; medical loads are not among them."""
    for one in night.savings[:_MOST_SAVINGS]:
        yield Text(
            "{load}: {fuel} saved if it stays off",
            {
                "load": names(plan, (one.load,)),
                "fuel": Quantity(one.saved_l, "volume", "down"),
            },
        )


def names(plan: Plan, ids: tuple[str, ...]) -> Text:
    """Return what the loads are called, one after the other."""
    return joined(tuple(label(one) for one in plan.loads if one.id in ids))


def hour_lines(night: NightPlan, plan: Plan) -> Iterator[tuple[str, Text]]:
    """Yield the events of the outage with their time of day."""
    events: list[tuple[float, int, Text]] = []
    for number, period in enumerate(night.periods):
        events.append((period.start_h, 1, _period_line(plan, period, first=number == 0)))
    for stop in night.stops:
        again = Text("{clock}", {"clock": night.clock(stop.start_h, later=True)})
        text = Text(
            "Tank empty: stop, cool, refuel; on again at {again}. People are asleep."
            if stop.asleep
            else "Tank empty: stop, cool, refuel; on again at {again}.",
            {"again": again},
        )
        events.append((stop.stop_h, 2, text))
    if night.periods:
        events.append((night.hours, 3, Text("End of the outage planned for.")))
    for hour, _, text in sorted(events, key=lambda one: one[:2]):
        yield night.clock(hour), text


def _period_line(plan: Plan, period: Period, *, first: bool) -> Text:
    values: dict[str, Value] = {
        "loads": names(plan, period.loads),
        "watts": Quantity(period.mean_w, "power", "up"),
        "rate": Quantity(period.most_l_per_h, "rate", "up"),
    }
    if period.quiet:
        start = Text("Quiet hours begin.")
    else:
        start = Text("Outage begins.") if first else Text("Quiet hours end.")
    values["start"] = start
    if not period.loads:
        return Text("{start} Nothing is on: the generator stands still.", values)
    return Text("{start} On: {loads}; {watts} in the mean, {rate}.", values)
