"""Unsaved work is written beside the user's data, so that a crash or power cut loses little.

Each window owns one file in the recovery folder and holds a lock on it; a file whose owner
is gone is offered at the next start.
"""

import contextlib
import json
import time
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import (
    QLockFile,
    QObject,
    QRunnable,
    QStandardPaths,
    QThreadPool,
    QTimer,
    Signal,
)

from siteplan.desk.session import Session
from siteplan.desk.text import tr, why
from siteplan.plan import Plan, store
from siteplan.plan.errors import FileAccessError, PlanFileError

# An edit is on disk at the latest this long after it was made. Writing begins earlier: it waits
# for the disk, and perhaps for a busy window.
DELAY_MS = 1000
_BEGIN_SHARE = 0.6


@dataclass(frozen=True, slots=True)
class Leftover:
    """Work left behind by a window that is gone."""

    file: Path
    original: Path | None
    saved_at: float
    plan: Plan


def default_folder() -> Path:
    """Return the folder for recovery files in the user's application data."""
    place = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.AppLocalDataLocation)
    return Path(place) / "recovery"


State = tuple[str | None, Plan]


class _Done(QObject):
    """Brings a result back to the drawing's thread."""

    written = Signal(object)


class _Write(QRunnable):
    """Writes one state, from a plan that nobody changes."""

    def __init__(self, file: Path, state: State, done: _Done) -> None:
        super().__init__()
        self._file, self._state, self._done = file, state, done

    def run(self) -> None:
        """Write, and tell how it went."""
        error = _written(self._file, self._state)
        # The window may have been closed meanwhile.
        with contextlib.suppress(RuntimeError):
            self._done.written.emit(error)


def _written(file: Path, state: State) -> OSError | FileAccessError | None:
    """Write a state, and return what went wrong, if anything did."""
    original, plan = state
    try:
        tree = {"original": original, "saved_at": time.time(), "plan": store.dump(plan)}
        store.write_whole(file, json.dumps(tree).encode())
    except (OSError, FileAccessError) as error:
        return error
    return None


class Recovery(QObject):
    """Keeps the recovery file of one session up to date.

    Signals
    -------
    troubled(sentence): unsaved work cannot be kept; said once until it works again.
    """

    troubled = Signal(str)

    def __init__(self, session: Session, folder: Path) -> None:
        super().__init__(session)
        self._session = session
        self._file = folder / f"{uuid.uuid4().hex}.recovery"
        self._lock = QLockFile(str(self._file) + ".lock")
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(round(_BEGIN_SHARE * DELAY_MS))
        self._timer.timeout.connect(self._begin)
        # A busy disk may take half a second, and must not stop a dragging hand so long.
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._done = _Done(self)
        self._done.written.connect(self._take)
        self.trouble: str | None = None
        session.plan_changed.connect(self._on_change)
        session.file_changed.connect(self._on_file)

    @property
    def file(self) -> Path:
        """Where the unsaved work is kept."""
        return self._file

    def _on_change(self) -> None:
        # Not restarted by later edits: the first unsaved one sets the time.
        if not self._timer.isActive():
            self._timer.start()

    def _on_file(self) -> None:
        if not self._session.dirty:
            self._timer.stop()
            self.clear()

    def write(self) -> None:
        """Write the unsaved work now, if there is any, and wait for the disk."""
        if (state := self._state()) is not None:
            self._pool.waitForDone()
            self._take(_written(self._file, state))

    def _begin(self) -> None:
        """Begin to write the unsaved work, if there is any, beside the drawing's thread."""
        if (state := self._state()) is not None:
            self._pool.start(_Write(self._file, state, self._done))

    def _state(self) -> State | None:
        """Return what is to be written, its place made ready and anything older not begun."""
        self._pool.clear()
        if not self._session.dirty:
            self.clear()
            return None
        try:
            self._file.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            self._take(error)
            return None
        self._lock.tryLock(0)
        path = self._session.path
        return (None if path is None else str(path), self._session.plan)

    def _take(self, error: OSError | FileAccessError | None) -> None:
        if error is not None and self.trouble is None:
            self.troubled.emit(tr("Unsaved work cannot be kept: {why}", why=why(error)))
        self.trouble = None if error is None else why(error)

    def clear(self) -> None:
        """Remove the recovery file: there is nothing unsaved."""
        self._pool.clear()
        self._pool.waitForDone()
        with contextlib.suppress(OSError):
            self._file.unlink(missing_ok=True)
        if self._lock.isLocked():
            self._lock.unlock()

    def close(self) -> None:
        """Stop, and leave nothing behind."""
        self._timer.stop()
        self.clear()


def leftovers(folder: Path) -> Iterator[Leftover]:
    """Yield the work of windows that are gone, newest first; broken files are passed over."""
    files = sorted(folder.glob("*.recovery"), key=lambda one: one.stat().st_mtime, reverse=True)
    for file in files:
        if _owner_is_gone(file) and (found := _read(file)) is not None:
            yield found


def _owner_is_gone(file: Path) -> bool:
    lock = QLockFile(str(file) + ".lock")
    lock.setStaleLockTime(0)
    if not lock.tryLock(0):
        return False
    lock.unlock()
    return True


def _read(file: Path) -> Leftover | None:
    try:
        tree = json.loads(file.read_bytes())
        original = None if tree["original"] is None else Path(tree["original"])
        plan = store.parse(tree["plan"].encode(), str(file))
        return Leftover(file, original, float(tree["saved_at"]), plan)
    except (OSError, ValueError, KeyError, TypeError, AttributeError, PlanFileError):
        return None


def discard(leftover: Leftover) -> None:
    """Remove a recovery file."""
    with contextlib.suppress(OSError):
        leftover.file.unlink(missing_ok=True)
