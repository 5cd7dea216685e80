"""What a page consists of, as plain data: the templates lay it out and add no words.

Every text in a block is finished: in the reader's language and units, and stripped of control
and direction signs.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass
from typing import Literal

Sign = Literal["DANGER", "WARNING", "CAUTION", "NOTICE", "MET", "UNJUDGED", "NONE"]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading of level 1 or 2."""

    text: str
    level: int = 1


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph; `tone` is plain, strong, small, or lead: small and kept with what follows."""

    text: str
    tone: Literal["plain", "strong", "small", "lead"] = "plain"


@dataclass(frozen=True, slots=True)
class Panel:
    """A framed statement under its sign and word."""

    sign: Sign
    word: str
    title: str
    text: str = ""


@dataclass(frozen=True, slots=True)
class Word:
    """A table's cell that holds a sign and its word."""

    sign: Sign
    word: str


Cell = str | Word


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a heading row.

    Attributes
    ----------
    head : tuple of str
        Headings, one for each column.
    rows : tuple of rows
        Cells, as many as there are headings.
    widths : tuple of float
        Shares of the width.
    right : tuple of int
        Columns set to the right.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    widths: tuple[float, ...]
    right: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Fields:
    """Names and values in two columns."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Steps:
    """Items in order (numbered), to tick off (boxes), or without order (bullets)."""

    items: tuple[str, ...]
    mark: Literal["number", "box", "bullet"] = "number"


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing by its name, at its true size [mm], with what it shows in words.

    A drawing that floats takes the head of the next page that has room; the text runs on.
    """

    name: str
    width_mm: float
    height_mm: float
    spoken: str
    floats: bool = False


@dataclass(frozen=True, slots=True)
class Card:
    """A framed group of blocks under a heading, kept on one page."""

    title: str
    blocks: "tuple[Block, ...]"


@dataclass(frozen=True, slots=True)
class Columns:
    """Groups of blocks side by side."""

    groups: "tuple[tuple[Block, ...], ...]"
    widths: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Signature:
    """Lines to sign on, each with what goes there, under a heading, kept on one page."""

    title: str
    note: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NewPage:
    """The next block begins a page."""


Block = (
    Heading | Para | Panel | Table | Fields | Steps | Picture | Card | Columns | Signature | NewPage
)


def tree(value: object) -> object:
    """Return a block, or anything made of blocks, as plain data that names each kind."""
    if is_dataclass(value):
        inner = {one.name: tree(getattr(value, one.name)) for one in fields(value)}
        return {"kind": type(value).__name__.lower(), **inner}
    if isinstance(value, tuple | list):
        return [tree(one) for one in value]
    if isinstance(value, Mapping):
        return {str(key): tree(one) for key, one in value.items()}
    return value
