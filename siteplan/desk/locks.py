"""Locks on plan files, so that two windows do not write over each other's work."""

from pathlib import Path

from PySide6.QtCore import QLockFile

from siteplan.desk.text import tr

_LOCKED_TEXT = (
    "{name} is open in another window, so it opens read-only here and Save asks for another name. "
    "If no window has it open, remove the file {lock}."
)


def lock_path(path: Path) -> Path:
    """Return where the lock of a plan file lies: hidden, beside it."""
    target = path.resolve()
    return target.with_name(f".{target.name}.lock")


def locked(path: Path) -> str:
    """Return the sentence that a file is open elsewhere."""
    return tr(_LOCKED_TEXT, name=path.name, lock=lock_path(path).name)


class Locks:
    """The locks of one window."""

    def __init__(self) -> None:
        self._held: dict[Path, QLockFile] = {}

    def take(self, path: Path) -> bool:
        """Lock a plan file; say no only if another window has it open.

        The lock of a program that is gone is taken over. Where no lock can be made, as in a
        folder that cannot be written, there is none.
        """
        place = lock_path(path)
        if place in self._held:
            return True
        lock = QLockFile(str(place))
        # Windows stay open for days: only that its owner is gone makes a lock stale.
        lock.setStaleLockTime(0)
        if lock.tryLock(0):
            self._held[place] = lock
            return True
        return lock.error() != QLockFile.LockError.LockFailedError

    def keep_only(self, path: Path | None) -> None:
        """Let go of every file but this one."""
        kept = None if path is None else lock_path(path)
        for place in [one for one in self._held if one != kept]:
            self._held.pop(place).unlock()
