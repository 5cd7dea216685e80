"""Files: whole or not at all, bounded, and refused in one clear line."""

import errno
import json
import os
import stat
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from hypothesis import given, settings

from siteplan.plan import migrate, store
from siteplan.plan.errors import BrokenFileError, FileAccessError, NewerFormatError
from tests.helpers.plan_makers import plans, small_plan

AS_ROOT = os.geteuid() == 0
HEAD = b'{"format":"siteplan","version":1'


@pytest.fixture
def file(tmp_path):
    return tmp_path / "lot.siteplan"


@settings(deadline=None)
@given(plans())
def test_any_plan_comes_back_from_its_text_as_it_went(plan):
    text = store.dump(plan)
    assert store.parse(text.encode()) == plan
    assert store.dump(store.parse(text.encode())) == text


def test_a_plan_comes_back_from_its_file_as_it_went(file):
    store.save(small_plan(), file)
    assert store.load(file) == small_plan()
    assert store.load(str(file)) == small_plan()
    assert list(file.parent.iterdir()) == [file]


def test_a_file_is_json_that_any_reader_reads(file):
    store.save(small_plan(title="Niño"), file)
    tree = json.loads(file.read_text(encoding="utf-8"))
    assert (tree["format"], tree["version"], tree["title"]) == ("siteplan", 1, "Niño")
    assert tree["buildings"][0]["outline"][2] == [10.0, 8.0]


BROKEN = {
    "empty": (b"", "is not JSON: Expecting value at line 1, column 1"),
    "half": (HEAD + b',"title":"a', "is not JSON: Unterminated string"),
    "two objects": (HEAD + b"}{}", "is not JSON: Extra data at line 1, column 34"),
    "trailing comma": (HEAD + b",}", "is not JSON"),
    "comment": (b"// plan\n" + HEAD + b"}", "is not JSON"),
    "not UTF-8": (HEAD + b',"title":"\xff"}', "is not UTF-8 text (byte 42)"),
    "UTF-16": ((HEAD + b"}").decode().encode("utf-16"), "is not UTF-8 text (byte 0)"),
    "null byte": (HEAD + b',"title":"a\x00"}', "is not JSON: Invalid control character"),
    "half a pair": (HEAD + b',"title":"\\ud800"}', "is not JSON: "),
    "twice a key": (HEAD + b',"title":"a","title":"b"}', "the key 'title' stands twice"),
    "twice a deep key": (
        HEAD + b',"lot":{"outline":[],"outline":[]}}',
        "the key 'outline' stands twice in one object",
    ),
    "a list": (b"[]", 'must be an object with "format": "siteplan"'),
    "a number": (b"3", 'must be an object with "format": "siteplan"'),
    "another format": (b'{"format":"x","version":1}', 'object with "format": "siteplan"'),
    "a list for format": (b'{"format":["siteplan"],"version":1}', '"format": "siteplan"'),
    "no format": (b'{"version":1}', 'object with "format": "siteplan"'),
    "no version": (b'{"format":"siteplan"}', "version: must be a whole number from 1; found None"),
    "version 0": (b'{"format":"siteplan","version":0}', "from 1; found 0"),
    "version -1": (b'{"format":"siteplan","version":-1}', "from 1; found -1"),
    "version 1.0": (b'{"format":"siteplan","version":1.0}', "from 1; found 1.0"),
    "version true": (b'{"format":"siteplan","version":true}', "from 1; found True"),
    "version text": (b'{"format":"siteplan","version":"1"}', "from 1; found '1'"),
    "version of many parts": (
        b'{"format":"siteplan","version":[' + b"1," * 10_000 + b"1]}",
        "from 1; found [1, 1, 1, 1, 1, 1, ...]",
    ),
    "NaN": (HEAD + b',"north_deg":NaN}', "north_deg: input should be a finite number; found nan"),
    "Infinity": (HEAD + b',"north_deg":-Infinity}', "a finite number; found -inf"),
    "1e400": (HEAD + b',"north_deg":1e400}', "north_deg: input should be a finite number"),
    "5000 digits": (HEAD + b',"north_deg":' + b"9" * 5000 + b"}", "has 5000 digits; at most 40"),
    "41 digits": (HEAD + b',"north_deg":' + b"9" * 41 + b"}", "has 41 digits; at most 40"),
    "5000 digits after the point": (HEAD + b',"north_deg":360.' + b"0" * 5000 + b"}", "360"),
}


@pytest.mark.parametrize(("raw", "why"), BROKEN.values(), ids=BROKEN)
def test_a_broken_file_is_refused_in_one_line_that_says_why(file, raw, why):
    file.write_bytes(raw)
    with pytest.raises(BrokenFileError) as caught:
        store.load(file)
    line = str(caught.value)
    assert line.startswith(f"{file}: ")
    assert why in line
    assert line.isprintable()
    assert len(line) < 700
    assert file.read_bytes() == raw


@pytest.mark.parametrize("depth", [190, 201, 300, 900, 1100, 5000, 1_000_000])
@pytest.mark.parametrize(("left", "right"), [(b"[", b"]"), (b'{"a":', b"}")])
def test_deep_nesting_is_refused(depth, left, right):
    inner = b"1" if right == b"}" else b""
    raw = HEAD + b',"title":' + left * depth + inner + right * depth + b"}"
    with pytest.raises(BrokenFileError):
        store.parse(raw)


def test_a_byte_order_mark_is_no_harm():
    assert store.parse(b"\xef\xbb\xbf" + HEAD + b"}") == store.parse(HEAD + b"}")


def test_line_ends_of_any_system_are_no_harm():
    text = store.dump(small_plan())
    assert store.parse(text.replace("\n", "\r\n").encode()) == small_plan()


@pytest.mark.parametrize("version", [2, 3, 10**39])
def test_a_newer_file_is_refused_as_newer(file, version):
    raw = f'{{"format":"siteplan","version":{version},"holograms":[]}}'.encode()
    file.write_bytes(raw)
    with pytest.raises(NewerFormatError, match=f"version {version}; this program knows up to 1"):
        store.load(file)
    assert file.read_bytes() == raw


def test_an_older_file_is_brought_up_step_by_step(monkeypatch):
    monkeypatch.setattr(migrate, "VERSION", 3)
    monkeypatch.setattr(
        migrate,
        "STEPS",
        {
            1: lambda tree: {**tree, "version": 2, "title": tree["title"] + "b"},
            2: lambda tree: {**tree, "version": 3, "title": tree["title"] + "c"},
        },
    )
    old = {"format": "siteplan", "version": 1, "title": "a"}
    assert migrate.to_present(old, "p") == {"format": "siteplan", "version": 3, "title": "abc"}
    assert old["title"] == "a"


def test_a_migrated_file_is_checked_like_any_other(monkeypatch):
    monkeypatch.setattr(migrate, "to_present", lambda tree, _name: {**tree, "title": 3})
    with pytest.raises(BrokenFileError, match="title: input should be a valid string"):
        store.parse(HEAD + b"}")
    monkeypatch.setattr(migrate, "to_present", lambda tree, _name: {**tree, "title": "new ñ"})
    assert store.parse(HEAD + b"}").title == "new ñ"


def test_a_file_of_200_mb_is_refused_by_its_size_alone(file, monkeypatch):
    with file.open("wb") as stream:
        stream.truncate(200 * 2**20)
    monkeypatch.setattr(store, "parse", lambda *_: pytest.fail("it was read"))
    with pytest.raises(BrokenFileError, match="has 200 MiB; at most 40 MiB is read"):
        store.load(file)


@pytest.mark.parametrize(("extra", "fits"), [(-1, True), (0, True), (1, False)])
def test_the_largest_file_is_read_and_no_larger_one(file, extra, fits):
    raw = HEAD + b"}"
    file.write_bytes(raw + b" " * (store.LARGEST_FILE_BYTES + extra - len(raw)))
    if fits:
        assert store.load(file).title == ""
    else:
        with pytest.raises(BrokenFileError, match="40 MiB"):
            store.load(file)


def test_a_backdrop_of_full_size_comes_back(file):
    backdrop = {"media_type": "image/png", "data_base64": "A" * 28_000_000}
    raw = json.dumps({"format": "siteplan", "version": 1, "backdrop": backdrop}).encode()
    plan = store.parse(raw)
    store.save(plan, file)
    assert store.load(file) == plan


def test_an_endless_device_is_not_read_to_its_end():
    with pytest.raises(BrokenFileError, match="40 MiB"):
        store.load("/dev/zero")


def test_a_pipe_can_be_read(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    writer = threading.Thread(target=lambda: pipe.write_text(store.dump(small_plan())))
    writer.start()
    try:
        assert store.load(pipe) == small_plan()
    finally:
        writer.join()


def test_more_values_than_memory_should_hold_are_refused_before_they_are_read():
    raw = HEAD + b',"title":[' + b"[]," * store.MOST_VALUES + b"[]]}"
    with pytest.raises(BrokenFileError, match="more than 2000000 values"):
        store.parse(raw)


def test_an_enormous_wrong_value_makes_a_short_line():
    whole = {"format": "siteplan", "version": 1, "title": ["x" * 1000] * 1000, "k" * 10_000: 1}
    with pytest.raises(BrokenFileError) as caught:
        store.parse(json.dumps(whole).encode())
    assert len(str(caught.value)) < 700


def test_hostile_names_are_inert_in_messages():
    whole = {"format": "siteplan", "version": 1, "\x1b[31m\u202e": "\x1b]0;title\x07"}
    with pytest.raises(BrokenFileError) as caught:
        store.parse(json.dumps(whole).encode(), "\x1b[2Jname\n")
    assert str(caught.value).isprintable()


# Files that cannot be read or written.


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
