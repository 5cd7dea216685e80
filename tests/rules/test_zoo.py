"""Reviews of awkward lots: every sentence can be said, every figure is finite."""

import json
import math

import pytest

from siteplan.plan import Plan, store
from siteplan.rules import review
from siteplan.rules.findings import Finding, Unjudged, as_tree, severity
from siteplan.sources import work
from siteplan.words import Manner
from tests.helpers.judging import look_over
from tests.helpers.zoo import zoo

MANNERS = [Manner(language, system) for language in ("en", "es") for system in ("feet", "metres")]


@pytest.mark.parametrize("name", zoo())
def test_every_outcome_can_be_said_and_written(name):
    said = review(zoo()[name])
    for one in (*said.findings, *said.met, *said.unjudged):
        for manner in MANNERS:
            tree = as_tree(one, manner)
            assert json.loads(json.dumps(tree, allow_nan=False)) == tree
            texts = [tree["missing"]] if isinstance(one, Unjudged) else [tree["what"]]
            if isinstance(one, Finding):
                texts.append(tree["do"])
                assert tree["signal"] in {"DANGER", "WARNING", "CAUTION", "NOTICE"}
            for text in texts:
                assert "{" not in text
                assert "None" not in text
                assert "nan" not in text.split()
            if not isinstance(one, Unjudged):
                assert texts[0].endswith(".")
                assert [work(source) for source in one.sources]


@pytest.mark.parametrize("name", zoo())
def test_what_must_hold_of_every_outcome(name):
    plan = zoo()[name]
    said = review(plan)
    for one in (*said.findings, *said.met, *said.unjudged):
        look_over(plan, one)


@pytest.mark.parametrize("name", zoo())
def test_findings_come_worst_first_and_then_by_margin(name):
    said = review(zoo()[name])
    levels = [severity(one.signal) for one in said.findings]
    assert levels == sorted(levels, reverse=True)
    for word in ("DANGER", "WARNING", "CAUTION", "NOTICE"):
        ranked = [
            (one.rule not in ("indoors", "under-roof"), one.margin.value if one.margin else 0.0)
            for one in said.findings
            if one.signal == word
        ]
        # What stands roofed comes first: no distance mends it.
        assert ranked == sorted(ranked)
        margins = [margin for _, margin in ranked]
        assert all(math.isfinite(margin) for margin in margins)


@pytest.mark.parametrize("name", zoo())
def test_margin_is_measured_less_limit_for_distances(name):
    said = review(zoo()[name])
    for one in (*said.findings, *said.met):
        if one.margin is not None and one.margin.kind == "length":
            assert one.margin.value == pytest.approx(one.measured.value - one.limit.value)


@pytest.mark.parametrize("name", zoo())
def test_a_review_survives_saving_and_loading(name):
    plan = zoo()[name]
    again = store.parse(store.dump(plan).encode())
    assert isinstance(again, Plan)
    assert review(again) == review(plan)


@pytest.mark.parametrize(
    ("name", "worst"),
    [
        ("machine-in-the-house", "DANGER"),
        ("machine-through-a-wall", "DANGER"),
        ("courtyard", "DANGER"),
        ("inside-corner", "DANGER"),
        ("row-houses", "DANGER"),
        ("everything-at-one-place", "DANGER"),
        ("machine-off-the-lot", "WARNING"),
        ("short-local-figure", "DANGER"),
        ("long-local-figure", "WARNING"),
        ("empty", None),
        ("only-a-lot", None),
        ("placement-without-machine", None),
    ],
)
def test_worst_of_the_zoo(name, worst):
    assert review(zoo()[name]).worst == worst


def test_the_word_safe_is_never_said():
    for plan in zoo().values():
        said = review(plan)
        for one in (*said.findings, *said.met, *said.unjudged):
            text = one.missing.say() if isinstance(one, Unjudged) else one.what.say()
            assert "safe" not in text.lower()
