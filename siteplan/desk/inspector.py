"""The form of what is selected, with what can be done to it."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from siteplan.desk import icons, things
from siteplan.desk.actions import call_plain
from siteplan.desk.forms.form import PartForm
from siteplan.desk.palette import Palette
from siteplan.desk.session import Session
from siteplan.desk.text import tr
from siteplan.desk.widgets import plain_label


class Inspector(QFrame):
    """Shows the form of the selected thing, or what to do when nothing is selected.

    Signals
    -------
    shown(): another form, or none, is shown.
    """

    shown = Signal()

    def __init__(self, session: Session, palette: Palette) -> None:
        super().__init__()
        self.setObjectName("side")
        self._session, self._palette = session, palette
        self.form: PartForm | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 6, 8)
        column.setSpacing(6)
        head = QHBoxLayout()
        self.title = plain_label(bold=True, scale=1.1)
        self.kind = plain_label(muted=True)
        names = QVBoxLayout()
        names.setSpacing(0)
        names.addWidget(self.title)
        names.addWidget(self.kind)
        head.addLayout(names, 1)
        self._tools: dict[str, QToolButton] = {}
        self._head = head
        column.addLayout(head)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        column.addWidget(self._scroll, 1)
        session.selection_changed.connect(self.show_selection)
        session.plan_changed.connect(self.refresh)
        session.manner_changed.connect(self.rebuild)
        self.show_selection()

    def add_tool(self, symbol: str, name: str, run: Callable[[], object]) -> None:
        """Add a button that does something to what is selected."""
        made = QToolButton()
        made.setProperty("role", "icon")
        made.setAccessibleName(name)
        made.setToolTip(name)
        made.clicked.connect(call_plain(run))
        self._tools[symbol] = made
        self._head.addWidget(made, 0, Qt.AlignmentFlag.AlignTop)
        self.restyle(self._palette)
        self._show_tools()

    def restyle(self, palette: Palette) -> None:
        """Take other colours."""
        self._palette = palette
        for symbol, made in self._tools.items():
            made.setIcon(icons.icon(symbol, palette.text, palette.faint))

    def rebuild(self) -> None:
        """Make the form anew, in other words or units."""
        self.form = None
        self.show_selection()

    def show_selection(self) -> None:
        """Show what is selected."""
        keys = self._session.selection
        key = keys[-1] if keys else None
        if self.form is None or self.form.key != key:
            old = self._scroll.takeWidget()
            if old is not None:
                old.deleteLater()
            self.form = None if key is None else PartForm(self._session, key)
            self._scroll.setWidget(_padded(self.form) if self.form else _empty())
            self.shown.emit()
        self.refresh()

    def refresh(self) -> None:
        """Show the plan as it is now."""
        keys = self._session.selection
        part = things.get(self._session.plan, keys[-1]) if keys else None
        if part is None:
            self.title.setText(tr("Nothing selected"))
            self.kind.setText("")
        else:
            self.title.setText(things.label(part))
            more = tr("{count} selected", count=len(keys)) if len(keys) > 1 else ""
            kind = things.kind_name(part)
            self.kind.setText(more or (kind if kind != things.label(part) else ""))
        self.kind.setVisible(bool(self.kind.text()))
        if self.form is not None:
            self.form.refresh()
        self._show_tools()

    def _show_tools(self) -> None:
        keys = self._session.selection
        for made in self._tools.values():
            made.setVisible(bool(keys))
        for symbol in ("duplicate", "mirror"):
            if symbol in self._tools:
                named = any(not key.startswith("@") for key in keys)
                self._tools[symbol].setVisible(named)

    def take_focus(self) -> bool:
        """Put the cursor into the form, if there is one."""
        if self.form is None:
            return False
        self.form.take_focus()
        return True


def _padded(form: QWidget) -> QWidget:
    holder = QWidget()
    column = QVBoxLayout(holder)
    column.setContentsMargins(0, 4, 8, 8)
    column.addWidget(form)
    column.addStretch(1)
    return holder


def _empty() -> QWidget:
    holder = QWidget()
    column = QVBoxLayout(holder)
    column.setContentsMargins(0, 4, 8, 8)
    words = tr("Click a thing on the drawing or in a list: its exact numbers appear here.")
    label = plain_label(words, muted=True, wrap=True)
    column.addWidget(label)
    column.addStretch(1)
    return holder
