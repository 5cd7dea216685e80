"""Tables as CSV, read by the standard reader."""

import csv
import io

import pytest

from siteplan.assets import sample
from siteplan.paper import columns
from siteplan.paper.documents import about
from siteplan.plan.document import Plan
from siteplan.plan.edits import changed
from siteplan.plan.store import load
from siteplan.words import Manner
from tests.helpers.papers import HOUSE, YARD, full_plan


def read(text):
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


@pytest.mark.parametrize("name", ["bad-placement", "good-placement", "narrow-lot"])
def test_the_table_holds_every_outcome_of_the_review(name):
    subject = about(load(sample(f"{name}.siteplan")), Manner())
    rows = read(columns.findings(subject))
    review = subject.review
    assert [row["outcome"] for row in rows] == (
        ["finding"] * len(review.findings) + ["met"] * len(review.met)
        + ["not judged"] * len(review.unjudged)
    )  # fmt: skip
    for row, one in zip(rows, review.findings, strict=False):
        assert (row["signal"], row["rule"]) == (one.signal, one.rule)
        assert row["what"] == one.what.say(Manner())
        for column in ("measured", "limit", "margin"):
            value = getattr(one, column)
            shown = float(row[column]) if row[column] else None
            assert shown == (None if value is None else pytest.approx(value.value, abs=1e-4))
            if value is not None and value.side != "near":
                over = 1.0 if value.side == "up" else -1.0
                assert over * (shown - value.value) >= -1e-9


def test_distances_are_drawn_and_counted():
    plan = full_plan()
    rows = {row["subject"]: row for row in read(columns.distances(about(plan)))}
    # By hand: the machine is 0.7 m long, its middle 11 m from the wall at y = 7.
    assert float(rows["house"]["drawn_m"]) == pytest.approx(18.0 - 0.35 - 7.0)
    assert float(rows["house"]["counted_m"]) == pytest.approx(18.0 - 0.35 - 7.0 - 0.10)
    assert rows["door"]["counts"] == "yes"


def test_a_distance_under_a_limit_does_not_reach_it_by_rounding():
    # 20 ft are 6.096 m; drawn as far off less 0.04 mm.
    yard = changed(YARD, at=(YARD.at[0], 7.0 + 6.09596 + 0.1 + 0.35), cords=())
    subject = about(full_plan(placements=(yard,), overrides=()))
    (row,) = [one for one in read(columns.distances(subject)) if one["subject"] == "house"]
    assert float(row["counted_m"]) == 6.0959
    (said,) = [one for one in read(columns.findings(subject)) if one["subjects"] == "house"
               and one["rule"] == "separation-building"]  # fmt: skip
    assert (said["signal"], said["measured"], said["margin"]) == ("WARNING", "6.0959", "-0.0001")


def test_without_a_machine_distances_are_empty_and_not_zero():
    rows = read(columns.distances(about(Plan(buildings=(HOUSE,)))))
    assert (rows[0]["drawn_m"], rows[0]["counted_m"]) == ("", "")


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-1", "@SUM(A1)", " =1", "\t=1", "\r\n=1", "\u200b=1"]
)
def test_formulas_are_text(text):
    assert str(columns.inert(text)).startswith("'")
    house = changed(HOUSE, name=text)
    rows = read(columns.distances(about(full_plan(buildings=(house,)))))
    assert not any(row["name"].startswith(("=", "+", "-", "@")) for row in rows)


def test_own_numbers_stay_numbers():
    assert columns.inert(-1.23456) == -1.2346
    assert columns.inert(float("nan")) == ""
    assert columns.inert(None) == ""


def test_quotes_and_breaks_do_not_leave_their_cell():
    house = changed(HOUSE, name='a,"b"\r\nc;d')
    rows = read(columns.distances(about(full_plan(buildings=(house,)))))
    assert {row["name"] for row in rows} == {'a,"b" c;d', "Kitchen door"}


def test_parts_hold_what_was_entered():
    rows = read(columns.parts(about(full_plan(), Manner())))
    by_part = {row["part"]: row for row in rows}
    assert float(by_part["Cord marked for outdoor use: Feed cord"]["length_m"]) == 15.24
    assert by_part["Power inlet with weather cover"]["size"] == "L14-30, 30.0 A"
    assert float(by_part["Feeder cable, inlet to panel"]["length_m"]) == 9.0
