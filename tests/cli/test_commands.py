"""The command line: exit codes, what goes to which stream, and never a traceback."""

import re
import sys

import pytest

from siteplan.assets import sample
from siteplan.cli import codes
from siteplan.errors import MissingAssetError, OutOfRangeError
from siteplan.plan.errors import (
    BrokenFileError,
    EditError,
    FileAccessError,
    NewerFormatError,
)
from siteplan.rules.book import RuleBookError
from siteplan.sources import UnknownSourceError
from tests.helpers.commands import COMMANDS, GOOD, PRESENT, TAKES_PLAN, WRITES, call


def test_each_command_is_known_to_these_tests():
    assert set(PRESENT) <= set(COMMANDS)
    assert {"open", "review", "draw", "rules", "schema", "new"} <= set(PRESENT)


@pytest.mark.parametrize("command", PRESENT)
def test_help_ends_well(run, command):
    done = run(command, "--help")
    assert (done.code, done.err) == (0, "")
    assert command in done.out


@pytest.mark.parametrize("command", PRESENT)
def test_an_unknown_option_is_a_mistake_of_usage(run, command):
    done = run(command, "--no-such-option\x1b[31m")
    assert (done.code, done.out) == (2, "")
    assert done.err.startswith("usage: ")
    assert "\x1b" not in done.err


@pytest.mark.parametrize(
    "arguments", [["fly"], ["--fly"], ["review"], ["review", "--fail-on", "x"]]
)
def test_wrong_usage_ends_with_2(run, arguments):
    done = run(*arguments)
    assert (done.code, done.out) == (2, "")
    assert "usage: " in done.err


def test_the_version_is_said(run):
    assert re.fullmatch(r"siteplan \d+\.\d+\.\d+\n", run("--version").out)


@pytest.mark.parametrize("command", TAKES_PLAN)
def test_what_is_no_plan_ends_with_3_and_writes_nothing(run, tmp_path, command):
    broken = tmp_path / "broken.siteplan"
    broken.write_text('{"format": "siteplan", "version": 1, "title": 3}')
    done = run(*call(command, broken, tmp_path / "out"))
    assert (done.code, done.out) == (3, "")
    assert done.err == (f"siteplan: {broken}: title: input should be a valid string; found 3\n")
    assert list(tmp_path.iterdir()) == [broken]


@pytest.mark.parametrize("command", TAKES_PLAN)
def test_a_newer_plan_ends_with_3(run, tmp_path, command):
    newer = tmp_path / "newer.siteplan"
    newer.write_text('{"format": "siteplan", "version": 99}')
    done = run(*call(command, newer, tmp_path / "out"))
    assert (done.code, done.out) == (3, "")
    assert "format version 99" in done.err


@pytest.mark.parametrize("command", TAKES_PLAN)
def test_what_cannot_be_read_ends_with_4(run, tmp_path, command):
    done = run(*call(command, tmp_path / "absent.siteplan", tmp_path / "out"))
    assert (done.code, done.out) == (4, "")
    assert done.err.count("\n") == 1
    assert "No such file" in done.err


@pytest.mark.parametrize("command", TAKES_PLAN)
def test_a_plan_comes_by_standard_input_too(run, stdin, tmp_path, command):
    named = run(*call(command, GOOD, tmp_path / "named"))
    stdin(sample("good-placement.siteplan").read_bytes())
    piped = run(*call(command, "-", tmp_path / "piped"))
    assert named.code == piped.code == 0
    assert named.out.replace(GOOD, "-") == piped.out
    assert len(list(tmp_path.iterdir())) == (2 if command in WRITES else 0)


def test_closed_standard_input_ends_with_4(run, monkeypatch):
    monkeypatch.setattr(sys, "stdin", None)
    done = run("review", "-")
    assert (done.code, done.err) == (4, "siteplan: standard input: is closed\n")


@pytest.mark.parametrize("command", WRITES)
def test_no_file_is_overwritten_unasked(run, tmp_path, command):
    ending = re.search(r"\{out\}(\S+)", " ".join(COMMANDS[command]))[1]
    there = tmp_path / f"out{ending}"
    there.write_text("precious")
    arguments = call(command, GOOD, tmp_path / "out")
    done = run(*arguments)
    assert done.code == 2
    assert done.err == f"siteplan: {there} is there already; --force overwrites it\n"
    assert there.read_text() == "precious"
    assert run(*arguments, "--force").code == 0
    assert there.read_bytes() != b"precious"


@pytest.mark.parametrize("command", WRITES)
@pytest.mark.parametrize("where", ["no/such/folder/out", "x" * 300])
def test_what_cannot_be_written_ends_with_4(run, tmp_path, command, where):
    done = run(*call(command, GOOD, tmp_path / where))
    assert (done.code, done.out) == (4, "")
    assert "cannot be written" in done.err
    assert list(tmp_path.iterdir()) == []


FAULTS = [
    RuntimeError("a\x1b[31mb\nc"),
    ZeroDivisionError("float division by zero"),
    MemoryError(),
    RecursionError("too deep"),
    AssertionError(),
    KeyError("x"),
    UnicodeDecodeError("utf-8", b"\xff", 0, 1, "invalid start byte"),
]


@pytest.mark.parametrize("fault", FAULTS, ids=lambda one: type(one).__name__)
@pytest.mark.parametrize("where", ["siteplan.rules.review", "siteplan.plan.store.parse"])
def test_an_inner_fault_ends_with_5_in_one_line(run, monkeypatch, fault, where):
    def _fail(*_arguments, **_named):
        raise fault

    monkeypatch.setattr(where, _fail)
    done = run("review", GOOD)
    assert done.code == 5
    assert done.err.startswith(f"siteplan: internal error ({type(fault).__name__}: ")
    assert done.err.count("\n") == 1
    assert done.err.rstrip("\n").isprintable()


def test_an_interrupt_ends_with_130(run, monkeypatch):
    def _interrupt(_plan):
        raise KeyboardInterrupt

    monkeypatch.setattr("siteplan.rules.review", _interrupt)
    assert run("review", GOOD).code == 130


@pytest.mark.parametrize(
    ("error", "code"),
    [
        (FileAccessError("p", "cannot be read"), 4),
        (BrokenFileError("p", "is broken"), 3),
        (NewerFormatError("p", "is newer"), 3),
        (MissingAssetError("a file is missing"), 5),
        (RuleBookError("no figure"), 5),
        (UnknownSourceError("no work"), 5),
        (EditError("no such placement"), 2),
        (OutOfRangeError("resolution", 1, 2, 3), 2),
    ],
)
def test_each_kind_of_error_has_its_exit_code(run, monkeypatch, error, code):
    def _fail(_plan):
        raise error

    monkeypatch.setattr("siteplan.rules.review", _fail)
    done = run("review", GOOD)
    assert (done.code, done.err) == (code, f"siteplan: {error}\n")


def test_exit_codes_are_the_agreed_ones():
    agreed = (codes.DONE, codes.FINDINGS, codes.USAGE, codes.NOT_A_PLAN, codes.NO_ACCESS)
    assert (*agreed, codes.INTERNAL, codes.INTERRUPTED) == (0, 1, 2, 3, 4, 5, 130)
