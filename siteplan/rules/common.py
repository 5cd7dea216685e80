"""What most rules share: the accuracy to subtract, local limits, and short texts."""

import math
from collections.abc import Iterable, Sequence
from typing import TypedDict, TypeVar

from siteplan.geometry.arrays import FloatArray
from siteplan.plan.document import Plan
from siteplan.rules.book import rule
from siteplan.rules.findings import Evidence
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Kind, Quantity, Text, Value, length

_T = TypeVar("_T")


def once(values: Iterable[_T]) -> list[_T]:
    """Return values in their order, each once; texts hold their values and cannot be hashed."""
    found: list[_T] = []
    for one in values:
        if one not in found:
            found.append(one)
    return found


def listed(values: Sequence[Value]) -> Text:
    """Return one or more values one after the other, with commas between."""
    whole = Text("{name}", {"name": values[0]})
    for one in values[1:]:
        whole = Text("{one}, {two}", {"one": whole, "two": one})
    return whole


def accuracy_m(plan: Plan) -> float:
    """Return what is subtracted from every distance [m]; a paced sketch if nothing is stated.

    Over a picture that was placed by points, the error of its check length is added: both
    errors may fall the same way.
    """
    return _measuring_m(plan) + _picture_m(plan)


def _measuring_m(plan: Plan) -> float:
    figures = rule("drawing-accuracy")
    if plan.accuracy is None:
        return figures.figure("paced_m")
    if plan.accuracy.method == "figure":
        stated = plan.accuracy.figure_m
        return figures.figure("paced_m") if stated is None else stated
    return figures.figure(f"{plan.accuracy.method}_m")


def _picture_m(plan: Plan) -> float:
    if plan.backdrop is None or plan.backdrop.check_error_m is None:
        return 0.0
    return plan.backdrop.check_error_m


def certain_m(plan: Plan, measured_m: float) -> float:
    """Return the distance that is left after the drawing's accuracy, never below zero [m]."""
    return max(0.0, measured_m - accuracy_m(plan))


def local_m(plan: Plan, rule_id: str, figure_m: float) -> float:
    """Return the rule's figure or a longer local one [m]; a shorter one is not followed."""
    local = [one.distance_m for one in plan.overrides if one.rule == rule_id]
    return max([figure_m, *local])


def falls_short(certain: float, limit_m: float) -> bool:
    """Whether a distance is under its limit; exactly at the limit is met."""
    return certain < limit_m - LENGTH_TOLERANCE_M


def minute(clock: str) -> int:
    """Return minutes after midnight of a clock time such as 18:30."""
    hours, minutes = clock.split(":")
    return 60 * int(hours) + int(minutes)


class Three(TypedDict):
    """Measured, limit and margin, as findings hold them."""

    measured: Quantity
    limit: Quantity
    margin: Quantity


def three(measured_m: float, limit_m: float) -> Three:
    """Return measured, limit and margin of a distance as finding fields."""
    return {
        "measured": length(measured_m),
        "limit": length(limit_m, "up"),
        "margin": length(measured_m - limit_m),
    }


def at_most(measured: float, limit: float, kind: Kind) -> Three:
    """Return measured, limit and margin of an amount that must not exceed its limit."""
    return {
        "measured": Quantity(measured, kind, "up"),
        "limit": Quantity(limit, kind, "down"),
        "margin": Quantity(limit - measured, kind, "down"),
    }


def line_evidence(line: FloatArray) -> tuple[Evidence, ...]:
    """Return a measured line, shape (2, 2) [m], as evidence."""
    if not math.isfinite(float(line.sum())):
        return ()
    (ax, ay), (bx, by) = line.tolist()
    return (Evidence("line", ((ax, ay), (bx, by))),)
