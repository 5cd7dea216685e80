"""Gas, fuel and service equipment, beyond the machine's distances."""

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
from siteplan.plan.lot import Accuracy, Override
from tests.helpers.builders import (
    FT,
    box,
    building,
    fence,
    fixture,
    make_plan,
    on_wall,
    opening,
    standing,
    tree,
)
from tests.helpers.judging import findings, met, outcomes, sentences, unjudged, verdict

HAIR = 0.001
L_PER_GAL = 3.785411784


def south_wall(kind, **fields):
    """Return a house whose south wall lies on y = 0 with an opening from x = 5 to 6 in it."""
    return building(), opening("it", kind=kind, offset_m=5.0, **fields)


def below(gap):
    """Return the place this far [m] south of that opening."""
    return 5.5, -gap


@pytest.mark.parametrize("model_kind", ["gas-regulator", "gas-meter"])
@pytest.mark.parametrize("kind", ["air-intake", "room-air-conditioner", "evaporative-cooler"])
@pytest.mark.parametrize(
    ("gap", "expected"), [(10 * FT - HAIR, "NOTICE"), (10 * FT, "met"), (10 * FT + HAIR, "met")]
)
def test_regulator_and_intake(model_kind, kind, gap, expected):
    gas = fixture(GasPoint, *below(gap), kind=model_kind)
    plan = make_plan(*south_wall(kind), gas)
    assert verdict(plan, "gas-regulator-intake") == expected


@pytest.mark.parametrize("kind", ["window", "combustion-intake", "door"])
def test_only_openings_with_a_fan_count_for_a_regulator(kind):
    plan = make_plan(*south_wall(kind), fixture(GasPoint, *below(1.0), kind="gas-regulator"))
    assert verdict(plan, "gas-regulator-intake") == "met"


def test_pairs_take_the_drawings_accuracy_off_once():
    rough = Accuracy(method="figure", figure_m=0.4)
    for gap, expected in ((10 * FT + 0.4 - HAIR, "NOTICE"), (10 * FT + 0.4 + HAIR, "met")):
        gas = fixture(GasPoint, *below(gap), kind="gas-meter")
        plan = make_plan(*south_wall("air-intake"), gas, rough)
        assert verdict(plan, "gas-regulator-intake") == expected


def test_a_pair_is_told_with_its_figures():
    gas = fixture(GasPoint, *below(2.0), id="gas", kind="gas-meter")
    plan = make_plan(*south_wall("air-intake"), gas)
    (found,) = findings(plan, "gas-regulator-intake")
    assert found.subjects == ("gas", "it")
    assert found.measured.value == pytest.approx(2.0)
    assert found.limit.value == pytest.approx(10 * FT)
    assert found.margin.value == pytest.approx(2.0 - 10 * FT)
    assert found.evidence[0].points == ((5.5, -2.0), (5.5, 0.0))
    assert "10'" in found.what.say()


def test_pairs_that_keep_apart_name_the_fixtures():
    gas = [fixture(GasPoint, 5.0, -20.0 - k, id=f"g{k}", kind="gas-meter") for k in range(2)]
    (said,) = met(make_plan(*south_wall("air-intake"), *gas), "gas-regulator-intake")
    assert said.subjects == ("g0", "g1")
    assert said.checked == 2
    assert said.limit.value == pytest.approx(10 * FT)


def test_a_local_figure_lengthens_a_pairs_distance():
    longer = Override(rule="gas-regulator-intake", distance_m=5.0, reason="Utility")
    gas = fixture(GasPoint, *below(4.9), kind="gas-meter")
    assert (
        verdict(make_plan(*south_wall("air-intake"), gas, longer), "gas-regulator-intake")
        == "NOTICE"
    )


def test_a_local_figure_lengthens_a_cylinders_distances():
    longer = Override(rule="gas-cylinder-opening", distance_m=5.0, reason="Utility")
    for kind in ("window", "air-intake"):
        cylinder = fixture(GasCylinder, *below(4.9), filled_on_site=False)
        plan = make_plan(*south_wall(kind), cylinder, longer)
        assert verdict(plan, "gas-cylinder-opening") == "WARNING"
        assert findings(plan, "gas-cylinder-opening")[0].limit.value == 5.0


def test_a_local_figure_lengthens_the_conductors_distance():
    longer = Override(rule="service-drop-opening", distance_m=5.0, reason="Utility")
    drop = fixture(ServiceDrop, -9.0, -4.9, id="drop", to=(20.0, -4.9))
    plan = make_plan(*south_wall("window"), drop, longer)
    assert verdict(plan, "service-drop-opening") == "NOTICE"


@pytest.mark.parametrize(
    "rule", ["gas-regulator-intake", "gas-cylinder-opening", "service-drop-opening"]
)
def test_pairs_without_one_half_are_not_judged(rule):
    fixtures = [
        fixture(GasPoint, 5.0, -1.0, id="g", kind="gas-meter"),
        fixture(GasCylinder, 5.0, -1.0, id="c"),
        fixture(ServiceDrop, 5.0, -1.0, id="d", to=(9.0, -9.0)),
    ]
    assert verdict(make_plan(*south_wall("air-intake")), rule) == "unjudged"
    assert verdict(make_plan(building(), *fixtures), rule) == "unjudged"


# NFPA 58 (2017) 6.3.4.3 and .4: 3 ft to openings below; 5 ft to intakes, 10 ft filled on site.
@pytest.mark.parametrize(
    ("kind", "filled", "gap", "expected"),
    [
        ("window", False, 3 * FT - HAIR, "WARNING"),
        ("window", False, 3 * FT, "met"),
        ("window", False, 3 * FT + HAIR, "met"),
        ("window", True, 3 * FT + HAIR, "met"),
        ("fixed-window", False, 0.1, "met"),
        ("air-intake", False, 5 * FT - HAIR, "WARNING"),
        ("air-intake", False, 5 * FT, "met"),
        ("combustion-intake", False, 5 * FT - HAIR, "WARNING"),
        ("room-air-conditioner", True, 10 * FT - HAIR, "WARNING"),
        ("room-air-conditioner", True, 10 * FT, "met"),
        ("air-intake", None, 5 * FT - HAIR, "WARNING"),
        ("air-intake", None, 5 * FT, "unjudged"),
        ("air-intake", None, 10 * FT - HAIR, "unjudged"),
        ("air-intake", None, 10 * FT, "met"),
    ],
)
def test_cylinder_and_openings(kind, filled, gap, expected):
    cylinder = fixture(GasCylinder, *below(gap), filled_on_site=filled)
    plan = make_plan(*south_wall(kind), cylinder)
    assert verdict(plan, "gas-cylinder-opening") == expected
    assert len(outcomes(plan, "gas-cylinder-opening")) == 1


@pytest.mark.parametrize(
    ("sill", "valve", "expected"),
    [
        (0.99, 1.0, "WARNING"),
        (1.0, 1.0, "met"),
        (1.01, 1.0, "met"),
        (None, 1.0, "WARNING"),
        (1.5, None, "WARNING"),
    ],
)
def test_openings_above_the_valve_do_not_count(sill, valve, expected):
    cylinder = fixture(GasCylinder, *below(0.5), height_m=valve)
    plan = make_plan(*south_wall("window", sill_m=sill), cylinder)
    assert verdict(plan, "gas-cylinder-opening") == expected


def test_an_intake_above_the_valve_counts():
    cylinder = fixture(GasCylinder, *below(0.5), height_m=0.5)
    plan = make_plan(*south_wall("air-intake", sill_m=2.0), cylinder)
    assert verdict(plan, "gas-cylinder-opening") == "WARNING"


@pytest.mark.parametrize(
    ("gap", "expected"),
    [
        (5 * FT - HAIR, "WARNING"),
        (5 * FT, "unjudged"),
        (10 * FT - HAIR, "unjudged"),
        (10 * FT, "met"),
    ],
)
def test_a_cylinder_not_told_how_it_is_filled(gap, expected):
    cylinder = fixture(GasCylinder, 0.0, 0.4 + gap)
    assert verdict(make_plan(cylinder, standing()), "gas-cylinder") == expected


def test_each_cylinder_has_its_own_outcome():
    cylinders = [
        fixture(GasCylinder, 0.0, y, id=name, filled_on_site=filled)
        for name, y, filled in (("a", 1.0, False), ("b", 4.0, None), ("c", 3.0, None))
    ]
    plan = make_plan(*cylinders, standing())
    assert [one.subjects for one in findings(plan, "gas-cylinder")] == [("a",)]
    assert [one.subjects for one in met(plan, "gas-cylinder")] == [("b",)]
    assert [one.subjects for one in unjudged(plan, "gas-cylinder")] == [("c",)]
    assert "c" in sentences(unjudged(plan, "gas-cylinder"))


def store(gallons=None, name="cans", **fields):
    litres = None if gallons is None else gallons * L_PER_GAL
    return fixture(FuelStore, 30.0, 30.0, id=name, stored_l=litres, **fields)


DROP_L = 1e-3 / L_PER_GAL


@pytest.mark.parametrize(
    ("gallons", "fields", "expected"),
    [
        # City figure: 10 gal without a cabinet, 60 gal in one; county: 25 gal at most.
        (10.0 - DROP_L, {}, "met"),
        (10.0, {}, "met"),
        (10.0 + DROP_L, {"in_cabinet": False}, "CAUTION"),
        (10.0 + DROP_L, {"in_cabinet": None}, "unjudged"),
        (10.0 + DROP_L, {"in_cabinet": True}, "met"),
        (25.0, {"in_cabinet": False}, "CAUTION"),
        (25.0 + DROP_L, {"in_cabinet": False}, "WARNING"),
        (25.0, {"in_cabinet": None}, "unjudged"),
        (25.0 + DROP_L, {"in_cabinet": None}, "WARNING"),
        (60.0, {"in_cabinet": True}, "met"),
        (60.0 + DROP_L, {"in_cabinet": True}, "WARNING"),
        # IFC (2018) 105.6: diesel over 60 gal outside.
        (60.0, {"fuel": "diesel"}, "met"),
        (60.0 + DROP_L, {"fuel": "diesel"}, "WARNING"),
        (None, {}, "unjudged"),
    ],
)
def test_amount_of_fuel(gallons, fields, expected):
    assert verdict(make_plan(store(gallons, **fields)), "fuel-store-amount") == expected


def test_stores_of_one_fuel_are_added_up():
    plan = make_plan(store(6.0, "a", in_cabinet=False), store(6.0, "b", in_cabinet=False))
    (found,) = findings(plan, "fuel-store-amount")
    assert found.subjects == ("a", "b")
    assert found.measured.value == pytest.approx(12 * L_PER_GAL)
    assert found.limit.value == pytest.approx(10 * L_PER_GAL)
    assert found.margin.value == pytest.approx(-2 * L_PER_GAL)
    assert "12.0 gal" in found.what.say()


def test_one_store_out_of_a_cabinet_loses_its_allowance():
    plan = make_plan(store(20.0, "a", in_cabinet=True), store(10.0, "b", in_cabinet=False))
    (found,) = findings(plan, "fuel-store-amount")
    assert found.signal == "WARNING"
    assert found.limit.value == pytest.approx(25 * L_PER_GAL)


def test_an_empty_store_counts_nothing():
    plan = make_plan(store(0.0, "a"), store(4.0, "b"))
    (said,) = met(plan, "fuel-store-amount")
    assert said.measured.value == pytest.approx(4.0 * L_PER_GAL)
    assert said.limit.value == pytest.approx(10.0 * L_PER_GAL)
    assert said.margin.value == pytest.approx(6.0 * L_PER_GAL)
    assert said.checked == 2


def test_fuels_are_counted_apart():
    plan = make_plan(store(9.0, "a"), store(50.0, "b", fuel="diesel"))
    said = met(plan, "fuel-store-amount")
    assert [one.subjects for one in said] == [("a",), ("b",)]
    assert [one.checked for one in said] == [1, 1]


def test_a_store_of_unknown_amount_leaves_the_rest_judged():
    plan = make_plan(store(30.0, "a", in_cabinet=False), store(None, "b"))
    assert [one.subjects for one in unjudged(plan, "fuel-store-amount")] == [("b",)]
    assert verdict(plan, "fuel-store-amount") == "WARNING"


@pytest.mark.parametrize(
    ("gallons", "expected"),
    [(5.0 - DROP_L, "met"), (5.0, "met"), (5.0 + DROP_L, "CAUTION"), (None, "unjudged")],
)
def test_size_of_containers(gallons, expected):
    size = None if gallons is None else gallons * L_PER_GAL
    plan = make_plan(fixture(FuelStore, 9.0, 9.0, largest_container_l=size))
    assert verdict(plan, "fuel-container") == expected
    for one in met(plan, "fuel-container"):
        assert one.measured.value == size
        assert one.limit.value == pytest.approx(5 * L_PER_GAL)
    for one in findings(plan, "fuel-container"):
        assert one.limit.value == pytest.approx(5 * L_PER_GAL)
        assert "5.0 gal" in one.do.say()
        assert one.margin.value == pytest.approx(-1e-3, rel=1e-3)


@pytest.mark.parametrize(
    ("kind", "y", "expected"),
    [
        ("dwelling", 0.01, "DANGER"),
        ("dwelling", 0.0, "met"),  # against its wall, outside
        ("dwelling", -0.01, "met"),
        ("attached-garage", 0.01, "WARNING"),
        ("shed", 0.01, "met"),
        ("detached-garage", 0.01, "met"),
    ],
)
def test_where_fuel_is_stored(kind, y, expected):
    plan = make_plan(building(kind=kind), fixture(FuelStore, 5.0, y))
    assert verdict(plan, "fuel-store-place") == expected
    for one in findings(plan, "fuel-store-place"):
        assert one.subjects == ("fixture", "house")
        assert one.evidence[0].points == box(0.0, 0.0, 12.0, 8.0)


def test_fuel_in_a_shed_against_the_house_is_fuel_at_the_house():
    shed = building(box(12.0, 0.0, 15.0, 3.0), kind="shed", id="shed")
    plan = make_plan(building(), shed, fixture(FuelStore, 13.0, 1.0))
    assert verdict(plan, "fuel-store-place") == "WARNING"


def test_fuel_without_a_building_is_not_judged():
    assert verdict(make_plan(store(1.0)), "fuel-store-place") == "unjudged"


@pytest.mark.parametrize(
    "rule", ["fuel-store-amount", "fuel-container", "fuel-store-place", "working-space"]
)
def test_nothing_of_the_sort_drawn_is_not_judged(rule):
    (said,) = outcomes(make_plan(building()), rule)
    assert said in unjudged(make_plan(building()), rule)
    assert said.not_drawn


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
