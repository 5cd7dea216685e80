"""Typing what was measured into the window."""

import math

import pytest
from PySide6.QtWidgets import QTableWidgetItem

from siteplan.desk.steps.measured import BearingsDialog, TapesDialog
from siteplan.words import held_together
from tests.helpers import builders as b


def typed(dialog, rows):
    for row, cells in enumerate(rows):
        for column, text in enumerate(cells):
            dialog.table.setItem(row, column, QTableWidgetItem(text))


def test_a_lot_is_drawn_from_bearings(window):
    dialog = BearingsDialog(window, window.session)
    typed(dialog, [("N", "100'"), ("E", "50'"), ("S", "100'"), ("W", "50'")])
    assert dialog.told.text() == "The legs close."
    dialog.draw()
    outline = window.session.plan.lot.outline
    assert len(outline) == 4
    assert outline[2] == pytest.approx((50 * 0.3048, 100 * 0.3048))


def test_a_gap_is_told_and_spread_only_if_asked(window):
    dialog = BearingsDialog(window, window.session)
    typed(dialog, [("N", "100'"), ("E", "50'"), ("S", "99'"), ("W", "49'")])
    assert held_together("fail to close by 1' 5\", 1 in 211") in dialog.told.text()
    assert "misread" in dialog.told.text()
    dialog.draw()
    assert len(window.session.plan.lot.outline) == 5
    dialog.spread.setChecked(True)
    dialog.draw()
    assert len(window.session.plan.lot.outline) == 4


def test_what_cannot_be_read_is_said_and_nothing_changes(window):
    before = window.session.plan
    dialog = BearingsDialog(window, window.session)
    typed(dialog, [("sideways", "100'"), ("E", "50'")])
    dialog.draw()
    assert "sideways" in dialog.told.text()
    assert window.session.plan is before


def test_the_machine_is_placed_by_tapes(window):
    window.session.take(b.house_plan(3.0, 20.0))
    dialog = TapesDialog(window, window.session)
    places = [point for _, point in dialog._corners]
    for (corner, tape), from_xy in zip(
        dialog.rows, [(0.0, 8.0), (12.0, 8.0), (12.0, 0.0)], strict=True
    ):
        corner.setCurrentIndex(places.index(from_xy))
        tape.setText(f"{math.dist(from_xy, (5.0, 17.0))} m")
    dialog.place()
    assert window.session.plan.placement.at == pytest.approx((5.0, 17.0), abs=0.01)


def test_one_tape_is_not_enough(window):
    window.session.take(b.house_plan(3.0, 20.0))
    dialog = TapesDialog(window, window.session)
    dialog.rows[0][1].setText("10 m")
    dialog.place()
    assert "two different corners" in dialog.told.text()
