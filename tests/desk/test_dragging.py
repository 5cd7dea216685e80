def test_dragging_the_generator_changes_the_findings_under_the_hand(demo_window, mouse):
    session = demo_window.session
    start = session.plan.placement.at
    mouse("hover", start)
    mouse("press", start)
    seen = []
    for y in (start[1] + 3.0, start[1] + 7.0, 34.0):
        mouse("move", (14.0, y))
        seen.append(len(session.review.findings))
        assert demo_window.face.findings.findings.rowCount() >= seen[-1]
    mouse("release", (14.0, 34.0))
    assert seen[-1] < seen[0]
    assert session.undo_stack.count() == 1
    session.undo_stack.undo()
    assert session.plan.placement.at == start
