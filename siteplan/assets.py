"""Finds the program's own data files, from a checkout and from an installed wheel alike."""

from pathlib import Path

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
