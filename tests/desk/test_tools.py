import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from siteplan.assets import sample
from siteplan.desk.tools.outline import Corners, Measure
from siteplan.desk.tools.select import Select
from siteplan.plan import load
from siteplan.units import feet


def test_the_lot_is_drawn_by_clicking_its_corners(window, click):
    window.face.rail.open("lot")
    window.panels["lot"].begin()
    for corner in ((-9.0, -6.0), (9.0, -6.0), (9.0, 6.0), (-9.0, 6.0)):
        click(corner)
    click((-9.0, -6.0))
    outline = window.session.plan.lot.outline
    assert len(outline) == 4
    # Corners go to half feet; 9 m is 29.53 ft, so each lies within 3 inches of the click.
    for (x, y), (wx, wy) in zip(outline, ((-9, -6), (9, -6), (9, 6), (-9, 6)), strict=True):
        assert abs(x - wx) < 0.0763
        assert abs(y - wy) < 0.0763
    assert isinstance(window.canvas.tool, Select)
    window.session.undo_stack.undo()
    assert window.session.plan.lot is None


def test_a_typed_length_sets_the_side_exactly(window, mouse, click):
    window.panels["lot"].begin()
    tool = window.canvas.tool
    click((0.0, 0.0))
    mouse("hover", (5.0, 0.05))
    QTest.keyClicks(window.canvas, "2")
    field = window.canvas.number
    assert field.isVisible()
    QTest.keyClicks(field, "4' 6\"")
    QTest.keyClick(field, Qt.Key.Key_Return)
    (ax, ay), (bx, by) = tool.points
    assert bx - ax == pytest.approx(feet(24.5), abs=1e-9)
    assert by == pytest.approx(ay, abs=1e-9)


def test_a_typed_text_that_is_no_length_is_said(window, mouse, click, qtbot):
    window.panels["lot"].begin()
    click((0.0, 0.0))
    mouse("hover", (5.0, 0.0))
    QTest.keyClicks(window.canvas, "2")
    window.canvas.number.setText("2 cats")
    with qtbot.waitSignal(window.session.refused):
        QTest.keyClick(window.canvas.number, Qt.Key.Key_Return)
    assert len(window.canvas.tool.points) == 1


def test_escape_throws_the_corners_away_and_then_the_tool(window, click):
    window.panels["lot"].begin()
    click((0.0, 0.0))
    click((5.0, 0.0))
    QTest.keyClick(window.canvas, Qt.Key.Key_Escape)
    assert window.canvas.tool.points == ()
    QTest.keyClick(window.canvas, Qt.Key.Key_Escape)
    assert isinstance(window.canvas.tool, Select)
    assert window.session.plan.lot is None


def test_backspace_takes_the_last_corner_back(window, click):
    window.panels["lot"].begin()
    click((0.0, 0.0))
    click((5.0, 0.0))
    QTest.keyClick(window.canvas, Qt.Key.Key_Backspace)
    assert len(window.canvas.tool.points) == 1


def test_an_outline_that_crosses_itself_is_refused(window, click, qtbot):
    window.panels["lot"].begin()
    for corner in ((-6.0, -4.0), (6.0, 4.0), (6.0, -4.0), (-6.0, 5.0)):
        click(corner)
    with qtbot.waitSignal(window.session.refused):
        QTest.keyClick(window.canvas, Qt.Key.Key_Return)
    assert window.session.plan.lot is None


def test_an_opening_is_placed_on_the_wall_that_is_clicked(demo_window, click):
    window = demo_window
    before = len(window.session.plan.openings)
    window.face.rail.open("openings")
    window.panels["openings"].click()
    # The lower wall of the house runs from (7, 9) to (18, 9).
    click((15.0, 9.0))
    openings = window.session.plan.openings
    assert len(openings) == before + 1
    made = openings[-1]
    assert (made.building, made.wall, made.kind) == ("house", 0, "window")
    assert made.offset_m + made.width_m / 2 == pytest.approx(8.0, abs=0.02)
    assert window.session.selection == (made.id,)


def test_a_click_far_from_any_wall_places_nothing(demo_window, click, qtbot):
    window = demo_window
    before = window.session.plan
    window.panels["openings"].click()
    with qtbot.waitSignal(window.session.refused):
        click((13.0, 34.0))
    assert window.session.plan is before


def test_the_generator_is_stood_by_a_click(window, click):
    window.session.take(load(sample("good-placement.siteplan")))
    window.fit()
    window.panels["generator"].click()
    click((13.0, 30.0))
    at = window.session.plan.placement.at
    assert at == pytest.approx((13.0, 30.0), abs=0.0128)


def test_a_second_place_is_kept_beside_the_first(demo_window, click):
    window = demo_window
    window.panels["generator"].click_another()
    click((13.0, 34.0))
    plan = window.session.plan
    assert len(plan.placements) == 2
    assert plan.placement is plan.placements[1]


def test_a_fence_is_drawn_as_an_open_line(demo_window, click):
    window = demo_window
    before = len(window.session.plan.surroundings)
    window.face.rail.open("around")
    window.panels["around"]._line("fence")()
    click((3.0, 30.0))
    click((9.0, 30.0))
    QTest.keyClick(window.canvas, Qt.Key.Key_Return)
    fences = window.session.plan.surroundings
    assert len(fences) == before + 1
    assert fences[-1].kind == "fence"
    assert len(fences[-1].path) == 2


@pytest.mark.parametrize("kind", ["deck", "pool", "canopy"])
def test_an_area_is_drawn_by_its_corners(demo_window, click, kind):
    window = demo_window
    window.panels["around"]._area(kind)()
    for corner in ((3.0, 26.0), (6.0, 26.0), (6.0, 29.0), (3.0, 29.0)):
        click(corner)
    QTest.keyClick(window.canvas, Qt.Key.Key_Return)
    assert window.session.plan.surroundings[-1].kind == kind


def test_a_fixture_hangs_on_the_wall_that_is_clicked(demo_window, click):
    window = demo_window
    window.face.rail.open("path")
    window.panels["path"]._on_wall("power-inlet")()
    click((15.0, 9.0))
    made = window.session.plan.fixtures[-1]
    assert made.kind == "power-inlet"
    assert (made.on.building, made.on.wall) == ("house", 0)
    # It stands just outside the wall, whose outside is below.
    assert made.at[1] == pytest.approx(9.0 - 0.05)


def test_a_cord_is_run_to_an_inlet(demo_window, click):
    window = demo_window
    window.panels["path"]._on_wall("power-inlet")()
    click((15.0, 9.0))
    inlet = window.session.plan.fixtures[-1]
    window.panels["path"].run_cord()
    click((20.0, 22.0))
    click(inlet.at)
    cord = window.session.plan.placement.cords[-1]
    assert cord.to == inlet.id
    assert len(cord.waypoints) == 1


def test_measuring_gives_the_length_between_two_places(demo_window, click, mouse):
    window = demo_window
    window.measure()
    tool = window.canvas.tool
    assert isinstance(tool, Measure)
    click((7.0, 9.0))
    mouse("hover", (18.0, 9.0))
    # 11 m is 36.089 ft: 36 ft and one inch, rounded down.
    assert tool.measured() == "36' 1\""


def test_dragging_a_corner_reshapes_and_keeps_the_openings(demo_window, drag):
    window = demo_window
    window.session.select("house")
    before = window.session.plan
    drag((7.0, 9.0), (6.5, 9.0))
    house = window.session.plan.building("house")
    assert house.outline[0][0] == pytest.approx(6.5, abs=0.0128)
    assert len(window.session.plan.openings) == len(before.openings)
    assert window.session.undo_stack.count() == 1


def test_an_opening_is_dragged_along_its_wall(demo_window, drag):
    window = demo_window
    opening = next(one for one in window.session.plan.openings if one.id == "front-door")
    middle = 7.0 + opening.offset_m + opening.width_m / 2
    drag((middle, 9.0), (9.0, 9.0))
    moved = next(one for one in window.session.plan.openings if one.id == "front-door")
    assert moved.offset_m + moved.width_m / 2 == pytest.approx(2.0, abs=0.02)


def test_a_building_takes_its_fixtures_along(demo_window, drag):
    window = demo_window
    plan = window.session.plan
    hung = [one for one in plan.fixtures if one.on is not None and one.on.building == "house"]
    window.session.select("house")
    drag((10.0, 12.0), (12.0, 12.0))
    for one in hung:
        moved = next(other for other in window.session.plan.fixtures if other.id == one.id)
        assert moved.on == one.on
    assert window.session.plan.building("house").outline[0][0] == pytest.approx(9.0, abs=0.0128)


def test_a_rubber_band_selects_what_lies_inside(demo_window, mouse):
    window = demo_window
    shift = Qt.KeyboardModifier.ShiftModifier
    mouse("press", (1.0, 35.0), modifiers=shift)
    mouse("move", (7.0, 41.5), modifiers=shift)
    mouse("release", (7.0, 41.5), modifiers=shift)
    assert "shed" in " ".join(window.session.selection)


def test_drawing_tool_in_hand_draws_without_error(demo_window, mouse, qtbot):
    window = demo_window
    window.canvas.take_tool(Corners(window.canvas, "Lot", lambda points: None))
    for at in ((3.0, 3.0), (9.0, 3.0), (9.0, 8.0)):
        mouse("press", at)
        mouse("release", at)
        mouse("hover", (at[0] + 1.0, at[1] + 1.0))
        window.canvas.viewport.repaint()
    assert len(window.canvas.tool.points) == 3


@pytest.mark.parametrize("name", ["lot", "buildings"])
@pytest.mark.parametrize("drawn", [True, False])
def test_a_size_that_no_plan_can_hold_is_refused_in_words(window, qtbot, name, drawn):
    if drawn:
        window.session.take(load(sample("bad-placement.siteplan")))
    before, panel = window.session.plan, window.panels[name]
    panel.width_field.setText("99999999999 m")
    panel.depth_field.setText("10 m")
    with qtbot.waitSignal(window.session.refused):
        panel.draw_rectangle() if name == "lot" else panel.add_typed()
    assert window.session.plan is before
