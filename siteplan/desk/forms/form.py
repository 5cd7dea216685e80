"""A form for any part of the plan, with exact numbers; each entry is one step of undo."""

from collections.abc import Callable
from typing import Any, Protocol, cast

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from siteplan.desk import things
from siteplan.desk.forms import reading
from siteplan.desk.forms.editors import Choice, LineEditor, NoteEditor, Tick, choices, named, yes_no
from siteplan.desk.forms.fresh import fresh_part
from siteplan.desk.forms.outline import corner_of, resized, shifted, size_of
from siteplan.desk.forms.refer import options as refer_options
from siteplan.desk.forms.schema import Path, Spec, signature, specs, value_at, with_value
from siteplan.desk.forms.walls import wall_options
from siteplan.desk.labels import field_label, model_label
from siteplan.desk.session import Session
from siteplan.desk.text import tr, why
from siteplan.desk.widgets import plain_label
from siteplan.plan.base import Model
from siteplan.plan.errors import EditError
from siteplan.plan.lot import Lot


class _Editor(Protocol):
    def show_value(self, value: object) -> None: ...


class PartForm(QWidget):
    """The fields of one part of the plan, found by its key."""

    def __init__(self, session: Session, key: str, only: tuple[str, ...] = ()) -> None:
        super().__init__()
        self._session, self.key, self._only = session, key, only
        self._signature: object = None
        self._building = False
        self._rows: list[tuple[_Editor, Callable[[Model], object]]] = []
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(0)
        self._body: QWidget | None = None
        self._open_points: set[Path] = set()
        self.error = plain_label(wrap=True)
        self.error.setProperty("role", "error")
        self.error.hide()
        self._box.addWidget(self.error)
        self.refresh()

    @property
    def part(self) -> Model | None:
        """The part shown."""
        return things.get(self._session.plan, self.key)

    def refresh(self) -> None:
        """Show the part as it is now; rows are kept while they fit."""
        part = self.part
        if part is None or self._building:
            return
        if self._mark(part) != self._signature:
            self._signature = self._mark(part)
            self._rebuild(part)
        for editor, read in self._rows:
            editor.show_value(read(part))

    def _mark(self, part: Model) -> object:
        return (signature(part), self._session.manner)

    # -- building --------------------------------------------------------------

    def _rebuild(self, part: Model) -> None:
        # Taking the old rows away makes the one with the cursor report what it holds.
        self._rows = []
        self._building = True
        if self._body is not None:
            self._body.hide()
            self._box.removeWidget(self._body)
            self._body.deleteLater()
        self._body = QWidget()
        column = QVBoxLayout(self._body)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(10)
        self._add_part(column, part, ())
        self._box.insertWidget(0, self._body)
        self._building = False

    def _add_part(self, column: QVBoxLayout, part: Model, path: Path) -> None:
        grid = _new_grid()
        column.addLayout(grid)
        if not path and hasattr(part, "outline"):
            self._add_size(grid)
            if not isinstance(part, Lot):
                self._add_corner(grid)
        for spec in specs(type(part)):
            if self._only and not path and spec.name not in self._only:
                continue
            here = (*path, spec.name)
            if spec.sort == "part":
                self._add_inner(column, spec, getattr(part, spec.name), here)
                grid = _new_grid()
                column.addLayout(grid)
            elif spec.sort == "parts":
                self._add_many(column, spec, getattr(part, spec.name), here)
                grid = _new_grid()
                column.addLayout(grid)
            elif spec.sort == "points":
                self._add_points(column, spec, getattr(part, spec.name), here)
                grid = _new_grid()
                column.addLayout(grid)
            else:
                self._add_row(grid, spec, here, part)

    def _label(self, spec: Spec) -> str:
        return field_label(spec.name, spec.title)

    def _add_row(self, grid: QGridLayout, spec: Spec, path: Path, holder: Model) -> None:
        if spec.sort == "point":
            self._add_point(grid, self._label(spec), path)
            return
        editor = self._editor(spec, path, holder)
        self._place(grid, self._label(spec), editor, lambda part: value_at(part, path))

    def _place(
        self, grid: QGridLayout, label: str, editor: QWidget, read: Callable[[Model], object]
    ) -> None:
        words = plain_label(label, muted=True, wrap=True)
        words.setBuddy(editor)
        row = grid.rowCount()
        if isinstance(editor, NoteEditor):
            grid.addWidget(words, row, 0, 1, 2)
            grid.addWidget(named(editor, label), row + 1, 0, 1, 2)
        else:
            grid.addWidget(words, row, 0)
            grid.addWidget(named(editor, label), row, 1)
        self._rows.append((cast("_Editor", editor), read))

    def _editor(self, spec: Spec, path: Path, holder: Model) -> QWidget:
        def commit(value: object) -> None:
            self._commit(path, value)

        if spec.sort == "yes-no":
            return yes_no(commit) if spec.optional else Tick(commit)
        if spec.sort == "choice":
            return choices(spec.choices, commit, optional=spec.optional)
        if spec.sort == "refer":
            return Choice(
                refer_options(self._session.plan, spec.quantity, optional=spec.optional), commit
            )
        if spec.sort == "wall":
            return Choice(self._walls(holder), commit)
        if spec.sort == "note":
            return NoteEditor(commit)
        return self._line(spec, commit)

    def _line(self, spec: Spec, commit: Callable[[object], None]) -> LineEditor:
        def read(words: str) -> object:
            if not words.strip() and spec.optional:
                return None
            return reading.read(spec, words, self._session.manner.system)

        def show(value: Any) -> str:  # noqa: ANN401 - any value of the document
            return reading.show(spec, value, self._session.manner.system)

        editor = LineEditor(read, show, commit, self.say)
        if spec.optional:
            editor.setPlaceholderText(tr("Not known"))
        return editor

    def _walls(self, holder: Model) -> list[tuple[object, str]]:
        building = self._session.plan.building(str(getattr(holder, "building", "")))
        if building is None:
            return []
        return wall_options(building)

    def _add_point(self, grid: QGridLayout, label: str, path: Path) -> None:
        for place, axis in ((0, tr("east")), (1, tr("north"))):
            spec = Spec(str(path[-1]), "quantity", quantity="length")
            editor = self._line(spec, self._point_commit(path, place))
            words = tr("{what}, {axis}", what=label, axis=axis)
            self._place(grid, words, editor, _reader(path, place))

    def _point_commit(self, path: Path, place: int) -> Callable[[object], None]:
        def commit(value: object) -> None:
            part = self.part
            if part is None:
                return
            old = cast("tuple[float, float] | None", value_at(part, path)) or (0.0, 0.0)
            new = (value, old[1]) if place == 0 else (old[0], value)
            self._commit(path, new)

        return commit

    def _add_points(self, column: QVBoxLayout, spec: Spec, points: Any, path: Path) -> None:  # noqa: ANN401
        toggle = QToolButton()
        toggle.setCheckable(True)
        toggle.setProperty("role", "quiet")
        toggle.setText(tr("{what} ({count})", what=self._label(spec), count=len(points)))
        toggle.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        inner = QWidget()
        grid = _new_grid(inner)
        for index in range(len(points)):
            label = tr("Corner {number}", number=index + 1)
            self._add_point(grid, label, (*path, index))
        inner.setVisible(path in self._open_points)
        toggle.setChecked(path in self._open_points)
        toggle.setArrowType(
            Qt.ArrowType.DownArrow if path in self._open_points else Qt.ArrowType.RightArrow
        )

        def turn(shown: bool) -> None:
            inner.setVisible(shown)
            toggle.setArrowType(Qt.ArrowType.DownArrow if shown else Qt.ArrowType.RightArrow)
            (self._open_points.add if shown else self._open_points.discard)(path)

        toggle.toggled.connect(turn)
        column.addWidget(toggle, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(inner)

    def _add_size(self, grid: QGridLayout) -> None:
        for axis, label in ((0, tr("Width overall")), (1, tr("Depth overall"))):
            spec = Spec("size", "quantity", quantity="length")
            editor = self._line(spec, self._size_commit(axis))
            self._place(grid, label, editor, _size_reader(axis))

    def _add_corner(self, grid: QGridLayout) -> None:
        for axis, label in ((0, tr("From the left lot line")), (1, tr("From the lower lot line"))):
            spec = Spec("corner", "quantity", quantity="length")
            editor = self._line(spec, self._corner_commit(axis))
            self._place(grid, label, editor, _corner_reader(self._session, axis))

    def _corner_commit(self, axis: int) -> Callable[[object], None]:
        read = _corner_reader(self._session, axis)

        def commit(value: object) -> None:
            self._edit(lambda part: shifted(part, axis, cast("float", value) - read(part)))

        return commit

    def _size_commit(self, axis: int) -> Callable[[object], None]:
        def commit(value: object) -> None:
            self._edit(lambda part: resized(part, axis, cast("float", value)))

        return commit

    def _add_inner(self, column: QVBoxLayout, spec: Spec, value: Any, path: Path) -> None:  # noqa: ANN401
        head, button = _section(self._label(spec))
        column.addWidget(head)
        if value is None:
            button.setText(tr("Add"))
            button.clicked.connect(
                lambda: self._commit(path, fresh_part(self._session.plan, spec, self.part))
            )
            return
        if spec.optional:
            button.setText(tr("Remove"))
            button.clicked.connect(lambda: self._commit(path, None))
        else:
            button.hide()
        self._add_part(column, value, path)

    def _add_many(self, column: QVBoxLayout, spec: Spec, values: Any, path: Path) -> None:  # noqa: ANN401
        head, button = _section(self._label(spec))
        button.setText(tr("Add"))
        button.clicked.connect(lambda: self._append(spec, path))
        column.addWidget(head)
        for index, value in enumerate(values):
            row, remove = _section(f"{model_label(type(value).__name__)} {index + 1}", small=True)
            remove.setText(tr("Remove"))
            remove.clicked.connect(self._remover(path, index))
            column.addWidget(row)
            self._add_part(column, value, (*path, index))

    # -- entries ---------------------------------------------------------------

    def _append(self, spec: Spec, path: Path) -> None:
        part = self.part
        new = fresh_part(self._session.plan, spec, part)
        if part is None or new is None:
            self.say(tr("There is nothing yet to choose from."))
            return
        old = cast("tuple[object, ...]", value_at(part, path))
        self._commit(path, (*old, new))

    def _remover(self, path: Path, index: int) -> Callable[[], None]:
        def remove() -> None:
            part = self.part
            if part is not None:
                old = cast("tuple[object, ...]", value_at(part, path))
                self._commit(path, (*old[:index], *old[index + 1 :]))

        return remove

    def _commit(self, path: Path, value: object) -> None:
        self._edit(lambda part: with_value(part, path, value))

    def _edit(self, change: Callable[[Model], Model]) -> None:
        part = self.part
        if part is None or self._building:
            return
        if self._mark(part) != self._signature:
            # The rows are those of a part that has changed its shape since they were made.
            self.refresh()
            return
        self.error.hide()
        try:
            new = change(part)
            plan = things.replaced(self._session.plan, self.key, new)
        except EditError as error:
            self.say(why(error))
            self.refresh()
            return
        title = tr("Change {what}", what=things.label(part))
        self._session.edit(title, lambda _: plan)
        self.refresh()

    def say(self, sentence: str) -> None:
        """Say why an entry cannot be."""
        self.error.setText(sentence)
        self.error.show()

    def take_focus(self) -> None:
        """Put the cursor into the first number, or else the first field."""
        editors = [cast("QWidget", editor) for editor, _ in self._rows]
        numbers = [one for one in editors if isinstance(one, LineEditor)]
        for one in (*numbers[1:2], *numbers, *editors):
            one.setFocus(Qt.FocusReason.TabFocusReason)
            return


def _new_grid(parent: QWidget | None = None) -> QGridLayout:
    grid = QGridLayout(parent) if parent is not None else QGridLayout()
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(10)
    grid.setVerticalSpacing(6)
    grid.setColumnStretch(0, 9)
    grid.setColumnStretch(1, 11)
    return grid


def _section(title: str, *, small: bool = False) -> tuple[QWidget, QPushButton]:
    head = QFrame()
    row = QHBoxLayout(head)
    row.setContentsMargins(0, 4, 0, 0)
    words = plain_label(title, bold=not small)
    button = QPushButton()
    button.setProperty("role", "quiet")
    button.setAccessibleDescription(title)
    row.addWidget(words, 1)
    row.addWidget(button)
    return head, button


def _reader(path: Path, place: int) -> Callable[[Model], object]:
    def read(part: Model) -> object:
        point = cast("tuple[float, float] | None", value_at(part, path))
        return None if point is None else point[place]

    return read


def _corner_reader(session: Session, axis: int) -> Callable[[Model], float]:
    return lambda part: corner_of(part, session.plan.lot)[axis]


def _size_reader(axis: int) -> Callable[[Model], object]:
    return lambda part: size_of(part)[axis]
