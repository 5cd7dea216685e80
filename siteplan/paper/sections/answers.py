"""The questions of the night in plain words, and what nobody could judge."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Card, Heading, Para, Steps
from siteplan.paper.subject import Subject
from siteplan.rules.missing import grouped
from siteplan.suggest.answers import answers


def answered(subject: Subject) -> Iterator[Block]:
    """Yield each question with its answer, in the order of the job."""
    yield Heading(subject.say("In plain words"))
    for one in answers(subject.scene, subject.review):
        yield Para(one.title.say(subject.manner), "strong")
        yield Steps(tuple(line.say(subject.manner) for line in one.lines), "bullet")


def missing(subject: Subject, most: int) -> Iterator[Block]:
    """Yield the most life-critical of what was not judged, and how much more there is."""
    lines = [one.text.say(subject.manner) for one in grouped(subject.review.unjudged)]
    if not lines:
        return
    left = len(lines) - most
    more = subject.say("More of it, in the set for records: {count}.", count=left)
    notes = (Para(more, "strong"),) if left > 0 else ()
    title = subject.say("What was not judged")
    steps = (Steps(tuple(lines[:most]), "bullet"),) if most else ()
    yield Card(title, (*steps, *notes))
