"""The window in Spanish: nothing English of its own, and nothing cut off with large letters."""

import re

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QListWidget,
    QWidget,
)

from siteplan import words
from siteplan.desk.flow import WrappingButton, columns
from siteplan.desk.window import Window

MARK = re.compile(r"⟦[^⟦⟧]*⟧")
# What is the same in every language: the program's name, keys, units, and the language's own name.
KEPT = re.compile(r"siteplan|Español|Ctrl|Shift|PgUp|PgDown|Home|Del\b|AWG|ppm|dB\(A\)|min\b")


@pytest.fixture
def marked(monkeypatch):
    """Put a mark round everything the catalogue says."""
    known = {one: f"⟦{said}⟧" for one, said in words._catalogue("es").items()}
    monkeypatch.setattr(words, "_catalogue", lambda _language: known)


@pytest.fixture
def large(qapp):
    """Letters of twice the size, for one test."""
    usual = qapp.font()
    doubled = qapp.font()
    doubled.setPointSizeF(usual.pointSizeF() * 2)
    qapp.setFont(doubled)
    yield
    qapp.setFont(usual)


def shown(root: QWidget):
    """Every text that a reader, or a reader's machine, meets."""
    for one in [root, *root.findChildren(QWidget)]:
        yield from (one.windowTitle(), one.toolTip(), one.accessibleName())
        if isinstance(one, QLabel | QAbstractButton):
            yield one.text()
        elif isinstance(one, QComboBox):
            yield from (one.itemText(place) for place in range(one.count()))
        elif isinstance(one, QLineEdit):
            yield one.placeholderText()
        elif isinstance(one, QListWidget):
            yield from (one.item(place).text() for place in range(one.count()))
        yield from (action.text() for action in one.actions())


def own_english(root: QWidget, names) -> set[str]:
    """What is left of the texts without what was translated and what users named."""
    left = set()
    for text in shown(root):
        bare = text
        while MARK.search(bare):
            bare = MARK.sub("", bare)
        for name in names:
            bare = re.sub(re.escape(name), "", bare, flags=re.IGNORECASE)
        if re.search(r"[A-Za-z]{3,}", KEPT.sub("", bare)):
            left.add(text)
    return left


def names_in(plan) -> list[str]:
    tree = plan.model_dump_json()
    found = re.findall(r'"(?:name|title|id|prepared_by)":"([^"]+)"', tree)
    return sorted(set(found), key=len, reverse=True)


@pytest.mark.usefixtures("marked")
def test_no_step_says_anything_in_english(window: Window, full_plan) -> None:
    window.session.take(full_plan)
    window.session.speak(language="es")
    for name in window.face.rail.names:
        window.face.rail.open(name)
        QApplication.processEvents()
    # The face of before, in English, goes with the next turn of a real event loop.
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    assert own_english(window, names_in(full_plan)) == set()


@pytest.mark.usefixtures("marked")
def test_the_form_of_everything_speaks_spanish(window: Window, full_plan) -> None:
    window.session.take(full_plan)
    window.session.speak(language="es")
    left = set()
    for thing in (*full_plan.openings, *full_plan.fixtures, *full_plan.surroundings):
        window.session.select(thing.id)
        QApplication.processEvents()
        left |= own_english(window.face.inspector, names_in(full_plan))
    assert left == set()


@pytest.mark.usefixtures("large")
def test_large_letters_are_cut_off_in_no_step(window: Window, full_plan) -> None:
    window.resize(1440, 900)
    window.session.speak(language="es")
    window.session.take(full_plan)
    for name, panel in window.panels.items():
        window.face.rail.open(name)
        QApplication.processEvents()
        assert panel.widget().minimumSizeHint().width() <= panel.viewport().width(), name


@pytest.mark.usefixtures("large")
def test_the_first_card_stays_on_the_drawing_with_large_letters(window: Window) -> None:
    window.session.speak(language="es")
    QApplication.processEvents()
    card = window._welcome
    assert card is not None
    assert card.isVisible()
    assert card.parentWidget().rect().contains(card.geometry())
    assert card._inside.minimumSizeHint().width() <= card._scroll.viewport().width()


def test_columns_give_way_before_anything_is_cut(qapp) -> None:
    room = QWidget()
    buttons = [WrappingButton("Tomacorriente"), WrappingButton("Seto"), WrappingButton("Cerca")]
    grid = columns(*buttons, count=3, gap=6)
    room.setLayout(grid)
    least = buttons[0].minimumSizeHint().width()
    for width, in_a_row in ((3 * least + 12, 3), (3 * least + 11, 2), (2 * least + 5, 1)):
        room.resize(width, 400)
        grid.setGeometry(room.rect())
        tops = [one.y() for one in buttons]
        assert tops.count(tops[0]) == in_a_row
        assert all(one.width() >= least for one in buttons)
        assert grid.heightForWidth(width) == buttons[-1].geometry().bottom() + 1
    assert (grid.itemAt(3), grid.takeAt(3)) == (None, None)


def test_a_button_breaks_its_words_and_mends_them_again(qapp) -> None:
    made = WrappingButton("Medir en el dibujo")
    wide = made.sizeHint().width()
    made.resize(wide, 40)
    tall = made.heightForWidth(wide)
    made.resize(made.minimumSizeHint().width(), 200)
    made.show()
    assert made.text().split() == ["Medir", "en", "el", "dibujo"]
    assert "\n" in made.text()
    assert made.accessibleName() == "Medir en el dibujo"
    assert made.heightForWidth(made.width()) > tall
    made.resize(wide, 40)
    QApplication.processEvents()
    assert made.text() == "Medir en el dibujo"
