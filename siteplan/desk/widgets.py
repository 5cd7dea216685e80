"""Small widgets used all over the window."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from siteplan.desk.palette import scaled


def plain_label(
    words: str = "",
    *,
    muted: bool = False,
    bold: bool = False,
    wrap: bool = False,
    scale: float = 1.0,
) -> QLabel:
    """Return a label that shows its text as it is, never as markup."""
    label = QLabel(words)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(wrap)
    if muted:
        label.setProperty("role", "muted")
    if bold or scale != 1.0:
        label.setFont(scaled(label.font(), scale, bold=bold))
    return label
