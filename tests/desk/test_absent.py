"""Saying that something is not there."""

from siteplan.assets import sample
from siteplan.desk.steps.absent import NONE_LABELS, NONE_RULES, NoneHere
from siteplan.desk.window import Window
from siteplan.plan import load
from siteplan.rules.book import book


def test_every_rule_that_may_be_answered_so_has_a_tick() -> None:
    asked = {rule for rules in NONE_RULES.values() for rule in rules}
    assert asked == {rule.id for rule in book().values() if rule.may_be_none}
    assert NONE_RULES.keys() == NONE_LABELS.keys()


def test_tick_states_it_and_undo_takes_it_back(qtbot, window: Window) -> None:
    session = window.session
    plan = load(sample("good-placement.siteplan"))
    session.take(plan.model_copy(update={"none_here": ()}))
    widget = NoneHere(session)
    qtbot.addWidget(widget)
    widget.refresh()
    assert not widget.boxes["pool"].isHidden()
    assert widget.boxes["tree"].isHidden(), "a maple is drawn"
    widget.boxes["pool"].click()
    assert session.plan.none_here == ("pool",)
    assert not any(one.rule == "pool" for one in session.review.unjudged)
    widget.refresh()
    assert not widget.boxes["pool"].isHidden(), "a statement can be taken back"
    session.undo_stack.undo()
    assert session.plan.none_here == ()
