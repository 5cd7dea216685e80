"""The power path as data: ways compared, legs, order, cords, parts."""

import pytest

from siteplan.plan.around import Panel, ThroughWallOutlet
from siteplan.power.ways import Part
from siteplan.rules import power_report
from siteplan.rules.power.ways import part_text
from siteplan.scene import resolve
from tests.helpers.builders import FT, building, fence, fixture, lot, make_plan, on_wall, standing
from tests.helpers.powering import (
    COOL,
    LAID_M,
    generator,
    good_cord,
    household_cord,
    inlet,
    load,
    powered,
    transfer,
)


def report(*arguments, **fields):
    return power_report(resolve(powered(*arguments, **fields)))


def way(found, kind):
    return next(one for one in found.comparison.ways if one.way.kind == kind)


def said(compared):
    return " ".join(one.text.say() for one in compared.remarks)


PUMP = load("pump", 1000.0, starting_w=3100.0, volts=240, appliance="well-pump-half", via="inlet")
FRIDGE = load("fridge", 700.0, starting_w=2200.0, appliance="refrigerator", via="inlet", leg="a")


def test_each_way_says_what_it_cannot_do():
    found = report(None, PUMP, FRIDGE)
    assert [one.way.kind for one in found.comparison.ways] == [
        "single-cords", "locking-cord-box", "through-wall", "inlet-transfer",
    ]  # fmt: skip
    single = way(found, "single-cords")
    assert "Needs 240 V, which does not get there: pump." in said(single)
    assert "exhaust comes in" in said(single)
    assert single.remarks[0].signal == "WARNING"
    assert "licensed electrician" not in said(single)
    assert way(found, "inlet-transfer").way.carries_all
    assert "licensed electrician" in said(way(found, "inlet-transfer"))
    assert found.chosen == "inlet-transfer"


def test_a_way_that_the_generator_has_no_outlet_for_says_so():
    household = tuple(one for one in generator().receptacles if one.configuration == "5-20")
    found = report(household_cord(), FRIDGE, machine=generator(receptacles=household))
    assert "no outlet for this" in said(way(found, "inlet-transfer"))


def test_an_overloaded_way_says_by_how_much():
    heavy = load("oven", 5200.0, volts=240, via="inlet")
    remarks = said(way(report(None, heavy), "inlet-transfer"))
    assert "Running it takes 5200 W; 5000 W is there." in remarks


@pytest.mark.parametrize(
    ("cord", "parts", "expected"),
    [
        (None, (), "inlet-transfer"),
        (household_cord(), (), "single-cords"),
        (good_cord(to=None, end=(-1.0, 4.0), end_fitting="outlet-box-with-breakers"), (),
         "locking-cord-box"),
        (household_cord(to="wall", end=None),
         (fixture(ThroughWallOutlet, 0.0, 5.0, "wall", on=on_wall(3, 3.0)),), "through-wall"),
    ],
)  # fmt: skip
def test_the_way_that_the_cords_take(cord, parts, expected):
    found = report(cord, *parts)
    assert found.chosen == expected
    # The cord is the one to buy for the cord entered; the rest is what the way takes.
    cord, *rest = found.parts
    assert cord == found.cords[0].buy.part
    assert rest == [one for one in way(found, expected).way.parts if one.kind != "cord"]


def test_no_cord_is_no_way():
    plan = powered(placements=(standing(-10.0, 4.0),))
    found = power_report(resolve(plan))
    assert (found.chosen, found.parts, found.cords) == (None, (), ())
    # The ways are compared all the same, to the inlet drawn.
    assert len(found.comparison.ways) == 4


def test_lengths_come_from_the_plan():
    panel = fixture(Panel, 3.0, 6.0, "panel")
    found = report(None, panel, load(at=(6.0, 5.0), via="inlet"),
                   transfer=transfer(feeder_length_m=None))  # fmt: skip
    lengths = found.comparison.lengths
    assert lengths is not None
    assert lengths.cord_m == pytest.approx(LAID_M * 1.05)
    # From the inlet at (-0.02, 4) along the walls: 3.02 + 2 to the panel, 6.02 + 1 to the lamp.
    assert lengths.feeder_m == pytest.approx(5.02)
    assert lengths.inside_m == pytest.approx(7.02)
    assert lengths.branch_m == pytest.approx(10.0)
    assert found.comparison.assumed == ()


def test_what_is_assumed_is_said():
    found = report(household_cord(), load(), transfer=None, outage=COOL)
    texts = [one.say() for one in found.comparison.assumed]
    # Width and depth of the house together: 12 m and 8 m, 65 ft 8 in.
    assert "Cords inside are taken as 65' 8\" long." in texts
    assert "The feeder to the panel is taken as 65' 8\" long." in texts
    assert "Branch circuits are taken as 65' 8\" long." in texts


def test_without_an_inlet_the_nearest_wall_is_taken():
    plan = make_plan(
        lot(-40.0, -40.0, 60.0, 60.0), building(), standing(-10.0, 4.0), machine=generator(),
        outage=COOL,
    )  # fmt: skip
    found = power_report(resolve(plan)).comparison
    assert found.lengths is not None
    # 9.98 m, 0.6 m up at the machine and 1.5 m to an inlet of unknown height.
    assert found.lengths.cord_m == pytest.approx((9.98 + 0.6 + 1.5) * 1.05)
    assert "nearest wall" in found.assumed[0].say()


def test_shut_in_there_is_no_way_to_compare():
    ring = fence((-12.0, 2.0), (-8.0, 2.0), (-8.0, 6.0), (-12.0, 6.0), (-12.0, 2.0))
    found = report(None, ring).comparison
    assert found.ways == ()
    assert "No way leads" in found.assumed[0].say()


@pytest.mark.parametrize("gap", [{"rated_w": None}, {"receptacles": ()}])
def test_without_rating_or_outlets_nothing_is_compared(gap):
    cord = household_cord(receptacle=None)
    found = report(cord, machine=generator(**gap)).comparison
    assert found.ways == ()
    assert "needed to compare" in found.assumed[-1].say()


def test_legs_are_suggested_to_balance_and_entered_ones_kept():
    loads = (load("a", 1000.0, leg="a"), load("b", 600.0), load("c", 500.0), PUMP)
    found = report(None, *loads)
    rows = {row.load.id: row for row in found.loads}
    assert {name: row.suggested for name, row in rows.items()} == {
        "a": "A", "b": "B", "c": "B", "pump": None,
    }  # fmt: skip
    assert rows["b"].leg is None
    assert found.suggested_legs is not None
    assert (found.suggested_legs.a_w, found.suggested_legs.b_w) == (1500.0, 1600.0)
    assert found.legs is not None
    assert found.legs.a_w == 1500.0


def test_one_leg_has_no_legs():
    found = report(None, load(), machine=generator(voltage="120"))
    assert (found.legs, found.suggested_legs) == (None, None)


def test_order_of_starting_is_the_hardest_first():
    found = report(None, FRIDGE, PUMP, load("lamp", 100.0, via="inlet"))
    # Extras of 2100, 1500 and 0 W: pump 3100; 1000 + 2200; 1700 + 100.
    assert [step.load.name for step in found.order] == ["pump", "fridge", "lamp"]
    assert [step.peak_w for step in found.order] == [3100.0, 3200.0, 1800.0]
    assert [row.place for row in found.loads] == [2, 1, 3]
    assert found.worst_dip is not None
    assert found.worst_dip[0] == "pump"


def test_a_cord_row_holds_what_a_buyer_needs():
    (row,) = report(good_cord(gauge_awg=12), FRIDGE).cords
    assert row.laid_m == pytest.approx(LAID_M)
    assert row.needed_m == pytest.approx(LAID_M * 1.05)
    # 12.159 m is 39.9 ft: the next 30 A locking cord sold is 50 ft.
    assert row.stock_m == pytest.approx(50.0 * FT)
    # Its breaker lets 30 A through: 10 AWG.
    assert row.thinnest_awg == 10
    assert (row.current_a.most, row.ampacity_a.most) == (30.0, 25.0)


def test_a_cord_without_a_way_has_no_lengths():
    (row,) = report(household_cord(end=(2.0, 4.0))).cords
    assert row.trouble == "way-in-unknown"
    assert (row.laid_m, row.needed_m, row.stock_m, row.thinnest_awg) == (None, None, None, None)


def test_chain_from_the_inlet():
    found = report(good_cord(pieces_m=(100.0 * FT,)), load("lamp", 1200.0, leg="a", via="inlet"))
    shares = [row.drop.most for row in found.chain]
    # 10 A on one leg: 2.48 V of cord; 10 m of 10 and of 12 AWG at 1.24 and 1.98 Ω/1000 ft.
    kft = 10.0 / FT / 1000.0
    expected = [2.48, 20.0 * 1.24 * kft, 20.0 * 1.98 * kft]
    assert shares == pytest.approx([volts / 120.0 for volts in expected])
    assert report(household_cord()).chain == ()


def test_parts_are_spoken_as_they_are_bought():
    cord = Part("cord", count=2, gauge_awg=10, length_m=30.48, config="L14-30")
    assert part_text(cord).say() == "2 × cord, 10 AWG, 100', L14-30"
    assert part_text(Part("weather-cover")).say() == "1 × rain cover"


def test_clashes_by_id():
    loads = (load("one", 3000.0), load("two", 2500.0), load("three", 100.0))
    assert report(None, *loads).clashes == (("one", "two"),)


def test_loads_beyond_every_formula_are_reported_all_the_same():
    loads = [load(f"l{place}", 1_000_000.0) for place in range(5)]
    found = report(None, *loads)
    assert found.running_w == 5_000_000.0
    assert found.suggested_legs is None
    assert (
        report(None, *(load(f"l{i}", 5000.0, volts=240) for i in range(60))).comparison.ways == ()
    )


def test_inlet_without_a_cord_is_the_end_that_is_compared():
    plan = powered(placements=(standing(-10.0, 4.0),))
    plan = plan.model_copy(update={"fixtures": (inlet(height_m=2.0),)})
    lengths = power_report(resolve(plan)).comparison.lengths
    assert lengths is not None
    assert lengths.cord_m == pytest.approx((9.98 + 0.6 + 2.0) * 1.05)


@pytest.mark.parametrize(
    ("cord", "sold_m"),
    [
        # 45 m of way with rises and slack: cords for household outlets are sold up to 200 ft,
        # locking ones up to 100 ft (common practice).
        (household_cord(end=(-55.0, 4.0)), 60.96),
        (household_cord(end=(-55.0, 4.0), receptacle="l14", wires=4), None),
    ],
)
def test_the_length_sold_is_that_of_its_kind_of_plug(cord, sold_m):
    (row,) = power_report(resolve(powered(cord))).cords
    assert row.stock_m == (None if sold_m is None else pytest.approx(sold_m))
