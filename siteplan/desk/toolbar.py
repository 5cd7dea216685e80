"""The bar over the window: undo and redo, the title, the units, the colours."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QHBoxLayout, QToolButton, QWidget

from siteplan.desk import icons
from siteplan.desk.palette import Palette
from siteplan.desk.widgets import plain_label


class Bar(QWidget):
    """A row of quiet buttons around the plan's name."""

    def __init__(self, actions: dict[str, QAction], palette: Palette) -> None:
        super().__init__()
        self.setObjectName("bar")
        self._icons: list[tuple[QToolButton, str]] = []
        row = QHBoxLayout(self)
        row.setContentsMargins(10, 2, 10, 6)
        row.setSpacing(4)
        for name in ("open", "save"):
            row.addWidget(self._button(actions[name], name))
        row.addSpacing(10)
        for name in ("undo", "redo"):
            row.addWidget(self._button(actions[name], name))
        row.addSpacing(14)
        self.title = plain_label(bold=True, scale=1.2)
        row.addWidget(self.title)
        self.state = plain_label(muted=True)
        row.addWidget(self.state)
        row.addStretch(1)
        self.units = QToolButton()
        self.units.setDefaultAction(actions["units"])
        self.units.setProperty("role", "quiet")
        self.language = QToolButton()
        self.language.setDefaultAction(actions["language"])
        self.language.setProperty("role", "quiet")
        self.colours = QToolButton()
        self.colours.setDefaultAction(actions["next-palette"])
        self.colours.setProperty("role", "quiet")
        for one in (self.units, self.language, self.colours):
            row.addWidget(one)
        self.restyle(palette)

    def _button(self, action: QAction, symbol: str) -> QToolButton:
        made = QToolButton()
        made.setDefaultAction(action)
        made.setProperty("role", "icon")
        made.setIconSize(QSize(20, 20))
        made.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)
        made.setAccessibleName(action.text())
        self._icons.append((made, symbol))
        return made

    def restyle(self, palette: Palette) -> None:
        """Take other colours."""
        for made, symbol in self._icons:
            action = made.defaultAction()
            action.setIcon(icons.icon(symbol, palette.text, palette.faint))
