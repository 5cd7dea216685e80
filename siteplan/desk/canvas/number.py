"""A small field over the drawing that takes a length typed while a tool is at work."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit

from siteplan.desk.text import tr

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas
    from siteplan.desk.tools.base import Tool


class NumberField(QLineEdit):
    """Opens at the first digit; Enter gives the text to the tool, Escape closes."""

    def __init__(self, canvas: "Canvas") -> None:
        super().__init__(canvas.viewport)
        self._canvas = canvas
        self._tool: Tool | None = None
        self.rename()
        self.setFixedWidth(130)
        self.hide()
        self.returnPressed.connect(self._take)

    def rename(self) -> None:
        """Take the reader's language."""
        self.setAccessibleName(tr("Length"))

    def open(self, first: str, tool: "Tool") -> None:
        """Show the field in the middle of the view's lower edge."""
        self._tool = tool
        size = self._canvas.frame.size
        self.move(round(size.width() / 2) - 65, round(size.height()) - 64)
        self.setText(first)
        self.show()
        self.setFocus(Qt.FocusReason.OtherFocusReason)
        self.setCursorPosition(len(first))

    def _take(self) -> None:
        if self._tool is not None and self._tool.typed(self.text()):
            self._shut()

    def _shut(self) -> None:
        self.hide()
        self._canvas.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close at Escape."""
        if event.key() == Qt.Key.Key_Escape:
            self._shut()
        else:
            super().keyPressEvent(event)
