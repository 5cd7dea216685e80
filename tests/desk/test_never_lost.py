"""Backup, lock, newer files and full disks, as the window deals with them."""

import json
import os
import signal
import subprocess
import sys

import pytest

from siteplan.assets import sample
from siteplan.desk.locks import Locks, lock_path
from siteplan.desk.recovery import leftovers
from siteplan.desk.session import Session
from siteplan.desk.window import Window
from siteplan.plan import edits, load, save, store
from siteplan.plan.errors import FileAccessError
from siteplan.plan.store import backup_of

HOLDER = """
import sys
from pathlib import Path
from siteplan.desk import launch
from siteplan.desk.locks import Locks
app = launch.application()
locks = Locks()
print(locks.take(Path(sys.argv[1])), flush=True)
sys.stdin.read()
"""


@pytest.fixture
def saved(tmp_path):
    path = tmp_path / "mine.siteplan"
    save(edits.with_fields(load(sample("good-placement.siteplan")), title="Saved"), path)
    return path


@pytest.fixture
def newer(tmp_path):
    tree = json.loads(sample("good-placement.siteplan").read_bytes())
    path = tmp_path / "newer.siteplan"
    path.write_text(json.dumps(tree | {"version": 99, "mood": "calm"}), encoding="utf-8")
    return path


@pytest.fixture
def second(qtbot, answers, tmp_path):
    """Another window of the same program."""
    made = Window(Session(), answers, tmp_path / "recovery")
    qtbot.addWidget(made)
    return made


def change(window, title="Changed"):
    window.session.edit("title", lambda plan: edits.with_fields(plan, title=title))


def test_saving_keeps_the_plan_of_the_save_before(window, saved):
    before = saved.read_bytes()
    window.files.open(saved)
    change(window)
    assert window.files.save()
    assert backup_of(saved).read_bytes() == before


def test_a_backup_opens_as_a_copy(window, saved):
    window.files.open(saved)
    change(window)
    window.files.save()
    assert window.files.open(backup_of(saved))
    assert window.session.plan.title == "Saved"
    assert window.session.path is None


def test_a_newer_file_opens_read_only_and_is_never_overwritten(window, answers, newer, tmp_path):
    before = newer.read_bytes()
    assert window.files.open(newer)
    assert window.session.plan.buildings
    assert "newer siteplan" in answers.told[0]
    assert "read-only" in window.windowTitle()
    change(window)
    answers.paths = [newer]
    assert not window.files.save()
    with pytest.raises(FileAccessError):
        window.session.save(newer)
    assert newer.read_bytes() == before
    other = tmp_path / "other.siteplan"
    answers.paths = [other]
    assert window.files.save()
    assert load(other).title == "Changed"
    assert "read-only" not in window.windowTitle()
    change(window, "Again")
    assert window.files.save()
    assert load(other).title == "Again"
    assert newer.read_bytes() == before


def test_a_newer_file_that_cannot_be_shown_says_why_and_stays(window, answers, tmp_path):
    newer = tmp_path / "newer.siteplan"
    newer.write_text('{"format": "siteplan", "version": 99, "lot": 5}', encoding="utf-8")
    before = newer.read_bytes()
    assert not window.files.open(newer)
    assert "99" in answers.told[0]
    assert newer.read_bytes() == before


def test_a_second_window_opens_the_file_read_only(window, second, answers, saved):
    assert window.files.open(saved)
    assert second.files.open(saved)
    assert second.session.read_only
    assert "open in another window" in answers.told[-1]
    assert "read-only" in second.windowTitle()
    before = saved.read_bytes()
    change(second)
    answers.paths = [saved]
    assert not second.files.save()
    assert saved.read_bytes() == before
    change(window, "Mine")
    assert window.files.save()
    assert load(saved).title == "Mine"


def test_a_file_open_elsewhere_is_not_saved_over(window, second, answers, saved):
    window.files.open(saved)
    before = saved.read_bytes()
    change(second)
    answers.paths = [saved]
    assert not second.files.save()
    assert "another window" in answers.told[-1]
    assert saved.read_bytes() == before
    assert second.session.dirty


def test_a_closed_window_and_another_plan_let_go_of_the_file(window, second, saved, tmp_path):
    window.files.open(saved)
    window.files.new()
    second.files.open(saved)
    assert not second.session.read_only
    second.close()
    assert not lock_path(saved).exists()
    window.files.open(saved)
    assert not window.session.read_only


def test_saving_under_another_name_takes_its_lock(window, second, answers, saved, tmp_path):
    window.files.open(saved)
    other = tmp_path / "other.siteplan"
    answers.paths = [other]
    assert window.files.save_as()
    second.files.open(saved)
    assert not second.session.read_only
    second.files.open(other)
    assert second.session.read_only


def test_a_broken_file_leaves_the_lock_of_the_open_one(window, second, saved, tmp_path):
    window.files.open(saved)
    bad = tmp_path / "bad.siteplan"
    bad.write_text("{", encoding="utf-8")
    assert not window.files.open(bad)
    assert not lock_path(bad).exists()
    second.files.open(saved)
    assert second.session.read_only


def test_the_lock_of_a_killed_program_is_taken_over(qapp, saved):
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(saved)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
    ) as holder:
        assert holder.stdout.readline() == "True\n"
        assert not Locks().take(saved)
        holder.send_signal(signal.SIGKILL)
    assert lock_path(saved).exists()
    locks = Locks()
    assert locks.take(saved)
    locks.keep_only(None)
    assert not lock_path(saved).exists()


def full(*_):
    raise OSError(28, "No space left on device")


def test_on_a_full_disk_the_old_file_and_the_recovery_are_kept(window, answers, saved, monkeypatch):
    window.files.open(saved)
    change(window, "Unsaved")
    before, real = saved.read_bytes(), store._write_new

    def full_there(new, content, mode):
        if new.parent == saved.parent:
            new.write_bytes(content[:100])
            full()
        real(new, content, mode)

    monkeypatch.setattr(store, "_write_new", full_there)
    assert not window.files.save()
    (told,) = answers.told
    assert told.startswith("The disk is full, so mine.siteplan was not saved. What the file held")
    assert "Your changes are kept for recovery." in told
    assert saved.read_bytes() == before
    assert not list(saved.parent.glob(".*.part"))
    assert window.session.dirty
    window.recovery._lock.unlock()
    (found,) = leftovers(window.recovery.file.parent)
    assert found.plan.title == "Unsaved"


def test_if_the_recovery_cannot_be_kept_either_the_window_says_so(
    window, answers, saved, monkeypatch
):
    window.files.open(saved)
    change(window, "Unsaved")
    monkeypatch.setattr("siteplan.plan.store.os.fsync", full)
    assert not window.files.save()
    assert "in this window only" in answers.told[-1]


def test_a_file_that_cannot_be_written_for_another_reason_says_that(window, answers, tmp_path):
    change(window)
    answers.paths = [tmp_path / "nowhere" / "a.siteplan"]
    assert not window.files.save()
    assert "No such file" in answers.told[-1]
