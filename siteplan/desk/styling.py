"""The colours a window begins with, and the style sheet that goes with them."""

from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QApplication

from siteplan.assets import resource
from siteplan.desk.palette import PALETTES, Palette, PaletteName, style_sheet


def sheet_of(palette: Palette) -> str:
    """Return the style sheet of a palette, its pictures included."""
    arrow = resource(f"symbols/arrow-down-{palette.name}.svg").as_posix()
    tick = resource(f"symbols/tick-{palette.name}.svg").as_posix()
    return style_sheet(palette, arrow, tick)


def saved_palette() -> PaletteName:
    """Return the colours chosen last; without a choice, what the system asks for."""
    name = QSettings().value("palette", "")
    for known in PALETTES:
        if known == name:
            return known
    hints = QApplication.styleHints()
    return "dark" if hints.colorScheme() == Qt.ColorScheme.Dark else "light"
