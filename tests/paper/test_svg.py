"""The plan as SVG: true to scale, well-formed, and inert."""

import math
import re

import pytest
from defusedxml import ElementTree
from shapely import LineString, Polygon

from siteplan.drawing.marks import Fill, Label, Stroke, Symbol
from siteplan.drawing.style import Hatch
from siteplan.paper.svg import Layer, View, hatch_lines, write

SVG = "{http://www.w3.org/2000/svg}"


def read(marks, view=None, **fields):
    layer = Layer("plan", tuple(marks), view or View(10.0, (0.0, 0.0), (50.0, 80.0)))
    return ElementTree.fromstring(write([layer], (200.0, 150.0), **fields))


def paths(root):
    return root.findall(f".//{SVG}g/{SVG}path")


def numbers(path):
    return [float(one) for one in re.findall(r"-?[\d.]+", path.get("d"))]


def test_one_unit_is_one_millimetre():
    root = read([])
    assert (root.get("width"), root.get("height")) == ("200mm", "150mm")
    assert root.get("viewBox") == "0 0 200 150"


@pytest.mark.parametrize(("figure", "long_mm"), [(50, 200.0), (100, 100.0), (200, 50.0),
                                                 (96, 10000 / 96), (48, 10000 / 48)])  # fmt: skip
def test_ten_metres_have_their_length_on_paper(figure, long_mm):
    root = read([Stroke(((0.0, 0.0), (6.0, 8.0)), "lot-line")], View(1000 / figure))
    x0, y0, x1, y1 = numbers(paths(root)[0])
    assert math.dist((x0, y0), (x1, y1)) == pytest.approx(long_mm, abs=0.002)


def test_north_of_the_drawing_is_up_on_the_sheet():
    x0, y0, x1, y1 = numbers(paths(read([Stroke(((0.0, 0.0), (1.0, 2.0)), "lot-line")]))[0])
    assert (x0, y0, x1, y1) == (50.0, 80.0, 60.0, 60.0)


@pytest.mark.parametrize(
    "text",
    ["<script>alert(1)</script>", "]]> &amp; \"'", "a\x00\x08\x1bb\u202egnp", "x" * 5000,
     "&xxe;<!DOCTYPE a>", "=1+1"],
)  # fmt: skip
def test_hostile_text_is_shown_and_does_nothing(text):
    root = read([Label((0.0, 0.0), text, "label-building")], title=text, description=text)
    assert {one.tag.removeprefix(SVG) for one in root.iter()} <= {
        "svg",
        "title",
        "desc",
        "rect",
        "g",
        "text",
    }
    (shown,) = root.iter(f"{SVG}text")
    assert len(shown.text) <= 200
    assert not re.search("[\x00-\x1f\u202a-\u202e\u2066-\u2069]", shown.text)


def test_an_area_keeps_its_hole():
    hole = ((1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0))
    outer = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
    first = paths(read([Fill((outer, hole), "dwelling-floor")]))[0]
    assert first.get("fill-rule") == "evenodd"
    assert first.get("d").count("M") == 2


@pytest.mark.parametrize("angle", [0.0, 30.0, 45.0, 90.0, 135.0])
def test_hatch_lines_lie_in_the_area_at_their_spacing(angle):
    ring = [(0.5, 0.5), (40.5, 0.5), (40.5, 30.5), (0.5, 30.5)]
    lines = [LineString(one) for one in hatch_lines([ring], Hatch((angle,), 2.0))]
    assert all(Polygon(ring).buffer(1e-6).contains(one) for one in lines)
    # Lines 2 mm apart cover an area of A with a total length of about A / 2.
    assert sum(one.length for one in lines) == pytest.approx(40 * 30 / 2.0, rel=0.06)


def test_a_sign_keeps_its_letters_upright():
    root = read([Symbol("tag", (0.0, 0.0), "opening-tag", turn_deg=40.0, text="AC")])
    (group,) = [one for one in root.iter(f"{SVG}g") if one.get("transform")]
    assert "rotate(40)" in group.get("transform")
    assert group.find(f"{SVG}text").get("transform") == "rotate(-40)"
