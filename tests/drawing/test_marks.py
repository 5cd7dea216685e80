"""Marks of a plan: what is drawn, where, and in which role."""

import math
from typing import get_args

import pytest
import shapely
from shapely import Polygon

from siteplan.drawing import governing_marks, ground_marks, machine_marks, review_marks
from siteplan.drawing.marks import Dimension, Fill, Label, Role, Stroke, Symbol
from siteplan.drawing.style import THEMES, colour, look
from siteplan.drawing.symbols import SYMBOLS
from siteplan.drawing.walls import WALL_M, label_marks, opening_frame
from siteplan.plan.document import Plan
from siteplan.plan.lot import Accuracy, Building, Lot, Opening
from siteplan.plan.machine import Machine, Placement
from siteplan.rules.findings import Evidence, Finding, Review, gather
from siteplan.scene import resolve
from siteplan.words import Manner, Quantity, Text, length

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 8.0), (0.0, 8.0))


def house(**fields):
    return Building(id="house", outline=SQUARE, **fields)


def window(**fields):
    values = {"id": "w", "building": "house", "wall": 0, "offset_m": 2.0, "width_m": 1.5}
    return Opening(**(values | fields))


def finding(signal, end, measured_m, start=(0.0, 0.0)):
    return Finding(
        rule="separation-opening",
        signal=signal,
        subjects=("w",),
        what=Text("near"),
        do=Text("move"),
        sources=(),
        measured=length(measured_m),
        margin=length(measured_m - 6.096),
        evidence=(Evidence("line", (start, end)),),
    )


@pytest.mark.parametrize("role", get_args(Role))
@pytest.mark.parametrize("theme", THEMES)
def test_every_role_has_a_look_in_every_theme(role, theme):
    style = look(role, theme)
    for ink in (style.line, style.fill, style.text, style.casing):
        assert ink is None or (len(ink) == 7 and int(ink[1:], 16) >= 0)


def luminance(ink):
    """Relative luminance of WCAG 2.2 (definition read at w3.org/TR/WCAG22)."""
    parts = [int(ink[index : index + 2], 16) / 255 for index in (1, 3, 5)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("theme", THEMES)
def test_texts_and_lines_stand_out_from_the_sheet(theme):
    # WCAG 2.2: text 4.5 to 1 (1.4.3), graphical objects 3 to 1 (1.4.11).
    paper = colour("paper", theme)
    for role in get_args(Role):
        style = look(role, theme)
        assert contrast(style.text, paper) >= 4.5, role
        # A line on its own tint may rest on that, if the tint itself stands out.
        tint = look("machine", theme).fill if role == "machine-front" else style.fill
        grounds = [paper] if tint is None else [paper, tint]
        if style.line is not None:
            assert max(contrast(style.line, one) for one in grounds) >= 3.0, role


@pytest.mark.parametrize("theme", THEMES)
def test_texts_stand_out_from_every_ground_they_may_lie_on(theme):
    # WCAG 2.2, 1.4.3. Curves are drawn on the sheet alone.
    grounds = ("floor", "foreign", "shed", "wood", "paving", "water", "plant", "standing")
    for role in get_args(Role):
        if not role.startswith("curve-"):
            letters = look(role, theme).text
            worst = min(contrast(letters, colour(one, theme)) for one in grounds)
            assert worst >= 4.5, role


def test_signal_lines_differ_without_colour():
    roles = ("distance-danger", "distance-warning", "distance-caution", "distance-notice")
    looks = [(look(role).width_mm, look(role).dash_mm) for role in roles]
    assert len(set(looks)) == len(roles)
    areas = ("area-danger", "area-warning", "area-caution", "area-notice")
    assert len({(look(role).hatch, look(role).dash_mm) for role in areas}) == len(areas)
    assert len({SYMBOLS[name] for name in ("danger", "warning", "caution", "notice")}) == 4


def test_walls_and_openings_together_fill_the_wall_strip():
    plan = Plan(buildings=(house(),), openings=(window(),))
    marks = ground_marks(plan)
    walls = [Polygon(one.rings[0], one.rings[1:]) for one in marks
             if isinstance(one, Fill) and one.role == "dwelling-wall"]  # fmt: skip
    gaps = [Polygon(one.rings[0]) for one in marks
            if isinstance(one, Fill) and one.role == "opening-window"]  # fmt: skip
    # By hand: outer area less the inner rectangle, and a window's width times the wall.
    strip = 10 * 8 - (10 - 2 * WALL_M) * (8 - 2 * WALL_M)
    assert sum(one.area for one in gaps) == pytest.approx(1.5 * WALL_M)
    assert shapely.union_all([*walls, *gaps]).area == pytest.approx(strip, rel=1e-9)
    assert shapely.intersection(walls[0], gaps[0]).area == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("outline", [SQUARE, SQUARE[::-1]])
def test_inside_is_found_whichever_way_the_outline_runs(outline):
    building = Building(id="house", outline=outline)
    for wall in range(4):
        near, far, inward = opening_frame(building, window(wall=wall))
        middle = ((near[0] + far[0]) / 2 + inward[0], (near[1] + far[1]) / 2 + inward[1])
        assert Polygon(outline).contains(shapely.Point(middle))
        assert math.dist(near, far) == pytest.approx(1.5)


def test_a_door_swings_inside_by_its_own_width():
    plan = Plan(buildings=(house(),), openings=(window(kind="door", width_m=0.9),))
    swing = [one for one in ground_marks(plan) if isinstance(one, Stroke)]
    arc = max(
        (one for one in swing if one.role == "opening-swing"), key=lambda one: len(one.points)
    )
    assert all(math.dist(point, (2.0, 0.0)) == pytest.approx(0.9) for point in arc.points)
    assert all(y >= -1e-9 for _, y in arc.points)
    assert arc.points[-1] == pytest.approx((2.9, 0.0))


def test_lot_sides_carry_their_length_on_the_outside():
    plan = Plan(lot=Lot(outline=((0.0, 0.0), (30.48, 0.0), (30.48, 15.24), (0.0, 15.24))))
    labels = [one for one in ground_marks(plan) if isinstance(one, Label)]
    assert [one.text for one in labels] == ["100'", "50'", "100'", "50'"]
    assert [one.shift_mm[1] < 0 for one in labels[::2]] == [True, False]
    assert [one.shift_mm[0] > 0 for one in labels[1::2]] == [True, False]
    assert all(-90 < one.turn_deg <= 90 for one in labels)


@pytest.mark.parametrize(
    ("side", "turn", "tip"),
    [("front", 0.0, (0, 1)), ("back", 0.0, (0, -1)), ("right", 0.0, (1, 0)), ("left", 0.0, (-1, 0)),
     ("front", 90.0, (1, 0)), ("back", 90.0, (-1, 0))],
)  # fmt: skip
def test_the_exhaust_arrow_leaves_from_its_side(side, turn, tip):
    machine = Machine(width_m=0.6, length_m=0.6, exhaust_side=side)
    plan = Plan(machine=machine, placements=(Placement(id="a", at=(5.0, 5.0), turn_deg=turn),))
    arrow = next(one for one in machine_marks(plan)
                 if isinstance(one, Stroke) and one.role == "exhaust-arrow")  # fmt: skip
    (ax, ay), (bx, by) = arrow.points
    assert (ax, ay) == pytest.approx((5 + 0.3 * tip[0], 5 + 0.3 * tip[1]))
    assert (bx - ax, by - ay) == pytest.approx((1.4 * tip[0], 1.4 * tip[1]))


def test_without_machine_there_is_nothing_to_draw_of_it():
    assert machine_marks(Plan()) == ()
    assert ground_marks(Plan()) == ()


def test_findings_are_drawn_with_word_figure_and_sign():
    review = gather([finding("DANGER", (3.0, 0.0), 3.0), finding("CAUTION", (0.0, 7.0), 7.0)])
    marks = review_marks(review, Manner(system="metres"))
    lines = [one for one in marks if isinstance(one, Dimension)]
    # The worst comes last, on top.
    assert [(one.text, one.role) for one in lines] == [
        ("CAUTION 7.00 m", "distance-caution"),
        ("DANGER 3.00 m", "distance-danger"),
    ]
    assert {one.name for one in marks if isinstance(one, Symbol)} == {"danger", "caution"}


def test_only_governing_lines_are_drawn_but_every_finding_has_its_sign():
    ends = [(10 * math.cos(0.6 * step), 10 * math.sin(0.6 * step)) for step in range(10)]
    review = gather([finding("WARNING", end, 5.0 + index) for index, end in enumerate(ends)])
    marks = review_marks(review, most=4)
    texts = [one.text for one in marks if isinstance(one, Dimension)]
    assert len(texts) == 4
    assert texts[-1].startswith("WARNING 16'")
    assert len([one for one in marks if isinstance(one, Symbol)]) == 10


def test_nearest_openings_without_a_finding_get_a_line_less_the_accuracy():
    plan = Plan(
        buildings=(house(openings_complete=True),),
        openings=(window(), window(id="fixed", kind="fixed-window", offset_m=6.0)),
        accuracy=Accuracy(method="figure", figure_m=0.5),
        machine=Machine(width_m=0.6, length_m=0.6),
        placements=(Placement(id="a", at=(3.0, -10.3)),),
    )
    lines = governing_marks(resolve(plan), Review(), Manner(system="metres"))
    # By hand: from the frame's edge 10 m straight to the window's middle, less 0.5 m; the wall
    # lies as near in the same direction, and the fixed window does not count.
    assert [(one.text, one.role) for one in lines] == [("9.50 m", "distance-met")]
    assert lines[0].end[1] == pytest.approx(0.0)
    found = finding("CAUTION", (3.0, 0.0), 9.5, start=(3.0, -10.0))
    assert governing_marks(resolve(plan), gather([found]), Manner(system="metres")) == ()


def test_without_machine_no_line_governs():
    plan = Plan(buildings=(house(),), openings=(window(),))
    assert governing_marks(resolve(plan), Review()) == ()


def test_walls_that_surround_are_shown_as_walls_and_not_as_distances():
    walls = (Evidence("line", ((0.0, 5.0), (5.0, 5.0))), Evidence("line", ((5.0, 5.0), (5.0, 0.0))))
    found = Finding("walled-in", "WARNING", (), Text("in"), Text("out"), (),
                    Quantity(2.0, "count"), evidence=walls)  # fmt: skip
    marks = review_marks(gather([found]))
    assert [(type(one), one.role) for one in marks] == [(Stroke, "area-warning")] * 2


def _name_of(outline):
    shed = Building(id="b", owner="own", kind="dwelling", name="House", outline=outline)
    (label,) = label_marks(shed, Manner())
    return label


def test_a_name_stands_in_the_middle_of_a_long_house():
    # The middle of the widest circle is anywhere along a long rectangle; its own middle is not.
    label = _name_of(((0.0, 0.0), (12.0, 0.0), (12.0, 4.0), (0.0, 4.0)))
    assert label.at == pytest.approx((6.0, 2.0))


def test_a_name_stands_where_an_l_shape_is_wide_and_never_outside():
    corners = ((0.0, 0.0), (20.0, 0.0), (20.0, 3.0), (3.0, 3.0), (3.0, 20.0), (0.0, 20.0))
    label = _name_of(corners)
    assert Polygon(corners).contains(shapely.Point(label.at))
