"""A moved building catches the walls of others; other things keep to whole inches."""

import math

import pytest

from siteplan.assets import sample
from siteplan.desk.canvas import snap
from siteplan.plan import Plan, load
from siteplan.plan.lot import Building
from siteplan.units import M_PER_IN

REACH_M = 0.3


def turned(points, deg):
    c, s = math.cos(math.radians(deg)), math.sin(math.radians(deg))
    return tuple((x * c - y * s, x * s + y * c) for x, y in points)


def rectangle(left, low, right, high):
    return ((left, low), (right, low), (right, high), (left, high))


def two(deg=0.0, shed=(14.0, 2.0, 18.0, 5.0)):
    house = Building(id="house", kind="dwelling", outline=turned(rectangle(0, 0, 10, 8), deg))
    other = Building(id="shed", kind="shed", outline=turned(rectangle(*shed), deg))
    return Plan(buildings=(house, other))


def step_of(plan, step, reach_m=REACH_M, deg=0.0):
    (turned_step,) = turned([step], deg)
    found = snap.wall_step(plan, ["shed"], turned_step, reach_m)
    (back,) = turned([found.at], -deg)
    return back, found.guides


@pytest.mark.parametrize("deg", [0.0, 33.0, 90.0])
def test_a_wall_comes_flush_with_the_wall_it_is_pushed_against(deg):
    # The shed's west wall at 14 m and the house's east wall at 10 m: 4 m apart.
    (across, along), guides = step_of(two(deg), (-3.8, 0.5), deg=deg)
    assert across == pytest.approx(-4.0, abs=1e-9)
    assert along == pytest.approx(0.5, abs=1e-9)
    assert len(guides) == 1


@pytest.mark.parametrize(("off", "caught"), [(0.299, True), (0.3, True), (0.301, False)])
def test_walls_are_caught_within_reach_only(off, caught):
    (across, _), guides = step_of(two(), (-4.0 + off, 1.0), reach_m=0.3 + 1e-12)
    assert across == pytest.approx(-4.0 if caught else -4.0 + off, abs=1e-9)
    assert bool(guides) == caught


def test_a_corner_comes_into_line_in_both_directions():
    # South walls in line at 0 as well as flush with the house.
    (across, along), guides = step_of(two(), (-3.9, -1.9))
    assert (across, along) == pytest.approx((-4.0, -2.0), abs=1e-9)
    assert len(guides) == 2


def test_the_nearer_of_two_lines_is_taken():
    # North walls would be in line after 3 m up, south of the shed with north of the house after 6.
    (_, along), _ = step_of(two(), (2.0, 2.9))
    assert along == pytest.approx(3.0, abs=1e-9)
    (_, along), _ = step_of(two(), (2.0, 6.1))
    assert along == pytest.approx(6.0, abs=1e-9)


def test_walls_far_apart_do_not_line_up():
    far = two(shed=(40.0, 2.0, 44.0, 5.0))
    step, guides = step_of(far, (0.1, -1.9))
    assert step == (0.1, -1.9)
    assert guides == ()


def test_walls_at_an_angle_are_left_alone():
    house = Building(id="house", kind="dwelling", outline=rectangle(0, 0, 10, 8))
    askew = Building(id="shed", kind="shed", outline=turned(rectangle(14, -7, 18, -4), 20.0))
    found = snap.wall_step(Plan(buildings=(house, askew)), ["shed"], (-1.0, 0.2), 1.0)
    assert (found.at, found.guides) == ((-1.0, 0.2), ())


def test_buildings_moved_together_do_not_catch_each_other():
    found = snap.wall_step(two(), ["house", "shed"], (0.1, 0.1), 100.0)
    assert found.at == (0.1, 0.1)


def test_a_dragged_building_ends_flush_with_its_neighbour(window, drag):
    window.session.take(two())
    window.fit()
    reach = min(8.0 / window.canvas.frame.px_per_m, 0.45)
    drag((16.0, 3.5), (16.0 - 4.0 + 0.6 * reach, 4.5))
    shed = window.session.plan.building("shed")
    assert min(x for x, _ in shed.outline) == pytest.approx(10.0, abs=1e-9)
    assert window.canvas.tool._guides == ()
    window.session.undo_stack.undo()
    assert window.session.plan == two()


def test_a_dragged_generator_stands_at_whole_inches(window, drag):
    window.session.take(load(sample("good-placement.siteplan")))
    window.fit()
    at = window.session.plan.placement.at
    drag(at, (at[0] + 1.234, at[1] - 0.567))
    moved = window.session.plan.placement.at
    assert moved != at
    for value in moved:
        assert value / M_PER_IN == pytest.approx(round(value / M_PER_IN), abs=1e-6)
