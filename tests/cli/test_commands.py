"""The command line: exit codes, what goes to which stream, and never a traceback."""

import argparse
import ast
import contextlib
import io
import json
import re
import sys
import types
from pathlib import Path

import jsonschema
import pytest

from siteplan.assets import resource, sample
from siteplan.cli import codes, main, terminal
from siteplan.cli import open as opening
from siteplan.desk import preflight
from siteplan.errors import MissingAssetError, OutOfRangeError
from siteplan.plan import load, store
from siteplan.plan.errors import (
    BrokenFileError,
    EditError,
    FileAccessError,
    NewerFormatError,
    PlanFileError,
)
from siteplan.rules.book import RuleBookError, book
from siteplan.rules.findings import Finding, Review
from siteplan.sources import UnknownSourceError
from siteplan.words import Text
from tests.helpers.strings import ROOT, in_tree, sentences

BAD = str(sample("bad-placement.siteplan"))
GOOD = str(sample("good-placement.siteplan"))
NARROW = str(sample("narrow-lot.siteplan"))
# How each command is called; {plan} is a plan file and {out} a file without its ending.
COMMANDS = {
    "open": ["{plan}"],
    "review": ["{plan}"],
    "night": ["{plan}"],
    "air": ["{plan}"],
    "power": ["{plan}"],
    "spots": ["{plan}"],
    "paper": ["{plan}", "--for", "household", "-o", "{out}.pdf"],
    "draw": ["{plan}", "-o", "{out}.svg"],
    "export": ["{plan}", "-o", "{out}.csv"],
    "bring": ["{plan}", "-o", "{out}.siteplan"],
    "rules": [],
    "schema": [],
    "new": ["-o", "{out}.siteplan"],
}


def _subparsers():
    parser = main._parser([])
    actions = [one for one in parser._actions if isinstance(one, argparse._SubParsersAction)]
    return actions[0].choices


PRESENT = sorted(_subparsers())
TAKES_PLAN = [
    one for one in PRESENT if "{plan}" in COMMANDS.get(one, ()) and one not in {"bring", "open"}
]
WRITES = [one for one in PRESENT if "-o" in COMMANDS.get(one, ()) and one != "bring"]


def call(command, plan="", out=""):
    return [command, *(part.format(plan=plan, out=out) for part in COMMANDS[command])]


@pytest.fixture(autouse=True)
def _no_window(monkeypatch):
    monkeypatch.setattr(preflight, "why_no_window", lambda: "no window in this test")


@pytest.fixture
def run(capsys):
    """Run the command line and give its exit code, its output and its complaints."""

    def _run(*arguments):
        code = main.main(list(arguments))
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return types.SimpleNamespace(code=code, out=said.out, err=said.err)

    return _run


@pytest.fixture
def stdin(monkeypatch):
    def _give(raw):
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8"))

    return _give


# Every command.


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


# Review.


@pytest.mark.parametrize(
    ("plan", "code", "worst"), [(BAD, 1, "DANGER"), (GOOD, 0, "CAUTION"), (NARROW, 1, "DANGER")]
)
def test_the_samples_end_as_they_should(run, plan, code, worst):
    done = run("review", plan)
    assert (done.code, done.err) == (code, "")
    as_json = run("review", plan, "--json")
    assert as_json.code == code
    assert json.loads(as_json.out)["worst"] == worst
    assert ("DANGER" in done.out) == (worst == "DANGER")


def test_the_good_sample_says_what_was_met(run):
    out = " ".join(run("review", GOOD).out.split())
    assert re.search(r"Met \(\d+\)", out)
    assert "[separation-opening]" in out
    assert "no distance rules it out" in out
    assert "working CO alarms are needed" in out


def test_what_is_missing_is_said_as_not_judged(run, tmp_path):
    file = tmp_path / "p.siteplan"
    store.save(load(GOOD).model_copy(update={"accuracy": None}), file)
    out = " ".join(run("review", str(file)).out.split())
    assert "Not judged, because this is missing ? how the lot was measured" in out


FINDING_KEYS = {"rule", "signal", "subjects", "what", "do", "sources", "evidence"}
MET_KEYS = {"rule", "subjects", "what", "sources", "checked", "evidence"}
FIGURES = re.compile(
    r"(measured|limit|margin)"
    r"_(m|deg|share|a|w|v|l|l_per_h|dba|s|ppm|percent|count|c)"
)


@pytest.mark.parametrize("plan", [BAD, GOOD, NARROW])
def test_json_is_one_object_with_the_agreed_keys(run, plan):
    tree = json.loads(run("review", plan, "--json").out)
    assert {"review_format", "plan", "worst", "findings", "met", "unjudged"} <= set(tree)
    assert tree["review_format"] == 1
    assert tree["plan"]["file"] == plan
    for finding in tree["findings"]:
        assert set(finding) >= FINDING_KEYS
        assert all(FIGURES.fullmatch(key) for key in set(finding) - FINDING_KEYS)
        assert finding["signal"] in {"DANGER", "WARNING", "CAUTION", "NOTICE"}
        assert finding["sources"]
    for met in tree["met"]:
        assert set(met) >= MET_KEYS
        assert all(FIGURES.fullmatch(key) for key in set(met) - MET_KEYS)
    for unjudged in tree["unjudged"]:
        assert set(unjudged) >= {"rule", "subjects", "missing"}
    if tree["findings"]:
        assert tree["worst"] == tree["findings"][0]["signal"]


def test_margin_is_measured_less_limit_in_json(run):
    tree = json.loads(run("review", BAD, "--json").out)
    with_metres = [one for one in tree["findings"] if "margin_m" in one]
    assert with_metres
    for one in with_metres:
        difference = one["measured_m"] - one["limit_m"]
        assert one["margin_m"] == pytest.approx(difference, abs=2e-6)
        assert difference < 0


def test_findings_come_worst_first(run):
    order = ["DANGER", "WARNING", "CAUTION", "NOTICE"]
    tree = json.loads(run("review", BAD, "--json").out)
    ranks = [order.index(one["signal"]) for one in tree["findings"]]
    assert ranks == sorted(ranks)
    assert len(set(ranks)) > 1


@pytest.mark.parametrize("worst", ["DANGER", "WARNING", "CAUTION", "NOTICE"])
@pytest.mark.parametrize("asked", ["DANGER", "WARNING", "CAUTION", "NOTICE"])
def test_fail_on_draws_the_line(run, monkeypatch, worst, asked):
    one = Finding("indoors", worst, (), Text("What."), Text("Do."), ("cpsc-2022",))
    monkeypatch.setattr("siteplan.rules.review", lambda _plan: Review((one,)))
    order = ["NOTICE", "CAUTION", "WARNING", "DANGER"]
    reached = order.index(worst) >= order.index(asked)
    assert run("review", GOOD, "--fail-on", asked).code == int(reached)


@pytest.mark.parametrize(("worst", "code"), [("DANGER", 1), ("WARNING", 1), ("CAUTION", 0)])
def test_without_fail_on_a_warning_fails(run, monkeypatch, worst, code):
    one = Finding("indoors", worst, (), Text("What."), Text("Do."), ("cpsc-2022",))
    monkeypatch.setattr("siteplan.rules.review", lambda _plan: Review((one,)))
    assert run("review", GOOD).code == code


def test_no_finding_passes_at_any_line(run, monkeypatch):
    monkeypatch.setattr("siteplan.rules.review", lambda _plan: Review())
    assert run("review", GOOD, "--fail-on", "NOTICE").code == 0


def test_several_plans_give_several_reviews_and_the_worst_code(run):
    done = run("review", GOOD, BAD)
    assert done.code == 1
    assert done.out.index(GOOD) < done.out.index(BAD)
    tree = json.loads(run("review", GOOD, BAD, "--json").out)
    assert tree["review_format"] == 1
    assert [one["plan"]["file"] for one in tree["reviews"]] == [GOOD, BAD]
    assert run("review", GOOD, GOOD).code == 0


def test_one_broken_plan_among_several_is_said_before_any_review(run, tmp_path):
    broken = tmp_path / "b.siteplan"
    broken.write_text("{")
    done = run("review", GOOD, str(broken))
    assert (done.code, done.out) == (3, "")


def test_another_placement_can_be_judged(run, tmp_path):
    plan = load(GOOD)
    other = plan.placement.model_copy(update={"id": "in-the-house", "at": (12.0, 12.0)})
    file = tmp_path / "two.siteplan"
    store.save(plan.model_copy(update={"placements": (*plan.placements, other)}), file)
    assert run("review", str(file)).code == 0
    done = run("review", str(file), "--placement", "in-the-house", "--json")
    assert done.code == 1
    assert json.loads(done.out)["plan"]["placement"] == "in-the-house"
    assert "indoors" in {one["rule"] for one in json.loads(done.out)["findings"]}
    done = run("review", str(file), "--placement", "in-the-hous")
    assert (done.code, done.out) == (2, "")
    assert "did you mean in-the-house?" in done.err


def test_units_and_language_are_the_readers(run):
    feet, metres = run("review", BAD).out, run("review", BAD, "--units", "metres").out
    assert re.search(r"\d+' \d+\"", feet)
    assert re.search(r"\d+\.\d\d m\b", metres)
    assert not re.search(r"\d+' \d+\"", metres)


def test_a_review_in_spanish_holds_no_english_of_the_programs_own(run):
    done = run("review", BAD, "--language", "es")
    assert done.code == 1
    out = " ".join(done.out.split())
    for spanish in ("PELIGRO", "ADVERTENCIA", "PRECAUCIÓN", "Se cumple", "alarmas de CO"):
        assert spanish in out
    for english in ("DANGER", "The generator", "Met (", "Not judged", "is needed", "read in the"):
        assert english not in out
    # Lines stay in their column beside the longest signal word.
    assert max(len(line) for line in done.out.splitlines()[1:]) <= 100


def test_every_sentence_of_the_core_is_in_the_spanish_catalogue():
    known = json.loads(resource("translations/es.json").read_text(encoding="utf-8"))
    wanted = sentences()
    missing = set()
    for folder in ("cli", "sources", "rules", "scene", "suggest", "power", "air", "sound"):
        for path in (ROOT / "siteplan" / folder).rglob("*.py"):
            said = in_tree(ast.parse(path.read_text(encoding="utf-8")))
            missing |= {one for one in said if one in wanted and one not in known}
    assert missing == set()


HOSTILE = "\x1b[2J\x1b]0;x\x07\u202e\u2066{0}{name}%s\x9b31m\r\n\u2028<b>"


def _hostile_plan():
    plan = load(BAD)
    named = {"name": HOSTILE}
    return plan.model_copy(
        update={
            "title": HOSTILE,
            "note": HOSTILE,
            "buildings": tuple(one.model_copy(update=named) for one in plan.buildings),
            "openings": tuple(one.model_copy(update=named) for one in plan.openings),
            "placements": tuple(one.model_copy(update=named) for one in plan.placements),
        }
    )


@pytest.mark.parametrize("command", [one for one in TAKES_PLAN if one not in WRITES])
@pytest.mark.parametrize("options", [(), ("--json",)])
def test_hostile_names_do_nothing_to_the_terminal(run, tmp_path, command, options):
    file = tmp_path / "evil\x1b[31m.siteplan"
    store.save(_hostile_plan(), file)
    done = run(*call(command, str(file)), *options)
    for line in (done.out + done.err).splitlines():
        assert line.isprintable()
    if not options:
        assert "{0}{name}%s" in done.out
    else:
        assert isinstance(json.loads(done.out), dict)


def test_a_hostile_name_of_a_broken_file_does_nothing_to_the_terminal(run, tmp_path):
    file = tmp_path / "evil\x1b[31m\n.siteplan"
    file.write_text('{"format":"siteplan","version":1,"\\u001b[31m":1}')
    done = run("review", str(file))
    assert done.code == 3
    assert done.err.rstrip("\n").isprintable()
    done = run("review", str(tmp_path / "gone\x1b[31m"))
    assert done.code == 4
    assert done.err.rstrip("\n").isprintable()


# Rules, schema, new, open.


def test_every_rule_is_listed_and_can_be_shown(run):
    listed = run("rules")
    assert (listed.code, listed.err) == (0, "")
    for rule_id, rule in book().items():
        assert re.search(rf"^  {rule_id} +\S", listed.out, re.MULTILINE)
        shown = run("rules", rule_id)
        assert (shown.code, shown.err) == (0, "")
        for name in rule.figures:
            assert name in shown.out
        assert shown.out.count("\n    - ") + shown.out.count("\n  - ") >= len(rule.sources)


def test_an_unknown_rule_ends_with_2_and_offers_what_comes_near(run):
    done = run("rules", "seperation-opening")
    assert (done.code, done.out) == (2, "")
    assert done.err.startswith(
        "siteplan: there is no rule 'seperation-opening'; did you mean separation-opening"
    )


def test_an_unknown_rule_near_to_nothing_is_only_refused(run):
    done = run("rules", "\x1b[31mzzzzzz")
    assert (done.code, done.err) == (2, "siteplan: there is no rule '[31mzzzzzz'\n")


@pytest.fixture(scope="module")
def schema():
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        assert main.main(["schema"]) == 0
    tree = json.loads(said.getvalue())
    jsonschema.Draft202012Validator.check_schema(tree)
    return jsonschema.Draft202012Validator(tree)


def test_the_schema_takes_the_samples_and_an_empty_plan(schema):
    for file in (BAD, GOOD, NARROW):
        schema.validate(json.loads(Path(file).read_text(encoding="utf-8")))
    schema.validate({"format": "siteplan", "version": 1})


@pytest.mark.parametrize(
    "change",
    [
        {"title": 3},
        {"version": 2},
        {"format": "other"},
        {"nonsense": 1},
        {"north_deg": 360},
        {"north_deg": "0"},
        {"buildings": [{"id": "a", "outline": [[0, 0], [1, 0]]}]},
        {"buildings": [{"id": "A!", "outline": [[0, 0], [1, 0], [1, 1]]}]},
        {"openings": [{"id": "a", "building": "b", "wall": 0, "offset_m": 0, "width_m": 0}]},
        {"surroundings": [{"id": "a", "kind": "moat", "outline": [[0, 0], [1, 0], [1, 1]]}]},
        {"placements": [{"id": "a"}]},
        {"placements": [{"id": "a", "at": [0]}]},
        {"placements": [{"id": "a", "at": [0, 0, 0]}]},
    ],
)
def test_the_schema_and_the_store_refuse_the_same(schema, change):
    tree = {"format": "siteplan", "version": 1} | change
    assert not schema.is_valid(tree)
    with pytest.raises(PlanFileError):
        store.parse(json.dumps(tree).encode())


@pytest.mark.parametrize("missing", ["format", "version"])
def test_the_schema_asks_for_format_and_version(schema, missing):
    tree = {"format": "siteplan", "version": 1}
    del tree[missing]
    assert not schema.is_valid(tree)


def test_a_new_plan_can_be_read_and_reviewed(run, tmp_path):
    file = tmp_path / "new.siteplan"
    done = run("new", "-o", str(file), "--title", "My\x1b[31m lot")
    assert (done.code, done.out, done.err) == (0, "", "")
    assert load(file).title == "My[31m lot"
    out = " ".join(run("review", str(file)).out.split())
    assert "no generator stands on the plan yet" in out


def test_a_new_plan_with_a_title_of_any_length(run, tmp_path):
    assert run("new", "-o", str(tmp_path / "n"), "--title", "é\ud800" * 5000).code == 0
    assert len(load(tmp_path / "n").title) == 120


def test_without_a_display_open_prints_the_review_and_says_why(run):
    done = run("open", BAD)
    assert (done.code, done.err) == (0, "siteplan: no window in this test\n")
    assert done.out == run("review", BAD).out


def test_alone_without_a_display_it_prints_the_review_of_the_demo(run):
    done = run()
    assert (done.code, done.err) == (0, "siteplan: no window in this test\n")
    assert "DANGER" in done.out
    assert str(sample(opening.DEMO)) in done.out


@pytest.mark.parametrize(("raw", "code"), [(b"{", 3), (None, 4)])
def test_open_says_what_is_no_plan_before_any_window(run, tmp_path, raw, code):
    file = tmp_path / "p.siteplan"
    if raw is not None:
        file.write_bytes(raw)
    done = run("open", str(file))
    assert (done.code, done.out) == (code, "")
    assert str(file) in done.err


# The terminal.


class _Terminal(io.StringIO):
    encoding = "utf-8"

    def isatty(self):
        return True


def test_colour_shows_only_where_wanted(monkeypatch):
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    assert terminal.shows_colour(_Terminal())
    assert not terminal.shows_colour(io.StringIO())
    # no-color.org: any value but an empty one.
    monkeypatch.setenv("NO_COLOR", "")
    assert terminal.shows_colour(_Terminal())
    monkeypatch.setenv("NO_COLOR", "1")
    assert not terminal.shows_colour(_Terminal())
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setenv("TERM", "dumb")
    assert not terminal.shows_colour(_Terminal())


@pytest.mark.parametrize("signal", ["DANGER", "WARNING", "CAUTION", "NOTICE"])
def test_a_signal_is_word_and_symbol_and_where_it_shows_colour(monkeypatch, signal):
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    bare = terminal.panel(signal, io.StringIO(), signal)
    assert re.fullmatch(rf" [^\w\s] {signal} *", bare)
    coloured = terminal.panel(signal, _Terminal(), signal)
    assert re.sub(r"\x1b\[[\d;]*m", "", coloured) == bare
    assert coloured.endswith("\x1b[0m")
    assert len(set(terminal.SYMBOLS.values())) == 4


@pytest.mark.parametrize("columns", ["1", "40", "79", "100", "500"])
def test_lines_keep_to_the_width_between_40_and_100(monkeypatch, columns):
    monkeypatch.setenv("COLUMNS", columns)
    width = max(40, min(100, int(columns)))
    lines = terminal.wrap("word " * 200, "   ").splitlines()
    assert max(len(line) for line in lines) <= width
    assert all(line.startswith("   word") for line in lines)


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
