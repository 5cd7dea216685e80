"""The placements of a plan side by side."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Cell, Heading, Table, Word
from siteplan.paper.subject import Subject
from siteplan.suggest.side_by_side import COMPARE_TITLES, Compared, cells, compare

_WORST = COMPARE_TITLES.index("Worst")
# Counts by signal word are in the sets of each placement; here the worst one tells.
_SHOWN = (0, 1, 6, 7, 8, 9, 10, 11)


def places(subject: Subject) -> Iterator[Block]:
    """Yield a row for each placement; nothing where there is only one."""
    if subject.machine is None or len(subject.plan.placements) < 2:
        return
    yield Heading(subject.say("Places compared"))
    head = tuple(subject.say(COMPARE_TITLES[column]) for column in _SHOWN)
    rows = tuple(_row(subject, one) for one in compare(subject.plan, subject.scene))
    yield Table(head, rows, (2.2, 1.5, 1, 1.2, 1.2, 1, 1.3, 1.4))


def _row(subject: Subject, one: Compared) -> tuple[Cell, ...]:
    said = [subject.show(value) for value in cells(subject.plan, one)]
    worst = Word("NONE" if one.worst is None else one.worst, said[_WORST])
    return tuple(worst if column == _WORST else said[column] for column in _SHOWN)
