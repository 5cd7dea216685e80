import pytest

from siteplan.assets import sample
from siteplan.desk import making
from siteplan.desk.judge import Judge
from siteplan.desk.session import Session
from siteplan.plan import Plan, edits, load
from siteplan.plan.errors import EditError

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture
def demo() -> Session:
    return Session(load(sample("bad-placement.siteplan")), Judge())


def test_each_edit_is_undone_and_redone_in_order(session):
    first = session.plan
    session.edit("lot", lambda plan: making.set_lot(plan, ((0, 0), (9, 0), (9, 9)))[0])
    second = session.plan
    session.edit("title", lambda plan: edits.with_fields(plan, title="A"))
    third = session.plan
    assert first != second != third
    session.undo_stack.undo()
    assert session.plan is second
    session.undo_stack.undo()
    assert session.plan is first
    session.undo_stack.redo()
    session.undo_stack.redo()
    assert session.plan is third


def test_a_drag_is_one_step_of_undo(demo):
    start = demo.plan
    demo.begin_gesture()
    for step in range(5):
        demo.edit("move", lambda plan, x=float(step): edits.stand(plan, (x, 30.0)))
    demo.end_gesture()
    assert demo.undo_stack.count() == 1
    demo.undo_stack.undo()
    assert demo.plan is start


def test_two_drags_are_two_steps(demo):
    for x in (3.0, 6.0):
        demo.begin_gesture()
        demo.edit("move", lambda plan, x=x: edits.stand(plan, (x, 30.0)))
        demo.end_gesture()
    assert demo.undo_stack.count() == 2


def test_a_drag_that_comes_back_leaves_no_step(demo):
    at = demo.plan.placement.at
    demo.begin_gesture()
    demo.edit("move", lambda plan: edits.stand(plan, (3.0, 30.0)))
    demo.edit("move", lambda plan: edits.stand(plan, at))
    demo.end_gesture()
    assert demo.undo_stack.count() == 0
    assert not demo.dirty


def test_a_cancelled_drag_puts_everything_back(demo):
    start = demo.plan
    demo.begin_gesture()
    demo.edit("move", lambda plan: edits.stand(plan, (3.0, 30.0)))
    demo.cancel_gesture()
    assert demo.plan == start
    assert not demo.in_gesture


def test_the_review_follows_each_edit(demo):
    assert demo.review.worst == "DANGER"
    near = len(demo.review.findings)
    # The far corner of the back yard: over 20 ft from every building of the sample.
    demo.edit("move", lambda plan: edits.stand(plan, (14.0, 34.0), 180.0))
    assert len(demo.review.findings) < near
    demo.undo_stack.undo()
    assert len(demo.review.findings) == near


def test_an_edit_that_cannot_be_is_refused_and_said(session, qtbot):
    def impossible(plan: Plan) -> Plan:
        raise EditError("no room")

    with qtbot.waitSignal(session.refused) as said:
        assert not session.edit("x", impossible)
    assert said.args == ["no room"]
    assert session.undo_stack.count() == 0


def test_what_is_gone_is_no_longer_selected(demo):
    demo.select("house", "garage")
    demo.edit("delete", lambda plan: edits.drop(plan, ["garage"]))
    assert demo.selection == ("house",)


def test_saving_makes_the_plan_clean_and_opening_starts_over(demo, tmp_path):
    demo.edit("title", lambda plan: edits.with_fields(plan, title="Changed"))
    assert demo.dirty
    path = tmp_path / "a.siteplan"
    demo.save(path)
    assert not demo.dirty
    other = Session()
    other.open(path)
    assert other.plan.title == "Changed"
    assert other.path == path
    assert other.undo_stack.count() == 0
