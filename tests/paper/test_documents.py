"""The sets of papers, read back by independent PDF readers."""

import io
import re

import pdfplumber
import pypdf
import pytest

from siteplan.assets import sample
from siteplan.errors import SiteplanError
from siteplan.paper import identity
from siteplan.paper.documents import KINDS, make
from siteplan.plan.document import Plan
from siteplan.plan.edits import changed
from siteplan.plan.lot import Building, Lot
from siteplan.plan.needs import Household
from siteplan.plan.store import load
from siteplan.rules import review
from siteplan.rules.book import rule
from siteplan.rules.missing import grouped
from siteplan.sources import work
from siteplan.words import Manner
from tests.helpers.papers import (
    DAY,
    ON_WALL,
    PANEL,
    full_paper,
    full_plan,
    page_texts,
    sample_paper,
    squeezed,
)

SAMPLES = tuple(sorted(path.stem for path in sample(".").glob("*.siteplan")))
EN = Manner("en", "feet")


@pytest.fixture(name="plan")
def _plan():
    return full_plan()


def read(plan, kind, manner=EN, **fields):
    return page_texts(make(plan, kind, manner, printed=DAY, **fields))


def words(content):
    return squeezed(
        "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(content)).pages)
    )


@pytest.mark.parametrize("name", SAMPLES)
def test_records_say_all_that_the_review_says(name):
    found = review(load(sample(f"{name}.siteplan")))
    text = words(sample_paper(name, "records"))
    for one in found.findings:
        assert squeezed(one.what.say(EN)) in text
        assert squeezed(one.do.say(EN)) in text
        for value in (one.measured, one.limit, one.margin):
            assert value is None or squeezed(EN.show(value)) in text
    for one in found.met:
        assert squeezed(one.what.say(EN)) in text
    missing = grouped(found.unjudged)
    for one in missing:
        assert squeezed(one.text.say(EN)) in text
        for waiting in one.rules:
            assert squeezed(rule(waiting).title) in text
    for one in (*found.findings, *found.met):
        assert all(squeezed(work(source).line()) in text for source in one.sources)
    assert text.count("notjudged") >= len(missing)


@pytest.mark.parametrize("kind", KINDS)
def test_every_page_can_be_matched_to_its_file(kind, plan):
    pages = page_texts(full_paper(kind))
    for number, text in enumerate(pages, start=1):
        assert identity.fingerprint(plan) in text
        assert f"Page {number} of {len(pages)}" in text
        assert "2026-11-25" in text
        assert "2026-11-20" in text
        assert "taken off every distance" in text
        assert "working CO alarms are needed" in text.replace("\n", " ")
        assert "A lot to try papers on" in text


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", SAMPLES)
def test_no_page_ever_calls_a_place_safe(kind, name):
    for text in page_texts(sample_paper(name, kind)):
        assert not re.search(r"\bsafe(ly)?\b", text, re.IGNORECASE)


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("system", ["feet", "metres"])
def test_the_household_gets_two_pages(name, system):
    assert len(page_texts(sample_paper(name, "household", system=system))) == 2


def test_a_danger_gets_no_tapes_to_find_it_by():
    bad, good = (
        page_texts(sample_paper(name, "household"))[0]
        for name in ("bad-placement", "good-placement")
    )
    assert "must not stand here" in bad
    assert "Within the tinted ground" in bad.replace("\n", " ")
    assert "No rule forbids it" in bad
    assert "Where tapes A and B meet" in good
    assert "must not stand here" not in good


def test_a_warning_of_the_place_gets_no_tapes_either():
    # 17.5 ft from the shed's door and off the lot; the exhaust alone, aimed at the house.
    plan = load(sample("good-placement.siteplan"))
    for at, turn_deg in (((-17.0, 23.5), 180.0), ((13.0, 27.0), 0.0)):
        place = changed(plan.placements[0], at=at, turn_deg=turn_deg, cords=())
        moved = changed(plan, placements=(place,))
        assert review(moved).worst == "WARNING"
        front = read(moved, "household")[0].replace("\n", " ")
        assert "must not stand here, or not turned so" in front
        assert "Where tapes A and B meet" not in front


def test_without_a_dwelling_of_ones_own_no_ground_is_offered():
    theirs = Building(id="nb", owner="neighbour", outline=((0, 0), (12, 0), (12, 8), (0, 8)))
    lot = Lot(outline=((-40, -40), (60, -40), (60, 60), (-40, 60)))
    plan = load(sample("good-placement.siteplan"))
    place = changed(plan.placements[0], at=(2.0, -1.5), cords=())
    alone = Plan(lot=lot, buildings=(theirs,), machine=plan.machine, placements=(place,))
    front = read(alone, "household")[0].replace("\n", " ")
    assert "nothing tells a place to run a generator from a deadly one" in front
    assert "Within the tinted ground" not in front


@pytest.mark.parametrize("kind", KINDS)
def test_ten_metres_measure_a_hundred_millimetres_at_one_to_a_hundred(kind):
    lot = Lot(outline=((0.0, 0.0), (10.0, 0.0), (10.0, 9.0), (0.0, 9.0)))
    content = make(Plan(lot=lot), kind, Manner("en", "metres"), printed=DAY)
    with pdfplumber.open(io.BytesIO(content)) as pages:
        shapes = [one for page in pages.pages for one in (*page.rects, *page.curves, *page.lines)]
        text = "".join(page.extract_text() for page in pages.pages)
    widths = [one["width"] * 25.4 / 72 for one in shapes]
    for figure in {int(one) for one in re.findall(r"Scale 1:(\d+)", text)}:
        side_mm = 10_000 / figure
        # Twice at least where that is 100 mm: the lot's side, and the check line.
        least = 2 if figure == 100 else 1
        assert sum(abs(width - side_mm) < 0.1 for width in widths) >= least
    assert kind == "household" or "Scale 1:100," in text


def test_four_inches_of_check_line_are_four_inches():
    content = full_paper("records")
    with pdfplumber.open(io.BytesIO(content)) as pages:
        lines = [one["width"] for page in pages.pages for one in (*page.lines, *page.curves)]
    assert any(abs(width - 4 * 72) < 0.1 for width in lines)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("archive", [False, True])
def test_papers_are_tagged_and_name_the_standards_they_keep(kind, archive, plan):
    content = make(plan, kind, EN, printed=DAY, archive=archive)
    catalogue = pypdf.PdfReader(io.BytesIO(content)).trailer["/Root"]
    assert catalogue["/MarkInfo"]["/Marked"]
    assert catalogue["/Lang"] == "en"
    assert "/StructTreeRoot" in catalogue
    metadata = catalogue["/Metadata"].get_data().decode("utf-8")
    assert "pdfuaid:part" in metadata
    assert ("pdfaid:part" in metadata) == archive


@pytest.mark.parametrize("kind", KINDS)
def test_all_fonts_are_inside_the_file(kind):
    reader = pypdf.PdfReader(io.BytesIO(full_paper(kind)))
    for page in reader.pages:
        for font in page["/Resources"].get("/Font", {}).values():
            inner = font.get_object()["/DescendantFonts"][0]["/FontDescriptor"]
            assert {"/FontFile2", "/FontFile3"} & set(inner)


@pytest.mark.parametrize("kind", KINDS)
def test_an_empty_plan_says_what_is_missing(kind):
    text = " ".join(read(Plan(), kind))
    assert "No generator stands on the plan yet" in text


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_plan_on_the_same_day_is_the_same_file(kind, plan):
    assert make(plan, kind, EN, printed=DAY) == full_paper(kind)


def test_a_lot_too_large_for_any_scale_is_refused_in_words():
    lot = Lot(outline=((-9000.0, -9000.0), (9000.0, -9000.0), (9000.0, 9000.0), (-9000.0, 9000.0)))
    with pytest.raises(SiteplanError, match="fits no scale"):
        make(Plan(lot=lot), "records")


def test_local_figures_stand_on_the_records():
    text = " ".join(page_texts(full_paper("records")))
    assert "Local ordinance" in text


def test_page_size_goes_with_the_units():
    for system, size in (("feet", (612.0, 792.0)), ("metres", (595.3, 841.9))):
        content = full_paper("installer", system=system)
        box = pypdf.PdfReader(io.BytesIO(content)).pages[0].mediabox
        assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.5)


def test_many_findings_do_not_push_the_household_to_a_third_page():
    houses = tuple(
        Building(
            id=f"h{index}",
            name=f"House number {index} with a rather long name",
            outline=tuple(
                (4.0 * index + x, y) for x, y in ((0, 4.0), (3, 4.0), (3, 7.0), (0, 7.0))
            ),
        )
        for index in range(8)
    )
    plan = full_plan(
        buildings=houses, openings=(), fixtures=(), loads=(), placements=(), chosen=None
    )
    assert len(read(plan, "household")) == 2


def test_the_installer_finds_inlet_feeder_loads_and_parts():
    text = words(make(full_plan(fixtures=(PANEL, ON_WALL)), "installer", EN, printed=DAY))
    # By hand: the north wall runs west from (9, 7); 7 m along it is 22.97 ft, 1 m is left.
    assert "northwallofHouse,23'fromitseastcornerand3'3\"fromitswestcorner" in text
    # Kitchen door from 3.0 to 3.9 m along the wall: 3.1 m to the inlet, rounded down.
    assert "Kitchendoor,10'2\"" in text
    for wanted in ("L14-30", "10AWG", "interlockatthepanel", "30.0A", "29'7\"", "Permitandlicense"):
        assert wanted in text
    # A 240 V load counts half on each leg: 150 + 500, and 500.
    assert "SumoflegA650W" in text
    assert "SumoflegB500W" in text
    assert "Wellpump:3000Wwhileitstarts,1000Wafter" in text
    assert "Refrigerator:2200Wwhileitstarts,1150Wafter" in text


def test_an_installer_is_told_what_nobody_entered():
    text = " ".join(read(Plan(), "installer"))
    missing_texts = (
        "No inlet is entered",
        "No transfer equipment is entered",
        "No panel is entered",
        "No outlet of the generator is entered",
        "No load is entered",
    )
    for missing in missing_texts:
        assert missing in text.replace("\n", " ")


def test_the_installer_reads_the_voltage_lost_in_the_cord():
    text = words(full_paper("installer"))
    # By hand, NEC 2023 chapter 9 table 8 (read second-hand): 10 AWG stranded copper 1.24 ohm per
    # 1000 ft at 75 degrees. Leg A carries 150 W / 120 V + 1000 W / 240 V = 5.417 A, the neutral
    # 1.25 A: 50 ft of both wires lose 0.062 ohm * 6.667 A = 0.413 V, 0.34 % of 120 V; rounded up.
    assert "RefrigeratorFeedcord0.4%(0.5V)" in text


@pytest.mark.parametrize("words", range(0, 120, 6))
def test_the_records_are_tagged_wherever_their_pages_break(words):
    # PDF/UA-1 lets no item of a list go on after a picture on the next page.
    plan = full_plan(note="word " * words, household=Household(children_or_pregnancy=True))
    other = changed(plan.placements[0], id="side", name="Beside the house", at=(9.5, 5.0))
    both = changed(plan, placements=(*plan.placements, other))
    text = " ".join(read(both, "records"))
    assert ("Note on the plan" in text) is (words > 0)
    assert "Children or a pregnancy in the house yes" in " ".join(text.split())


def test_placements_stand_side_by_side_where_there_are_several():
    plan = full_plan()
    other = changed(plan.placements[0], id="side", name="Beside the house", at=(9.5, 5.0))
    text = " ".join(read(full_plan(placements=(*plan.placements, other)), "records"))
    assert "Places compared" in text
    assert "Beside the house" in text
    assert "Places compared" not in " ".join(page_texts(full_paper("records")))


@pytest.mark.parametrize("name", SAMPLES)
def test_the_household_reads_large_type_and_a_plan_no_smaller_than_one_inch_to_fifty_feet(name):
    with pdfplumber.open(io.BytesIO(sample_paper(name, "household"))) as pages:
        front = pages.pages[0]
        sizes = [one["size"] for one in front.chars if one["text"].isalpha() and one["upright"]]
        text = front.extract_text()
    found = re.search(r"Scale 1 in = (\d+) ft|Scale 1/(\d+) in = 1 ft", text)
    feet_per_inch = int(found[1] or found[2])
    assert feet_per_inch <= 50
    # The sentences of the findings; the plan's own letters and the foot are smaller.
    common = max(set(sizes), key=sizes.count)
    assert common >= 10.0
