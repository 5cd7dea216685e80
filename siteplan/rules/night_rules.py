"""Fuel for the outage planned: enough in store, not too much in store, no refuelling asleep."""

from collections.abc import Iterator

from siteplan.rules.book import Rule, rule
from siteplan.rules.common import at_most, minute
from siteplan.rules.findings import Finding, Met, Outcome, Unjudged
from siteplan.rules.night import NightPlan
from siteplan.rules.night_hours import Played, played_through
from siteplan.rules.night_store import store_limit_l, stored_l
from siteplan.scene import Scene
from siteplan.words import Quantity, Text, Value

_STORE = Text("what is in store: {need} is needed beside a full tank")
_MORE = Text(
    "Get the rest before the outage within what may be stored, plan where to buy more, or switch "
    "off what is needed least."
)
_TOP_UP = Text(
    "Do not store it all at once. Plan where to buy more while it lasts, or switch off what is "
    "needed least."
)
_BEFORE_BED = Text(
    "Stop, cool and refuel before {bed}, or switch it off for the night. Never pour fuel tired, "
    "by an open flame or into a hot machine."
)
_BEFORE_BED_LASTS = Text(
    "Stop, cool and refuel just before {bed}: a full tank then lasts until {morning}. Never pour "
    "fuel tired, by an open flame or into a hot machine."
)
_ROUNDING_L = 1e-6


def _played(scene: Scene, book: Rule) -> Played | Unjudged:
    plan = scene.plan
    found = played_through(plan.machine, plan.loads, plan.outage)
    if isinstance(found, Played):
        return found
    return Unjudged(book.id, (), _joined(found))


def _joined(missing: tuple[Text, ...]) -> Text:
    first, *rest = missing
    for one in rest:
        first = Text("{one}; {two}", {"one": first, "two": one})
    return first


def fuel_enough(scene: Scene) -> Iterator[Outcome]:
    """Compare the fuel that the outage takes with what is in store."""
    book = rule("fuel-enough")
    played = _played(scene, book)
    if isinstance(played, Unjudged):
        yield played
        return
    need, stored = played.store_l, stored_l(scene.plan)
    if stored is None and need > 0.0:
        missing = Text(_STORE.template, {"need": Quantity(need, "volume", "up")})
        yield Unjudged(book.id, (), missing)
        return
    figures = at_most(need, stored or 0.0, "volume")
    values: dict[str, Value] = {
        "hours": Quantity(played.hours * 3600.0, "time", "up"),
        "all": Quantity(played.most.fuel_l, "volume", "up"),
        "least": Quantity(played.least.fuel_l, "volume", "down"),
        "need": figures["measured"],
        "stored": figures["limit"],
    }
    if need <= (stored or 0.0) + _ROUNDING_L:
        what = Text(
            "{hours} take {least} to {all}: {need} beside a full tank, and {stored} is in store.",
            values,
        )
        yield Met(book.id, (), what, book.sources, **figures)
        return
    what = Text(
        "{hours} take {least} to {all}: {need} beside a full tank, but {stored} is in store.",
        values,
    )
    yield Finding(book.id, "NOTICE", (), what, _MORE, book.sources, **figures)


def fuel_top_up(scene: Scene) -> Iterator[Outcome]:
    """Say when the fuel needed is more than may be stored at once."""
    book = rule("fuel-top-up")
    played = _played(scene, book)
    if isinstance(played, Unjudged):
        yield played
        return
    limit = store_limit_l(scene.plan)
    if limit is None:
        yield Unjudged(book.id, (), Text("a limit for propane: ask the fire department"))
        return
    figures = at_most(played.store_l, limit, "volume")
    values: dict[str, Value] = {"need": figures["measured"], "limit": figures["limit"]}
    if played.store_l <= limit + _ROUNDING_L:
        what = Text("{need} beside a full tank; up to {limit} may be stored.", values)
        yield Met(book.id, (), what, book.sources, **figures)
        return
    what = Text("{need} would be needed beside a full tank, but {limit} is the most to store.",
                values)  # fmt: skip
    yield Finding(book.id, "NOTICE", (), what, _TOP_UP, book.sources, **figures)


def refuel_asleep(scene: Scene) -> Iterator[Outcome]:
    """Say when the tank runs empty in the quiet hours."""
    book = rule("refuel-asleep")
    played = _played(scene, book)
    if isinstance(played, Unjudged):
        yield played
        return
    outage = scene.plan.outage
    clock = NightPlan(start_min=minute(outage.start)).clock
    rest = Quantity(outage.cooling_min * 60.0, "time", "up")
    bad = [one for one in played.stops if one.asleep]
    if not played.stops:
        what = Text("One full tank lasts for the whole outage.")
        yield Met(book.id, (), what, book.sources)
        return
    if not bad:
        values: dict[str, Value] = {"count": len(played.stops), "rest": rest}
        what = Text("Stops to refuel, all outside the quiet hours: {count}, {rest} each.", values)
        yield Met(book.id, (), what, book.sources)
        return
    what = Text(
        "The tank runs empty at {when}, while people sleep. Stops to refuel in the quiet hours: "
        "{count} of {all}.",
        {"when": clock(bad[0].stop_h), "count": len(bad), "all": len(played.stops)},
    )
    yield Finding(book.id, "NOTICE", (), what, _advice(scene, played), book.sources)


def _advice(scene: Scene, played: Played) -> Text:
    outage = scene.plan.outage
    rates = [one.most_l_per_h for one in played.periods if one.quiet]
    long_h = (minute(outage.quiet_to) - minute(outage.quiet_from)) % (24 * 60) / 60.0
    values: dict[str, Value] = {"bed": outage.quiet_from, "morning": outage.quiet_to}
    if max(rates) * long_h <= played.tank_l:
        return Text(_BEFORE_BED_LASTS.template, values)
    return Text(_BEFORE_BED.template, {"bed": outage.quiet_from})
