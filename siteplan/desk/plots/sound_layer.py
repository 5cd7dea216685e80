"""Lines of equal level over the drawing, computed off the drawing's thread."""

import contextlib
from typing import cast

from PySide6.QtCore import QObject, QRunnable, QThreadPool, QTimer, Signal
from PySide6.QtGui import QPainter

from siteplan.desk.canvas.frame import Frame
from siteplan.desk.canvas.layers import Brush, Hand, theme_of
from siteplan.desk.canvas.painting import PX_PER_MM, Sheet, paint
from siteplan.desk.palette import Palette
from siteplan.desk.session import Session
from siteplan.drawing.layout import arrange
from siteplan.drawing.marks import Marks
from siteplan.drawing.sound import contour_marks, level_marks
from siteplan.rules.sound import levels
from siteplan.rules.sound_contours import contours
from siteplan.scene import Scene
from siteplan.words import Manner

NAME = "sound"
_LATER_MS = 160


class _Done(QObject):
    """Brings a result back to the drawing's thread."""

    found = Signal(int, object)


class _Work(QRunnable):
    """Computes the lines of one scene."""

    def __init__(self, number: int, scene: Scene, manner: Manner, done: _Done) -> None:
        super().__init__()
        self._number, self._scene, self._manner, self._done = number, scene, manner, done

    def run(self) -> None:
        """Compute, and hand over."""
        lines = contour_marks(contours(self._scene), self._manner)
        places = level_marks(levels(self._scene), self._manner)
        # The window may have been closed meanwhile.
        with contextlib.suppress(RuntimeError):
            self._done.found.emit(self._number, (*lines, *places))


class SoundLayer(QObject):
    """Keeps the lines of the plan as it stands on the drawing, if they are wanted.

    Lines of a plan that has changed meanwhile are taken away at once, and a result that comes
    too late is dropped.
    """

    shown = Signal(bool)

    def __init__(self, session: Session, under: Hand, parent: QObject) -> None:
        super().__init__(parent)
        self._session, self._under = session, under
        self._number = 0
        self.wanted = False
        self._done = _Done(self)
        self._done.found.connect(self._take)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_LATER_MS)
        self._later.timeout.connect(self._begin)
        session.review_changed.connect(self._renew)
        session.manner_changed.connect(self._renew)

    def want(self, wanted: bool) -> None:
        """Show the lines, or take them away."""
        self.wanted = wanted
        self._renew()

    def wait(self) -> None:
        """Wait until nothing is being computed."""
        self._later.stop()
        self._pool.clear()
        self._pool.waitForDone()

    def _renew(self) -> None:
        # Whatever is under way belongs to a plan that is no more.
        self._number += 1
        self._under.set_brush(NAME, None)
        self.shown.emit(False)
        if self.wanted:
            self._later.start()

    def _begin(self) -> None:
        scene = self._session.scene
        if self.wanted and scene is not None and scene.standing is not None:
            self._pool.clear()
            self._pool.start(_Work(self._number, scene, self._session.manner, self._done))

    def _take(self, number: int, marks: object) -> None:
        if number == self._number and self.wanted:
            self._under.set_brush(NAME, _brush(cast("Marks", marks)))
            self.shown.emit(True)


def _brush(marks: Marks) -> Brush:
    ready: dict[float, Marks] = {}

    def brush(painter: QPainter, frame: Frame, palette: Palette) -> None:
        if frame.px_per_m not in ready:
            ready.clear()
            ready[frame.px_per_m] = arrange(marks, frame.px_per_m / PX_PER_MM)
        paint(painter, ready[frame.px_per_m], Sheet(frame.transform, theme_of(palette)))

    return brush
