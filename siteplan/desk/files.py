"""Opening and saving from the window, with the questions that go with it."""

import datetime as dt
import errno
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings
from PySide6.QtGui import QDropEvent

from siteplan.assets import sample
from siteplan.desk import backdrop
from siteplan.desk.dialogs import Dialogs
from siteplan.desk.locks import Locks, locked
from siteplan.desk.recovery import Leftover, Recovery, discard, leftovers
from siteplan.desk.session import Session
from siteplan.desk.text import tr, why
from siteplan.errors import SiteplanError
from siteplan.plan import Plan, edits, load
from siteplan.plan.errors import PlanFileError
from siteplan.plan.store import BACKUP_ENDING, SUFFIX

if TYPE_CHECKING:
    from siteplan.desk.window import Window

_MOST_RECENT = 10
DEMO = "bad-placement.siteplan"
_FULL = frozenset({errno.ENOSPC, errno.EDQUOT})
_NEWER_TEXT = (
    "{name} was written by a newer siteplan. What this one knows of it is shown; what it does not "
    "know is left out and not judged. The file opens read-only: Save asks for another name."
)
_KEPT_TEXT = "{name} is open read-only and stays as it is. Choose another name."
_FULL_TEXT = "The disk is full, so {name} was not saved. What the file held before is still there."
_RECOVERY_TEXT = "Your changes are kept for recovery. Make room, or save the plan to another place."
_ONLY_HERE_TEXT = (
    "Your changes are in this window only: leave it open, and make room or save the plan to "
    "another place."
)


class Files:
    """Opens and saves plans for one window."""

    def __init__(self, window: "Window", session: Session, dialogs: Dialogs) -> None:
        self._window, self._session, self.dialogs = window, session, dialogs
        self._locks = Locks()
        session.file_changed.connect(self._hold_own)

    def _hold_own(self) -> None:
        """Let go of every file but the one of the plan."""
        session = self._session
        self._locks.keep_only(None if session.read_only else session.path)

    def close(self) -> None:
        """Let go of the plan's file."""
        self._locks.keep_only(None)

    @property
    def kinds(self) -> str:
        """What file dialogs offer."""
        return f"{tr('Plans')} (*{SUFFIX})"

    def name(self) -> str:
        """Return what the plan is called in titles and questions."""
        if self._session.path is not None:
            return self._session.path.name
        return self._session.plan.title or tr("Unnamed plan")

    def folder(self) -> Path:
        """Return the folder that file dialogs begin in."""
        return self._session.path.parent if self._session.path else Path.home()

    def leave(self) -> bool:
        """Ask about unsaved work; say whether the present plan may go."""
        if not self._session.dirty:
            return True
        answer = self.dialogs.unsaved(self._window, self.name())
        if answer == "save":
            return self.save()
        return answer == "discard"

    def new(self) -> None:
        """Start an empty plan."""
        if self.leave():
            self._session.take(Plan())

    def ask_open(self) -> None:
        """Ask for a plan and open it."""
        backups = f"{tr('Plans before the last save')} (*{SUFFIX}{BACKUP_ENDING})"
        kinds = f"{self.kinds};;{backups}"
        path = self.dialogs.open_path(self._window, self.folder(), kinds)
        if path is not None:
            self.open(path)

    def open(self, path: Path) -> bool:
        """Open a plan after asking about unsaved work; say whether it is open."""
        if not self.leave():
            return False
        # The program's own samples are examples to start from, not files to write into; and who
        # looks at a backup wants to keep it.
        copied = is_sample(path) or path.name.endswith(BACKUP_ENDING)
        ours = copied or self._locks.take(path)
        try:
            self._session.open(path, read_only=not ours)
        except PlanFileError as error:
            self._hold_own()
            self.dialogs.tell(self._window, why(error))
            return False
        if copied:
            self._session.take(self._session.plan)
            return True
        self.remember(path)
        if not ours:
            self.dialogs.tell(self._window, locked(path))
        elif self._session.read_only:
            self.dialogs.tell(self._window, tr(_NEWER_TEXT, name=path.name))
        return True

    def open_picture(self) -> None:
        """Ask for a picture and lay it under the plan."""
        path = self.dialogs.open_path(
            self._window, self.folder(), f"{tr('Pictures')} (*.png *.jpg *.jpeg)"
        )
        if path is None:
            return
        try:
            picture = backdrop.read(path)
        except SiteplanError as error:
            self.dialogs.tell(self._window, why(error))
            return
        self._session.edit(
            tr("Lay a picture under the plan"),
            lambda plan: edits.with_fields(plan, backdrop=picture),
        )
        self._window.scale_picture()

    def open_demo(self) -> None:
        """Open the demo lot."""
        self.open(sample(DEMO))

    def save(self) -> bool:
        """Write the plan to its file, or ask for one; say whether it is saved."""
        if self._session.path is None or self._session.read_only:
            return self.save_as()
        return self._write(self._session.path)

    def save_as(self) -> bool:
        """Ask for a file and write the plan to it."""
        stem = self._session.plan.title or tr("Plan")
        kept = "".join(sign if sign.isalnum() or sign in " -_" else "-" for sign in stem)
        proposal = self._session.path or Path.home() / f"{kept[:60].strip()}{SUFFIX}"
        if self._session.read_only:
            proposal = proposal.with_stem(f"{proposal.stem} 2")
        path = self.dialogs.save_path(self._window, proposal, self.kinds)
        if path is None:
            return False
        return self._write(path if path.suffix else path.with_suffix(SUFFIX))

    def _write(self, path: Path) -> bool:
        if self._session.is_read_only(path):
            self.dialogs.tell(self._window, tr(_KEPT_TEXT, name=path.name))
            return False
        if not self._locks.take(path):
            self.dialogs.tell(self._window, locked(path))
            return False
        try:
            self._session.save(path)
        except PlanFileError as error:
            self._hold_own()
            self._tell_unsaved(path, error)
            return False
        self.remember(path)
        return True

    def _tell_unsaved(self, path: Path, error: PlanFileError) -> None:
        """Say why the plan was not saved, after keeping it where a crash cannot reach it."""
        cause = error.__cause__
        if not isinstance(cause, OSError) or cause.errno not in _FULL:
            self.dialogs.tell(self._window, why(error))
            return
        kept = self._window.recovery
        kept.write()
        said = tr(_FULL_TEXT, name=path.name)
        rest = _RECOVERY_TEXT if kept.trouble is None else _ONLY_HERE_TEXT
        self.dialogs.tell(self._window, f"{said} {tr(rest)}")

    def offer_recovery(self, kept: Recovery) -> None:
        """Offer the work of windows that were killed."""
        for leftover in leftovers(kept.file.parent):
            if _is_saved(leftover):
                # The window was killed after it had saved, before it could clear up.
                discard(leftover)
                continue
            name = leftover.original.name if leftover.original else leftover.plan.title
            when = dt.datetime.fromtimestamp(leftover.saved_at).astimezone()
            answer = self.dialogs.recover(
                self._window, name or tr("Unnamed plan"), when.strftime("%Y-%m-%d %H:%M")
            )
            if answer == "open":
                self._session.take(leftover.plan)
                self._session.undo_stack.resetClean()
                kept.write()
            if answer in ("open", "discard"):
                discard(leftover)
            if answer == "open":
                return

    # -- recent files ----------------------------------------------------------

    def recent(self) -> list[Path]:
        """Return the plans opened or saved last, newest first."""
        found = QSettings().value("recent", [])
        names = [found] if isinstance(found, str) else list(found or [])  # type: ignore[call-overload]
        return [Path(one) for one in names]

    def remember(self, path: Path) -> None:
        """Put a plan at the head of the recent ones."""
        names = [str(path.resolve())]
        names += [str(one) for one in self.recent() if str(one) != names[0]]
        QSettings().setValue("recent", names[:_MOST_RECENT])

    def forget(self) -> None:
        """Forget the recent plans."""
        QSettings().remove("recent")


def _is_saved(leftover: Leftover) -> bool:
    if leftover.original is None:
        return False
    try:
        return load(leftover.original) == leftover.plan
    except PlanFileError:
        return False


def is_sample(path: Path) -> bool:
    """Return whether a file is one of the program's own samples."""
    return path.resolve().parent == sample(DEMO).resolve().parent


def dropped(event: QDropEvent) -> Path | None:
    """Return the one local plan file that is dropped, or None."""
    urls = event.mimeData().urls()
    if len(urls) != 1 or not urls[0].isLocalFile():
        return None
    path = Path(urls[0].toLocalFile())
    return path if path.suffix == SUFFIX else None
