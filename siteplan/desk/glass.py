"""Buttons that lie on the drawing: measure, fit, zoom."""

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QFrame, QToolButton, QVBoxLayout, QWidget

from siteplan.desk import icons
from siteplan.desk.palette import Palette

_NAMES = ("measure", "fit", "zoom-in", "zoom-out")
_SYMBOLS = {"measure": "measure", "fit": "fit", "zoom-in": "plus", "zoom-out": "minus"}


class Glass(QFrame):
    """A short column of buttons in the upper right corner of the drawing."""

    def __init__(self, room: QWidget, actions: dict[str, QAction], palette: Palette) -> None:
        super().__init__(room)
        self._room = room
        self.setProperty("role", "card")
        column = QVBoxLayout(self)
        column.setContentsMargins(3, 3, 3, 3)
        column.setSpacing(2)
        self._actions = {name: actions[name] for name in _NAMES}
        for action in self._actions.values():
            made = QToolButton()
            made.setDefaultAction(action)
            made.setProperty("role", "icon")
            made.setIconSize(QSize(20, 20))
            made.setFixedSize(34, 32)
            made.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)
            made.setAccessibleName(action.text())
            column.addWidget(made)
        room.installEventFilter(self)
        self.restyle(palette)
        self.adjustSize()
        self._arrange()

    def restyle(self, palette: Palette) -> None:
        """Take other colours."""
        for name, action in self._actions.items():
            action.setIcon(icons.icon(_SYMBOLS[name], palette.text, palette.faint))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay in the corner when the drawing changes its size."""
        if event.type() == QEvent.Type.Resize:
            self._arrange()
        return False

    def _arrange(self) -> None:
        self.move(self._room.width() - self.width() - 12, 12)
