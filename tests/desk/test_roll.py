"""The table of everything: what it says, and going through it by keyboard."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from shapely import Polygon
from shapely.affinity import rotate
from shapely.geometry import box

from siteplan.desk import things
from siteplan.desk.roll import Roll, entries, open_roll
from siteplan.plan import edits
from siteplan.rules.findings import Finding, Met, Review, Unjudged
from siteplan.scene import resolve
from siteplan.units import M_PER_FT
from siteplan.words import Text


@pytest.fixture
def roll(demo_window):
    return open_roll(demo_window)


def column(roll, number):
    return [roll.table.item(row, number).text() for row in range(roll.table.rowCount())]


def test_every_thing_has_its_row_with_name_kind_and_place(demo_window, full_plan, qapp):
    demo_window.session.take(full_plan)
    found = entries(full_plan, demo_window.session.scene, demo_window.session.review)
    assert [one.key for one in found] == [things.LOT, *things.ids(full_plan)]
    assert all(text for one in found for text in one.cells)
    placed = [one for one in found if getattr(things.get(full_plan, one.key), "at", None)]
    assert placed
    assert all(" east, " in one.cells[2] for one in placed)


def test_distances_run_from_the_machine_to_the_nearest_point(demo_window, roll):
    plan = demo_window.session.plan
    placement, machine = plan.placement, plan.machine
    house = Polygon(plan.building("house").outline)
    x, y = placement.at
    frame = box(
        x - machine.width_m / 2, y - machine.length_m / 2,
        x + machine.width_m / 2, y + machine.length_m / 2,
    )  # fmt: skip
    frame = rotate(frame, -placement.turn_deg, origin=placement.at)
    row = [entry.key for entry in roll._entries].index("house")
    feet, _, inches = roll.table.item(row, 3).text().partition("'")
    told = int(feet) + (float(inches.strip().rstrip('"')) / 12 if inches.strip() else 0)
    # Rounded down to the inch, and the outlet may stand out of the frame.
    assert 0.0 <= frame.distance(house) / M_PER_FT - told <= 0.5


def test_without_a_machine_there_is_no_distance(demo_window, roll):
    demo_window.session.edit(
        "x", lambda plan: edits.with_fields(plan, placements=(), loads=(), chosen=None)
    )
    roll.refresh()
    assert set(column(roll, 3)) == {"–"}


def test_the_state_is_the_worst_and_missing_data_is_no_pass(demo_window):
    plan = demo_window.session.plan
    caution, danger = (
        Finding("r", signal, ("house",), Text("a"), Text("b"), ())
        for signal in ("CAUTION", "DANGER")
    )
    met = Met("r", ("house", "shed", "front-door"), Text("a"), ())
    unjudged = Unjudged("r", ("shed", "house"), Text("a"))
    review = Review((danger, caution), (met,), (unjudged,))
    states = {one.key: one.cells[4] for one in entries(plan, resolve(plan), review)}
    assert states["house"] == "DANGER, 2 findings"
    assert states["shed"] == "Not judged"
    assert states["front-door"] == "Met"
    assert states[things.LOT] == "–"
    assert states[plan.placement.id] == "DANGER, 2 findings"


def test_the_key_opens_the_table_and_arrows_select_things(demo_window, qtbot):
    window = demo_window
    window.actions_by_name["table"].trigger()
    roll = window.findChild(Roll)
    assert roll.isVisible()
    assert window.actions_by_name["table"].shortcut().toString() == "Ctrl+T"
    roll.table.setCurrentCell(0, 0)
    QTest.keyClick(roll.table, Qt.Key.Key_Down)
    assert window.session.selection == (roll._entries[1].key,)
    QTest.keyClick(roll.table, Qt.Key.Key_Down)
    assert window.session.selection == (roll._entries[2].key,)
    QTest.keyClick(roll, Qt.Key.Key_Escape)
    assert not roll.isVisible()
    window.actions_by_name["table"].trigger()
    assert window.findChildren(Roll) == [roll]


def test_what_is_selected_elsewhere_is_chosen_in_the_table(demo_window, roll):
    demo_window.session.select("shed")
    row = roll.table.currentRow()
    assert roll._entries[row].key == "shed"
    demo_window.session.select()
    assert roll.table.selectedItems() == []


def test_enter_goes_to_the_exact_numbers(demo_window, roll):
    row = [entry.key for entry in roll._entries].index("house")
    roll.table.setCurrentCell(row, 0)
    roll.table.itemActivated.emit(roll.table.item(row, 0))
    QApplication.processEvents()
    assert demo_window.session.selection == ("house",)
    assert demo_window.face.inspector.isAncestorOf(demo_window.focusWidget())


def test_the_table_follows_edits_and_language(demo_window, roll, qtbot):
    house = demo_window.session.plan.building("house")
    demo_window.session.edit(
        "x", lambda plan: edits.put(plan, edits.changed(house, name="Old house"))
    )
    qtbot.waitUntil(lambda: "Old house" in column(roll, 0))
    demo_window.session.speak("es", "metres")
    qtbot.waitUntil(lambda: roll.windowTitle() == "Tabla de todo")
    assert any(text.endswith(" m") for text in column(roll, 3))


def test_the_table_has_names_for_screen_readers_and_no_keyboard_trap(roll):
    assert roll.table.accessibleName() == "Everything on the plan"
    heads = [roll.table.horizontalHeaderItem(one).text() for one in range(5)]
    assert heads == ["Name", "Kind", "Position", "From the generator", "State"]
    assert not roll.table.tabKeyNavigation()
    # WCAG 2.2, success criterion 2.5.8: 24 by 24 CSS pixels.
    assert roll.table.rowHeight(0) >= 24
