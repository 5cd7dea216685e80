"""The rule book and the rules that follow it: one to one, cited, explained and tested."""

import ast
import tomllib
from pathlib import Path

import pytest

from siteplan.rules import review
from siteplan.rules.book import Rule, RuleBookError, book, figure_value, rule
from siteplan.rules.findings import SIGNALS
from siteplan.rules.review import OF_THE_PLACE, OF_THE_PLAN, OF_THE_WHOLE
from siteplan.sources import work
from siteplan.words import Quantity
from tests.helpers.builders import lot, make_plan, standing

TESTS = Path(__file__).resolve().parents[1]
UNITS = (
    "_m", "_deg", "_l", "_share", "_sides", "_heights", "_db", "_dba", "_a", "_awg", "_count",
    "_g_per_h", "_h", "_m3", "_kw", "_rpm",
)  # fmt: skip


def _named_in_tests() -> set[str]:
    """Return every text that stands in a test of this folder, rule ids among them."""
    found = set()
    for path in sorted(TESTS.rglob("test_*.py")):
        if path.name in {"test_book.py", "test_zoo.py"}:
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                found.add(node.value)
    return found


def test_every_rule_of_the_book_has_a_function_and_the_other_way_round():
    assert set(book()) == set(OF_THE_PLAN) | set(OF_THE_PLACE) | set(OF_THE_WHOLE)
    assert not set(OF_THE_PLAN) & set(OF_THE_PLACE)


def test_every_rule_is_tested_by_its_name():
    assert set(book()) <= _named_in_tests()


@pytest.mark.parametrize("one", book().values(), ids=lambda one: one.id)
def test_every_rule_is_titled_explained_and_cited(one):
    assert one.title
    assert one.group
    assert one.explain.endswith(".")
    assert len(one.explain) > 30
    assert one.sources
    assert len(set(one.sources)) == len(one.sources)
    for source in one.sources:
        assert work(source).known


@pytest.mark.parametrize("one", book().values(), ids=lambda one: one.id)
def test_every_figure_has_its_unit_and_sense(one):
    for name, value in one.figures.items():
        assert name.endswith(UNITS), name
        assert value > 0.0


@pytest.mark.parametrize("one", book().values(), ids=lambda one: one.id)
def test_a_worse_word_never_reaches_farther(one):
    rungs = [
        one.figures[f"{word.lower()}_m"] for word in SIGNALS if f"{word.lower()}_m" in one.figures
    ]
    assert rungs == sorted(rungs)


def test_every_source_of_the_siting_list_is_cited_by_a_rule():
    text = (TESTS.parent / "resources/sources/siting.toml").read_text(encoding="utf-8")
    listed = {row["id"] for row in tomllib.loads(text)["source"]}
    cited = {source for one in book().values() for source in one.sources}
    assert listed <= cited


def test_unknown_names_are_said_so():
    with pytest.raises(RuleBookError, match="no rule 'no-such-rule'"):
        rule("no-such-rule")
    with pytest.raises(RuleBookError, match="'indoors' has no figure 'danger_m'"):
        rule("indoors").figure("danger_m")


def test_a_lot_with_nothing_but_a_generator_says_what_could_not_be_judged():
    said = review(make_plan(lot(), standing(30.0, 30.0), accuracy=None))
    assert not said.findings
    open_ = {one.rule for one in said.unjudged}
    assert open_ >= {
        "drawing-accuracy",
        "separation-opening",
        "separation-building",
        "separation-intake",
        "indoors",
        "exhaust-direction",
        "walled-in",
        "horizon-blocked",
        "clear-air",
        "gas-regulator",
        "co-alarms",
        "extinguisher",
        "fuel-store-distance",
    }
    # What is met rests on the lot, the placement's own answers, and nothing else.
    assert {one.rule for one in said.met} == {
        "cover",
        "ground-surface",
        "level-and-dry",
        "on-the-lot",
        "lot-set-back",
        "neighbours-drawn",
    }
    for one in said.unjudged:
        assert one.missing.say()


def test_every_rule_says_something_of_every_plan_with_a_machine():
    said = review(make_plan(standing()))
    spoken = {one.rule for one in (*said.findings, *said.met, *said.unjudged)}
    # A plan without a local figure has nothing to say on one.
    assert set(book()) - spoken == {"local-figure"}


def test_a_rule_holds_what_its_row_says():
    one = rule("tent")
    assert one == Rule(
        id="tent",
        title="Tents and membrane structures",
        group="Boundary and ways",
        explain=one.explain,
        sources=("ifc-2018-3103",),
        figures={"warning_m": 6.096},
        may_be_none=True,
    )


@pytest.mark.parametrize(
    ("name", "value", "expected"),
    [
        ("danger_m", 3.048, Quantity(3.048, "length", "near")),
        ("away_deg", 90.0, Quantity(90.0, "angle", "near")),
        ("gasoline_l", 38.0, Quantity(38.0, "volume", "down")),
        ("warning_share", 0.25, Quantity(25.0, "percent", "near")),
        ("household_a", 20.0, Quantity(20.0, "current", "near")),
        ("danger_sides", 3.0, "3"),
    ],
)
def test_a_figure_is_told_in_the_unit_that_its_name_ends_in(name, value, expected):
    assert figure_value(name, value) == expected
