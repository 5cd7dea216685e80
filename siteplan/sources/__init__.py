"""The cited works behind every figure, each with how it is known."""

import tomllib
from collections.abc import Mapping
from functools import cache
from typing import Literal

from pydantic import BaseModel, ConfigDict

from siteplan.assets import resource
from siteplan.errors import SiteplanError

Known = Literal["read", "read-second-hand", "memory", "common-practice", "derived", "proposal"]

KNOWN_TEXT: Mapping[Known, str] = {
    "read": "read in the document itself or its official page",
    "read-second-hand": "read as quoted elsewhere",
    "memory": "from memory",
    "common-practice": "common practice, no source",
    "derived": "derived from the figures named",
    "proposal": "a figure of this program's own, for lack of a published one",
}


class Source(BaseModel):
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

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: str
    title: str
    clause: str = ""
    edition: str = ""
    known: Known
    note: str = ""

    @property
    def line(self) -> str:
        """The work in one line, with how it is known."""
        parts = [part for part in (self.title, self.clause, self.edition) if part]
        return f"{', '.join(parts)} ({KNOWN_TEXT[self.known]})"


class UnknownSourceError(SiteplanError):
    """A figure cites a work that is not on the list."""


@cache
def works() -> Mapping[str, Source]:
    """Return every cited work by its id, from `resources/sources/`."""
    found: dict[str, Source] = {}
    for path in sorted(resource("sources").glob("*.toml")):
        for row in tomllib.loads(path.read_text(encoding="utf-8")).get("source", []):
            work = Source(**row)
            if work.id in found and found[work.id] != work:
                msg = f"two different works are called '{work.id}' (second one in {path.name})"
                raise UnknownSourceError(msg)
            found[work.id] = work
    return found


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
