import gc
import threading

import pytest
from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QWidget

from siteplan.assets import sample
from siteplan.desk import things
from siteplan.desk.findings import counts
from siteplan.desk.palette import LIGHT, PALETTES
from siteplan.desk.signals import PANELS, word
from siteplan.desk.steps.table import steps
from siteplan.desk.verdict import Verdict
from siteplan.plan import Plan, edits, load
from siteplan.rules.book import book
from siteplan.rules.findings import SIGNALS, Finding, Met, Review, Unjudged
from siteplan.rules.missing import grouped, open_count
from siteplan.words import Text, held_together


def test_an_empty_plan_says_how_to_begin_and_judges_nothing(window):
    assert window._welcome.isVisible()
    assert window.face.findings.findings.rowCount() == 0
    assert window.face.verdict.accessibleName().startswith("No generator yet")


def test_the_demo_can_be_opened_from_the_first_words(window):
    window._welcome.buttons["demo"].click()
    assert window.session.plan.buildings
    assert not window._welcome.isVisible()


def test_findings_are_shown_worst_first_each_with_its_word(demo_window):
    model = demo_window.face.findings.findings
    review = demo_window.session.review
    spoken = [
        model.data(model.index(row), Qt.ItemDataRole.DisplayRole)
        for row in range(len(review.findings))
    ]
    for finding, words in zip(review.findings, spoken, strict=True):
        assert words.startswith(f"{finding.signal}: ")
    order = [SIGNALS.index(finding.signal) for finding in review.findings]
    assert order == sorted(order)


def test_picking_a_finding_selects_its_subject_and_shows_the_evidence(demo_window):
    window = demo_window
    finding = next(one for one in window.session.review.findings if one.evidence and one.subjects)
    window.face.findings.picked.emit(finding)
    assert window.session.selection[0] in finding.subjects
    (left, low), (right, high) = window.canvas.frame.low, window.canvas.frame.high
    for evidence in finding.evidence:
        assert all(left <= x <= right and low <= y <= high for x, y in evidence.points)


def test_each_step_has_a_panel_and_opens_by_keyboard(demo_window):
    seen = []
    for _ in steps():
        seen.append(demo_window.face.rail.current)
        demo_window.panes.next_step()
        QApplication.processEvents()
    assert sorted(seen) == sorted(step.name for step in steps())
    assert all(demo_window.panels[name] for name in seen)


def test_tab_goes_from_thing_to_thing_and_then_on(demo_window):
    window = demo_window
    window.canvas.setFocus()
    keys = list(things.ids(window.session.plan))
    for key in keys:
        QTest.keyClick(window.canvas, Qt.Key.Key_Tab)
        assert window.session.selection == (key,)
    QTest.keyClick(window.canvas, Qt.Key.Key_Tab)
    assert window.session.selection == ()


def test_the_generator_is_moved_and_turned_by_keyboard_alone(demo_window):
    window = demo_window
    placement = window.session.plan.placement
    window.session.select(placement.id)
    QTest.keyClick(window.canvas, Qt.Key.Key_Up)
    QTest.keyClick(window.canvas, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(window.canvas, Qt.Key.Key_BracketRight)
    now = window.session.plan.placement
    # One inch, then a foot; five degrees clockwise.
    assert now.at[1] - placement.at[1] == pytest.approx(0.0254 + 0.3048)
    assert now.turn_deg == pytest.approx((placement.turn_deg + 5.0) % 360.0)
    for _ in range(3):
        window.actions_by_name["undo"].trigger()
    assert window.session.plan.placement == placement


def test_f6_goes_round_the_panes(demo_window):
    window = demo_window
    window.session.select("house")
    window.canvas.setFocus()
    seen = []
    for _ in range(4):
        window.panes.next()
        focus = QApplication.focusWidget()
        seen.append(focus)
    assert seen[0] is window.face.findings
    assert window.face.inspector.isAncestorOf(seen[1])
    assert window.face.rail.isAncestorOf(seen[2])
    assert seen[3] is window.canvas


def test_things_are_deleted_duplicated_and_mirrored(demo_window):
    window = demo_window
    before = window.session.plan
    window.session.select("shed")
    window.editing.duplicate()
    assert len(window.session.plan.buildings) == len(before.buildings) + 1
    window.editing.mirror()
    window.editing.delete()
    assert len(window.session.plan.buildings) == len(before.buildings)
    for _ in range(3):
        window.session.undo_stack.undo()
    assert window.session.plan == before


def test_mirroring_twice_gives_the_first_plan(demo_window):
    window = demo_window
    before = window.session.plan
    window.session.select("house")
    window.editing.mirror()
    house = before.building("house")
    assert window.session.plan != before
    window.editing.mirror()
    now = window.session.plan
    for (x, y), (wx, wy) in zip(now.building("house").outline, house.outline, strict=True):
        assert (x, y) == pytest.approx((wx, wy))
    for one, other in zip(now.openings, before.openings, strict=True):
        assert one.wall == other.wall
        assert one.offset_m == pytest.approx(other.offset_m)


def test_deleting_a_building_takes_its_openings(demo_window):
    window = demo_window
    window.session.select("house")
    window.editing.delete()
    assert all(one.building != "house" for one in window.session.plan.openings)


def test_units_change_everywhere_at_a_key(demo_window):
    window = demo_window
    window.session.select("front-door")
    window.switch_units()
    QApplication.processEvents()
    texts = [
        one.text() for one in window.face.inspector.findChildren(QWidget) if hasattr(one, "text")
    ]
    assert any(text.endswith(" m") for text in texts)
    assert window.canvas.furniture.bar()[1].endswith(" m")
    window.switch_units()
    assert window.canvas.furniture.bar()[1].endswith("'")


def test_the_language_changes_with_the_drawing_and_open_step_kept(demo_window):
    window = demo_window
    window.face.rail.open("openings")
    canvas, plan = window.canvas, window.session.plan
    window.switch_language()
    QApplication.processEvents()
    assert window.canvas is canvas
    assert canvas.isVisible()
    assert window.face.rail.current == "openings"
    assert window.session.plan is plan
    window.switch_language()
    QApplication.processEvents()


@pytest.mark.parametrize("name", ["light", "dark", "contrast"])
def test_each_palette_paints_every_step(demo_window, name):
    demo_window.use_palette(name)
    for step in demo_window.face.rail.names:
        demo_window.face.rail.open(step)
        demo_window.grab()


def test_every_label_is_plain_text(demo_window):
    plain = Qt.TextFormat.PlainText
    for step in demo_window.face.rail.names:
        demo_window.face.rail.open(step)
        demo_window.session.select("house")
    for label in demo_window.findChildren(QLabel):
        assert label.textFormat() == plain, label.text()


def test_a_name_that_looks_like_markup_is_shown_as_it_is(demo_window):
    window = demo_window
    evil = '<img src="/etc/hostname">'
    house = window.session.plan.building("house")
    window.session.edit("x", lambda plan: edits.put(plan, edits.changed(house, name=evil)))
    window.session.select("house")
    assert window.face.inspector.title.text() == evil


@pytest.mark.parametrize("palette", PALETTES.values(), ids=PALETTES.keys())
def test_words_and_edges_of_fields_stand_out_in_each_palette(palette):
    # WCAG 2.2: text 4.5 to 1 (1.4.3), the edge of a field 3 to 1 (1.4.11).
    grounds = (palette.window, palette.panel, palette.raised, palette.accent_soft, palette.canvas)
    for letters in (palette.text, palette.muted, palette.accent):
        assert min(contrast(letters, one) for one in grounds) >= 4.5
    assert contrast(palette.on_accent, palette.accent) >= 4.5
    for ground in (palette.raised, palette.panel):
        assert contrast(palette.strong_border, ground) >= 3.0


def contrast(one, other):
    low, high = sorted((luminance(QColor(one)), luminance(QColor(other))))
    return (high + 0.05) / (low + 0.05)


def luminance(colour):
    def linear(part):
        return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(part) for part in (colour.redF(), colour.greenF(), colour.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_signal_words_have_colour_symbol_and_readable_letters():
    for state, panel in PANELS.items():
        # WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text.
        assert contrast(panel.colour, panel.letters) >= 4.5, state
        assert word(state)
        assert panel.symbol


def test_every_button_has_a_name_and_is_large_enough(demo_window):
    for step in demo_window.face.rail.names:
        demo_window.face.rail.open(step)
        demo_window.session.select("house")
        QApplication.processEvents()
        for button in demo_window.findChildren(QAbstractButton):
            if button.isVisible() and button.focusPolicy() != Qt.FocusPolicy.NoFocus:
                assert button.accessibleName() or button.text(), button
                # WCAG 2.2, success criterion 2.5.8: 24 by 24 CSS pixels.
                assert min(button.width(), button.height()) >= 24, button.text()


def test_a_closed_window_leaves_no_timer_running_and_no_thread(window):
    window.session.take(load(sample("bad-placement.siteplan")))
    window.session.edit("x", lambda plan: edits.with_fields(plan, title="x"))
    window.session.undo_stack.setClean()
    window.close()
    timers = [one for one in window.findChildren(QTimer) if one.isActive()]
    assert timers == []
    assert threading.active_count() == 1
    assert not window.recovery.file.exists()


def test_many_edits_keep_the_number_of_objects_level(demo_window):
    window = demo_window

    def count():
        QApplication.processEvents()
        gc.collect()
        return len(window.findChildren(QObject))

    def cycle():
        for key in ("house", "front-door", "maple", "by-the-porch"):
            window.session.select(key)
            QApplication.sendPostedEvents(None, 52)
            QApplication.processEvents()
        window.session.select()
        QApplication.processEvents()

    cycle()
    before = count()
    for _ in range(5):
        cycle()
    assert count() <= before + 2


def test_the_review_of_an_empty_plan_shows_in_the_rail_what_is_missing(window):
    window.session.take(Plan())
    assert "no boundary yet" in window.face.rail.row("lot").accessibleDescription()


@pytest.mark.parametrize(
    ("findings", "unjudged", "words"),
    [(0, 0, "No finding"), (0, 1, "Not all judged"), (1, 0, "CAUTION"), (1, 1, "CAUTION")],
)
def test_what_could_not_be_judged_is_never_a_pass(qapp, findings, unjudged, words):
    caution = Finding("r", "CAUTION", (), Text("a"), Text("b"), ())
    open_question = Unjudged("r", (), Text("c"))
    review = Review((caution,) * findings, (), (open_question,) * unjudged)
    verdict = Verdict(LIGHT)
    verdict.show_review(review, standing=True)
    assert verdict.accessibleName().startswith(words)


@pytest.mark.parametrize(
    ("findings", "met", "missing", "words"),
    [
        (0, 0, (), "0 findings, 0 met, 0 not judged"),
        (1, 1, ("a",), "1 finding, 1 met, 1 not judged"),
        # Two rules wait for the same thing.
        (2, 3, ("a", "b", "a"), "2 findings, 3 met, 2 not judged"),
    ],
)
def test_counts_tell_one_from_many_and_missing_data_once(qapp, findings, met, missing, words):
    caution = Finding("r", "CAUTION", (), Text("a"), Text("b"), ())
    review = Review(
        (caution,) * findings,
        (Met("r", (), Text("a"), ()),) * met,
        tuple(Unjudged(f"r{place}", (), Text(one)) for place, one in enumerate(missing)),
    )
    assert counts(review) == words
    assert open_count(review) == len(set(missing))


def test_counts_of_window_and_step_agree_with_the_list(demo_window):
    window = demo_window
    shown = [row for row in window.face.findings.findings.rows if row.state == "UNJUDGED"]
    window.face.rail.open("check")
    told = f"{open_count(window.session.review)} not judged"
    assert [row.what.lower() for row in shown] == [
        one.text.say().lower() for one in grouped(window.session.review.unjudged)
    ]
    assert told in window.face.verdict.accessibleName()
    assert told in window.face.rail.row("check").accessibleDescription()
    assert held_together(told) in window.panels["check"].counts.text()


def test_what_is_met_begins_with_the_title_of_its_rule(demo_window):
    rows = [row for row in demo_window.face.findings.findings.rows if row.state == "MET"]
    assert rows
    for row in rows:
        assert row.what.startswith(f"{book()[row.outcome.rule].title}. ")


def test_a_change_of_language_leaves_nothing_of_the_old_face(demo_window):
    def count():
        QApplication.processEvents()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        gc.collect()
        return len(QApplication.allWidgets())

    def there_and_back():
        demo_window.switch_language()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        demo_window.switch_language()

    there_and_back()
    before = count()
    for _ in range(3):
        there_and_back()
    assert count() <= before + 2
