"""The night in the window: levels, hours, cards, and lines of equal level off the thread."""

import pytest
from PySide6.QtTest import QTest

from siteplan.assets import sample
from siteplan.desk.judge import Judge
from siteplan.desk.plots.sound_layer import NAME, SoundLayer
from siteplan.desk.session import Session
from siteplan.desk.steps.night_view import NightWindow
from siteplan.plan import edits, load


class Under:
    """Stands in for the layer under the machine."""

    def __init__(self):
        self.brushes = {}

    def set_brush(self, name, brush):
        self.brushes[name] = brush


@pytest.fixture
def session(qapp):
    return Session(load(sample("quiet-hours.siteplan")), Judge())


class CanvasLike:
    def __init__(self, session):
        self.under = Under()
        self.layer = SoundLayer(session, self.under, session)

    def sound_layer(self):
        return self.layer


@pytest.fixture
def canvas(session):
    made = CanvasLike(session)
    yield made
    made.layer.wait()


def until_drawn(qtbot, canvas):
    qtbot.waitUntil(lambda: canvas.under.brushes.get(NAME) is not None, timeout=10_000)


def test_lines_come_only_if_they_are_wanted(session, canvas, qtbot):
    session.edit("move", lambda plan: edits.stand(plan, (20.0, 41.0), 90.0))
    QTest.qWait(250)
    assert canvas.under.brushes[NAME] is None
    canvas.layer.want(True)
    until_drawn(qtbot, canvas)
    canvas.layer.want(False)
    assert canvas.under.brushes[NAME] is None


def test_lines_of_a_plan_that_is_no_more_are_dropped(session, canvas, qtbot):
    canvas.layer.want(True)
    until_drawn(qtbot, canvas)
    session.edit("move", lambda plan: edits.stand(plan, (20.0, 40.0), 90.0))
    assert canvas.under.brushes[NAME] is None
    late = canvas.layer._number - 1
    canvas.layer._take(late, ())
    assert canvas.under.brushes[NAME] is None
    until_drawn(qtbot, canvas)


def test_the_window_shows_levels_hours_and_cards(session, canvas, qtbot):
    night = NightWindow(session, canvas, None)
    qtbot.addWidget(night)
    night.show()
    night.refresh()
    rows = [
        [night.table.item(row, column).text() for column in range(night.table.columnCount())]
        for row in range(night.table.rowCount())
    ]
    loud = [row for row in rows if row[4].startswith("● NOTICE: above")]
    assert [row[0] for row in loud] == ["Neighbour's upstairs bedroom, upper floor"]
    assert "52 dB(A)" in loud[0][2]
    assert all(row[3].startswith("✓") for row in rows)
    assert "03:51" in night.hours.text()
    assert "03:51–04:22" in night.bar.accessibleName()
    texts = [night.cards.itemAt(n).widget() for n in range(night.cards.count() - 1)]
    assert any("GFCI" in one.text() for one in texts)
    assert night.grab().width() > 0


def test_the_window_says_what_is_missing(qapp, qtbot):
    bare = Session(load(sample("bad-placement.siteplan")), Judge())
    bare.edit("no hours", lambda plan: plan.model_copy(
        update={"outage": plan.outage.model_copy(update={"hours": None})}))  # fmt: skip
    canvas = CanvasLike(bare)
    night = NightWindow(bare, canvas, None)
    qtbot.addWidget(night)
    night.show()
    night.refresh()
    assert "this is missing" in night.fuel.text()
    assert not night.bar.isVisible()
