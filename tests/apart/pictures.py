"""Makes the pictures of the README and the help from the running program.

Run: python tests/apart/pictures.py [FOLDER]
"""

import os
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from PySide6.QtCore import QSettings
from PySide6.QtTest import QTest

from siteplan.assets import resource, sample
from siteplan.desk import launch
from siteplan.desk.session import Session
from siteplan.desk.window import Window
from siteplan.plan import load

SIZE = (1440, 900)


def opened(name: str | None) -> Window:
    """The window on a sample, or on an empty plan."""
    session = Session()
    window = Window(session, folder=Path(tempfile.mkdtemp()))
    window.resize(*SIZE)
    window.use_palette("light")
    window.show()
    if name is not None:
        session.take(load(sample(name)))
    window.load()
    QTest.qWait(300)
    return window


def take(window: Window, path: Path) -> None:
    """Write what the window shows."""
    QTest.qWait(300)
    window.grab().save(str(path))
    print(path)


def main() -> None:
    """Write every picture."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else resource("pictures")
    folder.mkdir(parents=True, exist_ok=True)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, tempfile.mkdtemp())
    launch.application()
    window = opened("bad-placement.siteplan")
    window.face.rail.open("check")
    take(window, folder / "window-check.png")
    window.face.rail.open("openings")
    window.session.select("kitchen-door")
    take(window, folder / "window-openings.png")
    window.close()
    window = opened("good-placement.siteplan")
    window.session.select(window.session.plan.placements[0].id)
    take(window, folder / "window-generator.png")
    window.close()
    window = opened(None)
    take(window, folder / "window-start.png")
    window.close()


if __name__ == "__main__":
    main()
