"""A newcomer's walk: from an empty window to a checked plan and its household paper."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from siteplan.desk.steps import paper

MOST_ACTIONS = 40


class Hands:
    """Counts what a person does: a click, a choice, a text typed, a key."""

    def __init__(self, window, click):
        self.window, self._click, self.count = window, click, 0

    def press(self, button):
        assert button.isVisible()
        assert button.isEnabled()
        self.count += 1
        button.click()
        QApplication.processEvents()

    def step(self, name):
        self.press(self.window.face.rail.row(name))

    def click(self, at):
        self.count += 1
        self._click(at)
        QApplication.processEvents()

    def type_into(self, field, words):
        self.count += 1
        field.setFocus()
        field.selectAll()
        QTest.keyClicks(field, words)
        QTest.keyClick(field, Qt.Key.Key_Return)
        QApplication.processEvents()

    def choose(self, choice, value):
        self.count += 1
        choice.activated.emit(choice._values.index(value))
        QApplication.processEvents()


def test_a_first_checked_plan_and_its_paper_take_at_most_forty_actions(
    window, click, answers, tmp_path, monkeypatch
):
    monkeypatch.setattr(paper.QDesktopServices, "openUrl", lambda url: None)
    hands, welcome = Hands(window, click), window._welcome
    sizes = ("80'", "120'", "44'", "28'")
    for field, words in zip(welcome.fields[:-1], sizes[:-1], strict=True):
        hands.type_into(field, words)
    hands.count += 1
    welcome.house_depth.setText(sizes[-1])
    hands.press(welcome.draw)
    plan = window.session.plan
    assert plan.building("house") is not None

    # The openings: one more window in the right place, then all are drawn.
    panel = window.panels["openings"]
    assert window.face.rail.current == "openings"
    house = plan.building("house")
    (left, front), (right, _) = house.outline[0], house.outline[1]
    hands.choose(panel.kinds, "dryer" if "dryer" in panel.kinds._values else "exhaust-hood")
    hands.press(
        next(b for b in panel.findChildren(type(welcome.draw)) if b.property("role") == "main")
    )
    hands.click((left, front + 3.0))
    for tick in list(panel._ticks.values()):
        hands.press(tick)

    # The generator: its kind, and where it stands.
    hands.step("generator")
    generator = window.panels["generator"]
    hands.choose(generator.kinds, "open-frame-5")
    hands.press(generator.stand)
    hands.click(((left + right) / 2, house.outline[2][1] + 8.0))
    assert window.session.plan.placement is not None
    assert window.session.review.met

    # What must run, and for how long.
    hands.step("needs")
    needs = window.panels["needs"]
    hands.choose(needs.book, "refrigerator")
    hands.press(
        next(b for b in needs.findChildren(type(welcome.draw)) if b.property("role") == "main")
    )

    # Check, then paper.
    hands.step("check")
    hands.step("paper")
    answers.paths = [tmp_path / "household.pdf"]
    hands.press(
        next(
            b
            for b in window.panels["paper"].findChildren(type(welcome.draw))
            if b.property("role") == "main"
        )
    )
    assert (tmp_path / "household.pdf").read_bytes().startswith(b"%PDF")
    assert hands.count <= MOST_ACTIONS
    # Where the count stands now; it is there to be lowered.
    assert hands.count <= 26
