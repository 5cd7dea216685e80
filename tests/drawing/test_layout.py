"""Texts that give way to each other, at one scale."""

import itertools
import math

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity, box

from siteplan.drawing.layout import Box, arrange, label_box
from siteplan.drawing.marks import Dimension, Label, Stroke, Symbol

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
