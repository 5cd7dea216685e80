import os
import stat

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent

from siteplan.assets import sample
from siteplan.plan import edits, load, save


@pytest.fixture
def saved(tmp_path):
    path = tmp_path / "mine.siteplan"
    save(load(sample("good-placement.siteplan")), path)
    return path


def change(window, title="Changed"):
    window.session.edit("title", lambda plan: edits.with_fields(plan, title=title))


def test_a_plan_is_opened_edited_and_saved(window, saved):
    assert window.files.open(saved)
    change(window)
    assert window.session.dirty
    assert "*" in window.windowTitle()
    assert window.files.save()
    assert load(saved).title == "Changed"
    assert not window.session.dirty


def test_saving_for_the_first_time_asks_where(window, answers, tmp_path):
    change(window)
    answers.paths = [tmp_path / "new"]
    assert window.files.save()
    assert load(tmp_path / "new.siteplan").title == "Changed"


def test_saving_without_an_answer_saves_nothing(window, answers):
    change(window)
    assert not window.files.save()
    assert window.session.dirty


@pytest.mark.parametrize(("answer", "opened"), [("cancel", False), ("discard", True)])
def test_unsaved_work_is_asked_about_before_another_plan_opens(
    window, answers, saved, answer, opened
):
    change(window)
    answers.unsaved_answer = answer
    assert window.files.open(saved) is opened
    assert len(answers.asked) == 1
    assert (window.session.path == saved) is opened


def test_unsaved_work_is_saved_on_the_way_out_if_wished(window, answers, saved):
    window.files.open(saved)
    change(window, "Kept")
    answers.unsaved_answer = "save"
    window.close()
    assert load(saved).title == "Kept"


def test_closing_can_be_called_off(window, answers):
    change(window)
    answers.unsaved_answer = "cancel"
    assert not window.close()
    assert window.isVisible()
    answers.unsaved_answer = "discard"


def test_a_broken_file_is_said_in_one_line_and_nothing_is_lost(window, answers, tmp_path):
    change(window, "Mine")
    bad = tmp_path / "bad.siteplan"
    bad.write_text("{", encoding="utf-8")
    assert not window.files.open(bad)
    (message,) = answers.told
    assert "\n" not in message
    assert "bad.siteplan" in message
    assert window.session.plan.title == "Mine"


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_folder_that_cannot_be_written_is_said(window, answers, tmp_path):
    locked = tmp_path / "locked"
    locked.mkdir()
    locked.chmod(stat.S_IRUSR | stat.S_IXUSR)
    change(window)
    answers.paths = [locked / "a.siteplan"]
    assert not window.files.save()
    assert answers.told
    assert window.session.dirty


def test_a_missing_folder_is_said_and_the_work_stays(window, answers, tmp_path):
    change(window)
    answers.paths = [tmp_path / "nowhere" / "a.siteplan"]
    assert not window.files.save()
    assert answers.told
    assert window.session.dirty


def test_a_sample_is_opened_as_a_plan_of_ones_own(window):
    window.files.open_demo()
    assert window.session.path is None
    assert window.session.plan.buildings


def test_recent_plans_are_remembered_newest_first(window, saved, tmp_path):
    other = tmp_path / "other.siteplan"
    save(load(saved), other)
    window.files.open(saved)
    window.files.open(other)
    window.files.open(saved)
    assert window.files.recent() == [saved, other]
    window.files.forget()
    assert window.files.recent() == []


def test_a_plan_dropped_on_the_window_opens(window, saved):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(saved))])
    copy, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    none = Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(QPoint(50, 50), copy, data, left, none)
    window.dragEnterEvent(enter)
    assert enter.isAccepted()
    window.dropEvent(QDropEvent(QPointF(50, 50), copy, data, left, none))
    assert window.session.path == saved


def test_other_things_dropped_are_not_taken(window, tmp_path):
    data = QMimeData()
    data.setUrls([QUrl("https://example.org/a.siteplan")])
    enter = QDragEnterEvent(
        QPoint(50, 50),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    enter.ignore()
    window.dragEnterEvent(enter)
    assert not enter.isAccepted()
