"""Every question goes through one place, so that a test or another face can answer it."""

import ast
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

import siteplan.desk
from siteplan.desk.dialogs import QtDialogs
from siteplan.desk.steps.measured import BearingsDialog

DESK = Path(siteplan.desk.__file__).parent
ASKING = {"QMessageBox", "QFileDialog", "QInputDialog", "QColorDialog", "QFontDialog"}
# The event loop of the program itself.
THE_LOOP = ("launch.py", "app.exec")


def questions(path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Attribute) and node.attr in {"exec", "exec_", "open"}:
            called = ast.unparse(node)
            is_dialog = node.attr != "open" or "dialog" in called.lower().split(".")[0]
            if is_dialog and (path.name, called) != THE_LOOP:
                yield called
        elif isinstance(node, ast.Name) and node.id in ASKING:
            yield node.id


def test_no_dialog_is_run_but_through_the_service():
    elsewhere = {
        f"{path.relative_to(DESK)}: {one}"
        for path in DESK.rglob("*.py")
        if path != DESK / "dialogs.py"
        for one in questions(path)
    }
    assert elsewhere == set()
    assert list(questions(DESK / "dialogs.py"))


def test_the_lot_panel_asks_through_the_service(window, answers):
    panel = window.panels["lot"]
    panel.type_bearings()
    panel.type_tapes()
    assert answers.shown == ["Boundary by bearings", "Place by tape"]


def test_placements_side_by_side_are_asked_through_the_service(demo_window, answers):
    window = demo_window
    window.panels["generator"].finding.show_table()
    assert answers.shown == ["Places side by side"]


def test_a_taken_dialog_says_so_and_nothing_stays_of_it(window, answers, qtbot):
    panel = window.panels["lot"]
    answers.on_dialog = BearingsDialog.accept
    assert answers.show(BearingsDialog(panel, window.session))
    answers.on_dialog = None
    assert not answers.show(BearingsDialog(panel, window.session))
    qtbot.waitUntil(lambda: not panel.findChildren(BearingsDialog))


@pytest.mark.parametrize("taken", [True, False])
def test_qt_shows_a_dialog_until_it_is_answered(window, qtbot, taken):
    panel = window.panels["lot"]
    dialog = BearingsDialog(panel, window.session)
    answer = dialog.accept if taken else dialog.reject
    QTimer.singleShot(0, answer)
    assert QtDialogs().show(dialog) is taken
    QApplication.processEvents()
    qtbot.waitUntil(lambda: not panel.findChildren(BearingsDialog))
