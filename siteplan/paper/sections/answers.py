"""The questions of the night, each with its answer in plain words."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Heading, Steps
from siteplan.paper.sections.cards import governs
from siteplan.paper.subject import Subject
from siteplan.suggest.answers import answers


def answered(subject: Subject) -> Iterator[Block]:
    """Yield each question with its answer, in the order of the job."""
    for one in answers(subject.scene, subject.review):
        yield Heading(one.title.say(subject.manner))
        yield Steps(tuple(line.say(subject.manner) for line in one.lines), "bullet")
    yield governs(subject)
