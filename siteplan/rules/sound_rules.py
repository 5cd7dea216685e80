"""Noise at the boundary and at the neighbours' windows, at NOTICE level and never more.

The formulas load only for a plan that has a limit and a rating to judge.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from siteplan.plan.document import Plan
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import Three
from siteplan.rules.findings import Evidence, Finding, Met, Outcome, Unjudged
from siteplan.scene import Scene, Standing
from siteplan.words import Quantity, Text, Value, length

if TYPE_CHECKING:
    from siteplan.rules.sound import Heard
    from siteplan.rules.sound_limits import Limits

_PERIOD_TEXTS = {
    (True, True): Text("by day and at night"),
    (True, False): Text("by day"),
    (False, True): Text("at night"),
}
_ABOVE_TEXT = (
    "About {level} (±{band} dB) is to be expected at {place}; {limit} is the limit {when}."
)
_CLOSE_TEXT = (
    "About {level} (±{band} dB) is to be expected at {place}, less than {guard} dB under the "
    "limit of {limit} {when}: it may be above."
)
_QUIETER = Text(
    "Ask the town what holds in a declared outage. Run it by day, screen it or choose a quieter "
    "one. Never bring it nearer to an opening, under a roof or into a corner for quiet: the "
    "distances for carbon monoxide go first."
)
_NO_LOT = Text("the lot's boundary is not drawn")
_NO_NEIGHBOUR = Text("no neighbour's window or dwelling is drawn")
_NEAR = Text("the level at {place}: it is nearer than {limit}, where nothing is modelled")


def sound_boundary(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Compare the loudest place of the boundary, or a limit on the machine itself."""
    book = rule("sound-boundary")
    if missing := _missing(scene.plan, standing, book):
        yield Unjudged(book.id, (), missing)
        return
    from siteplan.rules.sound import loudest
    from siteplan.rules.sound_limits import limits

    held = limits(scene.plan)
    if not held.at_distance.none:
        yield from _judged(scene, book, loudest(scene, "at-distance"), held)
    if scene.plan.lot is None:
        yield Unjudged(book.id, (), _NO_LOT)
    elif not held.boundary.none:
        yield from _judged(scene, book, loudest(scene, "boundary"), held)
    elif held.at_distance.none:
        yield Unjudged(book.id, (), _no_limit(book))


def sound_window(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Compare the loudest of the neighbours' windows."""
    book = rule("sound-window")
    if missing := _missing(scene.plan, standing, book):
        yield Unjudged(book.id, (), missing)
        return
    from siteplan.rules.sound import loudest
    from siteplan.rules.sound_limits import limits

    held = limits(scene.plan)
    if held.window.none:
        yield Unjudged(book.id, (), _no_limit(book))
        return
    found = loudest(scene, "window")
    if found is None:
        yield Unjudged(book.id, (), _NO_NEIGHBOUR)
    else:
        yield from _judged(scene, book, found, held)


def _missing(plan: Plan, standing: Standing, book: Rule) -> Text | None:
    outage = plan.outage
    typed = outage.day_limit_dba is not None or outage.night_limit_dba is not None
    if not typed and not outage.limit_preset:
        return _no_limit(book)
    if standing.machine.sound is None:
        return _no_rating(book)
    from siteplan.rules.sound_hearing import machine_power_dba
    from siteplan.sound.limits import presets

    if machine_power_dba(standing.machine)[1]:
        return _no_rating(book)
    if not typed and outage.limit_preset not in presets():
        return Text("no list of limits is called {name}", {"name": outage.limit_preset or ""})
    return None


def _no_limit(book: Rule) -> Text:
    return Text(
        "the local noise limit; {day} by day and {night} at night would be assumed",
        {
            "day": Quantity(book.figure("default_day_dba"), "level", "down"),
            "night": Quantity(book.figure("default_night_dba"), "level", "down"),
        },
    )


def _no_rating(book: Rule) -> Text:
    return Text(
        "the generator's sound rating; a sound power of {power} would be assumed",
        {"power": Quantity(book.figure("assumed_power_dba"), "level", "up")},
    )


def _judged(scene: Scene, book: Rule, found: "Heard | None", held: "Limits") -> Iterator[Outcome]:
    if found is None:
        return
    periods = [
        (night, limit, found.verdict(night=night))
        for night, limit, runs in (
            (False, found.limits.day_dba, held.by_day),
            (True, found.limits.night_dba, held.at_night),
        )
        if limit is not None and runs
    ]
    if any(verdict is None for *_, verdict in periods):
        near = length(book.figure("too_near_m"), "up")
        missing = Text(_NEAR.template, {"place": found.name, "limit": near})
        yield Unjudged(book.id, found.subjects, missing)
    loud = [(night, limit, verdict) for night, limit, verdict in periods if verdict == "above"]
    close = [(night, limit, verdict) for night, limit, verdict in periods if verdict == "close"]
    well = [(night, limit, verdict) for night, limit, verdict in periods if verdict == "within"]
    if loud:
        yield _over(scene, book, found, [(night, limit) for night, limit, _ in loud], _ABOVE_TEXT)
    elif close:
        yield _over(scene, book, found, [(night, limit) for night, limit, _ in close], _CLOSE_TEXT)
    elif well:
        yield _within(scene, book, found, [(night, limit) for night, limit, _ in well])


_Periods = list[tuple[bool, float]]


def _values(found: "Heard", periods: _Periods, book: Rule) -> tuple[dict[str, Value], float]:
    limit = min(one for _, one in periods)
    nights = {night for night, _ in periods}
    values: dict[str, Value] = {
        "level": Quantity(found.level_dba, "level", "up"),
        "place": found.name,
        "when": _PERIOD_TEXTS[(False in nights, True in nights)],
        "limit": Quantity(limit, "level", "down"),
        "band": Quantity(book.figure("uncertainty_db"), "count", "up"),
        "guard": Quantity(book.figure("guard_db"), "count", "up"),
    }
    return values, limit


def _three(found: "Heard", limit: float) -> Three:
    return {
        "measured": Quantity(found.level_dba, "level", "up"),
        "limit": Quantity(limit, "level", "down"),
        "margin": Quantity(limit - found.level_dba, "level", "down"),
    }


def _cited(found: "Heard", book: Rule) -> tuple[str, ...]:
    own = book.sources
    return (*(one for one in found.limits.sources if one not in own), *own)


def _line(scene: Scene, found: "Heard") -> tuple[Evidence, ...]:
    if scene.standing is None:
        return ()
    return (Evidence("line", (scene.standing.placement.at, found.at)),)


def _over(scene: Scene, book: Rule, found: "Heard", periods: _Periods, sentence: str) -> Finding:
    values, limit = _values(found, periods, book)
    return Finding(
        book.id,
        "NOTICE",
        found.subjects,
        Text(sentence, values),
        _QUIETER,
        _cited(found, book),
        evidence=_line(scene, found),
        **_three(found, limit),
    )


def _within(scene: Scene, book: Rule, found: "Heard", periods: _Periods) -> Met:
    values, limit = _values(found, periods, book)
    what = Text(
        "About {level} (±{band} dB) is to be expected at {place}, {guard} dB or more under the "
        "limit of {limit} {when}. A prediction, not a measurement.",
        values,
    )
    return Met(
        book.id,
        found.subjects,
        what,
        _cited(found, book),
        evidence=_line(scene, found),
        **_three(found, limit),
    )
