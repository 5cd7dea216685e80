"""The guide inside the program."""

import re
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from siteplan.assets import readme, resource
from siteplan.desk.commands import commands
from siteplan.desk.guide import Guide, guide_text
from siteplan.desk.window import Window
from siteplan.rules.book import book

SPANISH = resource("help/README.es.md")


def skeleton(path: Path) -> list[str]:
    """What both languages must share: the kind of each line, commands and code."""
    marks = []
    for line in path.read_text(encoding="utf-8").splitlines():
        head = re.match(r"#+|\d+\.|[-|]|!\[|```", line)
        code = re.findall(r"`[^`]+`", line) if line.startswith("|") else []
        marks.append(" ".join([head[0] if head else "" if not line else "text", *code]))
    return marks


def test_the_spanish_text_has_the_parts_and_commands_of_the_readme() -> None:
    assert skeleton(SPANISH) == skeleton(readme())


@pytest.mark.parametrize("language", ["en", "es"])
def test_guide_shows_neither_pictures_nor_links(language: str) -> None:
    text = guide_text(language)
    assert "![" not in text
    assert "](" not in text
    assert "siteplan review" in text


def test_guide_lists_every_rule_and_shows_its_sources(qtbot, window: Window) -> None:
    guide = Guide(window)
    qtbot.addWidget(guide)
    rules = guide.pages.widget(2)
    listed = [rules.list.item(row).text().strip() for row in range(rules.list.count())]
    assert {rule.title for rule in book().values()} <= set(listed)
    rules.list.setCurrentRow(listed.index(book()["separation-opening"].title))
    shown = rules.detail.toPlainText()
    assert book()["separation-opening"].explain in shown
    assert "20'" in shown
    assert "quoted elsewhere" in shown


def test_guide_lists_the_key_of_every_command_that_has_one(qtbot, window: Window) -> None:
    guide = Guide(window)
    qtbot.addWidget(guide)
    table = guide.pages.widget(1)
    shown = {table.item(row, 0).text() for row in range(table.rowCount())}
    with_keys = {one.title for one in commands(window) if one.keys}
    assert shown == with_keys
    assert "Feet or metres" in shown


def test_guide_names_each_group_once_and_no_figure_by_its_key(qtbot, window: Window) -> None:
    guide = Guide(window)
    qtbot.addWidget(guide)
    rules = guide.pages.widget(2)
    items = [rules.list.item(row) for row in range(rules.list.count())]
    headings = [one.text() for one in items if one.flags() == Qt.ItemFlag.NoItemFlags]
    assert len(headings) == len(set(headings)) > 5
    for row, one in enumerate(items):
        if one.flags() != Qt.ItemFlag.NoItemFlags:
            rules.list.setCurrentRow(row)
            assert not re.search(r"\w_\w", rules.detail.toPlainText())


def test_guide_opens_from_its_command(window: Window) -> None:
    window.actions_by_name["rules"].trigger()
    assert window._guide is not None
    assert window._guide.pages.currentIndex() == 2
    window._guide.close()
