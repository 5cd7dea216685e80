"""Going from pane to pane and from step to step by keyboard."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

if TYPE_CHECKING:
    from siteplan.desk.window import Window


class Panes:
    """The order of the panes: rail, drawing, findings, form."""

    def __init__(self, window: "Window") -> None:
        self._window = window

    def next(self) -> None:
        """Put the focus on the next pane."""
        self._go(1)

    def previous(self) -> None:
        """Put the focus on the pane before."""
        self._go(-1)

    def _go(self, step: int) -> None:
        face = self._window.face
        panes: list[QWidget] = [face.rail, face.middle, face.findings, face.inspector]
        focus = QApplication.focusWidget()
        here = next((i for i, one in enumerate(panes) if _holds(one, focus)), 0)
        target = panes[(here + step) % len(panes)]
        if target is face.inspector and face.inspector.take_focus():
            return
        if target is face.middle and self._window.canvas is not None:
            target = self._window.canvas
        elif target in (face.rail, face.inspector):
            target = face.rail.row(face.rail.current or face.rail.names[0])
        target.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def next_step(self) -> None:
        """Open the next step."""
        self._go_step(1)

    def previous_step(self) -> None:
        """Open the step before."""
        self._go_step(-1)

    def _go_step(self, step: int) -> None:
        rail = self._window.face.rail
        here = rail.names.index(rail.current) if rail.current else -1
        rail.open(rail.names[(here + step) % len(rail.names)])


def _holds(pane: QWidget, focus: QWidget | None) -> bool:
    return focus is not None and (pane is focus or pane.isAncestorOf(focus))
