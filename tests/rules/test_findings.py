"""Outcomes as plain data, their order, and their severity."""

import pytest

from siteplan.rules.findings import (
    SUFFIX,
    Evidence,
    Finding,
    Met,
    Review,
    Unjudged,
    as_tree,
    figures,
    gather,
    severity,
)
from siteplan.words import Manner, Quantity, Text, length

METRES = Manner("en", "metres")
SPANISH = Manner("es", "feet")


def finding(signal="WARNING", rule="tent", margin=None, subjects=("it",), **fields):
    return Finding(
        rule=rule,
        signal=signal,
        subjects=subjects,
        what=Text("no tent is drawn"),
        do=Text("no pool is drawn"),
        sources=("cpsc-2022",),
        margin=None if margin is None else length(margin),
        **fields,
    )


def test_a_finding_as_plain_data():
    one = Finding(
        rule="tent",
        signal="WARNING",
        subjects=("a", "b"),
        what=Text("at {d}", {"d": length(1.0)}),
        do=Text("to {d}", {"d": length(2.0)}),
        sources=("s", "t"),
        measured=length(1.23456789),
        limit=length(2.0, "up"),
        margin=length(-0.5),
        evidence=(Evidence("line", ((0.0, 1.0), (2.0, 3.0))),),
    )
    assert as_tree(one, METRES) == {
        "rule": "tent",
        "subjects": ["a", "b"],
        "measured_m": 1.234568,
        "limit_m": 2.0,
        "margin_m": -0.5,
        "sources": ["s", "t"],
        "what": "at 1.00 m",
        "evidence": [{"shape": "line", "points_m": [[0.0, 1.0], [2.0, 3.0]]}],
        "signal": "WARNING",
        "do": "to 2.00 m",
    }


def test_what_is_met_as_plain_data():
    one = Met("tent", ("a",), Text("no tent is drawn"), ("s",), checked=3)
    assert as_tree(one, SPANISH) == {
        "rule": "tent",
        "subjects": ["a"],
        "sources": ["s"],
        "what": "no hay carpa dibujada",
        "evidence": [],
        "checked": 3,
    }


@pytest.mark.parametrize("not_drawn", [False, True])
def test_what_is_not_judged_as_plain_data(not_drawn):
    one = Unjudged("tent", ("a",), Text("no tent is drawn"), not_drawn=not_drawn)
    assert as_tree(one, SPANISH) == {
        "rule": "tent",
        "subjects": ["a"],
        "missing": "no hay carpa dibujada",
        "not_drawn": not_drawn,
    }
    at = Unjudged("tent", (), Text("at {d}", {"d": length(1.0)}))
    assert as_tree(at, METRES)["missing"] == "at 1.00 m"


@pytest.mark.parametrize(("kind", "suffix"), SUFFIX.items())
def test_figures_carry_their_unit(kind, suffix):
    one = Met("tent", (), Text("no tent is drawn"), (), measured=Quantity(1.5, kind))
    assert figures(one) == {f"measured_{suffix}": 1.5}


def test_severity_runs_from_none_to_danger():
    words = [None, "NOTICE", "CAUTION", "WARNING", "DANGER"]
    assert [severity(word) for word in words] == [0, 1, 2, 3, 4]


@pytest.mark.parametrize("rule", ["indoors", "under-roof"])
def test_a_roofed_machine_comes_first_among_dangers_but_after_no_worse_word(rule):
    roofed = finding("DANGER", rule)
    near = finding("DANGER", "separation-opening", margin=-5.0)
    assert gather([near, roofed]).findings == (roofed, near)
    mild = finding("CAUTION", rule)
    assert gather([mild, near]).findings == (near, mild)


def test_a_review_is_ordered_worst_first_then_by_margin_rule_and_subject():
    expected = [
        finding("DANGER", margin=-1.0),
        finding("WARNING", margin=-2.0),
        finding("WARNING", margin=-1.0, rule="brush"),
        finding("WARNING", margin=-1.0, rule="tent", subjects=("a",)),
        finding("WARNING", margin=-1.0, rule="tent", subjects=("b",)),
        finding("WARNING", rule="pool"),
        finding("WARNING", margin=0.5, rule="brush"),
        finding("WARNING", margin=1.0),
        finding("CAUTION", margin=-9.0),
        finding("NOTICE"),
    ]
    assert gather(list(reversed(expected))).findings == tuple(expected)


def test_a_review_keeps_its_sorts_apart():
    one = finding("CAUTION")
    met = Met("tent", (), Text("no tent is drawn"), ())
    unknown = Unjudged("tent", (), Text("no tent is drawn"))
    said = gather([unknown, met, one])
    assert (said.findings, said.met, said.unjudged) == ((one,), (met,), (unknown,))
    assert said.worst == "CAUTION"
    assert Review().worst is None
