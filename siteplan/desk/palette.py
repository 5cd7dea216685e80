"""The three palettes, the type scale, the spacing, and the style sheet made from them."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from PySide6.QtGui import QColor, QFont, QPalette

PaletteName = Literal["light", "dark", "contrast"]
# One spacing step [px]; every margin and gap is a multiple of it.
STEP = 4


@dataclass(frozen=True, slots=True)
class Palette:
    """Colours of the window. Saturated colour is left to the signal words."""

    name: PaletteName
    window: str
    panel: str
    raised: str
    border: str
    faint: str
    strong_border: str
    text: str
    muted: str
    accent: str
    on_accent: str
    accent_soft: str
    canvas: str
    grid: str
    grid_strong: str
    width: int = 1


LIGHT = Palette(
    "light",
    window="#efece6",
    panel="#fbfaf7",
    raised="#ffffff",
    border="#dcd7cc",
    faint="#a8a193",
    strong_border="#8b8578",
    text="#1b2226",
    muted="#5a646b",
    accent="#0b5563",
    on_accent="#ffffff",
    accent_soft="#dceaec",
    canvas="#fdfcfa",
    grid="#f0ede6",
    grid_strong="#e3dfd5",
)
DARK = Palette(
    "dark",
    window="#14181b",
    panel="#1b2125",
    raised="#242b30",
    border="#333c42",
    faint="#5b666d",
    strong_border="#7d8a92",
    text="#e9edef",
    muted="#a5b0b7",
    accent="#6cc7d4",
    on_accent="#08262c",
    accent_soft="#1f3a41",
    canvas="#12171a",
    grid="#1a2125",
    grid_strong="#242d32",
)
CONTRAST = Palette(
    "contrast",
    window="#000000",
    panel="#000000",
    raised="#000000",
    border="#ffffff",
    faint="#8f8f8f",
    strong_border="#ffffff",
    text="#ffffff",
    muted="#ffffff",
    accent="#7df9ff",
    on_accent="#000000",
    accent_soft="#003c40",
    canvas="#000000",
    grid="#1c1c1c",
    grid_strong="#3a3a3a",
    width=2,
)
PALETTES: dict[PaletteName, Palette] = {"light": LIGHT, "dark": DARK, "contrast": CONTRAST}


def scaled(font: QFont, factor: float, *, bold: bool = False) -> QFont:
    """Return the font on another step of the type scale: 0.85, 1, 1.2 or 1.4."""
    return _scaled(font.key(), font.family(), font.pointSizeF() * factor, bold=bold)


@lru_cache(maxsize=64)
def _scaled(_key: str, family: str, size_pt: float, *, bold: bool) -> QFont:
    made = QFont(family)
    made.setPointSizeF(size_pt)
    if bold:
        made.setWeight(QFont.Weight.Bold)
    return made


def qt_palette(palette: Palette) -> QPalette:
    """Return the palette in Qt's own terms, for what the style sheet does not reach."""
    made = QPalette()
    role = QPalette.ColorRole
    for name, colour in (
        (role.Window, palette.window),
        (role.Base, palette.raised),
        (role.AlternateBase, palette.panel),
        (role.Button, palette.raised),
        (role.Text, palette.text),
        (role.WindowText, palette.text),
        (role.ButtonText, palette.text),
        (role.PlaceholderText, palette.muted),
        (role.Highlight, palette.accent),
        (role.HighlightedText, palette.on_accent),
        (role.ToolTipBase, palette.raised),
        (role.ToolTipText, palette.text),
        (role.Mid, palette.border),
        (role.Light, palette.raised),
        (role.Dark, palette.strong_border),
    ):
        made.setColor(name, QColor(colour))
    for name in (role.Text, role.ButtonText, role.WindowText):
        made.setColor(QPalette.ColorGroup.Disabled, name, QColor(palette.strong_border))
    return made


_SHEET = """
QMainWindow, QDialog, QMessageBox {{ background: {window}; color: {text}; }}
QWidget {{ color: {text}; }}
QToolTip {{ background: {raised}; color: {text}; border: {w}px solid {strong_border};
  padding: 4px; }}
QMenuBar {{ background: {window}; color: {text}; padding: 2px 6px; }}
QMenuBar::item {{ padding: 5px 9px; border-radius: 4px; background: transparent; }}
QMenuBar::item:selected {{ background: {accent_soft}; }}
QMenu {{ background: {raised}; color: {text}; border: {w}px solid {border}; padding: 5px; }}
QMenu::item {{ padding: 6px 26px 6px 22px; border-radius: 4px; }}
QMenu::item:selected {{ background: {accent_soft}; }}
QMenu::item:disabled {{ color: {faint}; }}
QMenu::separator {{ height: 1px; background: {border}; margin: 5px 8px; }}
#bar, #foot {{ background: {window}; }}
#side {{ background: {panel}; border: {w}px solid {border}; border-radius: 8px; }}
#canvasFrame {{ background: {canvas}; border: {w}px solid {border}; border-radius: 8px; }}
QLabel {{ background: transparent; }}
QLabel[role="muted"] {{ color: {muted}; }}
QLabel[role="error"] {{ color: {text}; background: {accent_soft}; border-radius: 4px;
  padding: 6px 8px; }}
QPushButton, QToolButton {{
  background: {raised}; color: {text}; border: {w}px solid {border}; border-radius: 6px;
  padding: 5px 11px; min-height: 18px; }}
QPushButton:hover, QToolButton:hover {{ border-color: {accent}; }}
QPushButton:pressed, QToolButton:pressed, QToolButton:checked, QPushButton:checked {{
  background: {accent_soft}; border-color: {accent}; }}
QPushButton:focus, QToolButton:focus {{ border: 2px solid {accent}; padding: 4px 10px; }}
QPushButton:disabled, QToolButton:disabled {{ color: {faint}; background: transparent; }}
QPushButton[role="main"] {{ background: {accent}; color: {on_accent}; border-color: {accent}; }}
QPushButton[role="main"]:focus {{ border: 2px solid {text}; }}
QPushButton[role="main"]:disabled {{ background: {border}; color: {strong_border};
  border-color: {border}; }}
QPushButton[role="quiet"], QToolButton[role="quiet"] {{ background: transparent;
  border-color: transparent; }}
QPushButton[role="quiet"]:hover, QToolButton[role="quiet"]:hover {{
  background: {accent_soft}; }}
QPushButton[role="quiet"]:focus, QToolButton[role="quiet"]:focus {{
  border: 2px solid {accent}; }}
QPushButton[role="add"] {{ text-align: left; padding: 6px 8px; }}
QToolButton::menu-indicator {{ image: none; }}
QToolButton[role="icon"] {{ padding: 4px; min-width: 22px; min-height: 22px; }}
QToolButton[role="icon"]:focus {{ padding: 3px; }}
QLineEdit, QPlainTextEdit, QComboBox, QDateEdit {{
  background: {raised}; color: {text}; border: {w}px solid {strong_border}; border-radius: 5px;
  padding: 4px 7px; min-height: 20px; selection-background-color: {accent};
  selection-color: {on_accent}; }}
QLineEdit:hover, QComboBox:hover {{ border-color: {text}; }}
QLineEdit:focus, QPlainTextEdit:focus, QComboBox:focus {{ border: 2px solid {accent};
  padding: 3px 6px; }}
QLineEdit[bad="true"] {{ border: 2px solid #c8102e; padding: 3px 6px; }}
QLineEdit:disabled, QComboBox:disabled {{ color: {faint}; background: {panel}; }}
QComboBox::drop-down {{ border: none; width: 22px; }}
QComboBox::down-arrow {{ image: url({arrow}); width: 12px; height: 12px; }}
QComboBox QAbstractItemView {{
  background: {raised}; color: {text}; border: {w}px solid {border};
  selection-background-color: {accent_soft}; selection-color: {text}; outline: none;
  padding: 3px; }}
QCheckBox {{ spacing: 8px; min-height: 24px; }}
QCheckBox:focus {{ color: {accent}; }}
QCheckBox::indicator {{ width: 16px; height: 16px; border: {w}px solid {strong_border};
  border-radius: 4px; background: {raised}; }}
QCheckBox::indicator:checked {{ background: {accent}; border-color: {accent};
  image: url({tick}); }}
QListView, QTreeView, QTableView {{ background: transparent; border: none; outline: none;
  color: {text}; }}
#things {{ background: {raised}; border: {w}px solid {border}; border-radius: 6px; padding: 1px; }}
#things::item {{ padding-left: 6px; border-radius: 4px; }}
#things::item:selected {{ background: {accent_soft}; color: {text}; }}
#things:focus {{ border: 2px solid {accent}; padding: 0; }}
QTableView {{ background: {raised}; gridline-color: {border}; }}
QTableView::item:selected, QListView::item:selected {{ background: {accent_soft}; color: {text}; }}
QTabWidget::pane {{ background: {panel}; border: {w}px solid {border}; border-radius: 6px; }}
QTabBar::tab {{ background: {window}; color: {muted}; border: {w}px solid {border};
  padding: 6px 14px; }}
QTabBar::tab:selected {{ background: {panel}; color: {text}; border-bottom-color: {panel};
  border-top: 3px solid {accent}; }}
QTabBar::tab:focus {{ border: 2px solid {accent}; }}
QHeaderView {{ background: {panel}; }}
QHeaderView::section {{ background: {panel}; color: {muted}; border: none;
  border-bottom: {w}px solid {border}; padding: 5px 7px; }}
QScrollArea, QScrollArea > QWidget > QWidget {{ background: transparent; border: none; }}
QScrollBar:vertical {{ background: transparent; width: 10px; margin: 2px; }}
QScrollBar::handle:vertical {{ background: {border}; border-radius: 3px; min-height: 28px; }}
QScrollBar::handle:vertical:hover {{ background: {strong_border}; }}
QScrollBar:horizontal {{ background: transparent; height: 10px; margin: 2px; }}
QScrollBar::handle:horizontal {{ background: {border}; border-radius: 3px; min-width: 28px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: none; }}
QTextBrowser {{ background: {raised}; color: {text}; border: none; padding: 10px 14px; }}
QTabWidget::pane {{ background: {panel}; border: {w}px solid {border}; border-radius: 6px; }}
QTabWidget > QStackedWidget > QWidget {{ background: {panel}; }}
QTabBar::tab {{ background: {window}; color: {muted}; border: {w}px solid {border};
  border-bottom: none; border-top-left-radius: 6px; border-top-right-radius: 6px;
  padding: 6px 14px; margin-right: 3px; }}
QTabBar::tab:selected {{ background: {panel}; color: {text}; }}
QTabBar::tab:focus {{ color: {accent}; }}
QSplitter::handle {{ background: transparent; }}
QSplitter::handle:hover {{ background: {accent_soft}; }}
QFrame[role="rule"] {{ background: {border}; border: none; max-height: 1px; min-height: 1px; }}
QFrame[role="card"] {{ background: {raised}; border: {w}px solid {border}; border-radius: 8px; }}
"""


def style_sheet(palette: Palette, arrow: str, tick: str) -> str:
    """Return the style sheet of a palette, with the paths of its arrow and its tick."""
    names = {
        name: getattr(palette, name)
        for name in Palette.__dataclass_fields__
        if name not in ("name", "width")
    }
    return _SHEET.format(w=palette.width, arrow=arrow, tick=tick, **names)
