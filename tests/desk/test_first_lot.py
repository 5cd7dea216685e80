"""What a newcomer meets first: where things land, how they are moved, what they are called."""

import pytest
from PySide6.QtTest import QTest

from siteplan.desk import making
from siteplan.desk.canvas.zoning import zone_of
from siteplan.desk.forms.editors import LineEditor
from siteplan.desk.forms.outline import corner_of, shifted
from siteplan.desk.labels import START_LABELS, named_start
from siteplan.desk.steps.buildings import KINDS
from siteplan.plan import edits
from siteplan.plan.starts import machine_starts, plan_from, starts
from siteplan.suggest.zone import standing_zone
from siteplan.units import M_PER_FT

FT = M_PER_FT


@pytest.fixture
def lot():
    return named_start(plan_from(starts()["mid-block"]))


def _home(plan):
    return plan.building("house")


def test_every_thing_of_every_typical_lot_has_a_name_and_no_name_is_idle():
    named = [named_start(plan_from(one)) for one in starts().values()]
    things = [one for plan in named for one in (*plan.buildings, *plan.openings)]
    assert {one.name for one in things} == set(START_LABELS.values())


@pytest.mark.parametrize("kind", [one for one in KINDS if one != "dwelling"])
def test_an_outbuilding_lands_on_the_lot_behind_the_house(lot, kind):
    x, y = making.building_place(lot, kind, 12 * FT, 8 * FT)
    back = max(y for _, y in _home(lot).outline)
    assert y == pytest.approx(back if kind == "covered-porch" else back + 6 * FT)
    xs, ys = zip(*lot.lot.outline, strict=True)
    assert min(xs) <= x
    assert x + 12 * FT <= max(xs)
    assert y + 8 * FT <= max(ys)


def test_a_second_dwelling_is_a_neighbours_and_goes_beside_the_last_building(lot):
    x, _ = making.building_place(lot, "dwelling", 12 * FT, 8 * FT)
    assert x == pytest.approx(max(x for x, _ in lot.buildings[-1].outline) + 6 * FT)


def test_a_building_is_moved_as_a_whole_from_the_lot_lines(lot):
    house = _home(lot)
    left, low = corner_of(house, lot.lot)
    moved = shifted(shifted(house, 0, 12 * FT - left), 1, 25 * FT - low)
    assert corner_of(moved, lot.lot) == pytest.approx((12 * FT, 25 * FT))
    assert [
        (b[0] - a[0], b[1] - a[1]) for a, b in zip(house.outline, moved.outline, strict=True)
    ] == [pytest.approx((12 * FT - left, 25 * FT - low))] * 4
    assert corner_of(house, None) == pytest.approx((left, low))


def test_typing_how_far_from_the_lot_line_moves_the_house_and_its_doors(window, lot):
    session = window.session
    session.edit("Lot", lambda _: lot)
    session.select("house")
    field = next(
        one
        for one in window.face.inspector.findChildren(LineEditor)
        if one.accessibleName() == "From the left lot line"
    )
    field.selectAll()
    QTest.keyClicks(field, "12'")
    field.editingFinished.emit()
    assert corner_of(_home(session.plan), session.plan.lot)[0] == pytest.approx(12 * FT)
    assert session.plan.openings == lot.openings


def test_before_it_stands_anywhere_the_widest_ground_of_all_turns_is_shown(lot):
    plan = edits.with_fields(lot, machine=machine_starts()["open-frame-5"].machine)
    zone = zone_of(plan, None)
    others = [standing_zone(plan, turn).allowed.area for turn in (0.0, 90.0, 180.0, 270.0)]
    assert zone.allowed.area >= max(others) > others[0]
    placed, _ = making.stand_machine(plan, (20.0, 30.0))
    assert zone_of(placed, None).turn_deg == placed.placement.turn_deg


def test_the_generator_step_says_why_it_cannot_look_for_a_place_yet(window, lot):
    window.session.edit("Lot", lambda _: lot)
    window.face.rail.row("generator").click()
    finding = window.panels["generator"].finding
    assert not finding.ask.isEnabled()
    assert finding.key.isVisible()
    assert "first" in finding.key.text()
    window.panels["generator"].kinds.activated.emit(0)
    window.refresh_panels()
    assert finding.ask.isEnabled()
    assert not finding.key.isVisible()
    finding.tick.setChecked(True)
    assert finding.key.isVisible()
    assert "Tinted" in finding.key.text()


def test_a_window_closed_while_ground_is_searched_leaves_no_thread_behind(window, answers, lot):
    plan = edits.with_fields(lot, machine=machine_starts()["open-frame-5"].machine)
    window.session.edit("Lot", lambda _: plan)
    ways = window.canvas.ways
    ways.want(True)
    ways._ask_zone()
    assert ways._zoning.expects(plan, None)
    answers.unsaved_answer = "discard"
    window.close()
    assert ways._zoning._pool.activeThreadCount() == 0
    assert not ways._zoning.expects(plan, None)
