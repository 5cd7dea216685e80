"""The outage by the clock, checked by hand arithmetic."""

import pytest

from siteplan.paper.night import Night, clock, clock_h, night, stops
from siteplan.plan.document import Plan
from siteplan.plan.edits import changed
from siteplan.plan.needs import Load, Outage
from siteplan.power.fuel import gasoline_l_per_h
from siteplan.words import Text
from tests.helpers.papers import MACHINE, full_plan

HEAT = Load(id="heat", running_w=2000.0, duty=0.5)
LAMP = Load(id="lamp", running_w=500.0, when="night")
WASH = Load(id="wash", running_w=1500.0, when="day")


def planned(**fields):
    values = {"hours": 24.0, "start": "18:00", "quiet_from": "22:00", "quiet_to": "06:00"}
    outage = Outage(**(values | fields))
    return full_plan(loads=(HEAT, LAMP, WASH), outage=outage)


def test_power_by_day_and_by_night_is_the_share_of_time():
    found = night(planned())
    assert isinstance(found, Night)
    assert found.day_w == pytest.approx(2000 * 0.5 + 1500)
    assert found.night_w == pytest.approx(2000 * 0.5 + 500)


def test_quiet_hours_fall_where_the_clock_puts_them():
    assert night(planned()).quiet == ((4.0, 12.0),)
    assert night(planned(start="23:00")).quiet == ((0.0, 7.0), (23.0, 24.0))
    assert night(planned(hours=2.0)).quiet == ()


def test_the_first_stop_comes_when_the_tank_is_empty():
    found = night(planned())
    by_day, by_night = gasoline_l_per_h(2500.0, 5000.0), gasoline_l_per_h(1500.0, 5000.0)
    # 20 L: four hours by day, then as long as the rest lasts at night's use.
    first = 4.0 + (20.0 - 4.0 * by_day) / by_night
    stop, again = next(stops(found, 24.0))
    assert stop == pytest.approx(first)
    assert again == pytest.approx(first + 0.5)


def test_fuel_is_the_hours_running_times_their_use():
    found = night(planned(hours=3.0))
    assert found.outage.fuel_l == pytest.approx(3.0 * gasoline_l_per_h(2500.0, 5000.0))


@pytest.mark.parametrize(
    ("fields", "why"),
    [
        ({"machine": None, "placements": ()}, "no generator"),
        ({"outage": Outage()}, "length of the outage"),
        ({"machine": changed(MACHINE, tank_l=None)}, "tank"),
        ({"machine": changed(MACHINE, rated_w=None)}, "running watts"),
        ({"machine": changed(MACHINE, fuel="propane")}, "gasoline only"),
        ({"loads": ()}, "no load"),
        ({"loads": (Load(id="big", running_w=5501.0),)}, "more than the generator"),
    ],
)
def test_what_is_missing_is_said(fields, why):
    found = night(full_plan(**fields))
    assert isinstance(found, Text)
    assert why in found.say()


def test_the_most_a_generator_can_run_is_still_reckoned():
    assert isinstance(night(full_plan(loads=(Load(id="big", running_w=5500.0),))), Night)


def test_the_clock_goes_round():
    assert clock_h("18:30") == 18.5
    assert [clock(18.0, after) for after in (0.0, 5.999, 6.0, 30.25)] == [
        "18:00",
        "00:00",
        "00:00",
        "00:15",
    ]


def test_an_empty_plan_has_no_night():
    assert isinstance(night(Plan()), Text)
