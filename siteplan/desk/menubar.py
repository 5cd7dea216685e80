"""The menus, with the plans opened last."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenuBar

from siteplan.desk import actions as acts
from siteplan.desk.commands import menus
from siteplan.desk.files import Files
from siteplan.desk.text import tr


class MenuBar(QMenuBar):
    """The menus of one window, in the reader's language."""

    def __init__(self, actions: dict[str, QAction], files: Files) -> None:
        super().__init__()
        self._files = files
        for title, names in menus():
            menu = self.addMenu(title)
            for name in names:
                if name == "recent":
                    self.recent = menu.addMenu(tr("Recent"))
                    self.recent.aboutToShow.connect(self._fill_recent)
                else:
                    acts.fill(menu, [name], actions)

    def _fill_recent(self) -> None:
        self.recent.clear()
        for path in self._files.recent():
            entry = self.recent.addAction(path.name)
            entry.setEnabled(path.exists())
            entry.triggered.connect(self._opener(path))
        self.recent.addSeparator()
        self.recent.addAction(tr("Clear the list")).triggered.connect(self._files.forget)

    def _opener(self, path: Path) -> Callable[[], object]:
        return lambda: self._files.open(path)
