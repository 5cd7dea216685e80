"""How the power path is judged and spoken of: limits against spans, one outcome per cord."""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple

from siteplan.plan.labels import label
from siteplan.rules.book import Rule
from siteplan.rules.common import Three, at_most
from siteplan.rules.findings import (
    SIGNALS,
    Evidence,
    Finding,
    Met,
    Outcome,
    Signal,
    Unjudged,
    severity,
)
from siteplan.rules.power.span import Span
from siteplan.scene import Scene
from siteplan.scene.feeds import Feed
from siteplan.words import Kind, Text, Value

NO_CORD = Text("no cord is entered")
_MOST_MISSING = 3
# Percent reads finer than a share of whole steps: 3.4 % is not 4 %.
_PERCENT = 100.0


class Says(NamedTuple):
    """What is said of a figure that must not exceed its limit.

    Attributes
    ----------
    over, within : Text
        What is said if it does, and if not; both may name {subject}, {measured} and {limit}.
    do : Text
        What to do; may name {measured} and {limit}.
    kind : str
        What the figure measures; "share" is shown as percent.
    """

    over: Text
    within: Text
    do: Text
    kind: Kind


def gauge_text(gauge_awg: int) -> Text:
    """Return a wire size as the trade writes it."""
    size = str(gauge_awg) if gauge_awg > 0 else f"{1 - gauge_awg}/0"
    return Text("{size} AWG", {"size": size})


def joined(texts: Sequence[Text]) -> Text:
    """Return texts one after the other, the first few only."""
    whole = texts[0]
    for text in texts[1:_MOST_MISSING]:
        whole = Text("{first}; {second}", {"first": whole, "second": text})
    if len(texts) > _MOST_MISSING:
        more = len(texts) - _MOST_MISSING
        whole = Text("{first}; and {count} more", {"first": whole, "count": more})
    return whole


def of_cord(text: Text, feed: Feed) -> Text:
    """Return a text with the cord's name where it says {cord}."""
    return Text(text.template, {**text.values, "cord": label(feed.cord)})


def rungs(book: Rule, suffix: str) -> tuple[tuple[Signal, float], ...]:
    """Return the signal words of a rule and the figures above which they hold, worst first."""
    named = ((signal, book.figures.get(f"{signal.lower()}_{suffix}")) for signal in SIGNALS)
    return tuple((signal, figure) for signal, figure in named if figure is not None)


class Case(NamedTuple):
    """What a rule is asked of.

    Attributes
    ----------
    book : Rule
        The rule.
    subject : Text
        What the sentences call it.
    subjects : tuple of str
        Ids of the things concerned.
    evidence : tuple of Evidence
        What to draw if it is at fault.
    """

    book: Rule
    subject: Text
    subjects: tuple[str, ...]
    evidence: tuple[Evidence, ...] = ()

    def unjudged(self, missing: Sequence[Text]) -> Unjudged:
        """Return the outcome when these data are missing."""
        text = Text("{subject}: {missing}", {"subject": self.subject, "missing": joined(missing)})
        return Unjudged(self.book.id, self.subjects, text)


Limits = Sequence[tuple[Signal, Span]]


def warning(limit: Span) -> Limits:
    """Return the one limit of a rule that warns at it."""
    return (("WARNING", limit),)


def judged(case: Case, value: Span, limits: Limits, says: Says) -> Iterator[Outcome]:
    """Yield what can be said of a figure against limits, the worst signal word first.

    A limit broken for sure is a finding. A limit that may be broken is not judged, with what
    is missing. Only a figure that keeps every limit for sure is met.
    """
    broken = [one for one in limits if exceeds(value.least, one[1].most)]
    doubtful = [one for one in limits if exceeds(value.most, one[1].least) and one not in broken]
    worse = [one for one in doubtful if not broken or severity(one[0]) > severity(broken[0][0])]
    if worse:
        yield case.unjudged((*value.missing, *worse[0][1].missing))
    if broken:
        yield _over(case, broken[0][0], three(value.least, broken[0][1].most, says.kind), says)
    elif not doubtful:
        figures = three(value.most, limits[-1][1].least, says.kind)
        what = Text(says.within.template, {**says.within.values, **_named(case.subject, figures)})
        yield Met(case.book.id, case.subjects, what, case.book.sources, **figures)


def exceeds(value: float, limit: float) -> bool:
    """Whether a figure is over a limit; binary fractions do not decide when both are equal."""
    return value > limit and not math.isclose(value, limit, rel_tol=1e-9, abs_tol=1e-9)


def three(measured: float, limit: float, kind: Kind) -> Three:
    """Return measured, limit and margin as findings hold them; a share as percent."""
    if kind == "share":
        return at_most(measured * _PERCENT, limit * _PERCENT, "percent")
    return at_most(measured, limit, kind)


def _named(subject: Text, figures: Three) -> dict[str, Value]:
    return {"subject": subject, "measured": figures["measured"], "limit": figures["limit"]}


def _over(case: Case, signal: Signal, figures: Three, says: Says) -> Finding:
    named = _named(case.subject, figures)
    return Finding(
        rule=case.book.id,
        signal=signal,
        subjects=case.subjects,
        what=Text(says.over.template, {**says.over.values, **named}),
        do=Text(says.do.template, {**says.do.values, **named}),
        sources=case.book.sources,
        evidence=case.evidence,
        **figures,
    )


def each_cord(
    scene: Scene, book: Rule, judge: Callable[[Feed], Iterable[Outcome]]
) -> Iterator[Outcome]:
    """Yield a finding or gap for each cord, and one outcome for all that meet the rule."""
    if not scene.feeds:
        yield Unjudged(book.id, (), NO_CORD, not_drawn=True)
        return
    yield from gathered(outcome for feed in scene.feeds for outcome in judge(feed))


def gathered(outcomes: Iterable[Outcome]) -> Iterator[Outcome]:
    """Yield outcomes with those that were met gathered into the one nearest to its limit."""
    met: list[Met] = []
    for one in outcomes:
        if isinstance(one, Met):
            met.append(one)
        else:
            yield one
    if met:
        nearest = min(met, key=lambda one: 0.0 if one.margin is None else one.margin.value)
        yield nearest._replace(checked=sum(one.checked for one in met))


class Question(NamedTuple):
    """What is said of a question whose answer yes is well; each may name {subject}.

    Attributes
    ----------
    missing, well, wrong, do : Text
        Without an answer; at yes; at no; and what to do then.
    signal : str
        The signal word at no.
    """

    missing: Text
    well: Text
    wrong: Text
    do: Text
    signal: Signal = "WARNING"


def answered(case: Case, answer: bool | None, question: Question) -> Outcome:
    """Return the outcome of a question with the user's answer."""
    book, subjects = case.book, case.subjects

    def say(text: Text) -> Text:
        return Text(text.template, {**text.values, "subject": case.subject})

    if answer is None:
        return Unjudged(book.id, subjects, say(question.missing))
    if answer:
        return Met(book.id, subjects, say(question.well), book.sources)
    return Finding(
        rule=book.id,
        signal=question.signal,
        subjects=subjects,
        what=say(question.wrong),
        do=say(question.do),
        sources=book.sources,
        evidence=case.evidence,
    )


def way(feed: Feed) -> tuple[Evidence, ...]:
    """Return the cord's way over the ground, to be drawn."""
    points = feed.run.outdoors
    if len(points) == 2:
        # A line of two points is drawn as a measured distance; a cord is not one.
        (ax, ay), (bx, by) = points
        points = (points[0], ((ax + bx) / 2.0, (ay + by) / 2.0), points[1])
    return (Evidence("line", points),) if points else ()


def mark(place: tuple[float, float]) -> tuple[Evidence, ...]:
    """Return a place to be marked."""
    return (Evidence("point", (place,)),)
