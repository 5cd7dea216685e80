"""Service equipment, beyond the machine's distances."""

import pytest

from siteplan.plan.around import (
    FuelStore,
    GasCylinder,
    GasPoint,
    OutdoorUnit,
    Panel,
    PowerInlet,
    ServiceDrop,
)
from siteplan.plan.lot import Accuracy
from tests.helpers.builders import (
    FT,
    building,
    fence,
    fixture,
    make_plan,
    on_wall,
    opening,
    standing,
    tree,
)
from tests.helpers.judging import findings, sentences, verdict

HAIR = 0.001


def south_wall(kind, **fields):
    """Return a house whose south wall lies on y = 0 with an opening from x = 5 to 6 in it."""
    return building(), opening("it", kind=kind, offset_m=5.0, **fields)


def inlet(offset=6.0, wall=0):
    return fixture(PowerInlet, offset, 0.0, id="inlet", on=on_wall(wall, offset))


# NEC 110.26(A): 36 in deep, 30 in wide.
@pytest.mark.parametrize(
    ("x", "y", "blocked"),
    [
        (6.0, -3 * FT + HAIR, True),
        (6.0, -3 * FT - HAIR, False),
        (6.0 + 0.381 - HAIR, -0.5, True),
        (6.0 + 0.381 + HAIR, -0.5, False),
        (6.0 - 0.381 + HAIR, -0.5, True),
        (6.0 - 0.381 - HAIR, -0.5, False),
        (6.0, 0.5, False),  # indoors
    ],
)
@pytest.mark.parametrize("make", ["tree", "cans", "cylinder", "gas"])
def test_things_in_front_of_an_inlet(make, x, y, blocked):
    thing = {
        "tree": lambda: tree(x, y, id="it"),
        "cans": lambda: fixture(FuelStore, x, y, id="it"),
        "cylinder": lambda: fixture(GasCylinder, x, y, id="it"),
        "gas": lambda: fixture(GasPoint, x, y, id="it", kind="gas-meter"),
    }[make]()
    plan = make_plan(building(), inlet(), thing, standing(30.0, -30.0))
    said = findings(plan, "inlet-space")
    assert bool(said) is blocked
    for one in said:
        assert one.signal == "WARNING"
        assert one.subjects == ("inlet", "it")
        assert one.evidence[0].shape == "area"


@pytest.mark.parametrize(("y", "blocked"), [(-0.9, True), (-0.92, False)])
def test_a_fence_in_front_of_an_inlet(y, blocked):
    barrier = fence((0.0, y), (12.0, y))
    plan = make_plan(building(), inlet(), barrier, standing(30.0, -30.0))
    assert bool(findings(plan, "inlet-space")) is blocked


@pytest.mark.parametrize(("gap", "blocked"), [(0.35, True), (0.36, False)])
def test_an_outdoor_unit_reaches_to_its_corner(gap, blocked):
    # 0.5 m wide: its corner 0.354 m from its middle.
    unit = fixture(OutdoorUnit, 6.0 + 0.381 + gap, -0.5, id="unit", width_m=0.5)
    plan = make_plan(building(), inlet(), unit, standing(30.0, -30.0))
    assert bool(findings(plan, "inlet-space")) is blocked


def test_the_space_lies_outside_each_wall():
    # Wall 1 faces east; the space reaches out to x = 12.914.
    plan = make_plan(building(), fixture(PowerInlet, 12.0, 4.0, id="inlet", on=on_wall(1, 4.0)),
                     tree(12.8, 4.0), standing(30.0, -30.0))  # fmt: skip
    (found,) = findings(plan, "inlet-space")
    assert len(found.evidence[0].points) == 4
    xs = [x for x, _ in found.evidence[0].points]
    ys = [y for _, y in found.evidence[0].points]
    assert (min(xs), max(xs)) == pytest.approx((12.0, 12.0 + 3 * FT))
    assert (min(ys), max(ys)) == pytest.approx((4.0 - 0.381, 4.0 + 0.381))


def test_accuracy_may_put_a_thing_into_the_space():
    rough = Accuracy(method="figure", figure_m=0.1)
    plan = make_plan(building(), inlet(), tree(6.0, -1.0), standing(30.0, -30.0), rough)
    assert findings(plan, "inlet-space")


def test_an_inlet_off_any_wall_has_only_its_distance():
    plan = make_plan(fixture(PowerInlet, 0.0, 5.0), tree(0.0, 5.2), standing())
    assert verdict(plan, "inlet-space") == "met"


@pytest.mark.parametrize(
    ("gap", "expected"), [(3 * FT - HAIR, "NOTICE"), (3 * FT, "met"), (3 * FT + HAIR, "met")]
)
def test_service_conductors_and_openings(gap, expected):
    # NEC 230.9(A): 3 ft.
    drop = fixture(ServiceDrop, -9.0, -gap, id="drop", to=(20.0, -gap))
    plan = make_plan(*south_wall("window"), drop)
    assert verdict(plan, "service-drop-opening") == expected
    assert verdict(make_plan(*south_wall("fixed-window"), drop), "service-drop-opening") == "met"


def test_under_the_conductors_is_a_warning():
    drop = fixture(ServiceDrop, -9.0, 0.0, id="drop", to=(20.0, 0.0))
    (found,) = findings(make_plan(drop, standing()), "service-drop")
    assert found.signal == "WARNING"
    assert "under" in found.what.say()


def test_a_panel_is_named_in_its_space():
    plan = make_plan(fixture(Panel, 1.0, 1.0, name="Cellar panel", working_space_clear=False))
    assert "Cellar panel" in sentences(findings(plan, "working-space"))
