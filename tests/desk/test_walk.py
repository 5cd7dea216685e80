import gc
import sys

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from siteplan.desk.steps import paper
from siteplan.plan.store import dump, parse
from tests.helpers.walk import Walk


@pytest.fixture(autouse=True)
def _nothing_opens(monkeypatch):
    monkeypatch.setattr(paper.QDesktopServices, "openUrl", lambda url: None)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_random_walk_leaves_a_plan_that_saves_and_undo_brings_back_the_first(demo_window, seed):
    window = demo_window
    first = window.session.plan
    # What earlier tests left behind holds references, too, and may go at any moment.
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.collect()
    before = sys.getrefcount(None)
    walk = Walk(window, seed)
    walk.go(120)
    window.canvas.take_tool()
    plan = window.session.plan
    assert parse(dump(plan).encode()) == plan
    while window.session.undo_stack.canUndo():
        window.session.undo_stack.undo()
    assert window.session.plan == first
    assert sys.getrefcount(None) > before - 500
