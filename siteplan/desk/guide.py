"""The guide: how to use the program, its keys, its rules with their sources, and a table of all.

The first page is the README itself; there is no second text that could say something else.
"""

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QKeySequence
from PySide6.QtWidgets import (
    QDialog,
    QHeaderView,
    QListWidget,
    QListWidgetItem,
    QPlainTextEdit,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QTabWidget,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from siteplan.assets import readme, resource
from siteplan.desk.commands import commands
from siteplan.desk.text import manner, tr
from siteplan.desk.widgets import open_at
from siteplan.rules.book import Rule, by_group, figure_value
from siteplan.rules.figure_titles import FIGURE_TITLES
from siteplan.sources import work

if TYPE_CHECKING:
    from siteplan.desk.window import Window

_PICTURE = re.compile(r"^!\[.*\]\(.*\)\n", re.MULTILINE)
_LINK = re.compile(r"\[([^\]]+)\]\([^)]*\)")
_WIDTH, _HEIGHT = 900, 680


class Guide(QDialog):
    """A window beside the main one; it stays open while one works."""

    def __init__(self, window: "Window") -> None:
        super().__init__(window)
        self.setWindowTitle(tr("Guide"))
        open_at(self, _WIDTH, _HEIGHT)
        self.pages = QTabWidget()
        self.pages.addTab(_how_to(), tr("How to use it"))
        self.pages.addTab(_keys(window), tr("Keys"))
        self.pages.addTab(_Rules(), tr("Rules and sources"))
        column = QVBoxLayout(self)
        column.addWidget(self.pages)

    def open_at(self, page: int) -> None:
        """Show one of the pages."""
        self.pages.setCurrentIndex(page)
        self.show()
        self.activateWindow()


class _Text(QTextBrowser):
    """A page of text that opens nothing: no link, no picture, no file."""

    def __init__(self, markdown: str) -> None:
        super().__init__()
        self.setOpenLinks(False)
        self.setMarkdown(markdown)
        self.setAccessibleName(tr("How to use it"))

    def loadResource(self, _kind: int, _name: object) -> QImage:
        """Bring an empty picture for whatever is asked for: only that keeps files shut."""
        return QImage(1, 1, QImage.Format.Format_Alpha8)


def guide_text(language: str) -> str:
    """Return the README in a language, without pictures and links."""
    path = readme() if language == "en" else resource(f"help/README.{language}.md")
    text = path.read_text(encoding="utf-8")
    return _LINK.sub(r"\1", _PICTURE.sub("", text))


def _how_to() -> QWidget:
    return _Text(guide_text(manner().language))


def _keys(window: "Window") -> QWidget:
    # An action that says what is chosen now is told here by what it does.
    titles = {one.name: one.title for one in commands(window)}
    actions = [one for one in window.actions_by_name.items() if not one[1].shortcut().isEmpty()]
    table = QTableWidget(len(actions), 2)
    table.setAccessibleName(tr("Keys"))
    table.setHorizontalHeaderLabels([tr("What it does"), tr("Key")])
    table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
    table.verticalHeader().hide()
    for row, (name, action) in enumerate(actions):
        table.setItem(row, 0, QTableWidgetItem(titles[name]))
        keys = ", ".join(
            one.toString(QKeySequence.SequenceFormat.NativeText) for one in action.shortcuts()
        )
        table.setItem(row, 1, QTableWidgetItem(keys))
    table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
    return table


class _Rules(QWidget):
    """Every rule: what it asks and why, its figures, its sources and how each is known."""

    def __init__(self) -> None:
        super().__init__()
        self.list = QListWidget()
        self.list.setAccessibleName(tr("Rules and sources"))
        self.list.setObjectName("things")
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.detail = QPlainTextEdit()
        self.detail.setReadOnly(True)
        self.detail.setAccessibleName(tr("The rule"))
        self._fill()
        parts = QSplitter(Qt.Orientation.Horizontal)
        parts.addWidget(self.list)
        parts.addWidget(self.detail)
        parts.setStretchFactor(1, 1)
        parts.setSizes([_WIDTH // 3, 2 * _WIDTH // 3])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(parts)
        self.list.currentItemChanged.connect(self._show)
        self.list.setCurrentRow(1)

    def _fill(self) -> None:
        for group, rules in by_group().items():
            heading = QListWidgetItem(tr(group))
            heading.setFlags(Qt.ItemFlag.NoItemFlags)
            font = heading.font()
            font.setBold(True)
            heading.setFont(font)
            self.list.addItem(heading)
            for rule in rules:
                item = QListWidgetItem(f"  {tr(rule.title)}")
                item.setData(Qt.ItemDataRole.UserRole, rule)
                item.setToolTip(tr(rule.title))
                self.list.addItem(item)

    def _show(self, item: QListWidgetItem | None) -> None:
        rule = None if item is None else item.data(Qt.ItemDataRole.UserRole)
        if rule is not None:
            self.detail.setPlainText("\n".join(rule_lines(Rule(*rule))))


def rule_lines(rule: Rule) -> Iterator[str]:
    """Yield what there is to say of a rule, line by line."""
    spoken = manner()
    yield tr(rule.title)
    yield ""
    yield tr(rule.explain)
    if rule.figures:
        yield ""
        yield tr("Figures")
    for name, value in rule.figures.items():
        yield f"  {tr(FIGURE_TITLES[name])}: {spoken.show(figure_value(name, value))}"
    yield ""
    yield tr("Sources, the one its figure comes from first")
    for source in rule.sources:
        cited = work(source)
        yield f"  – {cited.line(spoken.language)}"
        if cited.note:
            yield f"    {cited.remark(spoken.language)}"
    yield ""
    yield tr("Id on the command line: {id}", id=rule.id)
