"""What the review found: the worst first, then what was met, then what nobody could judge."""

from collections.abc import Iterable, Iterator, Mapping

from siteplan.paper.blocks import Block, Cell, Heading, Panel, Para, Sign, Table, Word
from siteplan.paper.subject import Subject
from siteplan.rules.book import book
from siteplan.rules.findings import Finding, Met, Unjudged
from siteplan.rules.missing import grouped, open_count
from siteplan.sources import work


def verdict(subject: Subject) -> Block:
    """Return the whole in one panel."""
    review = subject.review
    if review.worst is None:
        unjudged = open_count(review)
        text = subject.say(
            "That is not leave to run it. Not judged for want of data: {count}.",
            count=unjudged,
        )
        title = subject.say("No fault was found in what could be judged")
        return Panel("NONE", "", title, text if unjudged else subject.say(_NO_LEAVE_TEXT))
    worst = [one for one in review.findings if one.signal == review.worst]
    title = subject.say(_TITLES[review.worst])
    text = subject.say(
        "Findings of this kind: {count}. Findings in all: {all}. Not judged: {open}.",
        count=len(worst),
        all=len(review.findings),
        open=open_count(review),
    )
    return Panel(review.worst, subject.say(review.worst), title, text)


_NO_LEAVE_TEXT = "That is not leave to run it: cautions below hold for every place."
# Chapters of the rule book that an installer works by.
_POWER_GROUPS = frozenset({"Cords", "House wiring", "Loads", "Outlets", "Service equipment"})
_HEAD_WORDS = ("Sign", "Rule and result", "Measured", "Limit", "Margin", "Sources")
_TITLES = {
    "DANGER": "Do not run the generator as it is planned",
    "WARNING": "Change the plan before the generator runs",
    "CAUTION": "Better the plan if the lot allows",
    "NOTICE": "Read the notices",
}


def worst(subject: Subject, most: int) -> Iterator[Block]:
    """Yield the worst findings in few words, and how many more there are."""
    rows = tuple(
        (
            Word(one.signal, subject.say(one.signal)),
            f"{one.what.say(subject.manner)} {one.do.say(subject.manner)}",
        )
        for one in subject.review.findings[:most]
    )
    if rows:
        yield Table(
            (subject.say("Sign"), subject.say("What is wrong, and what to do")), rows, (1, 5)
        )
    left = len(subject.review.findings) - most
    if left > 0:
        text = subject.say("More findings, in the set for records: {count}.", count=left)
        yield Para(text, "strong")


def findings(subject: Subject) -> Iterator[Block]:
    """Yield every finding with its figures and sources."""
    yield Heading(subject.say("What is wrong"))
    if not subject.review.findings:
        yield Para(subject.say("No fault was found in what could be judged."))
        return
    found = _numbers((*subject.review.findings, *subject.review.met))
    yield _table(subject, [_finding_row(subject, one, found) for one in subject.review.findings])


def about_power(subject: Subject) -> Iterator[Block]:
    """Yield what was judged of the power path, for whoever does the wiring."""
    review = subject.review
    wrong = [one for one in review.findings if _is_power(one.rule)]
    well = [one for one in review.met if _is_power(one.rule)]
    numbers = _numbers((*wrong, *well))
    rows = [_finding_row(subject, one, numbers) for one in wrong]
    rows += [_met_row(subject, one, numbers) for one in well]
    if rows:
        yield Heading(subject.say("What was judged of the power path"))
        yield _table(subject, rows)
    missing = [one for one in review.unjudged if _is_power(one.rule)]
    if missing:
        yield Heading(subject.say("What was not judged of the power path"))
        yield _missing(subject, missing)
    yield from _sources(subject, numbers)


def _is_power(rule_id: str) -> bool:
    return _group(rule_id) in _POWER_GROUPS


def _group(rule_id: str) -> str:
    found = book().get(rule_id)
    return "" if found is None else found.group


def met(subject: Subject) -> Iterator[Block]:
    """Yield every rule that was checked and met."""
    yield Heading(subject.say("What was checked and met"))
    if not subject.review.met:
        yield Para(subject.say("No rule was met."))
        return
    found = _numbers((*subject.review.findings, *subject.review.met))
    yield _table(subject, [_met_row(subject, one, found) for one in subject.review.met])


def unjudged(subject: Subject) -> Iterator[Block]:
    """Yield every rule that could not be judged, and what is missing."""
    yield Heading(subject.say("What was not judged"))
    if not subject.review.unjudged:
        yield Para(subject.say("Every rule of the book could be judged."))
        return
    yield Para(
        subject.say("Missing data is no pass. Each of these stays open until it is entered."),
        "lead",
    )
    yield _missing(subject, subject.review.unjudged)


def _missing(subject: Subject, unjudged: Iterable[Unjudged]) -> Table:
    rows = tuple(
        (
            Word("UNJUDGED", subject.say("not judged")),
            ", ".join(title(subject, name) for name in one.rules),
            one.text.say(subject.manner),
        )
        for one in grouped(tuple(unjudged))
    )
    head = (subject.say("Sign"), subject.say("Rule"), subject.say("What is missing"))
    return Table(head, rows, (1.3, 3.4, 3.3))


def cited(subject: Subject) -> Iterator[Block]:
    """Yield every work that the tables cite by its number, with how it is known."""
    yield from _sources(subject, _numbers((*subject.review.findings, *subject.review.met)))


def _sources(subject: Subject, found: Mapping[str, int]) -> Iterator[Block]:
    if not found:
        return
    yield Heading(subject.say("Sources"))
    note = subject.say("How each work is known to this program stands in brackets.")
    yield Para(note, "lead")
    language = subject.manner.language
    rows = tuple((str(number), work(one).line(language)) for one, number in found.items())
    yield Table((subject.say("No."), subject.say("Work")), rows, (0.5, 9))


def _numbers(judged: Iterable[Finding | Met]) -> dict[str, int]:
    ids = dict.fromkeys(source for one in judged for source in one.sources)
    return {name: number for number, name in enumerate(ids, start=1)}


def title(subject: Subject, rule_id: str) -> str:
    """Return a rule's title, or its id if the book has no such rule."""
    found = book().get(rule_id)
    return rule_id if found is None else subject.say(found.title)


def _table(subject: Subject, rows: Iterable[tuple[Cell, ...]]) -> Table:
    return Table(
        tuple(subject.say(one) for one in _HEAD_WORDS),
        tuple(rows),
        (1.35, 5.4, 1.05, 1.05, 1.1, 1.3),
        (2, 3, 4),
    )


def _finding_row(subject: Subject, one: Finding, found: Mapping[str, int]) -> tuple[Cell, ...]:
    said = f"{title(subject, one.rule)}. {one.what.say(subject.manner)}"
    what = f"{said} {one.do.say(subject.manner)}"
    return (Word(one.signal, subject.say(one.signal)), what, *_figures(subject, one, found))


def _met_row(subject: Subject, one: Met, found: Mapping[str, int]) -> tuple[Cell, ...]:
    what = f"{title(subject, one.rule)}. {one.what.say(subject.manner)}"
    sign: Sign = "MET"
    return (Word(sign, subject.say("met")), what, *_figures(subject, one, found))


def _figures(
    subject: Subject, one: Finding | Met, found: Mapping[str, int]
) -> tuple[str, str, str, str]:
    return (
        subject.show(one.measured),
        subject.show(one.limit),
        subject.show(one.margin),
        " ".join(f"[{found[source]}]" for source in one.sources),
    )
