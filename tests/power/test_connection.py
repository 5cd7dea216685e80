import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.power import connection
from siteplan.power.connection import Lengths, Machine
from siteplan.power.loads import Load
from siteplan.units import feet

few = settings(max_examples=40, deadline=None)

FIVE_KW = Machine(5000, 6250, ("5-20", "5-20", "L14-30"))
SMALL = Machine(1800, 2200, ("5-15", "5-15"))
FRIDGE = Load("fridge", 700, 2200)
HEATER = Load("heater", 1500, 1500)
TV = Load("tv", 150, 150, electronic=True)
BLOWER = Load("blower", 600, 1600, hardwired=True)
PUMP = Load("pump", 1000, 3100, volts=240, hardwired=True)
NEEDS = [FRIDGE, BLOWER, PUMP, TV]
NEAR = Lengths(cord_m=feet(45), inside_m=feet(20), feeder_m=feet(15), branch_m=feet(50))


def reasons(way):
    return dict(way.refuses)


def parts(way, kind):
    return [part for part in way.parts if part.kind == kind]


def test_the_four_ways_in_their_order():
    kinds = [way.kind for way in connection.compare(FIVE_KW, NEEDS, NEAR)]
    assert kinds == ["single-cords", "locking-cord-box", "through-wall", "inlet-transfer"]


def test_single_cords_reach_what_has_a_plug():
    way = connection.single_cords(FIVE_KW, NEEDS, NEAR)
    assert way.serves == (0, 3)
    assert reasons(way) == {1: "hardwired", 2: "needs-240-v"}
    # By hand: two 20 A outlets at 80 % of 2400 VA
    assert way.limit_w == pytest.approx(3840)
    assert way.start_limit_w == 6250
    assert (way.run_w, way.start_w) == (850, 2350)
    assert not way.carries_all
    assert not way.electrician


def test_single_cords_run_out_of_outlets_in_the_order_of_need():
    way = connection.single_cords(SMALL, [FRIDGE, TV, Load("lamp", 10, 10)], NEAR)
    assert way.serves == (0, 1)
    assert reasons(way) == {2: "no-outlet-left"}
    assert way.limit_w == 1800


def test_a_small_load_leaves_the_larger_outlet_free():
    machine = Machine(3000, 3600, ("5-20", "5-15"))
    iron = Load("iron", 1800, 1800)  # 15 A: over 80 % of a 15 A outlet, under that of 20 A
    way = connection.single_cords(machine, [TV, iron], NEAR)
    assert way.serves == (0, 1)


@pytest.mark.parametrize(("watts", "reached"), [(1919, True), (1920, True), (1921, False)])
def test_a_load_over_four_fifths_of_the_outlet_is_not_reached(watts, reached):
    way = connection.single_cords(FIVE_KW, [Load("x", watts, watts)], NEAR)
    assert (way.serves == (0,)) is reached
    assert reasons(way) == ({} if reached else {0: "over-outlet"})


def test_single_cords_are_bought_in_the_next_stock_length():
    way = connection.single_cords(FIVE_KW, [FRIDGE], NEAR)
    # By hand: 65 ft needs a 100 ft cord; 5.833 A, 100 ft: 16 AWG 5.82 V, 14 AWG 3.66 V,
    # 12 AWG 2.31 V of 3.6 V
    (cord,) = way.parts
    assert (cord.kind, cord.count, cord.gauge_awg) == ("cord", 1, 12)
    assert cord.length_m == pytest.approx(feet(100))
    assert way.drop_total == pytest.approx(2 * 5.8333 * 0.198 / 120, rel=1e-4)
    assert way.drop_shares == (("cord", way.drop_total),)


def test_the_worst_of_several_cords_counts():
    # By hand: 12.5 A at 100 ft of 10 AWG lose 3.1 V; 5.8333 A of 12 AWG 2.31 V
    way = connection.single_cords(FIVE_KW, [HEATER, FRIDGE], NEAR)
    assert way.drop_total == pytest.approx(2 * 12.5 * 0.124 / 120)
    other = connection.single_cords(FIVE_KW, [FRIDGE, HEATER], NEAR)
    assert other.drop_total == way.drop_total


def test_behind_a_box_the_worst_inside_cord_counts():
    # By hand: inside 25 ft of 16 AWG: 12.5 A lose 3.119 V, 1.25 A 0.312 V
    far = Lengths(feet(45), feet(25))
    for loads in ([HEATER, TV], [TV, HEATER]):
        shares = dict(connection.locking_cord_box(FIVE_KW, loads, far).drop_shares)
        assert shares["inside cord"] == pytest.approx(2 * 12.5 * 0.12475 / 120)


@pytest.mark.parametrize(("watts", "reached"), [(1920, True), (1921, False)])
def test_a_box_has_outlets_of_20_a(watts, reached):
    way = connection.locking_cord_box(FIVE_KW, [Load("x", watts, watts)], NEAR)
    assert (way.serves == (0,)) is reached


def test_a_cord_of_one_leg_carries_there_and_back_what_is_drawn():
    # By hand: 850 W are 7.0833 A; 50 ft of 10 AWG there and back 0.124 ohm; the breaker of 30 A
    # bounds what can be lost: 4200 W would be 35 A
    machine = Machine(3600, 4000, ("L5-30",))
    near = Lengths(feet(45))
    light = connection.locking_cord_box(machine, [FRIDGE, TV], near)
    assert light.drop_total == pytest.approx(7.08333 * 0.124 / 120, rel=1e-5)
    heavy = connection.locking_cord_box(machine, [Load(str(n), 1400, 1400) for n in range(3)], near)
    gauge = parts(heavy, "cord")[0].gauge_awg
    # 8 AWG loses 2 x 30 A x 0.0389 ohm = 2.334 V, 10 AWG 3.72 V of 3.6 V
    assert gauge == 8
    assert heavy.drop_total == pytest.approx(2 * 30 * 0.0389 / 120)


def test_a_load_on_both_legs_loses_nothing_in_a_branch_of_120_volts():
    way = connection.inlet_transfer(FIVE_KW, [PUMP], NEAR)
    assert dict(way.drop_shares)["branch"] == 0


def test_equal_cords_are_counted_together():
    way = connection.single_cords(FIVE_KW, [FRIDGE, FRIDGE], NEAR)
    assert [part.count for part in way.parts] == [2]


def test_a_box_reaches_plugs_only_and_takes_both_legs():
    way = connection.locking_cord_box(FIVE_KW, NEEDS, NEAR)
    assert (way.outlet, way.legs) == ("L14-30", 2)
    assert reasons(way) == {1: "hardwired", 2: "needs-240-v"}
    assert way.limit_w == 5000
    (box,) = parts(way, "distribution-box")
    assert box.config == "L14-30"
    trunk = parts(way, "cord")[0]
    assert (trunk.gauge_awg, trunk.config) == (10, "L14-30")
    assert trunk.length_m == pytest.approx(feet(50))


def test_a_box_on_a_larger_machine_is_bounded_by_the_outlet():
    way = connection.locking_cord_box(Machine(9000, 11000, ("L14-30",)), [FRIDGE], NEAR)
    assert way.limit_w == pytest.approx(5760)


def test_a_box_on_one_leg_gets_half_of_a_machine_with_two():
    two = Machine(5000, 6250, ("L5-30", "L6-30"))
    way = connection.locking_cord_box(two, [FRIDGE], NEAR)
    assert (way.outlet, way.legs) == ("L5-30", 1)
    assert (way.limit_w, way.start_limit_w) == (2500, 3125)
    one = Machine(3500, 4000, ("TT-30",))
    assert connection.locking_cord_box(one, [FRIDGE], NEAR).limit_w == pytest.approx(2880)


def test_a_wall_outlet_is_one_circuit_of_20_a():
    way = connection.through_wall(FIVE_KW, [FRIDGE, HEATER, TV], NEAR)
    assert way.serves == (0, 1, 2)
    # By hand: 80 % of 2400 VA, under half of 5000 W
    assert way.limit_w == pytest.approx(1920)
    assert way.run_w == 2350
    assert not way.carries_all
    assert way.electrician
    assert parts(way, "through-wall-outlet")


def test_the_wall_cord_is_chosen_for_no_more_than_the_outlet_gives():
    # By hand: 2350 W are 19.6 A, but 16 A is all; 50 ft at 16 A: 12 AWG loses 3.17 V
    way = connection.through_wall(FIVE_KW, [FRIDGE, HEATER, TV], NEAR)
    trunk = parts(way, "cord")[0]
    assert (trunk.gauge_awg, trunk.length_m) == (12, pytest.approx(feet(50)))


@pytest.mark.parametrize(("outlets", "gauge"), [(("5-20",), 12), (("5-15",), 14)])
def test_the_wall_cord_carries_its_breaker_whatever_is_plugged_in(outlets, gauge):
    # NEC Table 400.5(A)(1) column B: 14 AWG 18 A, 12 AWG 25 A
    way = connection.through_wall(Machine(2400, 3000, outlets), [TV], Lengths(feet(20)))
    assert parts(way, "cord")[0].gauge_awg == gauge


def test_no_cord_is_thinner_than_16_gauge():
    # Listed general-use cords start at 16 AWG (CPSC, NEC 240.5); 1.25 A would ask for 18
    for make in (connection.single_cords, connection.locking_cord_box):
        way = make(FIVE_KW, [TV], Lengths(feet(20), feet(20)))
        assert way.parts[-1].gauge_awg == 16


def test_an_inlet_reaches_everything():
    way = connection.inlet_transfer(FIVE_KW, NEEDS, NEAR)
    assert way.serves == (0, 1, 2, 3)
    assert not way.refuses
    assert way.electrician
    # By hand: 700 + 600 + 1000 + 150 = 2450 W; hardest start adds 2100 W
    assert (way.run_w, way.start_w) == (2450, 4550)
    assert way.limit_w == 5000
    assert way.carries_all
    assert [part.kind for part in way.parts] == [
        "cord",
        "inlet-box",
        "weather-cover",
        "feeder-cable",
        "ground-conductor",
        "breaker",
        "transfer-switch-or-interlock",
        "inlet-label",
    ]


@pytest.mark.parametrize(("watts", "carried"), [(2499, True), (2500, True), (2501, False)])
def test_one_load_may_be_too_much_for_its_leg(watts, carried):
    # Half of 5000 W; the outlet itself would allow 24 A, 2880 W
    way = connection.inlet_transfer(FIVE_KW, [Load("x", watts, watts)], NEAR)
    assert way.serves == (0,)
    assert (way.leg_run_w, way.leg_limit_w) == (watts, 2500)
    assert way.carries_all is carried


@pytest.mark.parametrize(("start_w", "carried"), [(3125, True), (3126, False)])
def test_one_start_may_be_too_much_for_its_leg(start_w, carried):
    way = connection.single_cords(FIVE_KW, [Load("x", 1000, start_w)], NEAR)
    assert (way.leg_start_w, way.leg_start_limit_w) == (start_w, 3125)
    assert way.carries_all is carried


def test_a_load_on_both_legs_uses_the_whole_machine():
    way = connection.inlet_transfer(FIVE_KW, [Load("x", 4500, 4500, volts=240)], NEAR)
    assert (way.leg_run_w, way.leg_limit_w) == (2250, 2500)
    assert way.carries_all


def test_a_machine_with_one_leg_has_no_half():
    way = connection.single_cords(SMALL, [Load("x", 1400, 1400)], NEAR)
    assert (way.leg_limit_w, way.leg_start_limit_w) == (1800, 2200)
    assert way.leg_run_w == way.run_w


@pytest.mark.parametrize(("start_w", "carried"), [(2200, True), (2201, False)])
def test_a_start_over_the_whole_machine_is_not_carried(start_w, carried):
    way = connection.single_cords(SMALL, [Load("x", 700, start_w)], NEAR)
    assert way.carries_all is carried


@pytest.mark.parametrize(("second_w", "carried"), [(400, True), (401, False)])
def test_a_sum_over_the_whole_machine_is_not_carried(second_w, carried):
    loads = [Load("x", 1400, 1400), Load("y", second_w, second_w)]
    assert connection.single_cords(SMALL, loads, NEAR).carries_all is carried


def test_drop_of_cord_feeder_and_branch_by_hand():
    # Legs: A fridge 700 + pump 500 = 1200 W, 10 A; B blower 600 + tv 150 + pump 500 = 1250 W,
    # 10.4167 A. Neutral 0.4167 A. 10 AWG: cord 50 ft 0.062 ohm, feeder 15 ft 0.0186 ohm;
    # branch of 12 AWG 50 ft 0.099 ohm, there and back at 5.8333 A.
    way = connection.inlet_transfer(FIVE_KW, NEEDS, NEAR)
    shares = dict(way.drop_shares)
    assert shares["cord"] == pytest.approx((10.41667 + 0.41667) * 0.062 / 120, rel=1e-4)
    assert shares["feeder"] == pytest.approx((10.41667 + 0.41667) * 0.0186 / 120, rel=1e-4)
    assert shares["branch"] == pytest.approx(2 * 5.83333 * 0.099 / 120, rel=1e-4)
    assert way.drop_total == pytest.approx(sum(shares.values()))


def test_an_inlet_of_30_a_takes_ten_gauge_and_one_of_50_a_six_gauge():
    thirty = connection.inlet_transfer(FIVE_KW, NEEDS, NEAR)
    fifty = connection.inlet_transfer(Machine(12000, 15000, ("L14-30", "14-50")), NEEDS, NEAR)
    for way, gauge, breaker in ((thirty, 10, "2P30"), (fifty, 6, "2P50")):
        assert parts(way, "feeder-cable")[0].gauge_awg == gauge
        assert parts(way, "ground-conductor")[0].gauge_awg == 10
        assert parts(way, "breaker")[0].config == breaker
        assert parts(way, "cord")[0].gauge_awg == gauge


def test_a_long_feeder_is_made_thicker_with_its_ground():
    heavy = [Load(str(place), 2400, 2400) for place in range(2)]
    near = Lengths(feet(20), 0, feet(15), feet(10))
    far = Lengths(feet(20), 0, feet(250), feet(10))
    machine = Machine(6000, 7500, ("L14-30",))
    short = connection.inlet_transfer(machine, heavy, near)
    long = connection.inlet_transfer(machine, heavy, far)
    assert parts(short, "feeder-cable")[0].gauge_awg == 10
    # By hand, 20 A on each leg, 250 ft: 10 AWG 6.2 V, 8 AWG 3.89 V; cord 25 ft 0.62 V, branch
    # 10 ft 0.79 V; 5 % is 6 V
    assert parts(long, "feeder-cable")[0].gauge_awg == 8
    assert parts(long, "ground-conductor")[0].gauge_awg == 8
    assert long.drop_total <= 0.05


def test_where_no_feeder_mends_the_loss_it_is_not_made_thicker():
    heavy = [Load(str(place), 2400, 2400) for place in range(2)]
    far = Lengths(feet(20), 0, feet(30), feet(120))
    way = connection.inlet_transfer(Machine(6000, 7500, ("L14-30",)), heavy, far)
    assert way.drop_total > 0.05
    assert parts(way, "feeder-cable")[0].gauge_awg == 10


def test_electronics_on_both_legs_ask_for_a_thicker_trunk_only_over_column_a():
    # Column A of 10 AWG is 25 A: 2880 W a leg are 24 A, 3060 W 25.5 A
    machine = Machine(7200, 9000, ("L14-30",))
    near = Lengths(feet(10), 0, feet(10), feet(10))
    for leg_w, gauge in ((2880, 10), (3060, 8)):
        pulsed = [Load(str(n), leg_w / 2, leg_w / 2, electronic=True) for n in range(4)]
        way = connection.inlet_transfer(machine, pulsed, near)
        assert parts(way, "cord")[0].gauge_awg == gauge


def test_a_small_machine_has_nothing_to_lock():
    for way in (
        connection.locking_cord_box(SMALL, NEEDS, NEAR),
        connection.inlet_transfer(SMALL, [FRIDGE, TV], NEAR),
    ):
        assert (way.outlet, way.legs, way.serves, way.limit_w) == (None, 0, (), 0)
        assert not way.carries_all
        assert not way.parts
    assert reasons(way) == {0: "no-outlet", 1: "no-outlet"}


def test_a_machine_without_known_outlets_carries_nothing():
    machine = Machine(5000, 6000, ("12-34",))
    for way in connection.compare(machine, NEEDS, NEAR):
        assert way.outlet is None
        assert not way.carries_all
        assert way.serves == ()
        limits = (way.limit_w, way.start_limit_w, way.leg_limit_w, way.leg_start_limit_w)
        assert limits == (0, 0, 0, 0)
        assert dict(way.refuses)[0] == "no-outlet"


def test_receptacles_without_neutral_or_ground_never_feed_a_house():
    for config in ("L6-30", "6-50", "10-30", "10-50"):
        machine = Machine(7000, 9000, (config,))
        assert connection.inlet_transfer(machine, NEEDS, NEAR).outlet is None


def test_an_inlet_on_one_leg_reaches_no_240_volt_load():
    way = connection.inlet_transfer(Machine(3500, 4000, ("L5-30",)), NEEDS, NEAR)
    assert reasons(way) == {2: "needs-240-v"}
    assert parts(way, "breaker")[0].config == "1P30"


@pytest.mark.parametrize(("length_ft", "missing"), [(99.9, False), (100, False), (100.1, True)])
def test_a_locking_cord_longer_than_is_sold_is_missing(length_ft, missing):
    way = connection.inlet_transfer(FIVE_KW, [FRIDGE], Lengths(feet(length_ft)))
    assert way.cord_missing is missing
    assert (parts(way, "cord")[0].length_m is None) is missing


@pytest.mark.parametrize(("length_ft", "missing"), [(200, False), (200.1, True)])
def test_a_household_cord_longer_than_is_sold_is_missing(length_ft, missing):
    way = connection.single_cords(FIVE_KW, [TV], Lengths(feet(length_ft)))
    assert way.cord_missing is missing


@few
@given(st.floats(1, 60), st.floats(0, 40), st.lists(st.integers(10, 1900), max_size=6))
def test_a_longer_way_never_loses_less_with_the_same_copper(cord_m, more_m, watts):
    loads = [Load(str(place), w, w) for place, w in enumerate(watts)]
    for here, there in zip(
        connection.compare(FIVE_KW, loads, Lengths(cord_m)),
        connection.compare(FIVE_KW, loads, Lengths(cord_m, 0, more_m, more_m)),
        strict=True,
    ):
        assert here.serves == there.serves
        assert sorted([*here.serves, *dict(here.refuses)]) == list(range(len(loads)))
        assert here.drop_total <= there.drop_total + 1e-12


@pytest.mark.parametrize("bad", [-1.0, 501.0, math.nan])
def test_lengths_that_are_none_are_refused(bad):
    for field in ("cord_m", "inside_m", "feeder_m", "branch_m"):
        with pytest.raises(OutOfRangeError, match="length"):
            Lengths(**{"cord_m": 1.0, field: bad})


@pytest.mark.parametrize(("running", "starting"), [(0, 10), (1000, 999), (math.nan, 10)])
def test_machines_that_are_none_are_refused(running, starting):
    with pytest.raises(OutOfRangeError):
        Machine(running, starting, ())
