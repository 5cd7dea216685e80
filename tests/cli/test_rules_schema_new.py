"""The commands about no plan yet: rules, schema, new; and open where there is no display."""

import contextlib
import io
import json
import re
from pathlib import Path

import jsonschema
import pytest

from siteplan.assets import sample
from siteplan.cli import main
from siteplan.cli import open as opening
from siteplan.plan import load, store
from siteplan.plan.errors import (
    PlanFileError,
)
from siteplan.rules.book import book
from siteplan.rules.figure_titles import FIGURE_TITLES
from tests.helpers.commands import BAD, GOOD, NARROW


def test_every_rule_is_listed_and_can_be_shown(run):
    listed = run("rules")
    assert (listed.code, listed.err) == (0, "")
    for rule_id, rule in book().items():
        assert re.search(rf"^  {rule_id} +\S", listed.out, re.MULTILINE)
        shown = run("rules", rule_id)
        assert (shown.code, shown.err) == (0, "")
        for name in rule.figures:
            assert f"  {FIGURE_TITLES[name]}: " in shown.out
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
