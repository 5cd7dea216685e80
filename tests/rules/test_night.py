"""Fuel and hours of an outage, against arithmetic done by hand.

Conservative model: 6.17 lb/gal over 0.735 lb/(hp h) is 8.39456 hp h/gal; times 0.745700 kW/hp
and an alternator of 0.82 that is 5.13306 kWh/gal, over 3.785412 L/gal 1.35601 kWh/L (EPA NONROAD
figure, read; density and efficiency from memory and common practice). A machine of 3 kW then
burns 2.21237 L/h at full load; a quarter of it without load if it throttles down, 0.36 if not.
"""

import pytest
from pydantic import ValidationError

from siteplan.assets import sample
from siteplan.plan import load
from siteplan.plan.around import FuelStore
from siteplan.plan.needs import Load, Outage
from siteplan.rules.night import NightPlan, night_plan
from siteplan.rules.night_words import fuel_lines, hour_lines, missing_line, saving_lines
from siteplan.scene import resolve
from tests.helpers.builders import fixture, machine, make_plan, standing
from tests.helpers.judging import findings, met, sentences, unjudged, verdict

FULL_L_PER_H = 2.21237
GALLON_L = 3.785412


def plan(*parts, loads=None, outage=None, **fields):
    standard = {"rated_w": 3000.0, "tank_l": 9.0, "inverter": True}
    return make_plan(
        machine(**(standard | fields)),
        standing(),
        *parts,
        loads=(Load(id="fridge", running_w=600.0),) if loads is None else loads,
        outage=Outage(**({"hours": 10.0} | (outage or {}))),
    )


def of(plan_):
    return night_plan(resolve(plan_))


def store(stored_l, **fields):
    return fixture(FuelStore, 100.0, 100.0, id="cans", stored_l=stored_l, **fields)


@pytest.mark.parametrize("rated_w", [100.0, 100.1])
@pytest.mark.parametrize("fuel", ["gasoline", "propane", "dual-fuel"])
def test_the_smallest_machine_with_the_smallest_load_is_told(rated_w, fuel):
    night = of(plan(loads=(Load(id="light", running_w=0.001),), rated_w=rated_w, fuel=fuel))
    assert not night.missing
    assert night.fuel_least_l > 0.0


# -- the timeline ------------------------------------------------------------------


def test_the_sample_goes_as_by_hand():
    # By day 700 x 0.35 + 700 x 0.4 + 120 + 1100 x 0.05 = 700 W, at night 90 + 245 + 280 = 615 W.
    # 2.21237 (0.25 + 0.75 x 700/3000) = 0.94026 L/h and, with 615 W, 0.89325 L/h.
    night = of(load(sample("quiet-hours.siteplan")))
    assert [(one.start_h, one.end_h, one.quiet) for one in night.periods] == [
        (0.0, 4.0, False),
        (4.0, 13.0, True),
        (13.0, 24.0, False),
    ]
    assert [one.mean_w for one in night.periods] == pytest.approx([700.0, 615.0, 700.0])
    rates = [one.most_l_per_h for one in night.periods]
    assert rates == pytest.approx([0.94026, 0.89325, 0.94026], rel=1e-4)
    # 9 L: 4 h take 3.76103 L, the rest lasts 5.86507 h, until 03:51:54. On again at 04:21:54;
    # 2.35375 L until 07:00, the rest lasts 7.06852 h, until 14:04:07. On again at 14:34:07.
    assert [one.kind for one in night.stretches] == [
        "run", "run", "cool", "run", "run", "cool", "run"
    ]  # fmt: skip
    ends = [one.end_h for one in night.stretches]
    by_hand = [4.0, 9.86507, 10.36507, 13.0, 20.06852, 20.56852, 24.0]
    assert ends == pytest.approx(by_hand, abs=2e-3)
    assert [night.clock(one.stop_h) for one in night.stops] == ["03:51", "14:04"]
    again = [night.clock(one.start_h, later=True) for one in night.stops]
    assert again == ["04:22", "14:35"]
    assert [one.asleep for one in night.stops] == [True, False]
    # Two tanks and 3.43148 h x 0.94026 L/h.
    assert night.fuel_most_l == pytest.approx(18.0 + 3.22648, abs=5e-3)
    assert night.store_l == pytest.approx(9.0 + 3.22648, abs=5e-3)


def test_the_lines_of_the_hours_say_the_same():
    plan_ = load(sample("quiet-hours.siteplan"))
    lines = [(clock, text.say()) for clock, text in hour_lines(of(plan_), plan_)]
    assert [clock for clock, _ in lines] == ["18:00", "22:00", "03:51", "07:00", "14:04", "18:00"]
    assert "on again at 04:22. People are asleep." in lines[2][1]
    assert lines[4][1] == "Tank empty: stop, cool, refuel; on again at 14:35."
    assert "Breathing aid" in lines[1][1]
    assert "Breathing aid" not in lines[0][1]


def test_a_machine_that_does_not_throttle_down_burns_more_and_unknown_counts_as_that():
    # 600 W of 3000: 2.21237 (0.36 + 0.64 x 0.2) and 2.21237 (0.25 + 0.75 x 0.2).
    for inverter, share in ((False, 0.488), (None, 0.488), (True, 0.4)):
        (one,) = of(plan(inverter=inverter, outage={"hours": 2.0})).periods
        assert one.most_l_per_h == pytest.approx(FULL_L_PER_H * share, rel=1e-4)
        # 7.24 against 5.13 kWh/gal: the G2 average as published.
        assert one.least_l_per_h < one.most_l_per_h


def test_propane_takes_1_38_times_the_volume():
    # AFDC lower heating values, read second-hand: 116,090 over 84,250 Btu/gal.
    (gas,), (lpg,) = (
        of(plan(fuel=f, outage={"hours": 2.0})).periods for f in ("gasoline", "propane")
    )
    assert lpg.most_l_per_h / gas.most_l_per_h == pytest.approx(1.378, abs=1e-3)


def test_a_load_over_the_rating_burns_what_full_load_does_and_is_said():
    found = of(plan(loads=(Load(id="oven", running_w=9000.0),), outage={"hours": 2.0}))
    assert found.periods[0].most_l_per_h == pytest.approx(FULL_L_PER_H, rel=1e-4)
    assert found.overloaded
    assert not of(plan()).overloaded


def test_with_nothing_on_the_machine_stands_still():
    lamp = Load(id="lamp", running_w=100.0, when="day")
    found = of(plan(loads=(lamp,), outage={"hours": 24.0, "start": "18:00"}))
    assert [one.most_l_per_h > 0.0 for one in found.periods] == [True, False, True]
    assert [one.kind for one in found.stretches] == ["run", "off", "run"]
    # The tank is filled while it stands: nobody has to get up.
    assert found.stops == ()


@pytest.mark.parametrize(
    ("start", "hours", "expected"),
    [
        ("18:00", 3.9, []),
        ("18:00", 4.0, []),
        ("18:00", 5.0, [(4.0, 5.0)]),
        ("23:00", 10.0, [(0.0, 8.0)]),
        ("07:00", 15.0, []),
        ("06:30", 1.0, [(0.0, 0.5)]),
        ("22:00", 48.0, [(0.0, 9.0), (24.0, 33.0)]),
    ],
)
def test_quiet_stretches(start, hours, expected):
    found = of(plan(outage={"hours": hours, "start": start}))
    assert [pytest.approx(one) for one in expected] == list(found.quiet)
    assert found.periods[-1].end_h == pytest.approx(hours)


def test_no_quiet_hours_if_they_end_when_they_begin():
    assert of(plan(outage={"quiet_from": "22:00", "quiet_to": "22:00"})).quiet == ()


# -- cooling -----------------------------------------------------------------------


@pytest.mark.parametrize("minutes", [19.9, 0.0, 241.0])
def test_less_than_20_minutes_of_cooling_cannot_be_entered(minutes):
    with pytest.raises(ValidationError):
        Outage(cooling_min=minutes)


@pytest.mark.parametrize("minutes", [20.0, 30.0, 60.0])
def test_the_rest_is_as_long_as_entered(minutes):
    found = of(plan(outage={"hours": 24.0, "cooling_min": minutes}))
    assert found.stops
    for one in found.stops:
        assert (one.start_h - one.stop_h) * 60.0 == pytest.approx(minutes)
    assert Outage().cooling_min == 30.0


# -- findings ------------------------------------------------------------------------


def need_l(outage):
    return of(plan(outage=outage)).store_l


def test_enough_in_store_under_at_and_over():
    outage = {"hours": 20.0}
    need = need_l(outage)
    assert need > 1.0
    for stored, expected in ((need - 0.01, "NOTICE"), (need, "met"), (need + 0.01, "met")):
        assert verdict(plan(store(stored), outage=outage), "fuel-enough") == expected


def test_what_is_in_store_is_not_judged_unless_every_amount_is_entered():
    outage = {"hours": 20.0}
    for parts in ((), (store(None),), (store(50.0), fixture(FuelStore, 90.0, 90.0, id="more"))):
        (said,) = unjudged(plan(*parts, outage=outage), "fuel-enough")
        assert "is needed beside a full tank" in said.missing.say()
    # One tank is enough: nothing need be in store.
    assert verdict(plan(outage={"hours": 1.0}), "fuel-enough") == "met"
    diesel = fixture(FuelStore, 90.0, 90.0, id="diesel", fuel="diesel", stored_l=99.0)
    assert verdict(plan(diesel, outage=outage), "fuel-enough") == "unjudged"


def test_more_than_may_be_stored_is_told_at_10_gal_and_at_60_in_a_cabinet():
    # San Rafael fire department, read: 10 gal in all, 60 in a cabinet.
    def hours_for(gallons):
        # Long runs burn evenly: 0.4 x 2.21237 L/h while running, 30 min rest for each 9 L.
        running = (gallons * GALLON_L + 9.0) / (0.4 * FULL_L_PER_H)
        return running + 0.5 * int(running * 0.4 * FULL_L_PER_H / 9.0)

    for gallons, parts in ((10.0, ()), (60.0, (store(9.0, in_cabinet=True),))):
        under = plan(*parts, outage={"hours": hours_for(gallons) - 0.1})
        over = plan(*parts, outage={"hours": hours_for(gallons) + 0.1})
        assert verdict(under, "fuel-top-up") == "met"
        assert verdict(over, "fuel-top-up") == "NOTICE"
        assert findings(over, "fuel-top-up")[0].limit.value == pytest.approx(gallons * GALLON_L)


def test_refuelling_asleep_is_a_notice_and_says_when_to_do_it_instead():
    asleep = plan(outage={"hours": 12.0, "start": "18:00"})
    (found,) = findings(asleep, "refuel-asleep")
    assert found.signal == "NOTICE"
    # 9 L over 0.88495 L/h is 10.17 h.
    assert "04:10" in found.what.say()
    # Nine quiet hours take 7.96 L: a tank filled before them lasts.
    assert "a full tank then lasts until 07:00" in found.do.say()
    small = plan(outage={"hours": 12.0, "start": "18:00"}, tank_l=5.0)
    assert "switch it off for the night" in sentences(findings(small, "refuel-asleep"))
    awake = plan(outage={"hours": 12.0, "start": "08:00"})
    assert "outside the quiet hours" in sentences(met(awake, "refuel-asleep"))
    short = plan(outage={"hours": 5.0})
    assert "One full tank lasts" in sentences(met(short, "refuel-asleep"))


RULES = ("fuel-enough", "fuel-top-up", "refuel-asleep")


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize(
    ("changes", "word"),
    [
        ({"rated_w": None}, "running watts"),
        ({"rated_w": 99.9}, "running watts"),
        ({"tank_l": None}, "tank holds"),
        ({"outage": {"hours": None}}, "how long the outage"),
        ({"outage": {"hours": 1441.0}}, "60 days"),
        ({"loads": ()}, "appliances"),
        ({"loads": (Load(id="off", running_w=50.0, duty=0.0),)}, "appliances"),
        ({"fuel": "diesel"}, "diesel"),
        ({"fuel": "natural-gas"}, "pipe"),
    ],
)
def test_what_is_missing_is_named_and_nothing_judged(rule, changes, word):
    bare = plan(**changes)
    (said,) = unjudged(bare, rule)
    assert word in said.missing.say()
    assert not findings(bare, rule)
    assert of(bare).periods == ()
    assert word in missing_line(of(bare)).say()


@pytest.mark.parametrize("rule", RULES)
def test_without_a_machine_nothing_is_judged(rule):
    assert "the generator" in unjudged(make_plan(), rule)[0].missing.say()


# -- what to switch off ----------------------------------------------------------------


LOADS = (
    Load(id="oxygen", running_w=300.0, medical=True),
    Load(id="fridge", running_w=200.0),
    Load(id="freezer", running_w=500.0, duty=0.5),
    Load(id="fan", running_w=100.0, when="day"),
)


def test_savings_are_told_most_first_and_never_of_a_medical_load():
    found = of(plan(loads=LOADS, outage={"hours": 24.0, "start": "18:00"}))
    assert [one.load for one in found.savings] == ["freezer", "fridge", "fan"]
    by = {one.load: one for one in found.savings}
    assert by["fan"].hours == pytest.approx(15.0)
    # Slope of the hopeful model: three quarters of 1 kWh over 7.24 kWh/gal, 0.3921 L.
    assert by["fridge"].saved_l == pytest.approx(0.2 * 24.0 * 0.3921, rel=2e-3)
    text = "\n".join(one.say() for one in saving_lines(found, plan(loads=LOADS)))
    assert "oxygen" not in text


def test_the_least_needed_goes_first_until_the_fuel_lasts():
    outage = {"hours": 24.0, "start": "18:00"}
    whole = of(plan(store(0.0), loads=LOADS, outage=outage)).store_l
    slightly = of(plan(store(whole - 0.1), loads=LOADS, outage=outage))
    assert slightly.leave_off == ("fan",)
    assert slightly.lasts_then is True
    never = of(plan(store(0.0), loads=LOADS, outage=outage))
    assert never.leave_off == ("fan", "freezer", "fridge")
    assert never.lasts_then is False
    enough = of(plan(store(whole), loads=LOADS, outage=outage))
    assert (enough.leave_off, enough.lasts_then) == ((), True)
    unknown = of(plan(loads=LOADS, outage=outage))
    assert (unknown.leave_off, unknown.lasts_then) == ((), None)


def test_the_lines_of_the_fuel_warn_of_a_medical_load_at_every_stop():
    some = plan(store(1.0), loads=LOADS, outage={"hours": 24.0})
    text = "\n".join(one.say() for one in fuel_lines(of(some), some))
    assert "battery" in text
    assert "not enough" in text


@pytest.mark.parametrize(
    ("hour", "stops", "starts"),
    [(0.5, "18:30", "18:30"), (0.515, "18:30", "18:31"), (5.999, "23:59", "00:00"),
     (6.0, "00:00", "00:00"), (1 / 3, "18:20", "18:20")],
)  # fmt: skip
def test_a_tank_is_told_empty_no_later_and_a_machine_cooled_no_sooner(hour, stops, starts):
    night = NightPlan(start_min=18 * 60)
    assert night.clock(hour) == stops
    assert night.clock(hour, later=True) == starts
