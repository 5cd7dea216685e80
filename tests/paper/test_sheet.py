"""Sheets: true scales, what is on them, and their furniture."""

import re

import pytest
from defusedxml import ElementTree

from siteplan.drawing.legend import entries
from siteplan.drawing.marks import Role, Stroke
from siteplan.drawing.style import look
from siteplan.paper import identity, scales
from siteplan.paper.sheet import A4_LANDSCAPE_MM, Wish, extent_m, plan_sheet
from siteplan.plan.document import Plan
from siteplan.plan.edits import changed
from siteplan.plan.lot import Accuracy, Building, Lot
from siteplan.rules import review
from siteplan.words import Manner
from tests.helpers.papers import HOUSE, full_plan

SVG = "{http://www.w3.org/2000/svg}"
METRES = Manner("en", "metres")


@pytest.mark.parametrize(
    ("name", "figure"),
    [("1:100", 100), ("1:96", 96), ('1/8"', 96), ("1/8in", 96), ("1/8 in = 1 ft", 96),
     ("1/4 in", 48), ("1 in = 20 ft", 240), ("1in=10ft", 120)],
)  # fmt: skip
def test_scales_are_known_by_the_names_of_the_trade(name, figure):
    # Exact: 12 in over 1/8 in is 96, over 1/4 in 48; 20 ft over 1 in is 240.
    assert scales.named(name).figure == figure


def test_an_unknown_scale_is_refused_with_what_is_known():
    with pytest.raises(scales.ScaleError, match="1:100"):
        scales.named("1:77")


@pytest.mark.parametrize(
    ("extent", "figure"), [(9.99, 50), (10.0, 50), (10.01, 100), (20.0, 100), (20.01, 200)]
)
def test_the_largest_scale_that_fits_is_taken(extent, figure):
    assert scales.best_fit((extent, 1.0), (200.0, 200.0), "metres").figure == figure


def test_what_fits_no_scale_is_refused():
    with pytest.raises(scales.ScaleError, match="fits no scale"):
        scales.best_fit((5000.0, 1.0), (200.0, 200.0), "metres")


def sheet(plan, **wish):
    return plan_sheet(plan, review(plan), METRES, Wish(size_mm=A4_LANDSCAPE_MM, **wish))


def texts(drawn):
    return [one.text for one in ElementTree.fromstring(drawn.svg).iter(f"{SVG}text")]


def test_a_sheet_says_its_scale_north_check_line_and_plan():
    plan = full_plan()
    said = " ".join(texts(sheet(plan)))
    wanted_texts = (
        "Scale 1:200",
        "N",
        "100 mm",
        "A lot to try papers on",
        "2026-11-20",
        "Measured with a tape: 0.10 m",
        identity.fingerprint(plan),
        "Generator",
    )
    for wanted in wanted_texts:
        assert wanted in said


def test_the_scale_bar_is_as_long_as_it_says():
    root = ElementTree.fromstring(sheet(full_plan()).svg)
    (group,) = [one for one in root.iter(f"{SVG}g") if one.get("id") == "sheet"]
    dark = next(
        one
        for one in group
        if one.tag == f"{SVG}path" and one.get("fill") == look("sheet-dark").fill
    )
    numbers = [float(one) for one in re.findall(r"-?[\d.]+", dark.get("d"))]
    # One field of 5 m at 1:200 is 25 mm.
    assert max(numbers[::2]) - min(numbers[::2]) == pytest.approx(25.0, abs=0.01)


def test_the_legend_explains_what_is_drawn_and_nothing_else():
    said = texts(sheet(full_plan()))
    assert "House wall, can burn" in said
    assert "Power inlet" in said
    assert "Pool" not in said
    assert "Neighbour's building" not in said


def test_a_short_legend_leaves_the_ground_out():
    said = texts(sheet(full_plan(), short_legend=True))
    assert {"Generator", "Exhaust direction", "Power inlet", "Cord", "Lot line"} <= set(said)
    assert not {"House wall, can burn", "Door"} & set(said)


def test_every_role_that_marks_a_plan_is_in_the_legend():
    roles: tuple[Role, ...] = ("lot-line", "fence", "hedge", "cord", "setout-line", "eave-line")
    marks = [Stroke(((0.0, 0.0), (1.0, 0.0)), role) for role in roles]
    assert {one.role for one in entries(marks)} == set(roles)


def test_a_wished_scale_is_kept_or_refused():
    assert sheet(full_plan(), scale=scales.named("1:500")).scale.figure == 500
    with pytest.raises(scales.ScaleError, match="does not fit"):
        sheet(full_plan(), scale=scales.named("1:50"))


def test_a_sheet_is_turned_only_if_that_makes_the_drawing_larger():
    tall = Plan(lot=Lot(outline=((0.0, 0.0), (10.0, 0.0), (10.0, 40.0), (0.0, 40.0))))
    flat = Plan(lot=Lot(outline=((0.0, 0.0), (40.0, 0.0), (40.0, 10.0), (0.0, 10.0))))
    assert sheet(tall, turnable=True).size_mm == A4_LANDSCAPE_MM[::-1]
    assert sheet(flat, turnable=True).size_mm == A4_LANDSCAPE_MM


def test_far_neighbours_do_not_shrink_the_lot():
    far = Building(id="far", owner="neighbour",
                   outline=((500.0, 0.0), (510.0, 0.0), (510.0, 10.0), (500.0, 10.0)))  # fmt: skip
    alone = extent_m(full_plan(), ())
    (low, high) = extent_m(full_plan(buildings=(HOUSE, far)), ())
    assert low == alone[0]
    assert high[0] - alone[1][0] <= 2.0


def test_north_is_turned_as_the_plan_says():
    drawn = sheet(changed(full_plan(), north_deg=30.0))
    assert "rotate(30)" in drawn.svg


def test_the_fingerprint_follows_the_content_and_not_the_layout_of_the_file():
    plan = full_plan()
    again = Plan.model_validate_json(plan.model_dump_json(indent=7))
    assert identity.fingerprint(again) == identity.fingerprint(plan)
    assert identity.fingerprint(changed(plan, title="Another")) != identity.fingerprint(plan)
    assert re.fullmatch(r"[0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{4}", identity.fingerprint(plan))


@pytest.mark.parametrize(
    ("accuracy", "said"),
    [
        (None, "not stated, counted as paced: 0.60 m"),
        (Accuracy(method="surveyed"), "Surveyed: 0.03 m"),
        (Accuracy(method="figure", figure_m=0.25), "as stated: 0.25 m"),
    ],
)
def test_a_sheet_says_how_well_it_was_measured(accuracy, said):
    assert said in identity.accuracy(full_plan(accuracy=accuracy)).say(METRES)


def test_a_drawing_is_told_in_words_too():
    plan = full_plan()
    drawn = sheet(plan)
    assert "1 buildings, 1 openings" in drawn.spoken
    assert drawn.spoken in ElementTree.fromstring(drawn.svg).find(f"{SVG}desc").text
