"""Brings older plan files to the present version, one step at a time."""

import reprlib
from collections.abc import Callable
from typing import Any

from siteplan.errors import Said
from siteplan.plan.document import VERSION
from siteplan.plan.errors import BrokenFileError, NewerFormatError

Tree = dict[str, Any]

# From version n to n + 1. The first published version has no forerunner.
STEPS: dict[int, Callable[[Tree], Tree]] = {}


def to_present(tree: Tree, name: str) -> Tree:
    """Return the tree at the present version.

    Raises
    ------
    BrokenFileError
        If the version is missing or unknown.
    NewerFormatError
        If the file is newer than this program.
    """
    version = tree.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        found = reprlib.repr(version)
        raise BrokenFileError(
            name, Said("version: must be a whole number from 1; found {found}", {"found": found})
        )
    if version > VERSION:
        raise NewerFormatError(
            name,
            Said(
                "was written in format version {version}; this program knows up to {known}. "
                "Install the newer siteplan to edit it",
                {"version": str(version), "known": str(VERSION)},
            ),
        )
    while version < VERSION:
        tree = STEPS[version](tree)
        version += 1
    return tree
