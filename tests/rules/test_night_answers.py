"""Will the neighbours hear it, and when may it be refuelled: one sentence each.

Levels by hand: Lp = LwA - 20 lg d - 11 + 3 (ISO 9613-2 with G = 0, read second-hand). Fuel: a
3 kW inverter set burns 0.88495 L/h at 600 W, so 9 L last 10.17 h.
"""

import math

import pytest

from siteplan.plan.machine import SoundRating
from siteplan.plan.needs import Load, Outage
from siteplan.rules.night import night_plan
from siteplan.rules.night_words import refuel_line
from siteplan.rules.sound_words import heard_line
from siteplan.scene import resolve
from siteplan.words import Manner
from tests.helpers.builders import box, building, lot, machine, make_plan, opening, standing

SPANISH = Manner("es", "metres")
QUIET = SoundRating(level_dba=90.0, how="guaranteed-sound-power")
# 90 - 20 lg sqrt(10² + 1²) - 8 = 61.96 at the boundary; at the window 13.5 m off and 3.5 m
# higher 90 - 20 lg 13.95 - 8 = 59.1.
AT_BOUNDARY, AT_WINDOW = 62, 60


def sounding(*parts, rating=QUIET, half_m=10.0, **limits):
    return make_plan(
        lot(-half_m, -half_m, half_m, half_m),
        machine(sound=rating),
        standing(0.0, 0.0),
        *parts,
        outage=Outage(**({"hours": 24.0} | limits)),
    )


def neighbour():
    house = building(box(-6.0, 14.0, 6.0, 22.0), "next-door", owner="neighbour", storeys=2)
    window = opening(
        "theirs", building="next-door", wall=0, offset_m=5.5, sill_m=3.5, head_m=4.5, name="Theirs"
    )
    return house, window


def heard(plan, manner=None):
    return heard_line(resolve(plan)).say(manner)


@pytest.mark.parametrize(
    ("limit", "begins"),
    [
        (AT_BOUNDARY - 1.0, "Yes, and above the limit: about 62 dB(A) (±5 dB)"),
        (AT_BOUNDARY, "Yes, and perhaps above the limit"),
        (AT_BOUNDARY + 2.0, "Yes, and perhaps above the limit"),
        (AT_BOUNDARY + 3.0, "Expect so: about 62 dB(A) (±5 dB)"),
    ],
)
def test_under_at_and_over_a_limit(limit, begins):
    said = heard(sounding(night_limit_dba=limit))
    assert said.startswith(begins)
    assert "boundary" in said
    assert f"limit is {limit:.0f} dB(A) at night" in said or "under the limit" in said


def test_the_carbon_monoxide_goes_first_in_every_answer():
    for plan in (sounding(), sounding(night_limit_dba=40.0), sounding(night_limit_dba=90.0)):
        assert heard(plan).endswith("never move it nearer for quiet.")


def test_the_window_of_a_neighbour_is_told_before_the_boundary():
    plan = sounding(*neighbour(), night_limit_dba=90.0)
    assert "at the loudest window of a neighbour (Theirs" in heard(plan)
    assert f"about {AT_WINDOW} dB(A)" in heard(plan)
    # A boundary over its limit is told before a window that keeps its own.
    loud = sounding(*neighbour(), night_limit_dba=61.0)
    assert "at the loudest place of the boundary" in heard(loud)


@pytest.mark.parametrize(
    ("plan", "missing"),
    [
        (sounding(), "the local noise limit"),
        (sounding(rating=None, night_limit_dba=50.0), "the generator's sound rating"),
        (make_plan(), "where the generator stands"),
        (make_plan(machine(sound=QUIET), standing()), "the lot's boundary and the neighbours"),
        (sounding(half_m=2.0, night_limit_dba=139.0), "within 3 m nothing is modelled"),
    ],
)
def test_what_is_missing_is_named(plan, missing):
    said = heard(plan)
    assert "not judged, because this is missing" in said.lower()
    assert missing in said


def test_only_the_hours_of_the_outage_count():
    plan = sounding(hours=6.0, start="10:00", day_limit_dba=80.0, night_limit_dba=45.0)
    assert heard(plan).startswith("Expect so")
    assert "80 dB(A) by day" in heard(plan)


def test_it_is_told_in_spanish():
    said = heard(sounding(night_limit_dba=40.0), SPANISH)
    assert said.startswith("Sí, y por encima del límite: unos 62 dB(A)")


# -- refueling -----------------------------------------------------------------------


def running(tank_l=9.0, **outage):
    plan = make_plan(
        machine(rated_w=3000.0, tank_l=tank_l, inverter=True),
        standing(),
        loads=(Load(id="fridge", running_w=600.0),),
        outage=Outage(**({"hours": 12.0} | outage)),
    )
    return night_plan(resolve(plan)), plan.outage.quiet_from


def test_clock_times_of_the_stops_are_told():
    # 9 L over 0.88495 L/h are 10.170 h: from 08:00 until 18:10:12, told no later; half an hour to
    # cool ends at 18:40:12, told no sooner.
    said = refuel_line(*running(start="08:00")).say()
    assert said == (
        "Only when stopped and cooled for 30 min. By the plan the tank runs empty: stop at 18:10, "
        "on again at 18:41."
    )


def test_a_stop_in_the_night_is_to_be_made_before_it():
    said = refuel_line(*running(start="18:00")).say()
    assert "stop at 04:10, on again at 04:41" in said
    assert said.endswith("A stop falls while people sleep: refuel before 22:00 instead.")
    spanish = refuel_line(*running(start="18:00")).say(SPANISH)
    assert "pare a las 04:10, de nuevo en marcha a las 04:41" in spanish


def test_a_tank_that_lasts_says_until_when():
    said = refuel_line(*running(start="18:00", hours=5.0)).say()
    assert said.startswith("Only when stopped and cooled for 30 min.")
    assert "One full tank lasts until 23:00" in said


def test_many_stops_are_counted():
    night, bed = running(start="08:00", hours=80.0)
    assert len(night.stops) == math.floor(80.0 / (9.0 / 0.88495 + 0.5))
    said = refuel_line(night, bed).say()
    assert said.count("on again") == 4
    assert f"and {len(night.stops) - 4} more" in said


def test_without_the_data_it_is_not_judged():
    night, bed = running(tank_l=None)
    said = refuel_line(night, bed).say()
    assert said == "Not judged, because this is missing: what the generator's tank holds."
