"""Judging things by distance: the rungs of a rule, worst first, and what is said at each.

A rule's rungs are its figures named after signal words: `danger_m`, `warning_m`,
`caution_m`, `notice_m`. A longer local figure raises every rung but DANGER.
"""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

import numpy as np

from siteplan.geometry.arrays import BoolArray, FloatArray
from siteplan.geometry.clearance import witness_lines
from siteplan.plan.document import Plan
from siteplan.plan.labels import label
from siteplan.plan.lot import Building, Opening
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import accuracy_m, falls_short, line_evidence, three
from siteplan.rules.findings import SIGNALS, Evidence, Finding, Met, Outcome, Signal, Unjudged
from siteplan.scene import Near, Scene, Standing
from siteplan.scene.around import Thing
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Text, Value, length

NEEDED = (
    "The generator is {distance} from {subject}, counting the drawing's accuracy; "
    "{limit} is needed."
)
ADVISED = (
    "The generator is {distance} from {subject}, counting the drawing's accuracy; "
    "{limit} is advised."
)
STANDS_ON = "The generator stands on {subject}, or may, given the drawing's accuracy."
STANDS_UNDER = "The generator stands under {subject}, or may, given the drawing's accuracy."


class Says(NamedTuple):
    """What a rule says.

    Attributes
    ----------
    do : Text
        What to do; may name {limit}.
    absent : Text
        What is missing when nothing of the sort is drawn.
    danger, advised : Text or None
        What to do at DANGER, and at CAUTION or NOTICE, if that differs.
    on : str
        What is wrong when no distance is left at all; as at any distance if empty.
    on_signal : str
        The signal word then, unless a rung gives a worse one.
    """

    do: Text
    absent: Text
    danger: Text | None = None
    advised: Text | None = None
    on: str = ""
    on_signal: Signal = "WARNING"

    def do_at(self, signal: Signal) -> Text:
        """Return what to do at a signal word."""
        special = {"DANGER": self.danger, "WARNING": None}.get(signal, self.advised)
        return special or self.do


def rungs(plan: Plan, book: Rule) -> tuple[tuple[Signal, float], ...]:
    """Return the signal words of a rule and the distances below which they hold [m]."""
    longer = max((one.distance_m for one in plan.overrides if one.rule == book.id), default=0.0)
    return tuple(
        (signal, figure if signal == "DANGER" else max(figure, longer))
        for signal, figure in _figures_m(book.id)
    )


@cache
def _figures_m(rule_id: str) -> tuple[tuple[Signal, float], ...]:
    """Return the rule's own distances by signal word, worst first [m]."""
    figures = rule(rule_id).figures
    found = ((signal, figures.get(f"{signal.lower()}_m")) for signal in SIGNALS)
    return tuple((signal, figure) for signal, figure in found if figure is not None)


def rung(plan: Plan, book: Rule, certain_m: float) -> tuple[Signal, float] | None:
    """Return the signal word and the limit [m] that a distance falls under, or None."""
    for signal, limit in rungs(plan, book):
        if falls_short(certain_m, limit):
            return signal, limit
    return None


def highest_m(plan: Plan, book: Rule) -> float:
    """Return the distance [m] from which on a rule has nothing to say."""
    return max((limit for _, limit in rungs(plan, book)), default=0.0)


def whose(plan: Plan, thing: Thing) -> Text:
    """Return what to call a thing, told apart as the neighbour's where it is."""
    building = plan.building(thing.building) if isinstance(thing, Opening) else thing
    if isinstance(building, Building) and building.owner == "neighbour":
        return Text("{subject} (a neighbour's)", {"subject": label(thing)})
    return label(thing)


def ladder(
    scene: Scene, standing: Standing, book: Rule, near: Near, says: Says
) -> Iterator[Outcome]:
    """Yield a finding for each thing too near, and the nearest that keeps its distance.

    A thing that the rule does not ask about is infinitely far.
    """
    if not np.isfinite(near.distance_m).any():
        yield Unjudged(book.id, (), says.absent, not_drawn=True)
        return
    certain, short = judged(scene, book, near.distance_m, touching=bool(says.on))
    places = np.flatnonzero(short)
    lines = witness_lines(standing.reach, near.shapes[places])
    for place, line in zip(places.tolist(), lines, strict=True):
        measured = Measured(near.things[place], float(certain[place]), line)
        yield _finding(scene.plan, book, measured, says)
    met = nearest_met(scene, book, near, certain, ~short)
    if met is not None:
        yield met


def judged(
    scene: Scene, book: Rule, distance_m: FloatArray, *, touching: bool = False
) -> tuple[FloatArray, BoolArray]:
    """Return what is left of distances after the drawing's accuracy [m], and which fall short.

    With `touching`, nothing left at all falls short of every rule.
    """
    certain = np.maximum(distance_m - accuracy_m(scene.plan), 0.0)
    limit = highest_m(scene.plan, book)
    short: BoolArray = certain < limit - LENGTH_TOLERANCE_M
    if touching:
        short |= certain <= LENGTH_TOLERANCE_M
    return certain, short


def nearest_met(
    scene: Scene, book: Rule, near: Near, certain: FloatArray, keeps: BoolArray
) -> Met | None:
    """Return what is met by the nearest thing that keeps its distance, or None."""
    rest = np.where(keeps, certain, np.inf)
    place = int(rest.argmin())
    if not np.isfinite(rest[place]):
        return None
    thing = near.things[place]
    return Met(
        rule=book.id,
        subjects=(thing.id,),
        what=Text(
            "The nearest that keeps its distance is {subject}, at {distance}.",
            {"subject": whose(scene.plan, thing), "distance": length(float(certain[place]))},
        ),
        sources=book.sources,
        checked=int(np.isfinite(near.distance_m).sum()),
        **three(float(certain[place]), highest_m(scene.plan, book)),
    )


class Measured(NamedTuple):
    """A thing, what is left of its distance after the drawing's accuracy [m], and the line."""

    thing: Thing
    certain_m: float
    line: FloatArray


def _finding(plan: Plan, book: Rule, measured: Measured, says: Says) -> Finding:
    signal, limit = rung(plan, book, measured.certain_m) or (says.on_signal, 0.0)
    limit = aim_m(plan, book, signal, limit)
    if not says.on or measured.certain_m > LENGTH_TOLERANCE_M:
        return distance_finding(plan, book, measured, (signal, limit), says.do_at(signal))
    signal = min(signal, says.on_signal, key=SIGNALS.index)
    do = says.do_at(signal)
    return distance_finding(plan, book, measured, (signal, limit), do, what=says.on)


def distance_finding(
    plan: Plan,
    book: Rule,
    measured: Measured,
    step: tuple[Signal, float],
    do: Text,
    *,
    what: str = "",
) -> Finding:
    """Return the finding on a thing whose distance falls short.

    `step` is the signal word and the limit [m]; `do` and `what` may name {limit}.
    """
    signal, limit_m = step
    limit = length(limit_m, "up")
    usual = ADVISED if signal in {"CAUTION", "NOTICE"} else NEEDED
    values: dict[str, Value] = {
        "distance": length(measured.certain_m),
        "subject": whose(plan, measured.thing),
        "limit": limit,
    }
    return Finding(
        rule=book.id,
        signal=signal,
        subjects=(measured.thing.id,),
        what=Text(what or usual, values),
        do=Text(do.template, {"limit": limit}),
        sources=book.sources,
        evidence=evidence_of(measured.thing, measured.line),
        **three(measured.certain_m, limit_m),
    )


def aim_m(plan: Plan, book: Rule, signal: Signal, limit_m: float) -> float:
    """Return the distance to make for [m]: under DANGER, the WARNING line if there is one."""
    limits = dict(rungs(plan, book))
    return limits.get("WARNING", limit_m) if signal == "DANGER" else limit_m


def evidence_of(thing: Thing, line: FloatArray) -> tuple[Evidence, ...]:
    """Return the line to a thing, or its outline if the machine stands on or under it."""
    outline = getattr(thing, "outline", None)
    if outline is not None and not float(np.hypot(*(line[1] - line[0]))) > 0.0:
        return (Evidence("area", outline),)
    return line_evidence(line)
