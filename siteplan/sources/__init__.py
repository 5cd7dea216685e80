"""The cited works behind every figure, each with how it is known."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from siteplan.assets import read_toml, resource
from siteplan.errors import OwnFilesError
from siteplan.words import Language, translate

Known = Literal["read", "read-second-hand", "memory", "common-practice", "derived", "proposal"]

KNOWN_TEXT: Mapping[Known, str] = {
    "read": "read in the document itself or its official page",
    "read-second-hand": "read as quoted elsewhere",
    "memory": "from memory",
    "common-practice": "common practice, no source",
    "derived": "derived from the figures named",
    "proposal": "a figure of this program's own, for lack of a published one",
}

UNPUBLISHED: frozenset[Known] = frozenset({"common-practice", "derived", "proposal"})
"""Figures without a publication to name."""


@dataclass(frozen=True, slots=True)
class Source:
    """A cited work.

    Attributes
    ----------
    id : str
        The name by which rules and formulas cite it.
    title, clause, edition : str
        The work, the clause or table meant, and its edition or date.
    known : str
        How the figure is known; see `KNOWN_TEXT`.
    note : str
        What a reader should know before relying on it.
    """

    id: str
    title: str
    known: Known
    clause: str = ""
    edition: str = ""
    note: str = ""

    def line(self, language: Language = "en") -> str:
        """Return the work in one line, with how it is known.

        A published work keeps the name that it can be found by; what has no publication is
        named by this program, and so in the reader's language.
        """
        parts = [self._named(part, language) for part in (self.title, self.clause) if part]
        parts += [self.edition] if self.edition else []
        return f"{', '.join(parts)} ({translate(KNOWN_TEXT[self.known], language)})"

    def remark(self, language: Language = "en") -> str:
        """Return the note, in the reader's language where no work's own words are in it."""
        return self._named(self.note, language)

    def _named(self, words: str, language: Language) -> str:
        return translate(words, language) if self.known in UNPUBLISHED else words


class UnknownSourceError(OwnFilesError):
    """A figure cites a work that is not on the list."""


@cache
def works() -> Mapping[str, Source]:
    """Return every cited work by its id, from `resources/sources/`."""
    found: dict[str, Source] = {}
    for path in sorted(resource("sources").glob("*.toml")):
        file = path.name
        for row in read_toml(path).get("source", []):
            one = _source(row, file)
            if one.id in found and found[one.id] != one:
                msg = f"two different works are called '{one.id}' (second one in {file})"
                raise UnknownSourceError(msg)
            found[one.id] = one
    return found


def _source(row: dict[str, Any], file: str) -> Source:
    known = row.get("known")
    if known not in KNOWN_TEXT:
        msg = f"{file}: a work is known in no way called '{known}'"
        raise UnknownSourceError(msg)
    try:
        return Source(**row)
    except TypeError as error:
        msg = f"{file}: {error}"
        raise UnknownSourceError(msg) from error


def work(source_id: str) -> Source:
    """Return one cited work.

    Raises
    ------
    UnknownSourceError
        If the list has no such work.
    """
    try:
        return works()[source_id]
    except KeyError:
        msg = f"no cited work is called '{source_id}'"
        raise UnknownSourceError(msg) from None
