"""What must hold of the power path whatever the cord, the loads and the lot."""

import math
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from siteplan.plan.document import Plan
from siteplan.plan.machine import Cord
from siteplan.rules.findings import Finding, Review, Unjudged, gather, severity
from siteplan.rules.power import OF_THE_PLACE, OF_THE_PLAN
from siteplan.scene import resolve
from tests.helpers.builders import box, fence, ground_area, grown, opening, passing
from tests.helpers.powering import (
    COOL,
    DUPLEX,
    L14,
    generator,
    good_cord,
    household_cord,
    inlet,
    load,
    powered,
    transfer,
)

FEW = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
POWER = frozenset((*OF_THE_PLACE, *OF_THE_PLAN))
GAUGES = (18, 16, 14, 12, 10, 8, 6, 4)
DOOR = opening("door", kind="door", wall=3, offset_m=5.0)


@st.composite
def loads(draw: st.DrawFn) -> tuple[Any, ...]:
    """Some loads on the cord."""
    found = []
    for place in range(draw(st.integers(0, 4))):
        run_w = draw(st.sampled_from([20.0, 90.0, 700.0, 1200.0, 1500.0, 2600.0]))
        extra = draw(st.sampled_from([0.0, 800.0, 2500.0, None]))
        found.append(
            load(
                f"load-{place}",
                run_w,
                starting_w=None if extra is None else run_w + extra,
                volts=draw(st.sampled_from([120, 120, 240])),
                leg=draw(st.sampled_from(["a", "b", None])),
                via="cord",
                continuous=draw(st.sampled_from([True, False, None])),
                medical=draw(st.booleans()),
            )
        )
    return tuple(found)


@st.composite
def cords(draw: st.DrawFn) -> Cord:
    """A cord to the inlet, to the yard, or through the door."""
    to_inlet = draw(st.booleans())
    made = good_cord if to_inlet else household_cord
    fields: dict[str, Any] = {}
    if not to_inlet and draw(st.booleans()):
        how = draw(st.sampled_from(["held-ajar", "pinched", "sealed-fitting"]))
        fields = {"end": (2.0, 4.0), "passes": (passing("door", how),)}
    return made(
        gauge_awg=draw(st.sampled_from([*GAUGES, None])),
        wires=draw(st.integers(2, 5)),
        pieces_m=draw(st.sampled_from([(), (7.62,), (15.24,), (30.48,), (15.24, 15.24)])),
        outdoor_jacket=draw(st.sampled_from([True, False, None])),
        coiled=draw(st.sampled_from([True, False, None])),
        **fields,
    )


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """The small house with one cord, some loads and their equipment."""
    either = st.sampled_from([True, False, None])
    machine = generator(
        rated_w=draw(st.sampled_from([2000.0, 5000.0, None])),
        starting_w=draw(st.sampled_from([6250.0, None])),
        neutral=draw(st.sampled_from(["bonded", "floating", None])),
        receptacles=(
            L14.model_copy(update={"breaker_a": draw(st.sampled_from([20.0, 30.0, None]))}),
            DUPLEX.model_copy(update={"gfci": draw(either)}),
        ),
        receptacles_interlocked=draw(either),
    )
    kinds = st.sampled_from(["none", "interlock", "manual-switch", None])
    fixed = transfer(
        kind=draw(kinds),
        switches_neutral=draw(either),
        feeder_awg=draw(st.sampled_from([12, 10, 6, None])),
        by_licensed_electrician=draw(either),
        permit=draw(either),
    )
    at_wall = inlet(
        outdoor_enclosure=draw(either), neutral_sign=draw(either),
        rating_a=draw(st.sampled_from([30.0, 100.0])), interlocked_disconnect=draw(either),
    )  # fmt: skip
    outage = COOL.model_copy(
        update={
            "temperature_c": draw(st.sampled_from([20.0, 45.0, None])),
            "altitude_m": draw(st.sampled_from([0.0, 2000.0, None])),
        }
    )
    return powered(
        draw(cords()), at_wall, DOOR, *draw(loads()),
        machine=machine, transfer=fixed, outage=outage,
    )  # fmt: skip


def review(plan: Plan) -> Review:
    """Return what the rules of the power path say, and they alone."""
    scene = resolve(plan)
    assert scene.standing is not None
    outcomes = [one for judge in OF_THE_PLAN.values() for one in judge(scene)]
    for judge in OF_THE_PLACE.values():
        outcomes += judge(scene, scene.standing)
    return gather(outcomes)


def faults(said: Review) -> dict[tuple[str, tuple[str, ...]], int]:
    """Return the severity of each finding of the power path, by rule and subjects."""
    worst: dict[tuple[str, tuple[str, ...]], int] = {}
    for one in said.findings:
        if one.rule in POWER:
            key = (one.rule, one.subjects)
            worst[key] = max(worst.get(key, 0), severity(one.signal))
    return worst


def with_cord(plan: Plan, **fields: Any) -> Plan:
    """Return the plan with its cord changed."""
    (placement,) = plan.placements
    (cord,) = placement.cords
    changed = Cord(**{**{name: getattr(cord, name) for name in Cord.model_fields}, **fields})
    return remade(plan, placements=(placement.model_copy(update={"cords": (changed,)}),))


def remade(plan: Plan, **fields: Any) -> Plan:
    return Plan(**({name: getattr(plan, name) for name in Plan.model_fields} | fields))


@FEW
@given(plans(), st.sampled_from(GAUGES), st.sampled_from(GAUGES))
def test_a_thicker_cord_never_adds_or_worsens_a_finding(plan, one, other):
    thin, thick = max(one, other), min(one, other)
    before = faults(review(with_cord(plan, gauge_awg=thin)))
    after = faults(review(with_cord(plan, gauge_awg=thick)))
    assert all(level <= before.get(key, 0) for key, level in after.items())


@FEW
@given(plans(), st.floats(20.0, 120.0), st.floats(20.0, 120.0))
def test_a_shorter_cord_that_still_reaches_never_adds_or_worsens_a_finding(plan, one, other):
    # The longest way of these plans takes under 20 m.
    long, short = (max(one, other),), (min(one, other),)
    before = faults(review(with_cord(plan, pieces_m=long)))
    after = faults(review(with_cord(plan, pieces_m=short)))
    assert all(level <= before.get(key, 0) for key, level in after.items())


@FEW
@given(plans(), st.integers(0, 3))
def test_one_load_less_never_adds_or_worsens_a_finding_of_what_is_drawn(plan, place):
    if place >= len(plan.loads):
        return
    rules = {"outlet-load", "running-load", "starting-load", "cord-gauge"}
    rest = tuple(one for index, one in enumerate(plan.loads) if index != place)
    before = {rule: level for (rule, _), level in faults(review(plan)).items()}
    after = {rule: level for (rule, _), level in faults(review(remade(plan, loads=rest))).items()}
    assert all(after.get(rule, 0) <= before.get(rule, 0) for rule in rules)


def _blanks(plan: Plan) -> list[Plan]:
    """Return the plan with one datum taken away, in every way there is."""
    cord_fields = ("gauge_awg", "receptacle", "outdoor_jacket", "coiled")
    found = [with_cord(plan, **{name: None}) for name in cord_fields]
    found.append(with_cord(plan, pieces_m=()))
    assert plan.machine is not None
    assert plan.transfer is not None
    bare = tuple(
        one.model_copy(update={"breaker_a": None, "gfci": None}) for one in plan.machine.receptacles
    )
    machine_fields = [
        {name: None} for name in ("rated_w", "starting_w", "neutral", "receptacles_interlocked")
    ]
    found += [
        remade(plan, machine=plan.machine.model_copy(update=fields))
        for fields in (*machine_fields, {"receptacles": bare})
    ]
    found += [
        remade(plan, outage=plan.outage.model_copy(update={name: None}))
        for name in ("temperature_c", "altitude_m")
    ]
    found.append(remade(plan, transfer=None))
    found += [
        remade(plan, transfer=plan.transfer.model_copy(update={name: None}))
        for name in ("kind", "switches_neutral", "feeder_awg", "feeder_length_m", "branch_awg",
                     "branch_length_m", "by_licensed_electrician", "permit")
    ]  # fmt: skip
    found += [
        remade(plan, fixtures=tuple(one.model_copy(update={name: None}) for one in plan.fixtures))
        for name in ("outdoor_enclosure", "interlocked_disconnect", "neutral_sign")
    ]
    found += [
        remade(plan, loads=tuple(one.model_copy(update={name: None}) for one in plan.loads))
        for name in ("starting_w", "leg", "continuous", "via")
    ]
    return found


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(plans())
def test_data_taken_away_never_removes_a_finding_without_saying_what_is_missing(plan):
    before = review(plan)
    for blank in _blanks(plan):
        after = review(blank)
        still = {one.rule for one in after.findings}
        open_ = {one.rule for one in after.unjudged if isinstance(one, Unjudged)}
        lost = {one.rule for one in before.findings if one.rule in POWER} - still
        assert lost <= open_


@FEW
@given(st.floats(-20.0, 20.0), st.floats(-20.0, 20.0), st.booleans(), st.floats(0.5, 15.0))
def test_one_more_obstacle_never_shortens_a_cord(x, y, as_water, size):
    plan = powered()
    outline = box(x, y, x + size, y + size)
    more = (
        ground_area("pool", outline, "pool")
        if as_water
        else fence((x, y), (x + size, y + size), id="new-fence")
    )
    (before,) = resolve(plan).cord_runs
    (after,) = resolve(grown(plan, more)).cord_runs
    assert after.trouble is not None or after.plan_m >= before.plan_m - 1e-6


@FEW
@given(plans())
def test_nothing_of_shock_fire_or_backfeed_is_under_warning(plan):
    mild = {"cord-trip", "cord-drop", "cord-start-drop", "chain-drop", "start-dip", "inlet-sign",
            "permit", "running-load", "leg-balance", "loads-together", "load-fed",
            "medical-load"}  # fmt: skip
    for one in review(plan).findings:
        if one.rule in POWER and severity(one.signal) < severity("WARNING"):
            assert one.rule in mild


@FEW
@given(plans())
def test_every_figure_of_a_finding_is_a_number(plan):
    for one in review(plan).findings:
        assert isinstance(one, Finding)
        for figure in (one.measured, one.limit, one.margin):
            assert figure is None or math.isfinite(figure.value)
