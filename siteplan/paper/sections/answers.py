"""The questions of the night, each with its answer in plain words."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Heading, Steps
from siteplan.paper.sections.cards import governs
from siteplan.paper.subject import Subject
from siteplan.rules.missing import grouped
from siteplan.suggest.answers import answers


def answered(subject: Subject) -> Iterator[Block]:
    """Yield what is missing, then each question with its answer, in the order of the job."""
    lines = tuple(one.text.say(subject.manner) for one in grouped(subject.review.unjudged))
    if lines:
        yield Heading(subject.say("What was not judged"))
        yield Steps(lines, "bullet")
    for one in answers(subject.scene, subject.review):
        yield Heading(one.title.say(subject.manner))
        yield Steps(tuple(line.say(subject.manner) for line in one.lines), "bullet")
    yield governs(subject)
