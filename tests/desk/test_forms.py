import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFocusEvent
from PySide6.QtTest import QTest

from siteplan.desk import things
from siteplan.desk.forms import quantities
from siteplan.desk.forms.editors import Choice, LineEditor, NoteEditor, Tick
from siteplan.desk.forms.form import PartForm
from siteplan.desk.forms.schema import specs, value_at, with_value
from siteplan.errors import UnitTextError
from siteplan.plan import Plan, edits
from siteplan.plan.lot import Accuracy, Building, Lot
from siteplan.plan.machine import Cover, Machine, SoundRating
from siteplan.units import feet, inches
from siteplan.words import held_together

PARTS = ("@plan", "@lot", "@machine", "@outage", "@household", "@transfer")


def editors(form: PartForm):
    return [editor for editor, _ in form._rows]


def field(form: PartForm, name: str):
    """The editor with this label."""
    return next(one for one in editors(form) if one.accessibleName() == name)


def enter(editor: LineEditor, words: str) -> None:
    editor.setFocus()
    editor.setText(words)
    QTest.keyClick(editor, Qt.Key.Key_Return)


def test_everything_in_a_plan_has_a_form_with_named_fields(session, full_plan, qtbot):
    session.take(full_plan)
    for key in (*PARTS, *things.ids(full_plan)):
        form = PartForm(session, key)
        qtbot.addWidget(form)
        assert editors(form), key
        assert all(one.accessibleName() for one in editors(form)), key


def test_showing_a_form_changes_nothing(session, full_plan, qtbot):
    session.take(full_plan)
    for key in (*PARTS, *things.ids(full_plan)):
        form = PartForm(session, key)
        qtbot.addWidget(form)
        for editor in editors(form):
            if isinstance(editor, LineEditor):
                editor.editingFinished.emit()
    assert session.plan is full_plan


def test_every_choice_of_every_form_can_be_taken_and_undone(session, full_plan, qtbot):
    session.take(full_plan)
    refused: list[str] = []
    session.refused.connect(refused.append)
    taken = 0
    for key in (*PARTS, *things.ids(full_plan)):
        form = PartForm(session, key)
        qtbot.addWidget(form)
        for editor in editors(form):
            if isinstance(editor, Choice) and editor.count() > 1:
                editor.activated.emit(editor.count() - 1)
                taken += 1
            elif isinstance(editor, Tick):
                editor.toggle()
                taken += 1
    assert taken > 60
    assert refused == []
    while session.undo_stack.canUndo():
        session.undo_stack.undo()
    assert session.plan == full_plan


def test_a_typed_length_is_taken_exactly(session, full_plan, qtbot):
    session.take(full_plan)
    form = PartForm(session, "front-door")
    qtbot.addWidget(form)
    form.show()
    enter(field(form, "From the wall's corner"), "3' 4 1/2\"")
    assert edits.find(session.plan, "front-door").offset_m == pytest.approx(feet(3) + inches(4.5))
    assert session.undo_stack.count() == 1


def test_what_does_not_fit_is_said_and_nothing_changes(session, full_plan, qtbot):
    session.take(full_plan)
    form = PartForm(session, "front-door")
    qtbot.addWidget(form)
    form.show()
    enter(field(form, "From the wall's corner"), "99 m")
    assert session.plan is full_plan
    assert not form.error.isHidden()
    assert "wall" in form.error.text()


def test_what_is_no_length_is_said_and_marked(session, full_plan, qtbot):
    session.take(full_plan)
    form = PartForm(session, "front-door")
    qtbot.addWidget(form)
    form.show()
    editor = field(form, "Width")
    enter(editor, "wide")
    assert session.plan is full_plan
    assert editor.property("bad") is True
    QTest.keyClick(editor, Qt.Key.Key_Escape)
    assert editor.property("bad") is False


def test_an_emptied_optional_field_is_not_known(session, full_plan, qtbot):
    session.take(full_plan)
    form = PartForm(session, "@machine")
    qtbot.addWidget(form)
    form.show()
    enter(field(form, "Running watts"), "")
    assert session.plan.machine.rated_w is None


def test_parts_inside_parts_are_added_and_removed(session, full_plan, qtbot):
    session.take(edits.with_fields(full_plan, accuracy=None))
    form = PartForm(session, "@plan")
    qtbot.addWidget(form)
    spec = next(one for one in specs(Plan) if one.name == "accuracy")
    form._commit(("accuracy",), Accuracy(method="taped"))
    assert session.plan.accuracy == Accuracy(method="taped")
    assert spec.optional
    form._commit(("accuracy",), None)
    assert session.plan.accuracy is None


def test_the_size_of_a_building_is_set_from_its_lower_left_corner(session, full_plan, qtbot):
    session.take(full_plan)
    form = PartForm(session, "house")
    qtbot.addWidget(form)
    form.show()
    enter(field(form, "Width overall"), "12 m")
    outline = session.plan.building("house").outline
    assert outline[0] == pytest.approx((7.0, 9.0))
    assert outline[1] == pytest.approx((19.0, 9.0))


def test_reshaping_the_lot_drops_what_the_deed_says(session, full_plan, qtbot):
    session.take(full_plan)
    form = PartForm(session, "@lot")
    qtbot.addWidget(form)
    form.show()
    enter(field(form, "Width overall"), "30 m")
    assert session.plan.lot.legs == ()
    assert session.plan.lot.outline[1] == pytest.approx((30.0, 0.0))


def test_the_form_follows_undo(session, full_plan, qtbot):
    session.take(full_plan)
    form = PartForm(session, "front-door")
    qtbot.addWidget(form)
    form.show()
    editor = field(form, "Width")
    before = editor.text()
    enter(editor, "4'")
    form.refresh()
    assert editor.text() == "4'"
    session.undo_stack.undo()
    editor.clearFocus()
    form.refresh()
    assert editor.text() == before


def test_values_deep_inside_are_read_and_replaced():
    machine = Machine()
    assert value_at(machine, ("width_m",)) == 0.6
    changed = with_value(machine, ("sound",), None)
    assert changed == machine
    building = Building(id="b", outline=((0, 0), (4, 0), (4, 4)))
    moved = with_value(building, ("outline", 1), (5.0, 0.0))
    assert value_at(moved, ("outline", 1)) == (5.0, 0.0)
    assert with_value(Cover(kind="box"), ("open_sides",), 2) == Cover(kind="box", open_sides=2)
    assert value_at(Lot(outline=((0, 0), (4, 0), (4, 4))), ("outline", 2)) == (4, 4)


@pytest.mark.parametrize(
    ("metres", "words"),
    [
        (0.0, '0"'),
        (feet(7) + inches(3.5), "7' 3 1/2\""),
        (feet(24), "24'"),
        (inches(0.0625), '1/16"'),
        (-feet(2), "-2'"),
        # A 32nd rounds to the even sixteenth or its neighbour, never to nothing else.
        (inches(12 - 1 / 64), "1'"),
    ],
)
def test_lengths_are_shown_to_a_sixteenth_of_an_inch(metres, words):
    assert quantities.exact_length(metres, "feet") == words


@pytest.mark.parametrize(
    ("words", "quantity", "value"),
    [
        ("5 kW", "power", 5000.0),
        ("5000", "power", 5000.0),
        ("5 gal", "volume", 18.92705892),
        ("20 L", "volume", 20.0),
        ("32", "temperature", 0.0),
        ("100 °C", "temperature", 100.0),
        ("50 %", "share", 0.5),
        ("50", "share", 0.5),
        ("12 AWG", "gauge", 12.0),
        ("2/0", "gauge", -1.0),
        ("1/0 AWG", "gauge", 0.0),
        ("68 dBA", "level", 68.0),
        ("45°", "angle", 45.0),
    ],
)
def test_quantities_are_read_as_people_write_them(words, quantity, value):
    assert quantities.read(words, quantity, "feet") == pytest.approx(value)


@pytest.mark.parametrize(
    ("words", "quantity"), [("x", "power"), ("12 cats", "power"), ("fat", "gauge"), ("", "angle")]
)
def test_what_is_no_quantity_is_refused(words, quantity):
    with pytest.raises(UnitTextError):
        quantities.read(words, quantity, "feet")


@pytest.mark.parametrize("quantity", ["power", "volume", "temperature", "share", "level", "angle"])
@pytest.mark.parametrize("system", ["feet", "metres"])
def test_what_is_shown_is_read_back(quantity, system):
    for value in (0.0, 0.25, 1.0, 37.5):
        words = quantities.show(value, quantity, system)
        assert quantities.read(words, quantity, system) == pytest.approx(value, abs=0.06)


def test_notes_are_read_when_the_focus_leaves(session, full_plan, qtbot):
    session.take(full_plan)
    form = PartForm(session, "@plan")
    qtbot.addWidget(form)
    form.show()
    note = next(one for one in editors(form) if isinstance(one, NoteEditor))
    note.setPlainText("<b>plain</b>")
    note.focusOutEvent(QFocusEvent(QFocusEvent.Type.FocusOut))
    assert session.plan.note == "<b>plain</b>"


def test_an_entry_for_a_part_that_is_gone_meanwhile_is_let_go(session, full_plan, qtbot):
    machine = edits.changed(full_plan.machine, sound=SoundRating(level_dba=65.0))
    session.take(edits.with_fields(full_plan, machine=machine))
    form = PartForm(session, "@machine")
    qtbot.addWidget(form)
    form.show()
    editor = field(form, "Level")
    session.edit(
        "gone", lambda plan: edits.with_fields(plan, machine=edits.changed(machine, sound=None))
    )
    after = session.plan
    editor.setText("70")
    editor.editingFinished.emit()
    assert session.plan is after


@pytest.mark.parametrize(
    "case",
    [
        ("@plan", "Date", "tomorrow", "date such as"),
        ("@outage", "Begins at", "25:00", "time of day"),
        ("house", "Storeys", "2.5", "whole number"),
        ("house", "Storeys", "11", "between 1 and 10"),
        ("front-door", "Width", "1001 m", "between"),
        ("front-door", "Width", "0", "between"),
        ("by-the-porch", "Turned", "360", "between 0° and 360°"),
        ("@outage", "Outdoor temperature", "150 °F", "between -76 °F and 140 °F"),
    ],
)
def test_an_entry_out_of_range_is_said_in_the_fields_own_words(session, full_plan, qtbot, case):
    key, label, words, said = case
    session.take(full_plan)
    form = PartForm(session, key)
    qtbot.addWidget(form)
    form.show()
    enter(field(form, label), words)
    assert held_together(said) in form.error.text()
    assert session.plan is full_plan


@pytest.mark.parametrize(
    "case",
    [
        ("@plan", "Date", "2026-02-28"),
        ("@outage", "Begins at", "7:30"),
        ("house", "Storeys", "10"),
        ("front-door", "Width", "0.05 m"),
        ("by-the-porch", "Turned", "359.9"),
    ],
)
def test_an_entry_at_the_edge_of_its_range_is_taken(session, full_plan, qtbot, case):
    key, label, words = case
    session.take(full_plan)
    form = PartForm(session, key)
    qtbot.addWidget(form)
    form.show()
    enter(field(form, label), words)
    assert session.plan is not full_plan
    assert form.error.isHidden()


def test_rebuilding_a_form_with_the_cursor_in_it_is_no_entry(session, full_plan, qtbot):
    session.take(full_plan)
    form = PartForm(session, "@plan")
    qtbot.addWidget(form)
    form.show()
    editor = field(form, "Date")
    editor.setFocus()
    editor.setText("tomorrow")
    session.edit("x", lambda plan: edits.with_fields(plan, accuracy=None))
    after = session.plan
    form.refresh()
    assert session.plan is after
