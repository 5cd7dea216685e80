"""What the window leaves room for: findings while nothing is selected, and the first card."""

import pytest
from PySide6.QtWidgets import QApplication


def test_the_form_leaves_its_room_to_the_findings_while_nothing_is_selected(demo_window):
    face, session = demo_window.face, demo_window.session
    QApplication.processEvents()
    wide_list = face.findings.height()
    session.select("house")
    QApplication.processEvents()
    form = face.inspector.height()
    assert form > 200
    assert face.findings.height() < wide_list
    session.select()
    QApplication.processEvents()
    assert face.findings.height() == wide_list
    session.select("garage")
    QApplication.processEvents()
    assert face.inspector.height() == form


def test_the_chosen_finding_stays_in_sight_when_the_form_unfolds(demo_window):
    face = demo_window.face
    QApplication.processEvents()
    shown = face.findings
    low = shown.viewport().rect().bottomLeft()
    last = shown.indexAt(low)
    shown.setCurrentIndex(last)
    shown.clicked.emit(last)
    QApplication.processEvents()
    assert demo_window.session.selection
    assert shown.viewport().rect().intersects(shown.visualRect(last))


@pytest.mark.parametrize("size", [(1280, 800), (1600, 1000)])
def test_the_first_card_is_whole_without_scrolling(window, size):
    window.resize(*size)
    QApplication.processEvents()
    card = window._welcome
    assert card.isVisible()
    assert card._scroll.verticalScrollBar().maximum() == 0


def test_an_empty_list_of_findings_has_no_bar(window, demo_window):
    bar = demo_window.face.findings.verticalScrollBar()
    QApplication.processEvents()
    assert bar.isVisible()
    demo_window.session.edit("clear", lambda plan: plan.model_copy(update={"placements": ()}))
    QApplication.processEvents()
    assert not bar.isVisible()
