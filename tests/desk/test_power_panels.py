"""The power path in the window: cords in figures, ways side by side, legs as bars."""

import pytest
from PySide6.QtWidgets import QApplication

from siteplan.assets import sample
from siteplan.plan import load
from siteplan.words import held_together


@pytest.fixture
def open_step(window):
    def opened(name, step):
        window.session.take(load(sample(f"{name}.siteplan")))
        window.face.rail.open(step)
        QApplication.processEvents()
        window.panels[step].refresh()
        return window.panels[step]

    return opened


def test_cords_stand_in_figures(open_step):
    (card,) = open_step("good-placement", "path").figures.texts
    assert "Inlet cord · 10 AWG" in card
    assert "sold as 100'" in card
    (bad,) = open_step("bad-placement", "path").figures.texts
    # 700, 1500, 80 and 1000 W on 120 V: 27.4 A through a 16 AWG cord of 13 A.
    assert "Carries 27.4 A, may carry 13.0 A." in bad


def test_ways_stand_side_by_side(open_step):
    panel = open_step("good-placement", "path")
    ways = panel.ways.texts
    assert len(ways) == 4
    assert ways[-1].startswith("Inlet with transfer equipment (as planned)")
    assert "Needs 240 V, which does not get there: Well pump." in ways[0]
    assert "transfer switch or interlock" in panel.parts.text()


def test_nothing_to_compare_shows_no_cards(open_step, window):
    panel = open_step("good-placement", "path")
    window.session.take(load(sample("good-placement.siteplan")).model_copy(
        update={"machine": None, "placements": (), "chosen": None}))  # fmt: skip
    QApplication.processEvents()
    panel.refresh()
    assert (panel.ways.texts, panel.figures.texts, panel.parts.text()) == ([], [], "")
    assert "No generator stands" in panel.assumed.text()


def test_loads_show_legs_and_order(open_step):
    panel = open_step("good-placement", "needs")
    words = [panel.list.item(place).text() for place in range(panel.list.count())]
    assert "Well pump  ·  1000/3100 W · A+B · #1" in words
    assert "Refrigerator  ·  700/2200 W · A · #2" in words
    # 5000 W at 120 m and 5 °C, half of it on each leg.
    assert "Leg A: 1300 W of 2465 W; start 2800 W" in panel.legs.accessibleName()
    told = "All together run at 3000 W, and take 5100 W at the hardest start."
    assert held_together(told) in panel.sums.text()


def test_a_leg_with_too_much_says_so_in_words(open_step, window):
    panel = open_step("good-placement", "needs")
    plan = window.session.plan
    heavy = tuple(
        one.model_copy(update={"running_w": 2600.0}) if one.id == "lights" else one
        for one in plan.loads
    )
    window.session.edit("Heavier", lambda plan: plan.model_copy(update={"loads": heavy}))
    panel.refresh()
    assert "▲ too much" in panel.legs.accessibleName()
    panel.legs.grab()


def test_a_cord_led_by_hand_can_be_led_the_shortest_way(open_step, window):
    panel = open_step("good-placement", "path")
    assert not panel.route.isVisibleTo(panel)
    plan = window.session.plan
    (cord,) = plan.placement.cords
    by_hand = cord.model_copy(update={"routing": "drawn", "waypoints": ((5.0, 30.0),)})
    placements = (plan.placements[0].model_copy(update={"cords": (by_hand,)}),)
    window.session.edit("By hand", lambda one: one.model_copy(update={"placements": placements}))
    window.session.select(cord.id)
    assert panel.route.isVisibleTo(panel)
    panel.route.click()
    assert window.session.plan.placement.cords == (cord,)
    panel.refresh()
    assert not panel.route.isVisibleTo(panel)
    window.session.undo_stack.undo()
    assert window.session.plan.placement.cords == (by_hand,)


@pytest.mark.parametrize("language", ["en", "es"])
def test_panels_are_painted_in_both_languages(open_step, window, language):
    if language == "es":
        window.switch_language()
    for step in ("path", "needs"):
        open_step("good-placement", step).grab()
    panel = window.panels["path"]
    assert panel.ways.minimumSizeHint().width() <= panel.width()


def test_the_check_step_answers_the_eight_questions(open_step):
    panel = open_step("good-placement", "check")
    titles = [one.split("\n")[0] for one in panel.answers.texts]
    assert titles[0] == "Where may it stand?"
    assert titles[-1] == "Will the neighbours hear it?"
    assert len(titles) == 8
    assert "one whole cord of 100', 10 AWG" in " ".join(panel.answers.texts)


def test_before_a_cord_is_run_the_one_to_the_house_is_told(open_step):
    panel = open_step("narrow-lot", "path")
    (told,) = panel.figures.texts
    assert told.startswith("Which cord?")
    assert "Cord to the house: one whole cord of 50', 12 AWG" in told
