"""Finding a place in the window: the zone, the places, the table."""

import threading

import pytest
from PySide6.QtWidgets import QApplication

from siteplan.assets import sample
from siteplan.desk.canvas import zoning
from siteplan.desk.steps.places import table_dialog
from siteplan.plan import edits, load
from siteplan.rules.findings import severity
from siteplan.suggest.say import HOUSE_FIRST
from siteplan.suggest.zone import OF_THE_SPOT, standing_zone


@pytest.fixture
def generator(window):
    def show(name):
        window.session.take(load(sample(f"{name}.siteplan")))
        window.fit()
        window.face.rail.open("generator")
        panel = window.panels["generator"]
        panel.refresh()
        QApplication.processEvents()
        return panel

    return show


def test_best_places_are_listed_and_one_is_taken(window, generator):
    panel = generator("bad-placement")
    panel.finding.look()
    assert panel.finding.list.count() == 5
    said = panel.finding.words.text()
    assert said.startswith("No place was found that passes with the cords as entered.")
    assert "Wrong wherever it stands" in said
    assert "Get one cord of at least" in said
    panel.finding.list.setCurrentRow(1)
    panel.finding.stand()
    spot = panel.finding.found.places[1]
    placement = window.session.plan.placement
    assert (placement.at, placement.turn_deg) == (spot.at, spot.turn_deg)
    serious = [
        one
        for one in window.session.review.findings
        if one.rule in OF_THE_SPOT and severity(one.signal) >= severity("WARNING")
    ]
    assert serious == []
    window.session.undo_stack.undo()
    assert window.session.plan.placement.at != spot.at


def test_a_good_lot_says_that_all_listed_pass(generator):
    panel = generator("good-placement")
    panel.finding.look()
    said = panel.finding.words.text()
    assert "all pass the rules about them" in said
    assert "Wrong wherever it stands" not in said


def test_narrow_lot_offers_no_place_to_stand(window, generator):
    panel = generator("narrow-lot")
    panel.finding.look()
    said = panel.finding.words.text()
    assert said.startswith("No place on this lot passes.")
    assert "consent" in said
    assert not panel.finding.here.isVisibleTo(panel.finding)
    before = window.session.plan
    panel.finding.stand()
    assert window.session.plan is before


def test_zone_follows_a_drag_and_a_tick(window, generator, drag, qtbot):
    panel = generator("good-placement")
    ways = window.canvas.ways
    ways._later.setInterval(0)
    assert not ways.wanted
    x, y = window.session.plan.placement.at
    drag((x, y), (x + 2.0, y))
    qtbot.waitUntil(lambda: not ways._later.isActive())
    panel.finding.tick.setChecked(True)
    qtbot.waitUntil(lambda: ways._zone is not None, timeout=5000)
    assert "zone" in window.canvas.under._brushes
    panel.finding.tick.setChecked(False)
    assert "zone" not in window.canvas.under._brushes


def test_pointer_is_told_what_bars_a_place(window, generator, qtbot):
    panel = generator("bad-placement")
    panel.finding.tick.setChecked(True)
    ways = window.canvas.ways
    qtbot.waitUntil(lambda: ways._zone is not None, timeout=5000)
    window.canvas.pointer_moved.emit(window.session.plan.placement.at)
    qtbot.waitUntil(lambda: not ways.told.isHidden(), timeout=5000)
    assert "DANGER" in ways.told.text()
    window.canvas.pointer_moved.emit(None)
    assert ways.told.isHidden()


def test_without_a_house_nothing_is_tinted_and_it_is_said(window, generator, qtbot):
    panel = generator("good-placement")
    theirs = tuple(edits.changed(one, owner="neighbour") for one in window.session.plan.buildings)
    window.session.edit("x", lambda plan: edits.with_fields(plan, buildings=theirs))
    panel.refresh()
    panel.finding.tick.setChecked(True)
    assert "No dwelling of your own is drawn" in panel.finding.key.text()
    ways = window.canvas.ways
    qtbot.waitUntil(lambda: ways._zone is not None and not ways._zone.known)
    ways._at = (13.0, 31.5)
    ways._tell()
    assert ways.told.text().startswith(HOUSE_FIRST.say())
    assert "No rule on where it stands" not in ways.told.text()


def test_places_found_are_forgotten_when_the_ground_changes(window, generator):
    panel = generator("good-placement")
    panel.finding.look()
    window.session.edit("Move", lambda plan: edits.shifted(plan, ["house"], 1.0, 0.0))
    panel.refresh()
    assert panel.finding.found is None


def test_places_found_are_forgotten_when_the_cord_changes_and_kept_when_it_stands(
    window, generator
):
    panel = generator("good-placement")
    panel.finding.look()
    panel.finding.stand()
    panel.refresh()
    assert panel.finding.found is not None

    def shorter(plan):
        cords = tuple(edits.changed(one, pieces_m=(6.0,)) for one in plan.placement.cords)
        return edits.put(plan, edits.changed(plan.placement, cords=cords))

    window.session.edit("Shorten", shorter)
    panel.refresh()
    assert panel.finding.found is None


class Held:
    """A zone that is computed only when the test lets it."""

    def __init__(self, monkeypatch):
        self.go, self.threads, self.turns = threading.Event(), set(), []
        monkeypatch.setattr(zoning, "standing_zone", self)

    def __call__(self, plan, turn_deg):
        self.threads.add(threading.get_ident())
        self.turns.append(turn_deg)
        assert self.go.wait(10.0)
        return standing_zone(plan, turn_deg)


def test_zone_is_computed_off_the_drawings_thread_and_once(window, generator, qtbot, monkeypatch):
    generator("good-placement")
    ways, held = window.canvas.ways, Held(monkeypatch)
    ways.want(True)
    qtbot.waitUntil(lambda: held.turns != [])
    ways._on_plan()
    ways._ask_zone()
    assert "zone" not in window.canvas.under._brushes
    held.go.set()
    qtbot.waitUntil(lambda: "zone" in window.canvas.under._brushes)
    assert threading.get_ident() not in held.threads
    assert held.turns == [window.session.plan.placement.turn_deg]


def test_a_zone_that_comes_too_late_is_dropped(window, generator, qtbot, monkeypatch):
    generator("good-placement")
    ways, held = window.canvas.ways, Held(monkeypatch)
    ways.want(True)
    qtbot.waitUntil(lambda: held.turns != [])
    taken = []
    ways._zoning.found.connect(taken.append)
    window.session.edit("Move", lambda plan: edits.shifted(plan, ["house"], 1.0, 0.0))
    ways._ask_zone()
    held.go.set()
    qtbot.waitUntil(lambda: "zone" in window.canvas.under._brushes)
    assert [zone.scene.plan for zone in taken] == [window.session.plan]


def test_no_zone_stays_under_a_plan_it_is_not_of(window, generator, qtbot):
    generator("good-placement")
    ways = window.canvas.ways
    ways.want(True)
    qtbot.waitUntil(lambda: "zone" in window.canvas.under._brushes)
    window.session.edit("Move", lambda plan: edits.shifted(plan, ["house"], 1.0, 0.0))
    assert "zone" not in window.canvas.under._brushes
    qtbot.waitUntil(lambda: "zone" in window.canvas.under._brushes)


def test_placements_stand_side_by_side_in_a_table(window, generator):
    panel = generator("good-placement")
    dialog = table_dialog(panel, window.session)
    table = dialog.findChildren(type(dialog.layout().itemAt(0).widget()))[0]
    assert table.columnCount() == len(window.session.plan.placements)
    assert table.item(0, 0).text() == "Back yard"


def test_the_key_says_whose_turn_the_tint_shows(window, generator):
    finding = generator("good-placement").finding
    finding.tick.setChecked(True)
    assert "turned as it is now" in finding.key.text()
    finding.look()
    assert "turned as at place 1" in finding.key.text()
    finding.list.setCurrentRow(2)
    assert "turned as at place 3" in finding.key.text()
    assert window.canvas.ways._turn_deg() == finding.found.places[2].turn_deg


def test_all_places_are_listed_without_a_second_scroll_bar(window, generator):
    finding = generator("good-placement").finding
    finding.look()
    QApplication.processEvents()
    rows = sum(finding.list.sizeHintForRow(row) for row in range(finding.list.count()))
    assert finding.list.viewport().height() >= rows
