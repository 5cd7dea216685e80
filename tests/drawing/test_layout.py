"""Texts that give way to each other, at one scale."""

import itertools
import math
from dataclasses import replace

import numpy as np
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, affinity, box

from siteplan.assets import resource
from siteplan.drawing.crossing import Box, crossed
from siteplan.drawing.layout import arrange, label_box, text_width_mm
from siteplan.drawing.marks import Dimension, Fill, Label, Stroke, Symbol

SIZES = st.floats(0.5, 30)
PLACES = st.floats(-40, 40)
TURNS = st.floats(0, math.pi)
BOXES = st.builds(Box, PLACES, PLACES, SIZES, SIZES, TURNS)


def shape(one):
    flat = box(one.x - one.half_width, one.y - one.half_height,
               one.x + one.half_width, one.y + one.half_height)  # fmt: skip
    return affinity.rotate(flat, math.degrees(one.turn), origin=(one.x, one.y))


@settings(max_examples=150, deadline=None)
@given(BOXES, BOXES)
def test_boxes_meet_as_the_geometry_library_says(one, other):
    overlap = shape(one).intersection(shape(other)).area
    if overlap > 1e-6:
        assert one.meets(other)
    elif shape(one).distance(shape(other)) > 1e-6:
        assert not one.meets(other)


def test_dimensions_become_a_line_two_ticks_and_a_figure():
    marks = arrange([Dimension((0.0, 0.0), (10.0, 0.0), "32' 9\"", "distance-met")], 10.0)
    assert [type(one) for one in marks] == [Stroke, Symbol, Symbol, Label]
    assert marks[-1].at == (5.0, 0.0)


def test_figures_of_crossing_lines_do_not_cover_each_other():
    lines = [
        Dimension((5 - 5 * math.cos(a), 5 - 5 * math.sin(a)),
                  (5 + 5 * math.cos(a), 5 + 5 * math.sin(a)), "WARNING 16' 4\"", "distance-warning")
        for a in (0.0, 0.8, 1.6, 2.4)
    ]  # fmt: skip
    labels = [one for one in arrange(lines, 10.0) if isinstance(one, Label)]
    boxes = [label_box(one, 10.0) for one in labels]
    assert len(labels) == 4
    for one, other in itertools.combinations(boxes, 2):
        assert shape(one).intersection(shape(other)).area < 1e-6


def test_a_figure_pushed_off_its_line_is_tied_to_it():
    line = Dimension((0.0, 0.0), (0.3, 0.0), "DANGER 0' 11\"", "distance-danger")
    block = Symbol("danger", (0.15, 0.0), "distance-danger", size_mm=14.0)
    marks = arrange([line, block], 10.0)
    assert any(isinstance(one, Stroke) and one.role == "leader" for one in marks)


def test_a_name_is_set_smaller_to_keep_to_its_building():
    label = Label((0.0, 0.0), "A long name of a small shed", "label-building", room_m=3.0)
    (small,) = arrange([label], 10.0)
    (large,) = arrange([label], 100.0)
    assert small.height_mm < large.height_mm == 2.5
    assert small.height_mm >= 1.5


def test_no_text_is_ever_lost():
    label = Label((0.0, 0.0), "House", "label-building")
    marks = arrange([label] * 30, 10.0)
    assert len(marks) == 30


SEGMENTS = st.lists(st.tuples(PLACES, PLACES, PLACES, PLACES), min_size=1, max_size=6)


@settings(max_examples=150, deadline=None)
@given(BOXES, SEGMENTS)
def test_lines_cross_a_box_as_the_geometry_library_says(one, segments):
    lines = [LineString([ends[:2], ends[2:]]) for ends in segments]
    away = [shape(one).distance(line) for line in lines]
    inside = [shape(one).buffer(-1e-6).intersects(line) for line in lines]
    (found,) = crossed([one], np.array(segments))
    assert sum(inside) <= found <= sum(gap <= 1e-6 for gap in away)


def test_a_name_steps_off_a_lot_line():
    line = Stroke(((0.0, 0.0), (10.0, 0.0)), "lot-line")
    name = Label((5.0, 0.05), "Back walk", "label-thing", height_mm=2.0)
    *_, placed = arrange([line, line, name], 10.0)
    assert crossed([label_box(placed, 10.0)], np.array([[0.0, 0.0, 100.0, 0.0]])) == 0
    *_, alone = arrange([name], 10.0)
    assert alone.shift_mm == (0.0, 0.0)


def test_a_name_stays_in_its_building_where_it_fits_and_else_stands_just_outside():
    ring = ((0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (0.0, 6.0))
    wall = Fill((ring,), "dwelling-wall")
    name = Label((4.0, 3.0), "House", "label-building", room_m=8.0, depth_m=6.0)
    in_the_way = Symbol("danger", (4.0, 3.0), "distance-danger", size_mm=8.0)
    *_, inside = arrange([wall, in_the_way, name], 10.0)
    outline = box(0, 0, 80, 60)
    assert inside.shift_mm != (0.0, 0.0)
    assert outline.contains(shape(label_box(inside, 10.0)))
    long = replace(name, text="House of the family next door")
    *_, outside = arrange([wall, long], 1.0)
    assert not box(0, 0, 8, 6).intersects(shape(label_box(outside, 1.0)))
    assert box(0, 0, 8, 6).distance(shape(label_box(outside, 1.0))) < 3.0


def test_the_length_of_a_side_slides_along_it_but_not_off_its_end():
    length = Label((5.0, 0.0), "30' 2\"", "lot-dimension", height_mm=2.0,
                   shift_mm=(0.0, 2.6), room_m=10.0)  # fmt: skip
    block = Symbol("danger", (5.0, 0.26), "distance-danger", size_mm=5.0)
    *_, placed = arrange([block, length], 10.0)
    right, up = placed.shift_mm
    assert right != 0.0
    assert up == 2.6
    reach = label_box(placed, 10.0)
    assert reach.x - reach.half_width >= 0.0
    assert reach.x + reach.half_width <= 100.0


def test_lettered_signs_that_would_cover_each_other_stand_apart_with_leaders():
    here = (3.0, 3.0)
    signs = [
        Symbol("tag", here, "opening-tag", size_mm=4.2, text="SV"),
        Symbol("tag", (3.05, 3.0), "opening-tag", size_mm=4.2, text="AC"),
        Symbol("electric-meter", here, "fixture", size_mm=3.6, text="M"),
    ]
    marks = arrange(signs, 10.0)
    placed = [one for one in marks if isinstance(one, Symbol)]
    leaders = [one for one in marks if isinstance(one, Stroke)]
    for one, other in itertools.combinations(placed, 2):
        # Half a size from middle to edge.
        apart = [abs(a - b) * 10.0 for a, b in zip(one.at, other.at, strict=True)]
        assert max(apart) >= (one.size_mm + other.size_mm) / 2 - 1e-9
    assert {one.points[0] for one in leaders} == {(3.05, 3.0), here}
    assert {one.points[1] for one in leaders} <= {one.at for one in placed}
    assert arrange(signs[:2], 400.0) == tuple(signs[:2])


def test_the_inlet_keeps_its_place_for_its_cord_runs_there():
    inlet = Symbol("power-inlet", (0.0, 0.0), "fixture", size_mm=3.6, text="I")
    tag = Symbol("tag", (0.0, 0.0), "opening-tag", size_mm=4.2, text="FV")
    placed = {one.text: one.at for one in arrange([tag, inlet], 10.0) if isinstance(one, Symbol)}
    assert placed["I"] == (0.0, 0.0)
    assert placed["FV"] != (0.0, 0.0)


def test_figures_keep_clear_of_names_that_are_drawn_already():
    line = Dimension((0.0, 0.0), (10.0, 0.0), "32' 9\"", "distance-met")
    *_, free = arrange([line], 10.0)
    name = label_box(free, 10.0)
    *_, placed = arrange([line], 10.0, [name])
    assert placed.at != free.at
    assert not label_box(placed, 10.0).meets(name)


def test_a_text_is_hardly_wider_in_the_bundled_font_than_reckoned():
    texts = ("House", "Garden shed", "West neighbour", "137' 10\"", "WARNING 17' 7\"", "52 dB(A)",
             "A 48' 6\"", "Room air conditioner", "Generador", "1:100")  # fmt: skip
    for weight in ("Regular", "Bold"):
        font = TTFont(resource(f"paper/fonts/OpenSans-{weight}.ttf"))
        letters, advances = font.getBestCmap(), font["hmtx"]
        cap = font["OS/2"].sCapHeight
        for text in texts:
            real = sum(advances[letters[ord(one)]][0] for one in text) / cap
            assert 0.97 * real <= text_width_mm(text, 1.0) <= 1.6 * real
