"""A figure of which some data are missing: what it is at least, and what it may be at most.

A limit that even the least exceeds is a finding whatever is missing; one that the most keeps
is met; between the two it cannot be judged. Taking data away only widens a span, so that no
finding is lost without word of what is missing.
"""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from siteplan.rules.common import once
from siteplan.words import Text


@dataclass(frozen=True, slots=True)
class Span:
    """A figure between two bounds.

    Attributes
    ----------
    least, most : float
        Bounds in the figure's own unit; most may be infinite.
    missing : tuple of Text
        The data for want of which they differ.
    """

    least: float
    most: float
    missing: tuple[Text, ...] = ()


def exact(value: float) -> Span:
    """Return a figure of which nothing is missing."""
    return Span(value, value)


def unknown(least: float, most: float, missing: Text) -> Span:
    """Return a figure known by its bounds only."""
    return Span(least, most, (missing,))


def grows(formula: Callable[..., float], *spans: Span) -> Span:
    """Return the span of a formula that never falls as any of its figures rises."""
    mosts = [one.most for one in spans]
    most = math.inf if math.inf in mosts else formula(*mosts)
    return Span(formula(*(one.least for one in spans)), most, missing_of(spans))


def highest(spans: Iterable[Span]) -> Span:
    """Return the span of the greatest of some figures; zero if there are none."""
    all_spans = list(spans)
    least = max((one.least for one in all_spans), default=0.0)
    most = max((one.most for one in all_spans), default=0.0)
    return Span(least, most, missing_of(one for one in all_spans if one.most > least))


def missing_of(spans: Iterable[Span]) -> tuple[Text, ...]:
    """Return what is missing of some figures, each datum once."""
    return tuple(once(one for span in spans for one in span.missing))
