"""Cords on their way: openings, crossings, pieces, length, jacket, wires and gauge."""

import pytest

from tests.helpers.builders import FT, box, ground_area, opening, passing
from tests.helpers.judging import findings, met, outcomes, sentences, unjudged, verdict
from tests.helpers.powering import (
    COOL,
    DUPLEX,
    LAID_M,
    generator,
    good_cord,
    household_cord,
    inlet,
    load,
    powered,
    transfer,
)

HAIR = 0.001
DOOR = opening("door", kind="door", wall=3, offset_m=5.0)
WINDOW = opening("window", wall=3, offset_m=1.0)


def through(opening_id, how):
    return household_cord(end=(2.0, 4.0), passes=(passing(opening_id, how),))


@pytest.mark.parametrize(
    ("how", "pinched", "ajar", "exit_"),
    [
        ("pinched", "WARNING", "met", "WARNING"),
        ("held-ajar", "met", "WARNING", "WARNING"),
        ("sealed-fitting", "met", "met", "met"),
    ],
)
def test_cord_through_a_door(how, pinched, ajar, exit_):
    plan = powered(through("door", how), DOOR)
    assert verdict(plan, "cord-pinched") == pinched
    assert verdict(plan, "cord-opening-ajar") == ajar
    assert verdict(plan, "cord-exit") == exit_


def test_cord_through_a_window_is_no_exit_but_keeps_it_ajar():
    plan = powered(through("window", "held-ajar"), WINDOW)
    assert verdict(plan, "cord-exit") == "met"
    (found,) = findings(plan, "cord-opening-ajar")
    assert found.subjects == ("cord", "window")
    # The window lies from y = 7 to y = 6 on the west wall.
    assert found.evidence[0].points == ((0.0, 6.5),)


@pytest.mark.parametrize("rule", ["cord-pinched", "cord-opening-ajar", "cord-exit"])
def test_cord_into_the_house_by_no_stated_way_is_not_judged(rule):
    assert verdict(powered(household_cord(end=(2.0, 4.0))), rule) == "unjudged"


DRIVEWAY = ground_area("driveway", box(-6.0, -40.0, -4.0, 40.0), "drive")
WALK = ground_area("walk", box(-6.0, -40.0, -5.0, 40.0), "path")


@pytest.mark.parametrize(
    ("ramp", "expected"), [(True, "met"), (False, "WARNING"), (None, "unjudged")]
)
def test_cord_vehicles(ramp, expected):
    plan = powered(good_cord(ramp_at_driveway=ramp), DRIVEWAY)
    assert verdict(plan, "cord-vehicles") == expected
    assert outcomes(plan, "cord-vehicles")[0].subjects == ("cord", "drive")


def test_cord_vehicles_marks_the_crossing_and_leaves_other_cords_alone():
    (found,) = findings(powered(good_cord(ramp_at_driveway=False), DRIVEWAY), "cord-vehicles")
    assert found.evidence[0].points[0] == pytest.approx((-5.0, 4.0))
    assert verdict(powered(), "cord-vehicles") == "met"


def test_cord_trip_over_a_walk_and_before_a_door():
    assert verdict(powered(good_cord(), WALK), "cord-trip") == "CAUTION"
    assert verdict(powered(), "cord-trip") == "met"
    # Drawn 0.5 m before the west wall, along the door's step.
    past = household_cord(end=(-0.5, 0.0), routing="drawn", waypoints=((-0.5, 8.0),))
    assert verdict(powered(past, DOOR), "cord-trip", "door") == "CAUTION"


@pytest.mark.parametrize("kind", ["pool", "standing-water"])
def test_cord_water(kind):
    water = ground_area(kind, box(-6.0, 2.0, -4.0, 6.0), "wet")
    drawn = good_cord(routing="drawn")
    assert verdict(powered(drawn, water), "cord-water") == "DANGER"
    # A routed cord goes round.
    assert verdict(powered(good_cord(), water), "cord-water") == "met"


@pytest.mark.parametrize("rule", ["cord-water", "cord-trip", "cord-vehicles", "cord-reach"])
def test_cord_without_a_way_is_not_judged(rule):
    assert verdict(powered(household_cord(end=None)), rule) == "unjudged"


@pytest.mark.parametrize(
    ("pieces", "expected"), [((), "unjudged"), ((15.0,), "met"), ((7.5, 7.5), "WARNING")]
)
def test_cord_pieces(pieces, expected):
    assert verdict(powered(good_cord(pieces_m=pieces)), "cord-pieces") == expected


@pytest.mark.parametrize(
    ("coiled", "expected"), [(False, "met"), (True, "WARNING"), (None, "unjudged")]
)
def test_cord_coiled(coiled, expected):
    assert verdict(powered(good_cord(coiled=coiled)), "cord-coiled") == expected


@pytest.mark.parametrize(
    ("marked", "expected"), [(True, "met"), (False, "WARNING"), (None, "unjudged")]
)
def test_cord_jacket(marked, expected):
    assert verdict(powered(good_cord(outdoor_jacket=marked)), "cord-jacket") == expected


@pytest.mark.parametrize(
    ("pieces", "expected"),
    [
        ((LAID_M * 1.05 - HAIR,), "WARNING"),
        ((LAID_M * 1.05,), "met"),
        ((LAID_M * 1.05 + HAIR,), "met"),
        # Two pieces reach together.
        ((LAID_M, LAID_M), "met"),
        ((), "unjudged"),
    ],
)
def test_cord_reach_with_five_percent_of_slack(pieces, expected):
    assert verdict(powered(good_cord(pieces_m=pieces)), "cord-reach") == expected


def test_cord_reach_counts_the_drawing_accuracy():
    # A paced sketch is a metre out (drawing-accuracy).
    long = (LAID_M * 1.05 + HAIR,)
    assert verdict(powered(good_cord(pieces_m=long), accuracy=None), "cord-reach") == "WARNING"


@pytest.mark.parametrize(
    ("long_m", "expected"),
    [(20 * FT - HAIR, "WARNING"), (20 * FT, "met"), (20 * FT + HAIR, "met")],
)
def test_cord_20_ft(long_m, expected):
    assert verdict(powered(good_cord(pieces_m=(long_m,))), "cord-20-ft") == expected


def test_cord_20_ft_without_a_length_is_not_judged():
    assert verdict(powered(good_cord(pieces_m=())), "cord-20-ft") == "unjudged"


@pytest.mark.parametrize(
    ("receptacle", "wires", "expected"),
    [
        # NEMA WD 6: L14-30 is 3-pole 4-wire, 5-20 is 2-pole 3-wire.
        ("l14", 3, "WARNING"),
        ("l14", 4, "met"),
        ("l14", 5, "met"),
        ("duplex", 2, "WARNING"),
        ("duplex", 3, "met"),
        (None, 2, "WARNING"),
        (None, 4, "unjudged"),
    ],
)
def test_cord_wires(receptacle, wires, expected):
    plan = powered(good_cord(receptacle=receptacle, wires=wires))
    assert verdict(plan, "cord-wires") == expected


@pytest.mark.parametrize(
    ("gauge", "expected"),
    [(18, "WARNING"), (17, "WARNING"), (16, "met"), (15, "met"), (-3, "met"), (None, "unjudged")],
)
def test_cord_thin_begins_under_16_awg(gauge, expected):
    assert verdict(powered(household_cord(gauge_awg=gauge)), "cord-thin") == expected


@pytest.mark.parametrize(
    ("gauge", "amps"),
    # NEC 2023 Table 400.5(A)(1), two loaded wires (read second-hand); 16 AWG also as the
    # 13 A and 1560 W of a general-use cord (CPSC, read second-hand).
    [(18, 10), (16, 13), (14, 18), (12, 25), (10, 30), (8, 40), (6, 55), (4, 70)],
)
def test_cord_gauge_by_ampacity(gauge, amps):
    def judged(watts):
        lamp = load(running_w=watts, via="cord")
        return verdict(powered(household_cord(gauge_awg=gauge), lamp), "cord-gauge", "cord")

    assert judged(120.0 * amps - HAIR) == "met"
    assert judged(120.0 * amps) == "met"
    assert judged(120.0 * amps + HAIR) == "WARNING"


@pytest.mark.parametrize(
    ("air_c", "watts", "expected"),
    [
        # 60 °C column of NEC 2023 Table 310.15(B)(1)(1): 0.82 from 36 to 40 °C, so 16 AWG 10.66 A.
        (40.0, 10.66 * 120.0, "met"),
        (40.0, 10.66 * 120.0 + 0.01, "WARNING"),
        (20.0, 13.0 * 120.0, "met"),
        (56.0, 1.0, "WARNING"),
    ],
)
def test_cord_gauge_in_hot_air(air_c, watts, expected):
    plan = powered(
        household_cord(gauge_awg=16),
        load(running_w=watts, via="cord"),
        outage=COOL.model_copy(update={"temperature_c": air_c}),
    )
    assert verdict(plan, "cord-gauge", "cord") == expected


def test_cord_gauge_without_the_air_temperature_says_so_beside_the_verdict():
    plan = powered(outage=COOL.model_copy(update={"temperature_c": None}))
    assert verdict(plan, "cord-gauge", "cord") == "met"
    (gap,) = unjudged(plan, "cord-gauge")
    assert "air temperature" in gap.missing.say()


@pytest.mark.parametrize(("gauge", "expected"), [(12, "WARNING"), (10, "met"), (8, "met")])
def test_cord_to_an_inlet_carries_what_its_breaker_lets_through(gauge, expected):
    # 10 AWG carries the 30 A of an L14-30, 12 AWG carries 25 A (NEC 2023 Table 400.5(A)(1)).
    assert verdict(powered(good_cord(gauge_awg=gauge)), "cord-gauge") == expected


def test_cord_to_an_inlet_behind_an_unknown_breaker():
    outlets = (DUPLEX.model_copy(update={"id": "l14", "configuration": "L14-30",
                                         "breaker_a": None}),)  # fmt: skip
    machine = generator(receptacles=outlets)
    # Its rating bounds the breaker: 10 AWG is enough for 30 A, 12 AWG may not be.
    assert verdict(powered(good_cord(), machine=machine), "cord-gauge") == "met"
    plan = powered(good_cord(gauge_awg=12), machine=machine)
    assert verdict(plan, "cord-gauge") == "unjudged"


@pytest.mark.parametrize(
    ("feet_long", "expected"),
    [
        # 12 AWG at 1.98 Ω/1000 ft (NEC 2023 Chapter 9 Table 8) and 10 A: 3 % of 120 V is lost on
        # 3.6 / (2 · 10 · 1.98) · 1000 = 90.909 ft, 5 % on 151.515 ft.
        (90.90, "met"),
        (90.92, "CAUTION"),
        (151.51, "CAUTION"),
        (151.52, "WARNING"),
    ],
)
def test_cord_drop(feet_long, expected):
    cord = household_cord(pieces_m=(feet_long * FT,))
    assert verdict(powered(cord, load(running_w=1200.0, via="cord")), "cord-drop") == expected


def test_cord_drop_figures_are_percent_and_rounded_up():
    cord = household_cord(pieces_m=(100.0 * FT,))
    (found,) = findings(powered(cord, load(running_w=1200.0, via="cord")), "cord-drop")
    # 2 · 10 A · 0.198 Ω = 3.96 V of 120 V.
    assert found.measured is not None
    assert found.measured.value == pytest.approx(3.3)
    assert "loses 3.3 %" in found.what.say()


def test_cord_drop_of_two_balanced_legs_is_half_that_of_one():
    pair = (load("a", 1200.0, leg="a", via="inlet"), load("b", 1200.0, leg="b", via="inlet"))
    plan = powered(good_cord(gauge_awg=10, pieces_m=(100.0 * FT,)), *pair)
    (well,) = met(plan, "cord-drop")
    # 10 A · 0.124 Ω = 1.24 V of 120 V: no current in the neutral.
    assert well.measured is not None
    assert well.measured.value == pytest.approx(100.0 * 1.24 / 120.0)


def test_cord_drop_of_one_loaded_leg_counts_the_neutral():
    plan = powered(
        good_cord(gauge_awg=10, pieces_m=(100.0 * FT,)), load("a", 1200.0, leg="a", via="inlet")
    )
    (well,) = met(plan, "cord-drop")
    assert well.measured is not None
    assert well.measured.value == pytest.approx(100.0 * 2.48 / 120.0)


@pytest.mark.parametrize(
    "gap",
    [{"gauge_awg": None}, {"pieces_m": ()}],
)
def test_cord_drop_with_data_missing_is_not_judged(gap):
    plan = powered(household_cord(**gap), load(running_w=100.0, via="cord"))
    assert verdict(plan, "cord-drop") == "unjudged"


def test_cord_drop_over_the_way_alone_is_found_without_a_length():
    # 9 m of way and 0.6 m of rise at 16 AWG and 60 A lose over 5 % whatever cord is bought.
    plan = powered(household_cord(gauge_awg=16, pieces_m=()), load(running_w=7200.0, via="cord"))
    assert verdict(plan, "cord-drop") == "WARNING"


@pytest.mark.parametrize("rule", ["cord-drop", "cord-start-drop", "cord-gauge", "outlet-load"])
def test_a_cord_with_nothing_on_it_is_not_judged_by_its_load(rule):
    assert verdict(powered(household_cord()), rule) == "unjudged"


@pytest.mark.parametrize(
    ("feet_long", "expected"),
    [
        # 1/2 hp at 115 V: 58.8 A locked (NEC 2023 Table 430.251(A)); 50 ft of 12 AWG lose
        # 11.64 V, 9.7 %; 10 % is lost on 12 / (2 · 58.8 · 1.98) · 1000 = 51.535 ft.
        (50.0, "met"),
        (51.53, "met"),
        (51.54, "CAUTION"),
    ],
)
def test_cord_start_drop(feet_long, expected):
    pump = load("pump", 1176.0, starting_w=58.8 * 120.0, via="cord")
    plan = powered(household_cord(pieces_m=(feet_long * FT,)), pump)
    assert verdict(plan, "cord-start-drop") == expected


def test_cord_start_drop_of_a_motor_without_starting_watts_is_not_judged():
    plan = powered(household_cord(), load("pump", 500.0, starting_w=None, via="cord"))
    assert verdict(plan, "cord-start-drop") == "unjudged"
    heater = load("heater", 500.0, starting_w=None, appliance="portable-heater", via="cord")
    assert verdict(powered(household_cord(), heater), "cord-start-drop") == "met"


def chained(branch_ft):
    fixed = transfer(
        feeder_awg=10, feeder_length_m=50.0 * FT, branch_awg=12, branch_length_m=branch_ft * FT
    )
    lamp = load("lamp", 1200.0, leg="a", via="inlet")
    return powered(good_cord(pieces_m=(100.0 * FT,)), lamp, transfer=fixed)


@pytest.mark.parametrize(
    ("branch_ft", "expected"),
    [
        # One leg, 10 A: cord 2.48 V, feeder 1.24 V, branch 0.0396 V/ft; 6 V at 57.57 ft.
        (57.57, "met"),
        (57.58, "CAUTION"),
    ],
)
def test_chain_drop_adds_cord_feeder_and_branch(branch_ft, expected):
    assert verdict(chained(branch_ft), "chain-drop") == expected


def test_chain_drop_without_the_feeder_is_not_judged():
    lamp = load("lamp", 1200.0, leg="a", via="inlet")
    plan = powered(good_cord(), lamp, transfer=transfer(feeder_awg=None))
    assert verdict(plan, "chain-drop") == "unjudged"
    assert "feeder" in sentences(outcomes(plan, "chain-drop"))


def test_chain_drop_of_a_240_v_load_loses_in_each_leg_to_its_own_wire():
    pump = load("pump", 2400.0, volts=240, via="inlet")
    fixed = transfer(branch_length_m=100.0 * FT, feeder_length_m=100.0 * FT)
    (well,) = met(powered(good_cord(pieces_m=(100.0 * FT,)), pump, transfer=fixed), "chain-drop")
    # 10 A in both legs: 1.24 V + 1.24 V + 1.98 V to each leg's 120 V.
    assert well.measured is not None
    assert well.measured.value == pytest.approx(100.0 * 4.46 / 120.0)


@pytest.mark.parametrize(
    ("start_w", "expected"),
    [
        # Dip of the machine s x / (1 + s x) with x = 0.25 and s = start / 5000 (NEMA MG 1-32, from
        # memory) and of 1 m of 4 AWG (308 µΩ/ft there and back, 120 V): together 20 % at
        # 4978.2 W and 30 % at 8522.7 W, by bisection apart from this program.
        (4978.0, "met"),
        (4978.5, "CAUTION"),
        (8522.0, "CAUTION"),
        (8523.0, "WARNING"),
    ],
)
def test_start_dip(start_w, expected):
    pump = load("pump", 500.0, starting_w=start_w, via="cord")
    cord = household_cord(gauge_awg=4, pieces_m=(1.0,), end=(-9.9, 4.0))
    assert verdict(powered(cord, pump), "start-dip") == expected


@pytest.mark.parametrize("gap", [{"rated_w": None}, {"rated_w": 0.0}])
def test_start_dip_without_a_rating_is_not_judged(gap):
    pump = load("pump", 500.0, starting_w=1500.0, via="cord")
    plan = powered(household_cord(), pump, machine=generator(**gap))
    assert verdict(plan, "start-dip") == "unjudged"


def test_start_dip_asks_only_of_what_starts_hard():
    assert verdict(powered(household_cord(), load(via="cord")), "start-dip") == "unjudged"
    (gap,) = unjudged(powered(household_cord(), load(via="cord")), "start-dip")
    assert gap.not_drawn


def test_a_good_cord_to_an_inlet_meets_every_rule_of_cords():
    plan = powered(good_cord(), inlet(), load("lamp", 600.0, leg="a", via="inlet"))
    rules = ("cord-pinched", "cord-opening-ajar", "cord-exit", "cord-vehicles", "cord-trip",
             "cord-water", "cord-pieces", "cord-coiled", "cord-reach", "cord-20-ft",
             "cord-jacket", "cord-wires", "cord-thin", "cord-gauge", "cord-drop",
             "cord-start-drop", "chain-drop")  # fmt: skip
    assert {rule: verdict(plan, rule) for rule in rules} == dict.fromkeys(rules, "met")
