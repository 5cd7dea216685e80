"""The generator's outlets: plugs that match, voltage, and what they carry."""

import pytest

from siteplan.plan.around import ThroughWallOutlet
from siteplan.plan.machine import Receptacle
from tests.helpers.builders import cord, fixture, make_plan, on_wall, standing
from tests.helpers.judging import findings, met, outcomes, unjudged, verdict
from tests.helpers.powering import (
    DUPLEX,
    L14,
    generator,
    good_cord,
    household_cord,
    inlet,
    load,
    powered,
)

HAIR = 0.01


def outlet(configuration, breaker_a=None, **fields):
    return Receptacle(id="outlet", configuration=configuration, breaker_a=breaker_a, **fields)


def on(configuration, *parts, breaker_a=None, cord_fields=None, machine_fields=None, **fields):
    """Return a plan with one machine's outlet and a direct cord from it."""
    machine = generator(receptacles=(outlet(configuration, breaker_a),), **(machine_fields or {}))
    one = household_cord(receptacle="outlet", **({"wires": 4} | (cord_fields or {})))
    return powered(one, *parts, machine=machine, **fields)


@pytest.mark.parametrize(
    ("at_machine", "at_house", "expected"),
    [
        # NEMA WD 6 (read second-hand): a plug enters its own configuration, 5-15 also 5-20.
        ("L14-30", "L14-30", "met"),
        ("l14-30r", "L14-30P", "met"),
        ("14-50", "L14-30", "WARNING"),
        ("L14-30", "14-50", "WARNING"),
        ("L5-30", "L14-30", "WARNING"),
        ("L14-30", "X9-99", "unjudged"),
        ("X9-99", "L14-30", "unjudged"),
        # Obsolete, without an equipment ground.
        ("10-30", "10-30", "WARNING"),
    ],
)
def test_plug_match_at_an_inlet(at_machine, at_house, expected):
    machine = generator(receptacles=(outlet(at_machine),))
    plan = powered(good_cord(receptacle="outlet"), inlet(receptacle=at_house), machine=machine)
    assert verdict(plan, "plug-match") == expected


@pytest.mark.parametrize(("at_house", "expected"), [("5-15", "met"), ("6-15", "WARNING")])
def test_plug_match_at_a_through_wall_outlet(at_house, expected):
    wall = fixture(ThroughWallOutlet, 0.0, 4.0, "wall", on=on_wall(3, 4.0), receptacle=at_house)
    plan = powered(household_cord(to="wall", end=None), wall)
    assert verdict(plan, "plug-match") == expected


def test_plug_match_of_a_cord_plugged_in_nowhere_is_not_judged():
    assert verdict(powered(good_cord(receptacle=None)), "plug-match") == "unjudged"


@pytest.mark.parametrize(
    ("configuration", "volts", "expected"),
    [
        ("L14-30", 240, "met"),
        ("L14-30", 120, "met"),
        ("5-20", 120, "met"),
        ("5-20", 240, "WARNING"),
        ("L5-30", 240, "WARNING"),
        ("TT-30", 240, "WARNING"),
        ("L6-30", 240, "met"),
        # No neutral: no 120 V.
        ("L6-30", 120, "WARNING"),
        ("X9-99", 240, "unjudged"),
    ],
)
def test_voltage_path(configuration, volts, expected):
    plan = on(configuration, load("pump", volts=volts, via="cord"))
    assert verdict(plan, "voltage-path") == expected


@pytest.mark.parametrize(("volts", "expected"), [(240, "WARNING"), (120, "met")])
def test_voltage_path_from_a_machine_that_gives_120_v(volts, expected):
    pump = load("pump", 1000.0, volts=volts, via="inlet")
    plan = powered(good_cord(), pump, machine=generator(voltage="120"))
    assert verdict(plan, "voltage-path") == expected


@pytest.mark.parametrize(
    ("pins", "volts", "outlet", "expected"),
    [
        ("L14-30", "120/240", "l14", "met"),
        ("L5-30", "120/240", "l14", "WARNING"),
        ("TT-30", "120/240", "l14", "WARNING"),
        # Both hot pins of such an outlet are on one leg.
        ("L14-30", "120", "l14", "WARNING"),
        ("L14-30", "120/240", "duplex", "WARNING"),
        ("L14-30", "120/240", None, "unjudged"),
        ("unheard-of", "120/240", "l14", "unjudged"),
    ],
)
def test_one_leg_into_a_panel_of_two(pins, volts, outlet, expected):
    cord = good_cord(receptacle=outlet)
    plan = powered(cord, inlet(receptacle=pins), machine=generator(voltage=volts))
    assert verdict(plan, "shared-neutral") == expected


def test_without_a_cord_to_an_inlet_no_neutral_is_judged():
    (gap,) = unjudged(powered(household_cord()), "shared-neutral")
    assert not gap.not_drawn
    (none,) = unjudged(make_plan(standing()), "shared-neutral")
    assert none.not_drawn


def test_voltage_path_by_an_inlet_with_one_leg():
    pump = load("pump", 1000.0, volts=240, via="inlet")
    assert verdict(powered(good_cord(), inlet(receptacle="L5-30"), pump), "voltage-path") == (
        "WARNING"
    )
    (found,) = findings(powered(good_cord(), inlet(receptacle="L5-30"), pump), "voltage-path")
    assert set(found.subjects) == {"pump", "cord"}
    assert verdict(powered(good_cord(), pump), "voltage-path") == "met"


def test_voltage_path_by_a_box_of_household_outlets():
    pump = load("pump", 1000.0, volts=240, via="cord")
    boxed = good_cord(to=None, end=(-1.0, 4.0), end_fitting="outlet-box-with-breakers")
    assert verdict(powered(boxed, pump), "voltage-path") == "WARNING"


@pytest.mark.parametrize(
    ("configuration", "breaker_a", "limit_a"),
    [("5-15", 15.0, 15), ("5-20", 20.0, 20), ("5-20", 15.0, 15), ("L5-30", 30.0, 30)],
)
def test_outlet_load_by_rating_or_breaker(configuration, breaker_a, limit_a):
    def judged(watts):
        plan = on(configuration, load(running_w=watts, via="cord"), breaker_a=breaker_a)
        return verdict(plan, "outlet-load")

    assert judged(120.0 * limit_a - HAIR) == "met"
    assert judged(120.0 * limit_a) == "met"
    assert judged(120.0 * limit_a + HAIR) == "WARNING"


def test_outlet_load_sums_the_cords_of_one_outlet():
    loads = (load("a", 1300.0, via="one"), load("b", 1300.0, via="two"))
    plan = powered(
        household_cord(id="one"),
        *loads,
        placements=(
            standing(
                -10.0, 4.0, cords=(household_cord(id="one"), household_cord(id="two", end=(-1, 5)))
            ),
        ),
    )
    (found,) = findings(plan, "outlet-load")
    assert found.subjects == ("one", "two")


@pytest.mark.parametrize(
    ("watts", "expected"), [(1800.0, "unjudged"), (2400.0, "unjudged"), (2401.0, "WARNING")]
)
def test_outlet_load_behind_an_unknown_breaker(watts, expected):
    assert verdict(on("5-20", load(running_w=watts, via="cord")), "outlet-load") == expected


@pytest.mark.parametrize(
    ("legs", "watts", "expected"),
    [
        (("a", "b"), 3600.0, "met"),
        (("a", "a"), 1800.0, "met"),
        (("a", "a"), 1801.0, "WARNING"),
        ((None, None), 1800.0, "met"),
        # Both might hang on one leg.
        ((None, None), 1801.0, "unjudged"),
        ((None, None), 3601.0, "WARNING"),
    ],
)
def test_outlet_load_on_two_legs(legs, watts, expected):
    loads = [load(f"l{i}", watts, leg=leg, via="inlet") for i, leg in enumerate(legs)]
    assert verdict(powered(good_cord(), *loads), "outlet-load") == expected


@pytest.mark.parametrize(
    ("watts", "continuous", "expected"),
    [
        # 80 % of 20 A: 16 A, 1920 W (NEC 2023 210.20(A), read second-hand).
        (1919.0, True, "met"),
        (1920.0, True, "met"),
        (1921.0, True, "WARNING"),
        (1921.0, None, "unjudged"),
        (1920.0, None, "met"),
        (2400.0, False, "met"),
        (2401.0, False, "WARNING"),
    ],
)
def test_continuous_load(watts, continuous, expected):
    lamp = load(running_w=watts, continuous=continuous, via="cord")
    assert verdict(on("5-20", lamp, breaker_a=20.0), "continuous-load") == expected


@pytest.mark.parametrize(
    ("configuration", "breaker_a", "limit_a"),
    # NEC 2023 Table 210.21(B)(2) (read second-hand).
    [("5-15", 15.0, 12), ("5-20", 20.0, 16), ("L5-30", 30.0, 24)],
)
def test_plugged_load(configuration, breaker_a, limit_a):
    def judged(watts):
        plan = on(configuration, load(running_w=watts, via="cord"), breaker_a=breaker_a)
        return verdict(plan, "plugged-load")

    assert judged(120.0 * limit_a - HAIR) == "met"
    assert judged(120.0 * limit_a) == "met"
    assert judged(120.0 * limit_a + HAIR) == "WARNING"


def test_plugged_load_into_a_box_behind_30_a_is_that_of_a_household_outlet():
    boxed = good_cord(to=None, end=(-1.0, 4.0), end_fitting="outlet-box-with-breakers")
    for watts, expected in ((1920.0, "met"), (1921.0, "WARNING")):
        plan = powered(boxed, load(running_w=watts, leg="a", via="cord"))
        assert verdict(plan, "plugged-load") == expected


def test_plugged_load_into_a_through_wall_outlet_of_15_a():
    wall = fixture(ThroughWallOutlet, 0.0, 4.0, "wall", on=on_wall(3, 4.0))
    for watts, expected in ((1440.0, "met"), (1441.0, "WARNING")):
        plan = powered(household_cord(to="wall", end=None), wall, load(running_w=watts, via="wall"))
        assert verdict(plan, "plugged-load") == expected


def test_plugged_load_does_not_ask_of_what_hangs_on_the_house_wiring():
    assert verdict(powered(good_cord(), load(via="inlet")), "plugged-load") == "unjudged"


@pytest.mark.parametrize(
    ("configuration", "breaker_a", "fitting", "expected"),
    [
        ("L14-30", 30.0, "outlet-box", "WARNING"),
        ("L14-30", 20.0, "outlet-box", "met"),
        ("L14-30", 20.5, "outlet-box", "WARNING"),
        ("5-20", 20.0, "outlet-box", "met"),
        ("L14-30", None, "outlet-box", "unjudged"),
        ("L14-30", 30.0, "outlet-box-with-breakers", "met"),
        ("L14-30", 30.0, "connector", "met"),
    ],
)
def test_box_breakers(configuration, breaker_a, fitting, expected):
    plan = on(configuration, breaker_a=breaker_a, cord_fields={"end_fitting": fitting})
    assert verdict(plan, "box-breakers") == expected


@pytest.mark.parametrize(
    ("neutral", "gfci", "interlocked", "expected"),
    [
        # NEC 2023 445.20(A) and (B) (read second-hand), 5 kW with a 125/250 V outlet.
        ("bonded", True, None, "met"),
        ("bonded", False, True, "WARNING"),
        ("bonded", None, None, "unjudged"),
        ("floating", False, False, "WARNING"),
        ("floating", False, True, "met"),
        ("floating", False, None, "unjudged"),
        (None, False, False, "WARNING"),
        (None, False, True, "unjudged"),
    ],
)
def test_machine_gfci(neutral, gfci, interlocked, expected):
    outlets = (L14, DUPLEX.model_copy(update={"gfci": gfci}))
    machine = generator(neutral=neutral, receptacles=outlets, receptacles_interlocked=interlocked)
    assert verdict(powered(machine=machine), "machine-gfci") == expected


def test_machine_gfci_of_a_floating_set_with_120_v_only():
    outlets = (DUPLEX.model_copy(update={"gfci": False}),)
    machine = generator(neutral="floating", receptacles=outlets)
    plan = powered(household_cord(), machine=machine)
    assert verdict(plan, "machine-gfci") == "met"


@pytest.mark.parametrize("rated_w", [15_000.0, 15_001.0])
def test_machine_gfci_ends_at_15_kw(rated_w):
    outlets = (L14, DUPLEX.model_copy(update={"gfci": False}))
    machine = generator(neutral="bonded", receptacles=outlets, rated_w=rated_w)
    expected = "WARNING" if rated_w == 15_000.0 else "met"
    assert verdict(powered(machine=machine), "machine-gfci") == expected


def test_machine_gfci_without_rating_or_outlets_is_not_judged():
    for fields in ({"rated_w": None}, {"receptacles": ()}):
        plan = powered(cord(id="cord", end=(-1.0, 4.0)), machine=generator(**fields))
        assert verdict(plan, "machine-gfci") == "unjudged"


@pytest.mark.parametrize(
    ("gfci", "expected"), [(True, "met"), (False, "WARNING"), (None, "unjudged")]
)
def test_wall_outlet_gfci(gfci, expected):
    wall = fixture(ThroughWallOutlet, 0.0, 4.0, "wall", gfci=gfci)
    assert verdict(powered(good_cord(), wall), "wall-outlet-gfci") == expected


def test_met_outlets_name_the_fullest():
    loads = (load("a", 600.0, via="one"), load("b", 1200.0, via="two"))
    cords = (household_cord(id="one"), household_cord(id="two", receptacle="other", end=(-1, 5)))
    machine = generator(receptacles=(L14, DUPLEX, DUPLEX.model_copy(update={"id": "other"})))
    plan = powered(None, *loads, machine=machine, placements=(standing(-10.0, 4.0, cords=cords),))
    (well,) = met(plan, "outlet-load")
    assert well.subjects == ("two",)
    assert well.checked == 2
    assert outcomes(plan, "outlet-load") == [well]
