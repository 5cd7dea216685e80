"""What the panels of the steps share: headings, typed lengths, buttons, lists of things."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from siteplan.desk import flow, things
from siteplan.desk.actions import call_plain
from siteplan.desk.making import Made
from siteplan.desk.session import Session
from siteplan.desk.text import tr, why
from siteplan.desk.widgets import plain_label
from siteplan.errors import SiteplanError
from siteplan.plan import Plan
from siteplan.units import parse_length

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas

_ROW_PX, _ROW_GAP_PX = 28, 8


class StepPanel(QScrollArea):
    """The panel of one step; `column` takes its contents from top to bottom."""

    def __init__(self, session: Session, canvas: "Canvas") -> None:
        super().__init__()
        self.session, self.canvas = session, canvas
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inner = QWidget()
        self.column = QVBoxLayout(inner)
        self.column.setContentsMargins(14, 4, 12, 14)
        self.column.setSpacing(8)
        self.setWidget(inner)
        self.build()
        self.column.addStretch(1)
        self.refresh()

    def build(self) -> None:
        """Make the panel's contents."""

    def refresh(self) -> None:
        """Show the plan as it is now."""

    def begin(self) -> None:
        """Start what the step is for, if it can be started by one click."""

    # -- helpers ---------------------------------------------------------------

    def words(self, text: str) -> QLabel:
        """Add a line of quiet explanation."""
        label = plain_label(text, muted=True, wrap=True)
        self.column.addWidget(label)
        return label

    def heading(self, text: str) -> QLabel:
        """Add a heading."""
        label = plain_label(text, bold=True, wrap=True)
        self.column.addSpacing(4)
        self.column.addWidget(label)
        return label

    def button(self, text: str, run: Callable[[], object], *, main: bool = False) -> QPushButton:
        """Add a button over the whole width."""
        made = button(text, run, main=main)
        self.column.addWidget(made)
        return made

    def buttons(
        self, entries: Sequence[tuple[str, Callable[[], object]]], columns: int = 2
    ) -> None:
        """Add a grid of buttons."""
        made = [button(text, run) for text, run in entries]
        for one in made:
            one.setProperty("role", "add")
        self.column.addLayout(flow.columns(*made, count=columns))

    def add(self, title: str, make: Callable[[Plan], Made]) -> str | None:
        """Make something as one step of undo, select it, and return its key."""
        made: list[str] = []

        def change(plan: Plan) -> Plan:
            after, key = make(plan)
            made.append(key)
            return after

        if not self.session.edit(title, change) or not made:
            return None
        self.session.select(made[-1])
        return made[-1]


def button(text: str, run: Callable[[], object], *, main: bool = False) -> QPushButton:
    """Return a button."""
    made = flow.WrappingButton(text)
    if main:
        made.setProperty("role", "main")
    made.clicked.connect(call_plain(run))
    return made


class LengthField(QLineEdit):
    """A typed length in any usual form; `hint` is an example in feet and one in metres."""

    def __init__(self, session: Session, name: str, hint: tuple[str, str] = ("", "")) -> None:
        super().__init__()
        self._session, self._hint = session, hint
        self.setAccessibleName(name)
        self._show_hint()
        session.manner_changed.connect(self._show_hint)
        self.textEdited.connect(lambda: self._mark(bad=False))

    def _show_hint(self) -> None:
        feet, metres = self._hint
        self.setPlaceholderText(metres if self._session.manner.system == "metres" else feet)

    def length_m(self, *, zero: bool = False) -> float | None:
        """Return the length [m], or None after saying what is wrong with it."""
        try:
            value = parse_length(self.text(), self._session.manner.system)
        except SiteplanError as error:
            self._refuse(why(error))
            return None
        if value < 0 or (value == 0 and not zero):
            self._refuse(tr("{name} must be more than nothing.", name=self.accessibleName()))
            return None
        return value

    def _refuse(self, sentence: str) -> None:
        self._mark(bad=True)
        self.setFocus()
        self._session.refused.emit(sentence)

    def _mark(self, *, bad: bool) -> None:
        self.setProperty("bad", bad)
        self.style().unpolish(self)
        self.style().polish(self)


def labelled(name: str, field: QWidget) -> QVBoxLayout:
    """Return a field under its label."""
    box = QVBoxLayout()
    box.setSpacing(3)
    label = plain_label(name, muted=True, wrap=True)
    label.setBuddy(field)
    field.setAccessibleName(name)
    box.addWidget(label)
    box.addWidget(field)
    return box


def side_by_side(*boxes: QVBoxLayout) -> flow.Columns:
    """Return fields beside one another, or one under the other where there is no room."""
    return flow.columns(*boxes, count=len(boxes), gap=8)


class ThingList(QListWidget):
    """The things of a step; choosing one selects it on the canvas and in the form."""

    def __init__(self, session: Session, name: str) -> None:
        super().__init__()
        self._session = session
        self._keys: list[str] = []
        self.setAccessibleName(name)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setObjectName("things")
        self.itemSelectionChanged.connect(self._choose)
        session.selection_changed.connect(self.follow)

    def show_things(self, entries: Sequence[tuple[str, str]]) -> None:
        """Show things by key and text."""
        row_px = max(_ROW_PX, self.fontMetrics().height() + _ROW_GAP_PX)
        if [key for key, _ in entries] != self._keys or self.count() != len(entries):
            self.blockSignals(True)
            self.clear()
            for _, words in entries:
                item = QListWidgetItem(words)
                item.setSizeHint(QSize(0, row_px))
                self.addItem(item)
            self._keys = [key for key, _ in entries]
            self.blockSignals(False)
            self.setFixedHeight(len(entries) * row_px + 6)
        self.setVisible(bool(entries))
        for place, (_, words) in enumerate(entries):
            item = self.item(place)
            if item.text() != words:
                item.setText(words)
            # Where the rail is narrow the end of a long line is cut off.
            item.setToolTip(words)
        self.follow()

    def follow(self) -> None:
        """Show what is selected."""
        self.blockSignals(True)
        for place, key in enumerate(self._keys):
            self.item(place).setSelected(key in self._session.selection)
        self.blockSignals(False)

    def _choose(self) -> None:
        keys = tuple(key for place, key in enumerate(self._keys) if self.item(place).isSelected())
        self._session.select(*keys)


def entry(plan: Plan, key: str, detail: str = "") -> tuple[str, str]:
    """Return a list entry for a thing: its label and a detail."""
    label = things.label_of(plan, key)
    return key, f"{label}  ·  {detail}" if detail else label
