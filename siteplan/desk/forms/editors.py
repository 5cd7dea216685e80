"""The fields of a form: each shows a value and reports what was entered."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QPlainTextEdit, QWidget

from siteplan.desk.labels import choice_label
from siteplan.desk.text import tr, why
from siteplan.errors import SiteplanError

Commit = Callable[[object], None]
Read = Callable[[str], object]
Show = Callable[[Any], str]


class LineEditor(QLineEdit):
    """A line of text: read when Enter is pressed or the focus leaves, if it was changed."""

    def __init__(
        self, read: Read, show: Show, commit: Commit, refuse: Callable[[str], None]
    ) -> None:
        super().__init__()
        self._read, self._show_value, self._commit, self._refuse = read, show, commit, refuse
        self._shown = ""
        self.editingFinished.connect(self._finish)

    def show_value(self, value: object) -> None:
        """Show a value, unless the user is in the middle of typing another."""
        if self.hasFocus() and self.text() != self._shown:
            return
        words = "" if value is None else self._show_value(value)
        if words != self._shown or words != self.text():
            self._shown = words
            self.setText(words)
            self.setCursorPosition(0)
        self._mark(bad=False)

    def _finish(self) -> None:
        if self.text() == self._shown:
            self._mark(bad=False)
            return
        try:
            value = self._read(self.text())
        except SiteplanError as error:
            self._mark(bad=True)
            self._refuse(why(error))
            return
        self._commit(value)

    def _mark(self, *, bad: bool) -> None:
        if bool(self.property("bad")) != bad:
            self.setProperty("bad", bad)
            self.style().unpolish(self)
            self.style().polish(self)

    def reject(self) -> None:
        """Mark what was typed as not allowed."""
        self._mark(bad=True)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Select everything, so that typing replaces it."""
        super().focusInEvent(event)
        if event.reason() != Qt.FocusReason.MouseFocusReason:
            self.selectAll()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape puts back what was there."""
        if event.key() == Qt.Key.Key_Escape and self.text() != self._shown:
            self.setText(self._shown)
            self._mark(bad=False)
            self.selectAll()
            return
        super().keyPressEvent(event)


class NoteEditor(QPlainTextEdit):
    """Several lines of plain text, read when the focus leaves."""

    def __init__(self, commit: Commit) -> None:
        super().__init__()
        self._commit = commit
        self._shown = ""
        self.setTabChangesFocus(True)
        self.setFixedHeight(72)

    def show_value(self, value: object) -> None:
        """Show a value."""
        if not self.hasFocus() and str(value) != self.toPlainText():
            self._shown = str(value)
            self.setPlainText(self._shown)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Report what was entered."""
        super().focusOutEvent(event)
        if self.toPlainText() != self._shown:
            self._shown = self.toPlainText()
            self._commit(self._shown)


class Choice(QComboBox):
    """One of a few values, each with its label; the wheel scrolls the form, not the choice."""

    def __init__(self, options: Sequence[tuple[object, str]], commit: Commit) -> None:
        super().__init__()
        self._values: list[object] = []
        self._commit = commit
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(8)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.set_options(options)
        self.activated.connect(self._report)

    def set_options(self, options: Sequence[tuple[object, str]]) -> None:
        """Offer other values."""
        values = [value for value, _ in options]
        words = [label for _, label in options]
        if values != self._values or words != [self.itemText(i) for i in range(self.count())]:
            self._values = values
            self.clear()
            self.addItems(words)

    def show_value(self, value: object) -> None:
        """Show a value."""
        # True equals 1 in Python, so the kind of value is compared as well.
        place = next(
            (i for i, one in enumerate(self._values) if one == value and type(one) is type(value)),
            -1,
        )
        if self.currentIndex() != place:
            self.setCurrentIndex(place)

    def _report(self, index: int) -> None:
        self._commit(self._values[index])

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the form around."""
        event.ignore()


class Tick(QCheckBox):
    """Yes or no, where not knowing is no answer."""

    def __init__(self, commit: Commit) -> None:
        super().__init__()
        self.toggled.connect(commit)

    def show_value(self, value: object) -> None:
        """Show a value without reporting it."""
        self.blockSignals(True)
        self.setChecked(bool(value))
        self.blockSignals(False)


def yes_no(commit: Commit) -> Choice:
    """Return an editor for yes, no and not known."""
    return Choice([(None, tr("Not known")), (True, tr("Yes")), (False, tr("No"))], commit)


def choices(values: Sequence[object], commit: Commit, *, optional: bool) -> Choice:
    """Return an editor for the values of a field."""
    options = [(value, choice_label(value)) for value in values]
    if optional:
        options.insert(0, (None, tr("Not known")))
    return Choice(options, commit)


def named(widget: QWidget, label: str) -> QWidget:
    """Give a widget its name for screen readers, and return it."""
    widget.setAccessibleName(label)
    return widget
