"""What several commands share: arguments, reading a plan, writing a file."""

import argparse
import contextlib
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from siteplan.errors import Said, SiteplanError
from siteplan.words import Manner, Text, plain

if TYPE_CHECKING:
    from siteplan.plan.document import Plan

Commands = "argparse._SubParsersAction[argparse.ArgumentParser]"
CAUTION = Text(
    "Local code, the maker's manual and a licensed electrician govern. Wherever it stands, "
    "working CO alarms are needed on every level and outside each sleeping area."
)


_NEAR_TEXT = "there is no {what} '{name}'; did you mean {near}?"


class FileThereError(SiteplanError):
    """The file is there already and --force was not given."""


class UnknownNameError(SiteplanError):
    """An argument names something that is not there; the text offers what comes near."""

    def __init__(self, what: str, name: str, known: Iterable[str]) -> None:
        import difflib

        near = difflib.get_close_matches(name, list(known), n=3, cutoff=0.5)
        if near:
            super().__init__(_NEAR_TEXT, what=Said(what), name=name, near=", ".join(near))
        else:
            super().__init__("there is no {what} '{name}'", what=Said(what), name=name)


def add_manner(parser: argparse.ArgumentParser) -> None:
    """Add the arguments for units and language."""
    parser.add_argument(
        "--units", choices=("feet", "metres"), default="feet", help="units of lengths (feet)"
    )
    add_language(parser)


def add_language(parser: argparse.ArgumentParser) -> None:
    """Add the argument for the language alone."""
    parser.add_argument(
        "--language", choices=("en", "es"), default="en", help="language of sentences (en)"
    )


def manner(args: argparse.Namespace) -> Manner:
    """Return how to speak to the reader."""
    return Manner(args.language, args.units)


class EndingError(SiteplanError):
    """A file name whose ending says no known kind."""


def ending(name: str, *allowed: str) -> str:
    """Return the ending of a file's name, one of those allowed.

    Raises
    ------
    EndingError
        If it is another.
    """
    found = Path(name).suffix.lower()
    if found not in allowed:
        raise EndingError(
            "'{name}' does not end in {allowed}", name=plain(name), allowed=", ".join(allowed)
        )
    return found


def read_raw(name: str) -> bytes:
    """Return what is in a file, or on standard input if the name is -."""
    from siteplan.plan.errors import FileAccessError
    from siteplan.plan.store import LARGEST_FILE_BYTES, read_bytes

    if name != "-":
        return read_bytes(name)
    if sys.stdin is None:
        raise FileAccessError("-", "is closed")
    # One more than is allowed, so that what is too long shows.
    return sys.stdin.buffer.read(LARGEST_FILE_BYTES + 1)


def read_plan(name: str) -> "Plan":
    """Return the plan in a file, or on standard input if the name is -."""
    from siteplan.plan.store import parse

    return parse(read_raw(name), name)


def write_file(name: str, content: bytes, *, force: bool) -> None:
    """Write an output file, or to standard output if the name is -; never overwrite unasked.

    Raises
    ------
    FileThereError
        If the file is there and `force` is not set.
    FileAccessError
        If it cannot be written.
    """
    from siteplan.plan.store import write_whole

    if name == "-":
        sys.stdout.buffer.write(content)
        return
    path = Path(name)
    there = False
    # What keeps us from looking will keep us from writing, which says why.
    with contextlib.suppress(OSError):
        there = path.exists()
    if there and not force:
        raise FileThereError("{name} is there already; --force overwrites it", name=plain(name))
    write_whole(path, content)
