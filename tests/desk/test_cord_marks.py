"""Cords on the canvas: as they lie, and what they lose."""

import pytest

from siteplan.assets import sample
from siteplan.desk.canvas.cord_marks import live_machine_marks
from siteplan.drawing.machine import machine_marks
from siteplan.drawing.marks import Label, Stroke
from siteplan.plan import edits, load
from siteplan.scene import resolve
from siteplan.words import Manner

MANNER = Manner("en", "metres")


@pytest.fixture
def plan():
    return load(sample("good-placement.siteplan"))


def lost(marks):
    return [one.text for one in marks if isinstance(one, Label) and one.role == "cord-label"]


def test_cords_are_drawn_as_they_lie(plan):
    scene = resolve(plan)
    (run,) = scene.cord_runs
    marks = live_machine_marks(plan, scene, MANNER)
    ways = [one.points for one in marks if isinstance(one, Stroke) and one.role == "cord"]
    assert ways == [(*run.outdoors, *run.indoors)]


def test_the_loss_beside_a_cord_is_the_one_by_hand(plan):
    scene = resolve(plan)
    (feed,) = scene.feeds
    cord, (text,) = feed.cord, lost(live_machine_marks(plan, scene, MANNER))
    # NEC chapter 9 table 8 (read second-hand): 10 AWG stranded copper has 1.24 Ω per 1000 ft.
    assert (cord.gauge_awg, feed.pieces_m) == (10, pytest.approx(30.48))
    # Leg a: refrigerator, lights, router; leg b: freezer, furnace; the pump on both.
    a, b = (800.0 + 500.0) / 120.0, (1200.0 + 500.0) / 120.0
    loop_a = b + (b - a)
    percent = 100.0 * 1.24 / 304.8 * 30.48 * loop_a / 120.0
    assert 0.0 <= float(text.removesuffix(" % lost")) - percent <= 0.1


def test_a_cord_of_unknown_gauge_is_told_no_loss(plan):
    cord = edits.changed(plan.placement.cords[0], gauge_awg=None)
    bare = edits.put_cord(plan, cord)
    assert lost(live_machine_marks(bare, resolve(bare), MANNER)) == []


def test_before_the_rules_are_loaded_cords_are_drawn_straight(plan):
    assert live_machine_marks(plan, None, MANNER) == machine_marks(plan, MANNER)
