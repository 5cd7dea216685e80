"""The carbon monoxide estimate on paper: its caution, its words, and where its curves run."""

import datetime as dt
import io
import re

import numpy as np
import pypdf
import pytest
from defusedxml.ElementTree import fromstring

from siteplan.air.thresholds import CAUTION
from siteplan.air.wind import WindRose
from siteplan.assets import sample
from siteplan.drawing.marks import Fill
from siteplan.drawing.wind import rose_marks
from siteplan.paper import air_plots
from siteplan.paper.axes import Axes, Axis, decades
from siteplan.paper.blocks import Card, Table
from siteplan.paper.documents import make
from siteplan.paper.sections.carbon_monoxide import carbon_monoxide
from siteplan.paper.subject import Subject
from siteplan.plan import load
from siteplan.plan.needs import Wind, WindSector
from siteplan.rules import review_scene
from siteplan.rules.carbon_monoxide import estimate
from siteplan.scene import resolve
from tests.helpers.papers import squeezed
from tests.rules.test_carbon_monoxide_only_raises import LEAVE

DAY = dt.date(2026, 11, 25)
SOUTH_WEST = Wind(
    sectors=(WindSector(from_deg=225.0, share=0.7, speed_m_s=3.0),), calm_share=0.3, origin="Typed"
)


def subject_of(name, **fields):
    plan = load(sample(f"{name}.siteplan")).model_copy(update=fields)
    scene = resolve(plan)
    return Subject(plan, scene, review_scene(scene), printed=DAY)


@pytest.mark.parametrize("name", ["bad-placement", "good-placement", "narrow-lot"])
def test_the_records_carry_the_caution_with_the_estimate(name):
    content = make(load(sample(f"{name}.siteplan")), "records", printed=DAY)
    text = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(content)).pages)
    # Before and after the figures, and in each finding that shows one.
    assert squeezed(text).count(squeezed(CAUTION)) >= 2
    assert "Behind" in text


@pytest.mark.parametrize("kind", ["household", "records", "installer"])
def test_no_set_shows_a_figure_of_the_estimate_without_the_caution(kind):
    content = make(load(sample("bad-placement.siteplan")), kind, printed=DAY)
    text = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(content)).pages)
    if "Estimate for a light wind" in text or "% COHb" in text:
        assert squeezed(CAUTION) in squeezed(text)


@pytest.mark.parametrize("name", ["bad-placement", "good-placement"])
def test_the_section_names_the_worst_opening_first_and_gives_no_leave(name):
    subject = subject_of(name, wind=SOUTH_WEST)
    found = estimate(subject.scene)
    pictures = {}
    blocks = list(carbon_monoxide(subject, found, 180.0, pictures))
    cards = [one for one in blocks if isinstance(one, Card)]
    # Each card stays on one page, and each begins with the caution.
    assert len(cards) == 2
    assert all(card.blocks[0].title == CAUTION for card in cards)
    tables = [one for card in cards for one in card.blocks if isinstance(one, Table)]
    assert tables[0].rows[0][0].startswith(found.openings[0].label.say())
    assert set(pictures) == {"air-time", "air-distance"}
    said = " ".join(str(one) for one in blocks)
    assert not LEAVE.search(said)
    for svg in pictures.values():
        texts = " ".join(one.text or "" for one in fromstring(svg.encode()).iter())
        assert not LEAVE.search(texts)


def test_without_a_machine_there_is_no_figure():
    subject = subject_of("good-placement", placements=(), chosen=None)
    pictures = {}
    blocks = list(carbon_monoxide(subject, estimate(subject.scene), 180.0, pictures))
    assert "nothing was estimated" in blocks[-1].text
    assert not pictures


def test_an_axis_puts_values_where_they_belong():
    log = Axis(1.0, 10_000.0, decades(1.0, 10_000.0), str, log=True)
    assert log.ticks == (1.0, 10.0, 100.0, 1000.0, 10_000.0)
    assert log.share(np.array([1.0, 10.0, 100.0, 10_000.0])) == pytest.approx([0, 0.25, 0.5, 1])
    # What is off the axis stays at its edge.
    assert log.share(np.array([0.0, 1e9])) == pytest.approx([0.0, 1.0])
    plot = Axes(10.0, 20.0, 100.0, 50.0, Axis(0.0, 8.0, (), str), log)
    assert plot.points(np.array([0.0, 8.0]), np.array([10.0, 1e4])) == (
        (10.0, 32.5), (110.0, 70.0),
    )  # fmt: skip


def test_the_curves_end_where_the_estimate_does():
    subject = subject_of("good-placement")
    found = estimate(subject.scene)
    svg = air_plots.over_time(subject, found.openings[0], 180.0)
    paths = [one.get("d") for one in fromstring(svg.encode()).iter() if one.get("d")]
    ends = [tuple(map(float, re.findall(r"[\d.]+", path)[-2:])) for path in paths]
    # The room's usual curve at the right of the left plot: log10(ppm)/5 of its height up.
    ppm = float(found.openings[0].indicative.room_ppm[-1])
    height = air_plots.TIME_MM - 22.0 - 6.0
    y = air_plots.TIME_MM - (22.0 + height * np.log10(ppm) / 5.0)
    assert any(abs(x - 87.0) < 0.3 and abs(up - y) < 0.3 for x, up in ends)


def test_a_petal_lies_downwind():
    rose = WindRose((0.0, 0.0, 0.9, 0.0), 0.1)  # from the south only
    (petal,) = [one for one in rose_marks(rose, (5.0, 5.0), 4.0) if isinstance(one, Fill)]
    xs, ys = zip(*petal.rings[0], strict=True)
    assert max(ys) == pytest.approx(9.0, abs=0.1)
    assert min(ys) >= 5.0 - 1e-9
    assert sum(xs) / len(xs) == pytest.approx(5.0)
    # North turned to the right of the drawing: the wind then blows to the right.
    turned = rose_marks(rose, (5.0, 5.0), 4.0, north_deg=90.0)
    (petal,) = [one for one in turned if isinstance(one, Fill)]
    assert max(x for x, _ in petal.rings[0]) == pytest.approx(9.0, abs=0.1)
