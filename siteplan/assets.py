"""Finds the program's own data files, from a checkout and from an installed wheel alike."""

from pathlib import Path
from typing import Any

# The compiled reader: the standard library's own takes 12 ms more of every start.
import tomli

from siteplan.errors import MissingAssetError

_PACKAGE = Path(__file__).resolve().parent
# An installed wheel carries both folders inside the package; a checkout has them beside it.
_ROOTS = (_PACKAGE / "_shared", _PACKAGE.parent)


def _find(folder: str, name: str) -> Path:
    for root in _ROOTS:
        found = root / folder / name
        if found.exists():
            return found
    msg = f"the program's file {folder}/{name} is missing; install siteplan again"
    raise MissingAssetError(msg)


def resource(name: str) -> Path:
    """Return the path of a file or folder below `resources/`.

    Raises
    ------
    MissingAssetError
        If there is no such file.
    """
    return _find("resources", name)


def data_book(name: str) -> dict[str, Any]:
    """Return the contents of a TOML file below `resources/`.

    Raises
    ------
    MissingAssetError
        If there is no such file.
    """
    return read_toml(resource(name))


def read_toml(path: Path) -> dict[str, Any]:
    """Return the contents of one of the program's own TOML files; a test reads them all."""
    return tomli.loads(path.read_text(encoding="utf-8"))


def sample(name: str) -> Path:
    """Return the path of a file or folder below `samples/`.

    Raises
    ------
    MissingAssetError
        If there is no such file.
    """
    return _find("samples", name)


def readme() -> Path:
    """Return the path of the README, whose text is also the help inside the program.

    Raises
    ------
    MissingAssetError
        If it is not there.
    """
    return _find(".", "README.md")
