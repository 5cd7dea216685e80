"""Makes the pictures of the README and the help from the running program.

Run from a checkout: `QT_QPA_PLATFORM=offscreen python resources/pictures/make_pictures.py`.
"""

import tempfile
import time
from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from siteplan.assets import sample
from siteplan.desk.launch import application
from siteplan.desk.session import Session
from siteplan.desk.window import Window

HERE = Path(__file__).resolve().parent
# Name of the picture, plan, and the step that is open.
PICTURES = (
    ("window-check", "bad-placement", "check"),
    ("window-generator", "good-placement", "generator"),
    ("window-needs", "good-placement", "needs"),
)
WIDTH, HEIGHT = 1440, 900


def settle(app: QApplication) -> None:
    """Let the window finish what it does after a change."""
    until = time.monotonic() + 1.0
    while time.monotonic() < until:
        app.processEvents()


def main() -> None:
    """Open each plan, go to the step, and keep what the window shows."""
    with tempfile.TemporaryDirectory() as scratch:
        # Whoever makes the pictures must not have their own settings in them.
        QSettings.setDefaultFormat(QSettings.Format.IniFormat)
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, scratch)
        app = application()
        for name, plan, step in PICTURES:
            window = Window(Session(), None, Path(scratch) / "recovery")
            window.resize(WIDTH, HEIGHT)
            window.show()
            window.files.open(sample(f"{plan}.siteplan"))
            window.load()
            window.face.rail.open(step)
            settle(app)
            window.grab().save(str(HERE / f"{name}.png"))
            window.close()


if __name__ == "__main__":
    main()
