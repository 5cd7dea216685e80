"""The state of one window: plan, review, selection, undo. Nothing else changes any of it."""

from collections.abc import Callable
from itertools import count
from pathlib import Path

from pydantic import ValidationError
from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from siteplan.desk import text, things
from siteplan.desk.text import why
from siteplan.plan import Plan, newer, store
from siteplan.plan.errors import EditError, FileAccessError, NewerFormatError
from siteplan.plan.mistakes import explain
from siteplan.rules.findings import Review
from siteplan.scene import Scene
from siteplan.units import System
from siteplan.words import Language, Manner

Edit = Callable[[Plan], Plan]
Reviewer = Callable[[Plan], tuple[Review, Scene | None]]
_UNDO_LIMIT = 500


class _Change(QUndoCommand):
    """One step of undo: the frozen plan before and after."""

    def __init__(
        self,
        title: str,
        states: tuple[Plan, Plan],
        show: Callable[[Plan], None],
        gesture: int | None,
    ) -> None:
        super().__init__(title)
        self.before, self.after = states
        self.gesture = gesture
        self._show = show

    def redo(self) -> None:
        """Show the plan as it is after the change."""
        self._show(self.after)

    def undo(self) -> None:
        """Show the plan as it was before the change."""
        self._show(self.before)

    def id(self) -> int:
        """Only changes of a gesture may merge; -1 says never."""
        return -1 if self.gesture is None else 1

    def mergeWith(self, other: QUndoCommand) -> bool:
        """Take in a later change of the same gesture."""
        if not isinstance(other, _Change) or other.gesture != self.gesture:
            return False
        self.after = other.after
        self.setObsolete(self.after == self.before)
        return True


class Session(QObject):
    """What the window works on.

    Signals
    -------
    plan_changed(before, after), review_changed(review), selection_changed(keys),
    manner_changed(manner), refused(sentence), file_changed(), gesture_ended(),
    shown(points): the canvas is asked to bring these points into view.
    """

    plan_changed = Signal(object, object)
    review_changed = Signal(object)
    selection_changed = Signal(object)
    manner_changed = Signal(object)
    refused = Signal(str)
    file_changed = Signal()
    gesture_ended = Signal()
    shown = Signal(object)
    pointed = Signal(object)

    def __init__(self, plan: Plan | None = None, reviewer: Reviewer | None = None) -> None:
        super().__init__()
        self._plan = plan or Plan()
        self._review = Review()
        self._scene: Scene | None = None
        self._reviewer = reviewer
        self._selection: tuple[str, ...] = ()
        self._manner = Manner()
        self._gestures = count(1)
        self._gesture: int | None = None
        self.path: Path | None = None
        self.read_only = False
        self.undo_stack = QUndoStack(self)
        self.undo_stack.setUndoLimit(_UNDO_LIMIT)
        self._judge()

    # -- what is shown ---------------------------------------------------------

    @property
    def plan(self) -> Plan:
        """The plan as it stands."""
        return self._plan

    @property
    def review(self) -> Review:
        """What the rules say about the plan as it stands."""
        return self._review

    @property
    def scene(self) -> Scene | None:
        """The resolved plan the review is of, once the rules are loaded."""
        return self._scene

    @property
    def selection(self) -> tuple[str, ...]:
        """Keys of what is selected; the last one is what the form shows."""
        return self._selection

    @property
    def manner(self) -> Manner:
        """Language and units of the window."""
        return self._manner

    @property
    def dirty(self) -> bool:
        """Whether there is anything unsaved."""
        return not self.undo_stack.isClean()

    @property
    def in_gesture(self) -> bool:
        """Whether a drag is under way."""
        return self._gesture is not None

    def judge_with(self, reviewer: Reviewer) -> None:
        """Take the rules into use; they load after the window is on the screen."""
        self._reviewer = reviewer
        self._judge()
        self.review_changed.emit(self._review)

    # -- edits -----------------------------------------------------------------

    def edit(self, title: str, change: Edit) -> bool:
        """Make a change as one step of undo; say whether it could be made."""
        try:
            after = change(self._plan)
        except EditError as error:
            self.refused.emit(why(error))
            return False
        except ValidationError as error:
            # A new thing with a figure that no plan can hold, such as a lot of 10⁹ m.
            self.refused.emit(why(EditError(explain(error))))
            return False
        if after == self._plan:
            return True
        self.undo_stack.push(_Change(title, (self._plan, after), self._show, self._gesture))
        return True

    def begin_gesture(self) -> None:
        """Start a drag: the changes until `end_gesture` become one step of undo."""
        self._gesture = next(self._gestures)

    def end_gesture(self) -> None:
        """End the drag."""
        if self._gesture is not None:
            self._gesture = None
            self.gesture_ended.emit()

    def cancel_gesture(self) -> None:
        """End the drag and put everything back as it was before."""
        stack = self.undo_stack
        last = stack.command(stack.index() - 1) if stack.index() else None
        if isinstance(last, _Change) and last.gesture == self._gesture is not None:
            stack.undo()
        self.end_gesture()

    def _show(self, plan: Plan) -> None:
        before, self._plan = self._plan, plan
        self._judge()
        self._forget_lost()
        self.plan_changed.emit(before, plan)
        self.review_changed.emit(self._review)

    def _judge(self) -> None:
        if self._reviewer is not None:
            self._review, self._scene = self._reviewer(self._plan)

    def _forget_lost(self) -> None:
        kept = tuple(key for key in self._selection if things.get(self._plan, key) is not None)
        if kept != self._selection:
            self.select(*kept)

    # -- selection and manner --------------------------------------------------

    def select(self, *keys: str) -> None:
        """Select these things and nothing else."""
        if keys != self._selection:
            self._selection = keys
            self.selection_changed.emit(keys)

    def toggle(self, key: str) -> None:
        """Add a thing to the selection, or take it out."""
        if key in self._selection:
            self.select(*(one for one in self._selection if one != key))
        else:
            self.select(*self._selection, key)

    def show_points(self, points: tuple[tuple[float, float], ...]) -> None:
        """Ask the canvas to bring these points [m] into view."""
        if points:
            self.shown.emit(points)

    def point_out(self, outcome: object) -> None:
        """Ask the canvas to draw the evidence of an outcome, or of none."""
        self.pointed.emit(outcome)

    def speak(self, language: Language | None = None, system: System | None = None) -> None:
        """Choose the language or the units."""
        self._manner = Manner(language or self._manner.language, system or self._manner.system)
        text.speak(self._manner)
        self.manner_changed.emit(self._manner)

    # -- files -----------------------------------------------------------------

    def take(self, plan: Plan, path: Path | None = None, *, read_only: bool = False) -> None:
        """Start over with another plan."""
        self._gesture = None
        self.undo_stack.clear()
        self.path, self.read_only = path, read_only
        self._selection = ()
        before, self._plan = self._plan, plan
        self._judge()
        self.selection_changed.emit(())
        self.plan_changed.emit(before, plan)
        self.review_changed.emit(self._review)
        self.file_changed.emit()

    def open(self, path: Path, *, read_only: bool = False) -> None:
        """Open a plan file; one of a newer format opens read-only, as far as it is known.

        Raises
        ------
        PlanFileError
            If it cannot be opened; the present plan stays.
        """
        try:
            plan = store.load(path)
        except NewerFormatError:
            plan, read_only = newer.load_known(path), True
        self.take(plan, path, read_only=read_only)

    def is_read_only(self, path: Path) -> bool:
        """Return whether this is the file of the plan, and it must not be written."""
        own = self.path
        return self.read_only and own is not None and path.resolve() == own.resolve()

    def save(self, path: Path) -> None:
        """Write the plan to a file, which becomes this plan's file; the old one is kept beside it.

        Raises
        ------
        PlanFileError
            If it cannot be written, or is open read-only; any old file is untouched.
        """
        if self.is_read_only(path):
            raise FileAccessError(str(path), "is open read-only; save under another name")
        store.save(self._plan, path, backup=True)
        self.path, self.read_only = path, False
        self.undo_stack.setClean()
        self.file_changed.emit()
