"""Actions as data: menus, shortcuts and the key list are made from these."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget


@dataclass(frozen=True, slots=True)
class Command:
    """Something the user can do.

    Attributes
    ----------
    name : str
        Stable id.
    title : str
        What the menu says, already in the reader's language.
    run : callable
        What it does.
    keys : str
        Shortcut in Qt's portable text, or empty.
    icon : str
        Name of a symbol, or empty.
    """

    name: str
    title: str
    run: Callable[[], object]
    keys: str = ""
    icon: str = ""


def make(commands: list[Command], owner: QWidget) -> dict[str, QAction]:
    """Return an action of each command, by name; they live as long as the owner."""
    made: dict[str, QAction] = {}
    for command in commands:
        action = QAction(command.title, owner)
        action.setObjectName(command.name)
        if command.keys:
            action.setShortcuts([QKeySequence(one) for one in command.keys.split("|")])
        action.triggered.connect(call_plain(command.run))
        made[command.name] = action
    return made


def call_plain(run: Callable[[], object]) -> Callable[[], None]:
    """Return a slot that calls something without what the signal brings along."""

    def call() -> None:
        run()

    return call


def fill(menu: QMenu, names: list[str], actions: dict[str, QAction]) -> None:
    """Put actions into a menu in this order; an empty name is a line between groups."""
    for name in names:
        if name:
            menu.addAction(actions[name])
        else:
            menu.addSeparator()
