"""Two thousand random actions on one window; run by `pytest -s tests/apart/long_walk.py`."""

import gc
import resource
import sys
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QSettings, Qt
from PySide6.QtWidgets import QApplication, QDialog

from siteplan.assets import sample
from siteplan.desk import launch
from siteplan.desk.session import Session
from siteplan.desk.steps import paper
from siteplan.desk.window import Window
from siteplan.plan import load
from tests.helpers.walk import Walk


class NoAnswers:
    """Stands in for the dialogs and chooses nothing."""

    def open_path(self, *_: object) -> None:
        return None

    def save_path(self, *_: object) -> None:
        return None

    def unsaved(self, *_: object) -> str:
        return "discard"

    def recover(self, *_: object) -> str:
        return "later"

    def tell(self, *_: object) -> None:
        return None

    def show(self, dialog: QDialog) -> bool:
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.show()
        QApplication.processEvents()
        dialog.reject()
        return False


def settle() -> None:
    QApplication.processEvents()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.collect()


def test_two_thousand_actions_leave_no_exception_no_leak_and_undo_brings_back_the_plan(
    qtbot, monkeypatch, tmp_path: Path
):
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path))
    monkeypatch.setattr(paper.QDesktopServices, "openUrl", lambda url: None)
    launch.application()
    session = Session(load(sample("bad-placement.siteplan")))
    session.undo_stack.setUndoLimit(0)
    window = Window(session, NoAnswers(), tmp_path / "recovery")
    window.resize(1280, 800)
    window.show()
    window.load()
    first, references = session.plan, sys.getrefcount(None)
    Walk(window, 11).go(400)
    session.select()
    window.canvas.take_tool()
    settle()
    objects = len(window.findChildren(QObject))
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    Walk(window, 12).go(1600)
    session.select()
    window.canvas.take_tool()
    settle()
    grown_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - used
    now = len(window.findChildren(QObject))
    print(
        f"\n{now} objects after 2000 actions, {objects} after 400; {grown_kb / 1024:.0f} MiB more"
    )
    # A few lists are longer where the walk has drawn more; a leak would be thousands.
    assert now < objects * 2 + 500
    assert grown_kb < 150_000
    assert sys.getrefcount(None) > references - 500
    print(f"{session.undo_stack.count()} steps of undo")
    while session.undo_stack.canUndo():
        session.undo_stack.undo()
    assert session.plan == first
    session.undo_stack.setClean()
    window.close()
