"""Small widgets used all over the window."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QLabel

from siteplan.desk.palette import scaled
from siteplan.words import held_together

_USUAL_LINE_PX = 18.0


def open_at(dialog: QDialog, width: int, height: int) -> None:
    """Give a dialog its size, larger with large letters as far as the screen has room."""
    scale = max(1.0, dialog.fontMetrics().height() / _USUAL_LINE_PX)
    screen = dialog.screen().availableSize()
    dialog.resize(
        max(width, min(round(width * scale), screen.width() - 40)),
        max(height, min(round(height * scale), screen.height() - 60)),
    )


class _InLines(QLabel):
    """A label of several lines that keeps figure and unit in one."""

    def __init__(self, words: str) -> None:
        super().__init__()
        self.setText(words)

    def setText(self, words: str) -> None:
        """Show other words."""
        super().setText(held_together(words))


def plain_label(
    words: str = "",
    *,
    muted: bool = False,
    bold: bool = False,
    wrap: bool = False,
    scale: float = 1.0,
) -> QLabel:
    """Return a label that shows its text as it is, never as markup."""
    label = _InLines(words) if wrap else QLabel(words)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(wrap)
    if muted:
        label.setProperty("role", "muted")
    if bold or scale != 1.0:
        label.setFont(scaled(label.font(), scale, bold=bold))
    return label
