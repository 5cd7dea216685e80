"""What must hold of every review, on random lots."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from siteplan.plan.document import Plan
from siteplan.plan.edits import changed
from siteplan.plan.edits import stand as stand_at
from siteplan.rules import review
from siteplan.rules.findings import figures, severity
from siteplan.rules.review import OF_THE_PLACE
from siteplan.scene import resolve
from siteplan.units import parse_length
from siteplan.words import Manner
from tests.helpers.builders import grown
from tests.helpers.lots import (
    barriers,
    buildings,
    number,
    openings,
    plans,
    roofs,
    rotation,
    transformed,
)

FEW = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))


def burdens(plan: Plan) -> dict[tuple[str, str], int]:
    """Return the worst severity under each rule, by subject; an opening stands for its house."""
    house = {one.id: one.building for one in plan.openings}
    worst: dict[tuple[str, str], int] = {}
    for one in review(plan).findings:
        # Walled sides and the estimate are one place's, whatever makes them.
        whole = one.rule in {"walled-in", "horizon-blocked", "co-estimate"}
        subjects = ("",) if whole else one.subjects or ("",)
        for subject in subjects:
            key = (one.rule, house.get(subject, subject))
            worst[key] = max(worst.get(key, 0), severity(one.signal))
    return worst


def never_lighter(before: Plan, after: Plan) -> None:
    was, now = burdens(before), burdens(after)
    lost = {key: (level, now.get(key, 0)) for key, level in was.items() if now.get(key, 0) < level}
    assert not lost


@FEW
@given(plans(), st.data())
def test_one_more_opening_never_removes_or_lowers_a_finding(plan, data):
    owner = data.draw(st.sampled_from(plan.buildings))
    never_lighter(plan, grown(plan, data.draw(openings("new", owner))))


@FEW
@given(plans(), st.data())
def test_one_more_building_never_removes_or_lowers_a_finding(plan, data):
    never_lighter(plan, grown(plan, data.draw(buildings("new"))))


@FEW
@given(plans(), st.data())
def test_one_more_fence_never_removes_or_lowers_a_finding(plan, data):
    never_lighter(plan, grown(plan, data.draw(barriers("new"))))


@FEW
@given(plans(), st.data())
def test_one_more_roof_never_removes_or_lowers_a_finding(plan, data):
    never_lighter(plan, grown(plan, data.draw(roofs("new"))))


@FEW
@given(plans(), st.sampled_from(["separation-opening", "separation-intake"]), number(0.001, 10.0))
def test_straight_toward_an_opening_never_clears_its_rule(plan, rule, step):
    scene = resolve(plan)
    assert scene.standing is not None
    for one in review(plan).findings:
        if one.rule != rule:
            continue
        index = next(i for i, it in enumerate(plan.openings) if it.id == one.subjects[0])
        line = shapely.shortest_line(scene.standing.reach, scene.setting.openings[index])
        (ax, ay), (bx, by) = shapely.get_coordinates(line).tolist()
        long = math.hypot(bx - ax, by - ay)
        if long == 0.0:
            continue
        share = min(step, long) / long
        x, y = scene.standing.placement.at
        nearer = stand_at(plan, (x + share * (bx - ax), y + share * (by - ay)))
        levels = [
            severity(it.signal)
            for it in review(nearer).findings
            if it.rule == rule and it.subjects == one.subjects
        ]
        assert levels
        assert max(levels) >= severity(one.signal)


def essence(plan: Plan) -> list[tuple[object, ...]]:
    """Return every outcome without its places: rule, subjects, signal and figures."""
    said = review(plan)
    kept: list[tuple[object, ...]] = [
        (one.rule, one.subjects, one.signal, _rounded(figures(one))) for one in said.findings
    ]
    # Of several at one distance any may be named the nearest.
    kept += [(one.rule, "met", _rounded(figures(one))) for one in said.met]
    kept += [(one.rule, one.subjects, "unjudged") for one in said.unjudged]
    return sorted(kept, key=str)


def _rounded(values: dict[str, float]) -> tuple[tuple[str, float], ...]:
    return tuple((name, value) for name, value in sorted(values.items()))


def same(one: Plan, other: Plan) -> None:
    left, right = essence(one), essence(other)
    assert [entry[:-1] for entry in left] == [entry[:-1] for entry in right]
    for a, b in zip(left, right, strict=True):
        if not isinstance(a[-1], tuple):
            assert a[-1] == b[-1]
            continue
        for (name, value), (other_name, other_value) in zip(a[-1], b[-1], strict=True):
            assert name == other_name
            # An angle near 0° or 180° loses half its digits in the arc cosine.
            loose = 2e-5 if name.endswith("_deg") else 2e-6
            assert value == pytest.approx(other_value, abs=loose), (a, b)


def rough(plan: Plan) -> Plan:
    """Return the plan moved off the millimetre grid, so that nothing lies exactly at a limit."""
    x, y = plan.placements[0].at
    return stand_at(plan, (x + 0.000317, y + 0.000191))


@FEW
@given(plans(), number(0.0, 359.9))
def test_turning_the_whole_lot_changes_nothing(plan, turn):
    plan = rough(plan)
    same(plan, transformed(plan, rotation(turn), turn))


@FEW
@given(plans(), number(-2000, 2000), number(-2000, 2000))
def test_moving_the_whole_lot_changes_nothing(plan, dx, dy):
    plan = rough(plan)
    same(plan, transformed(plan, lambda point: (point[0] + dx, point[1] + dy), 0.0))


@FEW
@given(plans())
def test_mirroring_the_whole_lot_changes_nothing(plan):
    plan = rough(plan)
    same(plan, transformed(plan, lambda point: (-point[0], point[1]), 0.0, mirrored=True))


@FEW
@given(plans(), st.integers(0, 4))
def test_order_of_what_was_drawn_changes_nothing(plan, turn):
    def turned(items):
        cut = turn % max(1, len(items))
        return (*items[cut:], *items[:cut])

    fields = {
        name: turned(getattr(plan, name))
        for name in ("buildings", "openings", "surroundings", "fixtures")
    }
    whole = {name: getattr(plan, name) for name in Plan.model_fields}
    shuffled = Plan(**(whole | fields))

    def unordered(entries):
        return sorted(
            (
                (rule, tuple(sorted(subjects)) if isinstance(subjects, tuple) else subjects, *rest)
                for rule, subjects, *rest in entries
            ),
            key=str,
        )

    assert unordered(essence(plan)) == unordered(essence(shuffled))


@FEW
@given(plans())
def test_without_a_machine_no_rule_of_its_place_is_met(plan):
    whole = {name: getattr(plan, name) for name in Plan.model_fields}
    for bare in (Plan(**(whole | {"machine": None})), Plan(**(whole | {"placements": ()}))):
        said = review(bare)
        judged = {one.rule for one in (*said.met, *said.findings)}
        assert not judged & set(OF_THE_PLACE)
        assert {one.rule for one in said.unjudged} >= set(OF_THE_PLACE)


@FEW
@given(st.integers(0, 400), number(0.0, 100.0))
def test_feet_and_metres_give_the_same_verdict(inches, x):
    texts = (
        f"{inches // 12}' {inches % 12}\"",
        f"{inches * 0.0254!r} m",
        f"{inches * 2.54:.2f} cm",
    )
    reviews = set()
    for text in texts:
        gap = parse_length(text)
        reviews.add(tuple(map(str, essence(_before_a_house(round(gap, 9))))))
    assert len(reviews) == 1


def _before_a_house(gap: float) -> Plan:
    from tests.helpers.builders import (  # noqa: PLC0415
        box,
        building,
        make_plan,
        north_of_machine,
        opening,
        standing,
    )

    y = north_of_machine(gap)
    return make_plan(building(box(-20, y, 20, y + 9)), opening(offset_m=19.5), standing())


@FEW
@given(plans())
def test_the_readers_units_change_no_figure_and_no_signal(plan):
    said = review(plan)
    for one in said.findings:
        for manner in (Manner("en", "feet"), Manner("en", "metres"), Manner("es", "metres")):
            assert one.what.say(manner)
            assert one.do.say(manner)
    assert review(plan) == said


@FEW
@given(plans(), st.integers(0, 2**32 - 1))
def test_dense_samples_never_lie_nearer_than_told(plan, seed):
    scene = resolve(plan)
    assume(scene.standing is not None)
    rng = np.random.default_rng(seed)
    here = np.concatenate([samples(scene.standing.frame.exterior, rng), [scene.standing.outlet_xy]])
    told = {
        "openings": (scene.setting.openings, scene.opening_m),
        "walls": (scene.setting.walls, scene.wall_m),
        "around": (scene.setting.around.shapes, scene.around_m),
    }
    for shapes, distances in told.values():
        for shape, distance in zip(shapes, distances, strict=True):
            edge = shape.exterior if shape.geom_type == "Polygon" else shape
            there = samples(edge, rng)
            found = np.hypot(*(here[:, None] - there[None, :]).reshape(-1, 2).T).min()
            assert found >= distance - 1e-6


def samples(line: shapely.LineString, rng: np.random.Generator) -> np.ndarray:
    """Return many places along a line, its corners among them; a point itself."""
    if line.geom_type == "Point":
        return shapely.get_coordinates(line)
    along = rng.uniform(0.0, line.length, 200)
    points = shapely.get_coordinates(shapely.line_interpolate_point(line, along))
    return np.concatenate([points, shapely.get_coordinates(line)])


@FEW
@given(plans(), number(0.0, 2.0))
def test_a_coarser_drawing_never_lightens_a_finding(plan, extra):
    finer = plan.accuracy.figure_m
    coarse = changed(plan.accuracy, figure_m=finer + extra)
    whole = {name: getattr(plan, name) for name in Plan.model_fields}
    never_lighter(plan, Plan(**(whole | {"accuracy": coarse})))


@FEW
@given(plans(), number(-3.0, 3.0), number(-3.0, 3.0), number(0.0, 359.0))
def test_a_scene_built_on_the_last_one_says_the_same(plan, dx, dy, turn):
    from siteplan.rules import review_scene  # noqa: PLC0415

    x, y = plan.placements[0].at
    moved = stand_at(plan, (x + dx, y + dy), turn)
    assert review_scene(resolve(moved, resolve(plan))) == review(moved)
