"""What a set of papers is made of, before it is set."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from siteplan.drawing.marks import Mark
from siteplan.paper.blocks import Block, Picture
from siteplan.paper.sheet import Wish, plan_sheet
from siteplan.paper.subject import Subject

# Frame and inset of a card on both sides.
CARD_INSET_MM = 6.5


@dataclass(frozen=True, slots=True)
class Way:
    """One way to set a page: the size of its type [pt], and its blocks."""

    text_pt: float
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Made:
    """A set: for each page the ways to set it, best first, and the drawings they name.

    A set that runs on over as many pages as it needs has one page with one way.
    """

    pages: tuple[tuple[Way, ...], ...]
    pictures: dict[str, str]


def drawn(
    subject: Subject, wish: Wish, name: str, extra: Iterable[Mark] = (), under: Iterable[Mark] = ()
) -> tuple[Picture, dict[str, str]]:
    """Return the plan as a block, and its drawing under the name the block has."""
    sheet = plan_sheet(
        subject.plan,
        subject.review,
        subject.manner,
        replace(wish, titled=False, framed=False),
        extra,
        under=under,
    )
    width, height = sheet.size_mm
    return Picture(name, width, height, sheet.spoken), {name: sheet.svg}
