"""The carbon monoxide estimate in the window: its caution, its curves, the wind on the drawing."""

from pathlib import Path

import numpy as np
import pvlib
import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor

from siteplan.air.thresholds import CAUTION
from siteplan.assets import sample
from siteplan.desk.palette import PALETTES
from siteplan.desk.plots.air_window import AirWindow
from siteplan.plan import load
from siteplan.plan.needs import Wind, WindSector
from tests.rules.test_carbon_monoxide_only_raises import LEAVE

TMY3 = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
NORTH = Wind(sectors=(WindSector(from_deg=0.0, share=0.8, speed_m_s=3.0),), calm_share=0.2)


@pytest.fixture
def air(demo_window, qtbot):
    demo_window.panels["check"].show_air()
    made = demo_window.findChild(AirWindow)
    assert made is not None
    qtbot.waitExposed(made)
    return made


def curves(graph):
    return [item for item in graph.plotItem.listDataItems() if item.name()]


def test_it_opens_from_the_check_step_once(demo_window, air):
    demo_window.panels["check"].show_air()
    assert len(demo_window.findChildren(AirWindow)) == 1
    assert air.isVisible()
    assert not air.isModal()


def test_the_caution_is_in_sight_on_every_page(air):
    assert air.caution.isVisible()
    assert CAUTION in air.caution.accessibleName()
    for index in range(air.tabs.count()):
        air.tabs.setCurrentIndex(index)
        assert air.caution.visibleRegion().boundingRect().height() == air.caution.height()
    picture = air.caution.grab().toImage()
    # The panel of the word CAUTION: ANSI Z535 yellow, as on every finding.
    assert picture.pixelColor(5, picture.height() // 2) == QColor("#ffd100")


def test_the_worst_opening_is_first_and_its_curves_are_shown(air):
    found = air.found
    assert air.table.rowCount() == len(found.openings)
    assert air.table.item(0, 0).text().startswith(found.openings[0].label.say())
    usual = curves(air.room)[0]
    xs, ys = usual.getOriginalDataset()
    one = found.openings[0].indicative
    assert xs[-1] == pytest.approx(found.run_h)
    assert ys[-1] == pytest.approx(one.room_ppm[-1])
    assert len(curves(air.blood)) == 4
    _, blood = curves(air.blood)[0].getOriginalDataset()
    assert np.array(blood) == pytest.approx(one.cohb_percent["public"])


def test_another_row_shows_another_opening(air):
    before = air.details.text()
    air.table.selectRow(4)
    assert air.chosen() is air.found.openings[4]
    assert air.details.text() != before
    assert air.found.openings[4].label.say() in air.details.text()


def test_no_word_of_it_reads_as_leave(air):
    for text in (air.details.text(), air.basis.text(), air.wind.text()):
        assert text
        assert not LEAVE.search(text)


def test_wind_is_read_from_a_file_and_forgotten_again(demo_window, air, answers):
    answers.paths.append(TMY3)
    air.read_wind()
    assert demo_window.session.plan.wind.origin == TMY3.name
    air.refresh()
    assert air.table.item(0, 5).text().endswith("%")
    demo_window.session.undo_stack.undo()
    assert demo_window.session.plan.wind is None
    answers.paths.append(sample("bad-placement.siteplan"))
    air.read_wind()
    assert "neither an EPW nor a TMY3" in answers.told[-1]
    assert demo_window.session.plan.wind is None


def test_the_rose_lies_on_the_drawing_only_while_it_is_asked_for(demo_window, air):
    session, canvas = demo_window.session, demo_window.canvas
    session.edit("wind", lambda plan: plan.model_copy(update={"wind": NORTH}))
    air.refresh()
    # Wind from the north carries exhaust to the south of the outlet.
    x, y = air.found.outlet_xy
    below = canvas.frame.to_px((x, y)) + QPointF(0.0, 90.0)

    def pixel():
        picture = canvas.grab().toImage()
        return picture.pixelColor(below.toPoint())

    without = pixel()
    air.on_plan.setChecked(True)
    assert pixel() != without
    air.on_plan.setChecked(False)
    assert pixel() == without
    air.on_plan.setChecked(True)
    air.close()
    assert pixel() == without


def test_a_plan_without_a_generator_shows_no_curve(demo_window, air):
    empty = load(sample("bad-placement.siteplan")).model_copy(
        update={"placements": (), "chosen": None}
    )
    demo_window.session.take(empty)
    air.refresh()
    assert air.found is None
    assert not air.room.isVisible()
    assert air.caution.isVisible()


@pytest.mark.parametrize("name", PALETTES)
def test_every_palette_is_taken(demo_window, air, qtbot, name):
    demo_window.use_palette(name)
    qtbot.waitUntil(lambda: air.room.palette_in_use is PALETTES[name], timeout=3000)


def test_a_shut_window_estimates_nothing_while_the_machine_is_dragged(demo_window, air):
    air.close()
    kept = air.found
    demo_window.session.edit("turn", lambda plan: plan.model_copy(update={"north_deg": 5.0}))
    assert not air._settle.isActive()
    assert air.found is kept
