import json
import os
import signal
import subprocess
import sys
import threading

import pytest

from siteplan.assets import sample
from siteplan.desk import recovery
from siteplan.desk.recovery import Recovery, leftovers
from siteplan.desk.session import Session
from siteplan.plan import edits, load, save

pytestmark = pytest.mark.usefixtures("qapp")

EDITOR = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from siteplan.desk import launch
from siteplan.desk.recovery import Recovery
from siteplan.desk.session import Session
from siteplan.plan import edits
app = launch.application()
session = Session()
session.open(Path(sys.argv[1]))
kept = Recovery(session, Path(sys.argv[2]))
number = 0
def change():
    global number
    number += 1
    session.edit("title", lambda plan: edits.with_fields(plan, title=f"edit {number}"))
    print(number, flush=True)
timer = QTimer()
timer.timeout.connect(change)
timer.start(20)
app.exec()
"""


def retitled(title):
    return lambda plan: edits.with_fields(plan, title=title)


def kept_on_disk(folder):
    """The number of the edit in the recovery file, 0 without one; only looked at, not taken."""
    for file in folder.glob("*.recovery"):
        return int(json.loads(json.loads(file.read_bytes())["plan"])["title"].split()[-1])
    return 0


def test_the_work_of_a_killed_window_is_found_and_its_file_is_as_saved(tmp_path):
    # How old the lost edits are is measured apart, where the disk is the program's alone.
    plan_file, folder = tmp_path / "mine.siteplan", tmp_path / "recovery"
    save(load(sample("good-placement.siteplan")), plan_file)
    before = plan_file.read_bytes()
    seen, told = set(), 0
    with subprocess.Popen(
        [sys.executable, "-c", EDITOR, str(plan_file), str(folder)],
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
    ) as editor:
        # Written again and again while the edits go on, not once.
        while len(seen) < 3:
            told = int(editor.stdout.readline())
            seen |= {kept_on_disk(folder)}
        editor.send_signal(signal.SIGKILL)
        told = max([told, *map(int, editor.stdout.read().split())])
    assert plan_file.read_bytes() == before
    (found,) = leftovers(folder)
    assert found.original == plan_file
    assert max(seen) <= int(found.plan.title.removeprefix("edit ")) <= told


def test_the_work_of_a_living_window_is_left_alone(tmp_path):
    session = Session()
    kept = Recovery(session, tmp_path)
    session.edit("title", retitled("Alive"))
    kept.write()
    assert kept.file.exists()
    assert list(leftovers(tmp_path)) == []
    kept.close()
    assert not kept.file.exists()


def test_saving_clears_the_recovery_file(tmp_path):
    session = Session()
    kept = Recovery(session, tmp_path / "recovery")
    session.edit("title", retitled("Unsaved"))
    kept.write()
    assert kept.file.exists()
    session.save(tmp_path / "a.siteplan")
    assert not kept.file.exists()
    kept.close()


def test_an_edit_is_written_by_itself(tmp_path, qtbot):
    session = Session()
    kept = Recovery(session, tmp_path)
    session.edit("title", retitled("By itself"))
    qtbot.waitUntil(kept.file.exists, timeout=recovery.DELAY_MS + 4000)
    kept.close()


def test_a_slow_disk_does_not_stop_the_hand_and_what_is_gone_stays_gone(
    tmp_path, monkeypatch, qtbot
):
    begun, let_go = threading.Event(), threading.Event()
    real = recovery.store.write_whole

    def slow(path, content):
        begun.set()
        assert let_go.wait(10.0)
        real(path, content)

    monkeypatch.setattr(recovery.store, "write_whole", slow)
    session = Session()
    kept = Recovery(session, tmp_path)
    session.edit("title", retitled("Slow"))
    qtbot.waitUntil(begun.is_set, timeout=recovery.DELAY_MS + 4000)
    # Here the window goes on while the disk has not answered yet.
    session.edit("title", retitled("Slower"))
    assert not kept.file.exists()
    let_go.set()
    session.undo_stack.setClean()
    kept.clear()
    assert not kept.file.exists()
    assert list(leftovers(tmp_path)) == []
    kept.close()


def test_going_back_to_the_saved_state_leaves_nothing(tmp_path):
    session = Session()
    kept = Recovery(session, tmp_path)
    session.edit("title", retitled("Unsaved"))
    kept.write()
    session.undo_stack.undo()
    kept.write()
    assert not kept.file.exists()


def test_broken_recovery_files_are_passed_over_and_kept(tmp_path):
    broken = tmp_path / "x.recovery"
    for text in ("", "{", "[]", '{"original": 3}', '{"original": null, "saved_at": 1, "plan": 4}'):
        broken.write_text(text, encoding="utf-8")
        assert list(leftovers(tmp_path)) == []
        assert broken.exists()


def test_a_full_disk_is_remembered_not_raised(tmp_path, monkeypatch):
    session = Session()
    kept = Recovery(session, tmp_path)
    session.edit("title", retitled("Unsaved"))

    def full(*_args):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(recovery.store, "write_whole", full)
    kept.write()
    assert "No space left" in kept.trouble


@pytest.fixture
def leftover(window):
    """Work of a window that is gone, in the folder the window looks into."""
    folder = window.recovery.file.parent
    other = Session()
    gone = Recovery(other, folder)
    other.edit("title", retitled("From before the crash"))
    gone.write()
    gone._lock.unlock()
    return gone.file


@pytest.mark.parametrize(
    ("answer", "title"), [("open", "From before the crash"), ("discard", ""), ("later", "")]
)
def test_the_window_offers_what_it_finds(window, answers, leftover, answer, title):
    answers.recover_answer = answer
    window.files.offer_recovery(window.recovery)
    assert len(answers.asked) == 1
    assert window.session.plan.title == title
    assert leftover.exists() is (answer == "later")
    assert window.session.dirty is (answer == "open")
    # A recovered plan is a copy: saving it must ask for a name.
    assert window.session.path is None


@pytest.mark.parametrize(("saved", "asked"), [("Same", 0), ("Other", 1)])
def test_what_was_saved_before_the_kill_is_not_offered(window, answers, tmp_path, saved, asked):
    file, other = tmp_path / "mine.siteplan", Session()
    save(load(sample("good-placement.siteplan")), file)
    other.open(file)
    gone = Recovery(other, window.recovery.file.parent)
    other.edit("title", retitled("Same"))
    gone.write()
    gone._lock.unlock()
    save(retitled(saved)(load(file)), file)
    answers.recover_answer = "later"
    window.files.offer_recovery(window.recovery)
    assert len(answers.asked) == asked
    assert gone.file.exists() is bool(asked)
