"""Stored fuel: how much, in what, and where."""

import pytest

from siteplan.plan.around import FuelStore, GasCylinder
from tests.helpers.builders import box, building, fixture, make_plan
from tests.helpers.judging import findings, met, outcomes, unjudged, verdict

L_PER_GAL = 3.785411784


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


def test_a_store_of_unknown_amount_leaves_nothing_met_but_another_fuel():
    plan = make_plan(store(8.0, "a"), store(None, "b"), store(8.0, "c", fuel="diesel"))
    assert [one.subjects for one in unjudged(plan, "fuel-store-amount")] == [("b",)]
    assert [one.subjects for one in met(plan, "fuel-store-amount")] == [("c",)]


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


@pytest.mark.parametrize(
    ("kind", "y", "expected"),
    [
        ("dwelling", 0.01, "DANGER"),
        ("attached-garage", 0.01, "DANGER"),
        ("shed", 0.01, "WARNING"),
        ("detached-garage", 0.01, "WARNING"),
        ("carport", 0.01, "met"),
        ("dwelling", -0.01, "met"),
    ],
)
def test_a_gas_cylinder_stands_in_no_building(kind, y, expected):
    # NFPA 58, from memory.
    cylinder = fixture(GasCylinder, 5.0, y)
    plan = make_plan(building(kind=kind), cylinder, store(1.0))
    said = outcomes(plan, "fuel-store-place")
    (one,) = [one for one in said if "fixture" in one.subjects]
    assert getattr(one, "signal", "met") == expected
    # Without any liquid fuel on the plan the cylinder is judged all the same.
    alone = outcomes(make_plan(building(kind=kind), cylinder), "fuel-store-place")
    assert one in alone


def test_fuel_without_a_building_is_not_judged():
    assert verdict(make_plan(store(1.0)), "fuel-store-place") == "unjudged"


@pytest.mark.parametrize(
    "rule", ["fuel-store-amount", "fuel-container", "fuel-store-place", "working-space"]
)
def test_nothing_of_the_sort_drawn_is_not_judged(rule):
    (said,) = outcomes(make_plan(building()), rule)
    assert said in unjudged(make_plan(building()), rule)
    assert said.not_drawn
