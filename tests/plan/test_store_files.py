"""Files that cannot be read or written, and saves that fail on the way: nothing is lost."""

import errno
import os
import stat
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from siteplan.plan import store
from siteplan.plan.errors import FileAccessError
from tests.helpers.plan_makers import small_plan

AS_ROOT = os.geteuid() == 0


@pytest.fixture
def file(tmp_path):
    return tmp_path / "lot.siteplan"


@pytest.mark.parametrize("name", ["absent.siteplan", "no/such/folder", ".", "x" * 300, "a\0b"])
def test_what_cannot_be_read_is_named(tmp_path, name):
    with pytest.raises(FileAccessError, match="cannot be read") as caught:
        store.load(tmp_path / name)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize("name", ["no/such/folder", ".", "x" * 300, "a\0b"])
def test_what_cannot_be_written_is_named(tmp_path, name):
    with pytest.raises(FileAccessError, match="cannot be written"):
        store.save(small_plan(), tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_a_ring_of_links_is_named(tmp_path):
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(FileAccessError, match="cannot be read"):
        store.load(tmp_path / "a")
    with pytest.raises(FileAccessError, match="cannot be written"):
        store.save(small_plan(), tmp_path / "a")


def test_a_device_is_never_replaced_by_a_file(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(FileAccessError, match="not an ordinary file"):
        store.save(small_plan(), pipe)
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    with pytest.raises(FileAccessError, match="not an ordinary file"):
        store.save(small_plan(), "/dev/null")


def _fail(error):
    def raise_it(*_args, **_kwargs):
        raise error

    return raise_it


@pytest.mark.parametrize(
    ("step", "number"),
    [
        ("os.fsync", errno.ENOSPC),
        ("os.fsync", errno.EIO),
        ("pathlib.Path.replace", errno.EACCES),
        ("os.open", errno.EROFS),
        ("os.open", errno.EMFILE),
    ],
)
def test_when_any_step_fails_the_old_file_stays_and_nothing_is_left(
    file, monkeypatch, step, number
):
    store.save(small_plan(), file)
    before = file.read_bytes()
    with monkeypatch.context() as patched:
        patched.setattr(step, _fail(OSError(number, os.strerror(number))))
        with pytest.raises(FileAccessError, match=os.strerror(number)):
            store.save(small_plan(title="new"), file)
    assert file.read_bytes() == before
    assert list(file.parent.iterdir()) == [file]


def test_an_interrupt_in_mid_write_leaves_the_old_file_and_no_other(file, monkeypatch):
    store.save(small_plan(), file)
    with monkeypatch.context() as patched:
        patched.setattr("os.fsync", _fail(KeyboardInterrupt()))
        with pytest.raises(KeyboardInterrupt):
            store.save(small_plan(title="new"), file)
    assert store.load(file) == small_plan()
    assert list(file.parent.iterdir()) == [file]


FULL_DISK = """
import resource, sys
from siteplan.plan import load, save
from siteplan.plan.errors import FileAccessError
plan = load(sys.argv[1])
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
try:
    save(plan.model_copy(update={"title": "new"}), sys.argv[1])
except FileAccessError as error:
    print(error)
"""


def test_when_the_system_takes_no_more_bytes_the_old_file_stays(file):
    store.save(small_plan(), file)
    done = subprocess.run(
        [sys.executable, "-c", FULL_DISK, file], capture_output=True, text=True, check=True
    )
    assert done.stdout == f"{file}: cannot be written (File too large)\n"
    assert store.load(file) == small_plan()
    assert list(file.parent.iterdir()) == [file]


@pytest.mark.skipif(AS_ROOT, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written_is_named(file):
    file.parent.chmod(0o500)
    try:
        with pytest.raises(FileAccessError, match="Permission denied"):
            store.save(small_plan(), file)
    finally:
        file.parent.chmod(0o700)
    assert list(file.parent.iterdir()) == []


def test_a_read_only_file_is_not_replaced(file, monkeypatch):
    store.save(small_plan(), file)
    file.chmod(0o444)
    # For root every file is writable, so what it would be for others is said here.
    monkeypatch.setattr(os, "access", lambda path, _how: Path(path).stat().st_mode & 0o200 != 0)
    with pytest.raises(FileAccessError, match="the file is read-only"):
        store.save(small_plan(title="new"), file)
    assert store.load(file) == small_plan()


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664, 0o666, 0o755])
def test_permissions_of_the_old_file_are_kept(file, mode):
    store.save(small_plan(), file)
    file.chmod(mode)
    store.save(small_plan(title="new"), file)
    assert stat.S_IMODE(file.stat().st_mode) == mode


def test_a_new_file_has_the_permissions_the_user_gives_new_files(file):
    old = os.umask(0o027)
    try:
        store.save(small_plan(), file)
    finally:
        os.umask(old)
    assert stat.S_IMODE(file.stat().st_mode) == 0o640


def test_a_file_system_without_permissions_still_takes_the_plan(file, monkeypatch):
    store.save(small_plan(), file)
    monkeypatch.setattr(Path, "chmod", _fail(PermissionError(errno.EPERM, "no such thing here")))
    store.save(small_plan(title="new"), file)
    assert store.load(file).title == "new"


def test_a_link_stays_a_link_and_its_target_is_written(tmp_path):
    (tmp_path / "real").mkdir()
    target, link = tmp_path / "real" / "lot.siteplan", tmp_path / "link.siteplan"
    link.symlink_to(target)
    for title in ("first", "second"):
        store.save(small_plan(title=title), link)
        assert link.is_symlink()
        assert store.load(target).title == title


def test_a_link_laid_in_our_way_is_not_followed(file):
    victim = file.parent / "victim"
    victim.write_text("precious")
    trap = file.parent / f".{file.name}.{os.getpid()}.part"
    trap.symlink_to(victim)
    store.save(small_plan(), file)
    assert victim.read_text() == "precious"
    assert store.load(file) == small_plan()


@pytest.mark.parametrize(("age_s", "left"), [(0, True), (3500, True), (3700, False)])
def test_what_a_killed_save_left_is_swept_up_in_an_hour(file, age_s, left):
    part = file.parent / f".{file.name}.999999.part"
    part.write_text("half")
    other = file.parent / ".other.siteplan.999999.part"
    other.write_text("half")
    then = time.time() - age_s
    for one in (part, other):
        os.utime(one, (then, then))
    store.save(small_plan(), file)
    assert part.exists() == left
    assert other.exists()


@pytest.mark.parametrize("name", ["🏠" * 60 + ".siteplan", "家" * 80, "-", "a b'\"$;\\", ".hidden"])
def test_any_name_the_system_allows_can_be_saved(tmp_path, name):
    file = tmp_path / name[:62]
    store.save(small_plan(), file)
    assert store.load(file) == small_plan()


def test_the_file_is_the_old_or_the_new_one_whenever_someone_looks(file):
    two = [small_plan(title="a"), small_plan(title="b" * 100)]
    whole = {store.dump(plan).encode() for plan in two}
    store.save(two[0], file)
    stop = threading.Event()
    seen = set()

    def look():
        while not stop.is_set():
            seen.add(file.read_bytes())

    reader = threading.Thread(target=look)
    reader.start()
    try:
        for turn in range(60):
            store.save(two[turn % 2], file)
    finally:
        stop.set()
        reader.join()
    assert seen <= whole
    assert len(seen) == 2
