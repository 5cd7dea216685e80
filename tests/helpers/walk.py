"""A random walk over the window: keys, clicks, drags, forms, steps, undo."""

import random
from collections.abc import Callable

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication

from siteplan.desk import things
from siteplan.desk.forms.editors import Choice, LineEditor, Tick
from siteplan.desk.window import Window

_TEXTS = ("3'", "12 m", "", "-4", "abc", "0", "1e9", "24' 6 1/2\"", "99999999999", "5 kW", "½")
_KEYS = (
    Qt.Key.Key_Tab,
    Qt.Key.Key_Escape,
    Qt.Key.Key_Return,
    Qt.Key.Key_Up,
    Qt.Key.Key_Left,
    Qt.Key.Key_BracketLeft,
    Qt.Key.Key_Backspace,
    Qt.Key.Key_5,
)
# These would leave the window or start over.
_NOT_PRESSED = {"quit", "new", "open", "demo", "save", "save-as"}


class Walk:
    """One walker; the same seed takes the same steps."""

    def __init__(self, window: Window, seed: int) -> None:
        self.window, self.dice = window, random.Random(seed)  # noqa: S311 - to be repeated, not to be secret
        self.taken: list[str] = []
        self.ways: list[Callable[[], None]] = [
            self.click,
            self.drag,
            self.key,
            self.command,
            self.step,
            self.press_button,
            self.fill_field,
            self.choose,
            self.select,
            self.undo,
        ]

    def go(self, count: int) -> None:
        for _ in range(count):
            way = self.dice.choice(self.ways)
            self.taken.append(way.__name__)
            way()
            QApplication.processEvents()
            # The program's own loop would delete what is done with; going through events does not.
            QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)

    def _place(self) -> tuple[float, float]:
        return self.dice.uniform(-5, 31), self.dice.uniform(-5, 47)

    def _mouse(self, kind: QEvent.Type, at: tuple[float, float], *, held: bool) -> None:
        canvas = self.window.canvas
        assert canvas is not None
        pixel = canvas.frame.to_px(at)
        left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
        moving = kind == QEvent.Type.MouseMove
        shift = self.dice.random() < 0.1
        event = QMouseEvent(
            kind,
            pixel,
            QPointF(pixel),
            none if moving else left,
            left if held else none,
            Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier,
        )
        QApplication.sendEvent(canvas.viewport, event)

    def click(self) -> None:
        at = self._place()
        self._mouse(QEvent.Type.MouseMove, at, held=False)
        self._mouse(QEvent.Type.MouseButtonPress, at, held=True)
        self._mouse(QEvent.Type.MouseButtonRelease, at, held=False)

    def drag(self) -> None:
        at = self._place()
        chosen = self.window.session.plan.placement
        if chosen is not None and self.dice.random() < 0.5:
            at = chosen.at
        self._mouse(QEvent.Type.MouseButtonPress, at, held=True)
        for _ in range(3):
            at = self._place()
            self._mouse(QEvent.Type.MouseMove, at, held=True)
        self._mouse(QEvent.Type.MouseButtonRelease, at, held=False)

    def key(self) -> None:
        QTest.keyClick(self.window.canvas, self.dice.choice(_KEYS))

    def command(self) -> None:
        names = [one for one in self.window.actions_by_name if one not in _NOT_PRESSED]
        self.window.actions_by_name[self.dice.choice(names)].trigger()

    def step(self) -> None:
        self.window.face.rail.open(self.dice.choice(self.window.face.rail.names))

    def press_button(self) -> None:
        panel = self.window.panels[self.window.face.rail.current]
        buttons = [one for one in panel.findChildren(QAbstractButton) if one.isVisible()]
        if buttons:
            self.dice.choice(buttons).click()

    def _editors(self, kind: type) -> list:  # type: ignore[type-arg]
        return [
            one for one in self.window.findChildren(kind) if one.isVisible() and one.isEnabled()
        ]

    def fill_field(self) -> None:
        fields = self._editors(LineEditor)
        if fields:
            field = self.dice.choice(fields)
            field.setFocus()
            field.setText(self.dice.choice(_TEXTS))
            field.editingFinished.emit()

    def choose(self) -> None:
        choices = [one for one in self._editors(Choice) if one.count()]
        ticks = self._editors(Tick)
        if ticks and self.dice.random() < 0.3:
            self.dice.choice(ticks).toggle()
        elif choices:
            one = self.dice.choice(choices)
            one.activated.emit(self.dice.randrange(one.count()))

    def select(self) -> None:
        keys = [*things.ids(self.window.session.plan), things.LOT, things.MACHINE, things.PLAN]
        self.window.session.select(*self.dice.sample(keys, min(len(keys), 1)))

    def undo(self) -> None:
        stack = self.window.session.undo_stack
        for _ in range(self.dice.randrange(3)):
            stack.undo() if self.dice.random() < 0.7 else stack.redo()
