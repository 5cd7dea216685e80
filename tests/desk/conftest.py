"""What the tests of the window share: an application, a window that never asks, no user data."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pyqtgraph as pg
import pytest
from PySide6.QtCore import QPointF, QSettings, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QDialog, QWidget

from siteplan.assets import sample
from siteplan.desk import launch, making, text
from siteplan.desk.session import Session
from siteplan.desk.window import Window
from siteplan.plan import load
from siteplan.words import Manner

pg.setConfigOption("mouseRateLimit", -1)


class Answers:
    """Stands in for the dialogs: answers from lists, and remembers what it was told."""

    def __init__(self) -> None:
        self.paths: list[Path | None] = []
        self.unsaved_answer = "discard"
        self.recover_answer = "open"
        self.asked: list[str] = []
        self.told: list[str] = []
        self.shown: list[str] = []
        self.on_dialog: Callable[[QDialog], object] | None = None

    def open_path(self, parent: QWidget, folder: Path, kinds: str) -> Path | None:
        return self.paths.pop(0) if self.paths else None

    def save_path(self, parent: QWidget, proposal: Path, kinds: str) -> Path | None:
        return self.paths.pop(0) if self.paths else None

    def unsaved(self, parent: QWidget, name: str) -> str:
        self.asked.append(name)
        return self.unsaved_answer

    def recover(self, parent: QWidget, name: str, when: str) -> str:
        self.asked.append(name)
        return self.recover_answer

    def tell(self, parent: QWidget, message: str) -> None:
        self.told.append(message)

    def show(self, dialog: QDialog) -> bool:
        """Show a dialog for a moment; answer it by `on_dialog`, else call it off."""
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.show()
        QApplication.processEvents()
        self.shown.append(dialog.windowTitle())
        if self.on_dialog is None:
            dialog.reject()
        else:
            self.on_dialog(dialog)
        return dialog.result() == QDialog.DialogCode.Accepted


@pytest.fixture(scope="session")
def qapp() -> QApplication:
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    return launch.application()


@pytest.fixture(autouse=True)
def _own_settings(tmp_path: Path) -> Iterator[None]:
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path))
    text.speak(Manner())
    yield
    text.speak(Manner())


@pytest.fixture
def answers() -> Answers:
    return Answers()


@pytest.fixture
def session() -> Session:
    return Session()


@pytest.fixture
def window(qtbot, session: Session, answers: Answers, tmp_path: Path) -> Window:
    made = Window(session, answers, tmp_path / "recovery")
    made.resize(1280, 800)
    made.show()
    made.load()
    qtbot.waitExposed(made)
    QApplication.processEvents()
    # Called off, the closing would leave the window to the interpreter's end.
    qtbot.addWidget(made, before_close_func=lambda _: setattr(answers, "unsaved_answer", "discard"))
    return made


@pytest.fixture
def demo_window(window: Window, qtbot) -> Window:
    window.session.take(load(sample("bad-placement.siteplan")))
    window.fit()
    QApplication.processEvents()
    return window


Send = Callable[..., None]


@pytest.fixture
def mouse(window: Window) -> Send:
    """Send one mouse event to the drawing, at a place in metres."""
    canvas = window.canvas
    assert canvas is not None

    def send(
        kind: str,
        at: tuple[float, float],
        button: Qt.MouseButton = Qt.MouseButton.LeftButton,
        modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier,
    ) -> None:
        kinds = {
            "press": QMouseEvent.Type.MouseButtonPress,
            "move": QMouseEvent.Type.MouseMove,
            "hover": QMouseEvent.Type.MouseMove,
            "release": QMouseEvent.Type.MouseButtonRelease,
            "double": QMouseEvent.Type.MouseButtonDblClick,
        }
        held = Qt.MouseButton.NoButton if kind in ("hover", "release") else button
        pixel = canvas.frame.to_px(at)
        spot = QPointF(canvas.viewport.mapToGlobal(pixel.toPoint()))
        own = Qt.MouseButton.NoButton if kind in ("move", "hover") else button
        QApplication.sendEvent(
            canvas.viewport, QMouseEvent(kinds[kind], pixel, spot, own, held, modifiers)
        )

    return send


@pytest.fixture
def click(mouse: Send) -> Send:
    """Click at a place in metres."""

    def send(at: tuple[float, float], **more: object) -> None:
        mouse("hover", at)
        mouse("press", at, **more)
        mouse("release", at, **more)

    return send


@pytest.fixture
def drag(mouse: Send) -> Send:
    """Drag from a place to another in some steps."""

    def send(start: tuple[float, float], end: tuple[float, float], steps: int = 5) -> None:
        mouse("hover", start)
        mouse("press", start)
        for step in range(1, steps + 1):
            share = step / steps
            at = (
                start[0] + share * (end[0] - start[0]),
                start[1] + share * (end[1] - start[1]),
            )
            mouse("move", at)
        mouse("release", end)

    return send


@pytest.fixture
def full_plan():
    """A plan with one of everything that can be made in the window."""
    plan = load(sample("bad-placement.siteplan"))
    spot = making.Spot("house", 3, 1.0, 0.3)
    for kind in making.OPENING_SIZES:
        plan, _ = making.add_opening(plan, kind, spot)
    for kind in making.ON_WALL:
        plan, _ = making.add_fixture_on_wall(plan, kind, spot)
    for kind in ("outdoor-unit", "gas-cylinder", "fuel-store", "service-drop"):
        plan, _ = making.add_fixture(plan, kind, (2.0, 2.0))
    for kind in ("fence", "wall", "hedge"):
        plan, _ = making.add_line(plan, kind, ((1.0, 1.0), (5.0, 1.0)))
    square = ((1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0))
    for kind in ("deck", "driveway", "walk", "pool", "standing-water", "brush"):
        plan, _ = making.add_area(plan, kind, square)
    for kind in ("overhang", "canopy", "tent"):
        plan, _ = making.add_area(plan, kind, square)
    plan, _ = making.add_tree(plan, (2.0, 5.0))
    plan, _ = making.add_cord(plan, ((2.0, 20.0), (3.0, 20.0)), None)
    plan, _ = making.add_load(plan, "Refrigerator", 150.0, 900.0)
    plan, _ = making.add_alarm(plan, "storey")
    plan, _ = making.set_transfer(plan)
    return plan
