"""Files: whole or not at all, bounded, and refused in one clear line."""

import json
import os
import threading

import pytest
from hypothesis import given, settings

from siteplan.plan import migrate, store
from siteplan.plan.errors import BrokenFileError, NewerFormatError
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
