"""Buttons that lie on the drawing: measure, fit, zoom; and the words of an empty plan."""

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QFrame, QPushButton, QToolButton, QVBoxLayout, QWidget

from siteplan.desk import icons
from siteplan.desk.palette import Palette
from siteplan.desk.text import tr
from siteplan.desk.widgets import plain_label

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


class Welcome(QFrame):
    """What an empty plan says: three ways to begin."""

    def __init__(self, room: QWidget, actions: dict[str, QAction]) -> None:
        super().__init__(room)
        self._room = room
        self.setProperty("role", "card")
        column = QVBoxLayout(self)
        column.setContentsMargins(28, 24, 28, 24)
        column.setSpacing(10)
        title = plain_label(tr("Draw the lot"), bold=True, scale=1.4)
        words = plain_label(
            tr("Type its width and depth on the left, or click its corners here on the drawing."),
            muted=True,
            wrap=True,
        )
        column.addWidget(title)
        column.addWidget(words)
        column.addSpacing(6)
        self.buttons: dict[str, QPushButton] = {}
        for name, text in (
            ("corners", tr("Click the lot's corners")),
            ("demo", tr("Look at the demo lot first")),
            ("open", tr("Open a plan")),
        ):
            made = QPushButton(text)
            if name == "corners":
                made.setProperty("role", "main")
            if name in actions:
                made.clicked.connect(actions[name].trigger)
            column.addWidget(made)
            self.buttons[name] = made
        self.setFixedWidth(380)
        room.installEventFilter(self)
        self._arrange()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay in the middle when the drawing changes its size."""
        if event.type() == QEvent.Type.Resize:
            self._arrange()
        return False

    def _arrange(self) -> None:
        room = self._room.size()
        self.adjustSize()
        self.move((room.width() - self.width()) // 2, (room.height() - self.height()) // 2)
