"""The one entry to the window."""

import gc
import sys
from collections.abc import Callable
from pathlib import Path
from typing import cast

from PySide6.QtCore import QCoreApplication, QTimer
from PySide6.QtGui import QFont, QFontDatabase
from PySide6.QtWidgets import QApplication

from siteplan.assets import resource
from siteplan.desk.remembered import remembered_manner
from siteplan.desk.session import Session
from siteplan.desk.window import Window
from siteplan.units import System
from siteplan.words import Language


def application() -> QApplication:
    """Return the program's Qt application, made at the first call."""
    QCoreApplication.setOrganizationName("siteplan")
    QCoreApplication.setApplicationName("siteplan")
    running = QApplication.instance()
    if isinstance(running, QApplication):
        return running
    made = QApplication(sys.argv[:1])
    made.setStyle("Fusion")
    made.setFont(_own_font(made.font()))
    return made


def _own_font(system: QFont) -> QFont:
    """Return the font that the papers use too, at the size of the system's font."""
    for name in ("Regular", "Bold", "Italic"):
        QFontDatabase.addApplicationFont(str(resource(f"paper/fonts/OpenSans-{name}.ttf")))
    font = QFont("Open Sans")
    font.setPointSizeF(max(10.0, system.pointSizeF()))
    return font


def run(plan_path: Path | None, *, language: str | None = None, units: str | None = None) -> int:
    """Open the window and return the exit code when it is closed.

    Parameters
    ----------
    plan_path : Path or None
        The plan to open; None for an empty one.
    language, units : str or None
        How to speak: "en" or "es", "feet" or "metres"; None is as the window did last.
    """
    app = application()
    session = Session()
    last = remembered_manner()
    session.speak(cast("Language", language or last.language), cast("System", units or last.system))
    window = Window(session)
    window.show()
    QTimer.singleShot(0, _loader(window, plan_path))
    return app.exec()


def _loader(window: Window, plan_path: Path | None) -> Callable[[], None]:
    def load() -> None:
        if plan_path is not None:
            window.files.open(plan_path)
        window.load()
        window.files.offer_recovery(window.recovery)
        _leave_alone()

    return load


def _leave_alone() -> None:
    # What stands now stands until the end. Looked through for garbage again and again, it would
    # stop a dragging hand for 50 to 120 ms about once a second.
    gc.freeze()
