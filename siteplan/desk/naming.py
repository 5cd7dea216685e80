"""What the window and its actions are called as the plan, its file and the language change."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from siteplan.desk.commands import commands
from siteplan.desk.text import tr

if TYPE_CHECKING:
    from siteplan.desk.window import Window


class Names(QObject):
    """Names the window and its actions."""

    def __init__(self, window: "Window") -> None:
        super().__init__(window)
        self._window = window

    def title(self) -> None:
        """Name the window after the plan and its file, and say what state they are in."""
        window, session = self._window, self._window.session
        name = window.files.name()
        states = [tr("read-only")] if session.read_only else []
        mark = f" ({states[0]})" if states else ""
        if session.dirty:
            states.append(tr("not saved yet"))
        window.setWindowTitle(f"{name}{' *' if session.dirty else ''}{mark} – siteplan")
        window.face.bar.title.setText(session.plan.title or name)
        window.face.bar.state.setText(", ".join(states))
        self.undo()

    def undo(self) -> None:
        """Say what undo and redo would change."""
        stack = self._window.session.undo_stack
        for name, can, words in (
            ("undo", stack.canUndo(), stack.undoText()),
            ("redo", stack.canRedo(), stack.redoText()),
        ):
            action = self._window.actions_by_name[name]
            action.setEnabled(can)
            base = tr("Undo") if name == "undo" else tr("Redo")
            action.setText(f"{base}: {words}" if can and words else base)

    def all(self) -> None:
        """Name every action anew, in the reader's language."""
        actions, manner = self._window.actions_by_name, self._window.session.manner
        for command in commands(self._window):
            actions[command.name].setText(command.title)
        actions["units"].setText(tr("Feet") if manner.system == "feet" else tr("Metres"))
        actions["language"].setText("English" if manner.language == "en" else "Español")
        actions["next-palette"].setText(tr("Colours"))
        self.undo()
