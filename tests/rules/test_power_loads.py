"""Whether the generator carries the loads."""

import pytest

from siteplan.plan.needs import Outage
from tests.helpers.builders import FT, make_plan
from tests.helpers.judging import findings, met, outcomes, sentences, unjudged, verdict
from tests.helpers.powering import COOL, generator, good_cord, household_cord, load, powered

HAIR = 0.01


def loaded(*loads, outage=COOL, **machine_fields):
    return make_plan(*loads, outage=outage, machine=generator(**machine_fields))


@pytest.mark.parametrize(
    ("watts", "expected"),
    [
        # 80 % for hours (common practice, no source), then the rating itself.
        (4000.0 - HAIR, "met"),
        (4000.0, "met"),
        (4000.0 + HAIR, "CAUTION"),
        (5000.0, "CAUTION"),
        (5000.0 + HAIR, "WARNING"),
    ],
)
def test_running_load(watts, expected):
    assert verdict(loaded(load(running_w=watts)), "running-load") == expected


@pytest.mark.parametrize(
    ("altitude_ft", "air_f", "fuel", "left_w"),
    [
        # 3.5 % per 1000 ft and 1 % per 10 °F above 77 °F (makers' manuals, read).
        (5000.0, 77.0, "gasoline", 4125.0),
        (0.0, 97.0, "gasoline", 4900.0),
        (-100.0, 40.0, "diesel", 5000.0),
        # One dual-fuel label: 950 W of 1200 W on propane (read), kept as 0.79.
        (0.0, 77.0, "dual-fuel", 3950.0),
        (0.0, 77.0, "propane", 3950.0),
        # 10 to 20 % less on natural gas (makers' pages, read).
        (0.0, 77.0, "natural-gas", 4000.0),
    ],
)
def test_running_load_after_altitude_heat_and_fuel(altitude_ft, air_f, fuel, left_w):
    outage = Outage(altitude_m=altitude_ft * FT, temperature_c=(air_f - 32.0) / 1.8)

    def judged(watts):
        return verdict(loaded(load(running_w=watts), outage=outage, fuel=fuel), "running-load")

    assert judged(left_w) == "CAUTION"
    assert judged(left_w + 0.1) == "WARNING"


@pytest.mark.parametrize(
    ("gap", "watts", "expected"),
    [
        ({"altitude_m": None}, 100.0, "unjudged"),
        ({"temperature_c": None}, 100.0, "unjudged"),
        ({"altitude_m": None}, 5001.0, "WARNING"),
        ({"altitude_m": 5500.0}, 100.0, "unjudged"),
    ],
)
def test_running_load_with_data_missing(gap, watts, expected):
    outage = COOL.model_copy(update=gap)
    assert verdict(loaded(load(running_w=watts), outage=outage), "running-load") == expected


def test_running_load_without_a_rating_names_what_is_missing():
    (gap,) = unjudged(loaded(load(), rated_w=None), "running-load")
    assert "running watts on the generator's label" in gap.missing.say()


@pytest.mark.parametrize(
    ("start_w", "expected"),
    [(6250.0 - 100.0 - HAIR, "met"), (6250.0 - 100.0, "met"), (6250.0 - 100.0 + HAIR, "WARNING")],
)
def test_starting_load(start_w, expected):
    # 100 W run while the pump starts.
    pump = load("pump", 1000.0, starting_w=start_w)
    assert verdict(loaded(load(), pump), "starting-load") == expected


@pytest.mark.parametrize(
    ("fuel", "rated_w", "left_w"),
    [
        # One dual-fuel label: 1200 W of 1750 W for a start on propane (read), kept as 0.68.
        ("gasoline", 5000.0, 6250.0),
        ("dual-fuel", 4000.0, 4250.0),
        ("propane", 4000.0, 4250.0),
        ("natural-gas", 4000.0, 4250.0),
        # What it gives for hours, 950 W of 1200 W on that label, it gives for a start too.
        ("dual-fuel", 6000.0, 4740.0),
        # Without that rating there is only the start's.
        ("dual-fuel", None, 4250.0),
    ],
)
def test_starting_load_on_another_fuel(fuel, rated_w, left_w):
    def judged(watts):
        plan = loaded(load("pump", 100.0, starting_w=watts), fuel=fuel, rated_w=rated_w)
        return verdict(plan, "starting-load")

    assert judged(left_w) == "met"
    assert judged(left_w + 0.1) == "WARNING"


def test_starting_load_is_the_published_sum():
    # Co-operative's example (read): 100 W lamp, 200 W cooker, refrigerator 1200 / 2900 W and a
    # television 750 W need 3950 W.
    loads = (load("lamp", 100.0), load("cooker", 200.0), load("tv", 750.0),
             load("fridge", 1200.0, starting_w=2900.0))  # fmt: skip
    (well,) = met(loaded(*loads), "starting-load")
    assert well.measured is not None
    assert well.measured.value == pytest.approx(3950.0)


@pytest.mark.parametrize(
    ("starting_w", "watts", "expected"),
    [(None, 5000.0, "met"), (None, 5001.0, "unjudged"), (6250.0, 5001.0, "met")],
)
def test_starting_load_of_a_machine_without_starting_watts(starting_w, watts, expected):
    plan = loaded(load(running_w=watts), starting_w=starting_w)
    assert verdict(plan, "starting-load") == expected


def test_starting_load_of_a_motor_without_starting_watts_is_not_judged():
    plan = loaded(load("pump", 500.0, starting_w=None))
    assert "what pump draws while it starts" in sentences(outcomes(plan, "starting-load"))
    assert verdict(loaded(load("pump", 6300.0, starting_w=None)), "starting-load") == "WARNING"


@pytest.mark.parametrize(
    ("leg", "watts", "expected"),
    [
        ("a", 2500.0, "met"),
        ("b", 2500.0 + HAIR, "WARNING"),
        (None, 2500.0, "met"),
    ],
)
def test_leg_load_is_half_the_rating(leg, watts, expected):
    assert verdict(loaded(load(running_w=watts, leg=leg)), "leg-load") == expected


def test_leg_load_of_a_240_v_load_counts_half_on_each():
    pump = load("pump", 3000.0, volts=240)
    assert verdict(loaded(pump, load(running_w=1000.0, leg="a")), "leg-load") == "met"
    assert verdict(loaded(pump, load(running_w=1001.0, leg="a")), "leg-load") == "WARNING"


def test_leg_load_of_loads_without_a_leg():
    pair = (load("one", 1500.0), load("two", 1500.0))
    assert verdict(loaded(*pair), "leg-load") == "unjudged"
    assert verdict(loaded(load("one", 1200.0), load("two", 1200.0)), "leg-load") == "met"
    assert verdict(loaded(load("one", 2600.0), load("two", 2600.0)), "leg-load") == "WARNING"


@pytest.mark.parametrize(
    ("watts", "expected"),
    [(625.0 - HAIR, "met"), (625.0, "met"), (625.0 + HAIR, "NOTICE")],
)
def test_leg_balance_within_a_quarter_of_a_leg(watts, expected):
    assert verdict(loaded(load(running_w=watts, leg="a")), "leg-balance") == expected


@pytest.mark.parametrize("rule", ["leg-load", "leg-start", "leg-balance"])
def test_legs_of_a_120_v_machine_are_not_judged(rule):
    (gap,) = unjudged(loaded(load(), voltage="120"), rule)
    assert gap.not_drawn


def test_loads_together():
    # 3000 W and 2500 W are over 5000 W; each fits beside 1900 W.
    loads = (load("oven", 3000.0), load("heater", 2500.0), load("kettle", 1900.0))
    (found,) = findings(loaded(*loads), "loads-together")
    assert found.signal == "CAUTION"
    assert set(found.subjects) == {"oven", "heater"}
    assert "oven + heater" in found.what.say()


def test_loads_together_names_what_can_never_run_and_threes():
    alone = loaded(load("furnace", 5001.0))
    assert findings(alone, "loads-together")[0].subjects == ("furnace",)
    three = loaded(*(load(name, 1700.0) for name in ("one", "two", "three")))
    assert set(findings(three, "loads-together")[0].subjects) == {"one", "two", "three"}


def test_loads_together_counts_starting():
    # Running 2500 W, but the pump's start beside 1500 W is 6500 W.
    pair = (load("pump", 1000.0, starting_w=5000.0), load("heater", 1500.0))
    assert verdict(loaded(*pair), "loads-together") == "CAUTION"
    assert verdict(loaded(pair[0], load("heater", 1250.0)), "loads-together") == "met"


def test_loads_together_with_data_missing():
    assert verdict(loaded(load(), rated_w=None), "loads-together") == "unjudged"
    assert verdict(loaded(load(starting_w=None)), "loads-together") == "unjudged"
    heavy = (load("one", 3000.0, starting_w=None), load("two", 3000.0, starting_w=None))
    assert verdict(loaded(*heavy), "loads-together") == "CAUTION"


def test_loads_beyond_every_formula_are_still_judged():
    plan = loaded(*(load(f"l{i}", 1_000_000.0) for i in range(40)))
    assert verdict(plan, "running-load") == "WARNING"
    assert verdict(plan, "loads-together") == "CAUTION"


@pytest.mark.parametrize(
    ("via", "expected"), [("inlet", "met"), ("cord", "met"), (None, "unjudged")]
)
def test_load_fed(via, expected):
    assert verdict(powered(good_cord(), load(via=via)), "load-fed") == expected


def test_load_fed_by_something_no_cord_reaches():
    assert verdict(powered(household_cord(), load(via="inlet")), "load-fed") == "CAUTION"


def test_medical_load():
    assert verdict(loaded(load("oxygen", medical=True)), "medical-load") == "CAUTION"
    assert verdict(loaded(load()), "medical-load") == "met"


@pytest.mark.parametrize(
    "rule",
    ["running-load", "starting-load", "leg-load", "leg-balance", "loads-together", "load-fed",
     "medical-load"],
)  # fmt: skip
def test_without_loads_nothing_is_judged(rule):
    (gap,) = unjudged(loaded(), rule)
    assert gap.not_drawn


def test_loads_of_the_day_do_not_run_with_those_of_the_night():
    pair = (load("oven", 3000.0, when="day", leg="a"), load("heater", 2000.0, when="night"))
    assert verdict(loaded(*pair), "running-load") == "met"
    assert verdict(loaded(*pair), "starting-load") == "met"
    assert verdict(loaded(*pair), "loads-together") == "met"
    assert verdict(loaded(*pair, load("lamp", 1001.0)), "running-load") == "CAUTION"
    # The oven alone is over a leg of 2500 W.
    assert verdict(loaded(*pair), "leg-load") == "WARNING"


@pytest.mark.parametrize(
    ("start_w", "expected"),
    [(3125.0 - 500.0, "met"), (3125.0 - 500.0 + HAIR, "WARNING"), (None, "unjudged")],
)
def test_leg_start_is_half_of_what_is_there_for_a_start(start_w, expected):
    pair = (load("lamp", 500.0, leg="a"), load("pump", 800.0, starting_w=start_w, leg="a"))
    assert verdict(loaded(*pair), "leg-start") == expected


def test_leg_start_of_a_240_v_load_counts_half():
    pump = load("pump", 1000.0, starting_w=5000.0, volts=240)
    assert verdict(loaded(pump, load("lamp", 625.0, leg="b")), "leg-start") == "met"
    assert verdict(loaded(pump, load("lamp", 626.0, leg="b")), "leg-start") == "WARNING"
