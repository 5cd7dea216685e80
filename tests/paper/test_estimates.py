"""Sound and the carbon monoxide estimate on paper: their figures, and the caution beside them."""

import datetime as dt
import re

import numpy as np
import pytest
from defusedxml import ElementTree

from siteplan.drawing.marks import Label, Stroke, Symbol
from siteplan.drawing.sound import contour_marks, level_marks
from siteplan.paper.air_plots import over_time
from siteplan.paper.documents import about, make
from siteplan.paper.sections.carbon_monoxide import MOST_ROWS
from siteplan.plan.document import Plan
from siteplan.plan.edits import changed
from siteplan.plan.needs import Outage
from siteplan.rules.carbon_monoxide import estimate
from siteplan.rules.carbon_monoxide_words import CAUTION_TEXT
from siteplan.rules.sound import levels
from siteplan.sound.contours import Contour
from siteplan.words import Manner
from tests.helpers.papers import MACHINE, full_plan, page_texts, sample_paper, squeezed

EN = Manner("en", "feet")
DAY = dt.date(2026, 11, 25)
SVG = "{http://www.w3.org/2000/svg}"


def records(plan):
    return page_texts(make(plan, "records", EN, printed=DAY))


@pytest.mark.parametrize("kind", ["household", "records"])
def test_every_page_with_an_estimate_carries_its_caution(kind):
    pages = page_texts(sample_paper("quiet-hours", kind))
    figures = re.compile(r"at the worst \d|COHb|Estimate for a light wind")
    with_figures = [one for one in pages if figures.search(one.replace("\n", " "))]
    assert with_figures or kind == "household"
    for page in with_figures:
        assert squeezed(CAUTION_TEXT) in squeezed(page)


def test_the_estimate_names_its_openings_and_both_bands():
    plan = full_plan()
    found = estimate(about(plan).scene)
    text = squeezed("".join(records(plan)))
    for one in found.openings[:MOST_ROWS]:
        assert squeezed(one.label.say(EN)) in text
    assert "worst" in text


def test_no_machine_no_estimate_and_no_sound():
    text = " ".join(records(Plan())).replace("\n", " ")
    assert "nothing was estimated" in text
    assert "ppm" not in text


def test_levels_and_limits_stand_in_the_table():
    plan = full_plan()
    report = levels(about(plan).scene)
    text = squeezed("".join(records(plan)))
    assert len(report.sides) == 4
    for one in report.sides:
        assert squeezed(one.name.say(EN)) in text
    assert "45dB(A)" in text
    assert f"offby{report.uncertainty_db:.0f}dB" in text


def test_without_a_rating_or_a_limit_that_is_said():
    plan = full_plan(machine=changed(MACHINE, sound=None), outage=Outage())
    text = " ".join(records(plan)).replace("\n", " ")
    assert "No sound rating is entered" in text
    assert "no limit entered" in text


def test_curves_are_drawn_within_their_sheet_with_alarm_points():
    subject = about(full_plan(), EN)
    one = estimate(subject.scene).openings[0]
    root = ElementTree.fromstring(over_time(subject, one, 180.0))
    said = [text.text for text in root.iter(f"{SVG}text")]
    assert {"70 ppm", "150 ppm", "400 ppm", "10 %: headache"} <= set(said)
    for path in root.iter(f"{SVG}path"):
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", path.get("d"))]
        assert all(-0.01 <= x <= 180.01 for x in numbers[::2])


def test_lines_of_equal_level_carry_their_figure_once():
    ring = np.array([(np.cos(turn), np.sin(turn)) for turn in np.linspace(0, 6.28, 40)])
    marks = contour_marks([Contour(55.0, ring), Contour(60.0, ring[:1])])
    assert [type(one) for one in marks] == [Stroke, Label]
    assert marks[1].text == "55 dB(A)"


def test_the_loudest_place_of_each_side_has_a_sign_and_its_level():
    subject = about(full_plan(), EN)
    report = levels(subject.scene)
    marks = level_marks(report, EN)
    heard = (*report.sides, *report.windows)
    labels = [one for one in marks if isinstance(one, Label)]
    assert len([one for one in marks if isinstance(one, Symbol)]) == len(heard) == len(labels)
    for one, label in zip(heard, labels, strict=True):
        assert label.at == one.at
        assert "dB(A)" in label.text
