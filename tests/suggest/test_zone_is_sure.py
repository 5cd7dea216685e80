"""No place of the zone drawn is one that the review would fault."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.assets import sample
from siteplan.plan import load
from siteplan.plan.around import (
    FuelStore,
    GasCylinder,
    GasPoint,
    OutdoorUnit,
    PowerInlet,
    ServiceDrop,
)
from siteplan.plan.edits import changed, with_fields
from siteplan.plan.lot import Accuracy
from siteplan.rules.book import rule
from siteplan.rules.carbon_monoxide_rule import holds_anywhere
from siteplan.rules.findings import Finding, severity
from siteplan.rules.review import OF_THE_PLACE, OF_THE_WHOLE
from siteplan.suggest.zone import OF_THE_SPOT, standing_zone, stood
from tests.helpers import builders as b
from tests.helpers.zoo import zoo

STRONG = [
    {"rated_w": 12_000.0, "engine_cc": 680.0, "co_label_g_per_h": None},
    {"engine_cc": None, "rated_w": None, "co_label_g_per_h": 2600.0},
    {"engine_cc": None, "co_label_g_per_h": 4200.0, "exhaust_offset_m": 0.25},
]
# Answers that are entered, whatever the place.
ANSWERED = {"cover", "ground-surface", "level-and-dry"}


def found(scene, xy, turn):
    """Everything the rules on the place find there, by the rules themselves."""
    there = stood(scene, xy, turn)
    said = [
        one
        for name, judge in OF_THE_PLACE.items()
        if name not in ANSWERED and rule(name).group in SITING
        for one in judge(there, there.standing)
    ]
    last = [one for judge in OF_THE_WHOLE.values() for one in judge(there, there.standing, said)]
    return [one for one in (*said, *last) if isinstance(one, Finding)]


def sampled(region, count, seed):
    """Return places of a region: corners and edges of its outline, and some inside."""
    if region.is_empty:
        return []
    rng = np.random.default_rng(seed)
    corners = shapely.get_coordinates(region)
    edge = region.boundary
    along = [edge.interpolate(d) for d in rng.uniform(0, edge.length, count)]
    low_x, low_y, high_x, high_y = region.bounds
    x, y = rng.uniform((low_x, low_y), (high_x, high_y), (6 * count, 2)).T
    inside = shapely.contains_xy(region, x, y)
    picked = corners[rng.permutation(len(corners))[:count]]
    places = [*picked.tolist(), *[(p.x, p.y) for p in along]]
    return [*places, *zip(x[inside][:count].tolist(), y[inside][:count].tolist(), strict=True)]


def faults(plan, turn, count=40, seed=1):
    zone = standing_zone(plan, turn)
    wrong = []
    for region, least in ((zone.allowed, "WARNING"), (zone.preferred, "CAUTION")):
        for xy in sampled(region, count, seed):
            wrong += [
                (least, xy, one.rule, one.signal)
                for one in found(zone.scene, xy, turn)
                if severity(one.signal) >= severity(least)
                and not (one.rule == "opening-left-open" and one.signal == "CAUTION")
                and not holds_anywhere(one)
            ]
    return wrong


@pytest.mark.parametrize("name", ["good-placement", "narrow-lot", "bad-placement"])
@pytest.mark.parametrize("turn", [0.0, 90.0, 217.0])
def test_samples(name, turn):
    plan = load(sample(f"{name}.siteplan"))
    assert faults(plan, turn) == []


@pytest.mark.parametrize("fields", STRONG)
@pytest.mark.parametrize("turn", [0.0, 217.0])
def test_a_strong_engine_is_kept_farther_off(fields, turn):
    plan = load(sample("good-placement.siteplan"))
    strong = with_fields(plan, machine=changed(plan.machine, **fields))
    assert faults(strong, turn) == []
    # As strict as need be, no more: just outside the zone the estimate does find something.
    zone, usual = standing_zone(strong, turn), standing_zone(plan, turn)
    assert zone.allowed.area < usual.allowed.area
    lost = sampled(usual.allowed.difference(zone.allowed.buffer(0.02)).buffer(-0.02), 25, 3)
    assert lost
    for xy in lost:
        assert severity(zone.barring(xy)[0].signal) >= severity("WARNING")


@pytest.mark.parametrize("name", sorted(zoo()))
def test_odd_plans(name):
    plan = zoo()[name]
    if plan.machine is not None:
        assert faults(plan, 33.0, count=15) == []


COORDINATE = st.integers(-2200, 2200).map(lambda one: one / 100.0)
KINDS = ("window", "door", "air-intake", "window-well", "soffit-vent", "fixed-window")


@st.composite
def crowded(draw):
    """A lot of 44 m with two to four houses, fences, and one thing of most kinds."""
    parts = [b.lot(-22.0, -22.0, 22.0, 22.0)]
    for number in range(draw(st.integers(1, 3))):
        x, y = draw(COORDINATE), draw(COORDINATE)
        w, d = draw(st.integers(20, 100)) / 10.0, draw(st.integers(20, 80)) / 10.0
        inside = draw(st.booleans())
        outline = b.box(x, y, x + w, y + d)
        if inside:
            outline = (*outline[:2], (x + w, y + d / 2), (x + w / 2, y + d / 2),
                       (x + w / 2, y + d), (x, y + d))  # fmt: skip
        parts.append(
            b.building(
                outline,
                id=f"house-{number}",
                kind=draw(st.sampled_from(["dwelling", "shed", "detached-garage"])),
                owner=draw(st.sampled_from(["own", "neighbour"])),
                overhang_m=draw(st.sampled_from([None, 0.0, 0.4])),
                wall_material=draw(st.sampled_from([None, "combustible", "noncombustible"])),
                eave_height_m=draw(st.sampled_from([None, 2.4, 6.0])),
            )
        )
        for wall in range(draw(st.integers(0, 3))):
            kind = draw(st.sampled_from(KINDS))
            parts.append(
                b.opening(
                    f"o-{number}-{wall}", kind, building=f"house-{number}", wall=wall,
                    offset_m=0.2, width_m=0.7, state=draw(st.sampled_from(["shut", "open"])),
                )
            )  # fmt: skip
    spot = st.tuples(COORDINATE, COORDINATE)
    for number in range(draw(st.integers(0, 3))):
        path = draw(st.lists(spot, min_size=2, max_size=4, unique=True))
        kind = draw(st.sampled_from(["fence", "wall", "hedge"]))
        burns = draw(st.sampled_from([None, True, False]))
        parts.append(b.fence(*path, id=f"f-{number}", kind=kind, combustible=burns))
    for number in range(draw(st.integers(0, 4))):
        kind = draw(
            st.sampled_from(["deck", "driveway", "walk", "pool", "standing-water", "brush"])
        )
        x, y = draw(spot)
        parts.append(b.ground_area(kind, b.box(x, y, x + 2.0, y + 3.0), id=f"g-{number}"))
    models = draw(st.sets(st.sampled_from([FuelStore, GasCylinder, OutdoorUnit, PowerInlet])))
    parts += [b.fixture(one, *draw(spot), id=one.__name__.lower()) for one in models]
    if draw(st.booleans()):
        parts.append(b.fixture(GasPoint, *draw(spot), id="gas", kind="gas-meter"))
        parts.append(b.fixture(ServiceDrop, *draw(spot), id="drop", to=(30.0, 30.0)))
        parts.append(b.tree(*draw(spot)))
        x, y = draw(spot)
        kind = draw(st.sampled_from(["canopy", "tent", "overhang"]))
        parts.append(
            b.roof(kind, b.box(x, y, x + 3.0, y + 3.0), open_sides=4,
                   clear_height_m=draw(st.sampled_from([None, 1.2, 1.7, 2.5])))
        )  # fmt: skip
    machine = b.machine(
        exhaust_side=draw(st.sampled_from(["front", "right", "back", "left"])),
        exhaust_offset_m=draw(st.sampled_from([0.0, 0.2, 0.7])),
        co_label_g_per_h=draw(st.sampled_from([None, 300.0, 2500.0, 6000.0])),
    )
    exact = draw(st.sampled_from([None, Accuracy(method="taped"), b.EXACT]))
    return b.make_plan(*parts, machine, b.standing(0.0, 0.0), accuracy=exact)


@settings(max_examples=30, deadline=None)
@given(crowded(), st.floats(0.0, 359.0), st.integers(0, 99))
def test_crowded_lots(plan, turn, seed):
    assert faults(plan, turn, count=12, seed=seed) == []


SITING = {
    "Carbon monoxide",
    "Heat and fire",
    "Gas and fuel",
    "Service equipment",
    "Boundary and ways",
}


def test_every_siting_rule_on_the_place_is_drawn_or_an_answer():
    judged = (*OF_THE_PLACE, *OF_THE_WHOLE)
    siting = {name for name in judged if rule(name).group in SITING}
    assert siting == set(OF_THE_SPOT) | ANSWERED
