"""Published tables and worked figures through a whole plan: drawn, resolved and reviewed."""

import pytest

from siteplan.plan.machine import Receptacle
from siteplan.rules import power_report
from siteplan.scene import resolve
from tests.helpers.builders import FT
from tests.helpers.cord_tables import CHARGER_TABLE
from tests.helpers.judging import met, verdict
from tests.helpers.powering import COOL, generator, good_cord, household_cord, load, powered

SIZES = (18, 16, 14, 12, 10, 8, 6)


def lost_percent(gauge, length_ft, amps):
    """Return the share that the window would show for a cord on a plan."""
    plan = powered(
        household_cord(gauge_awg=gauge, pieces_m=(length_ft * FT,)),
        load(running_w=120.0 * amps, via="cord"),
    )
    (row,) = power_report(resolve(plan)).cords
    assert row.drop.least == row.drop.most
    return 100.0 * row.drop.most


@pytest.mark.parametrize(("amps", "row"), CHARGER_TABLE.items())
def test_charger_makers_table_of_cords(amps, row):
    found = tuple(
        next(size for size in SIZES if lost_percent(size, length_ft, amps) <= 3.6)
        for length_ft in (25, 50, 100, 150)
    )
    assert found == row


def test_power_tool_makers_cord_loses_as_published():
    # Cord-set table of power-tool instructions, READ: 10 A over 100 ft takes 14 AWG; DERIVED with
    # 3.14 Ω/1000 ft: 6.28 V, 5.2 % of 120 V.
    assert lost_percent(14, 100.0, 10.0) == pytest.approx(100.0 * 6.28 / 120.0, abs=1e-9)


def test_locked_rotor_of_half_a_horsepower_through_50_ft_of_12_awg():
    # 58.8 A (NEC 2023 Table 430.251(A), read second-hand) and 1.98 Ω/1000 ft: 11.64 V, 9.7 %.
    pump = load("pump", 1176.0, starting_w=58.8 * 120.0, via="cord")
    plan = powered(household_cord(gauge_awg=12, pieces_m=(50.0 * FT,)), pump)
    (well,) = met(plan, "cord-start-drop")
    assert well.measured is not None
    assert well.measured.value == pytest.approx(9.70, abs=0.005)


@pytest.mark.parametrize(("amps", "length_ft"), [(24.0, 120.0), (30.0, 96.0)])
def test_10_awg_on_both_legs_keeps_3_percent_as_far_as_published(amps, length_ft):
    # DERIVED from NEC 2023 Chapter 9 Table 8: 24 A at 240 V on 10 AWG keeps 3 % for 120 ft.
    for extra_ft, expected in ((0.0, "met"), (2.0, "CAUTION")):
        plan = powered(
            good_cord(pieces_m=((length_ft + extra_ft) * FT,)),
            load("pump", 240.0 * amps, volts=240, via="inlet"),
        )
        assert verdict(plan, "cord-drop") == expected


@pytest.mark.parametrize(
    ("configuration", "full_va", "continuous_va"),
    # L14-30: 7200 VA, 80 % 5760; L5-30: 3600 and 2880 (NEMA WD 6, read second-hand; derived).
    [("L14-30", 7200.0, 5760.0), ("L5-30", 3600.0, 2880.0)],
)
def test_outlet_gives_its_volt_amperes(configuration, full_va, continuous_va):
    outlet = Receptacle(id="outlet", configuration=configuration, breaker_a=30.0)
    machine = generator(receptacles=(outlet,), rated_w=9000.0, starting_w=9000.0)

    def judged(rule, watts, *, continuous):
        volts = 240 if configuration == "L14-30" else 120
        one = load("heat", watts, volts=volts, via="cord", continuous=continuous)
        cord = household_cord(receptacle="outlet", wires=4, gauge_awg=10)
        return verdict(powered(cord, one, machine=machine), rule)

    assert judged("outlet-load", full_va, continuous=False) == "met"
    assert judged("outlet-load", full_va + 1.0, continuous=False) == "WARNING"
    assert judged("continuous-load", continuous_va, continuous=True) == "met"
    assert judged("continuous-load", continuous_va + 1.0, continuous=True) == "WARNING"


def test_5_kw_at_5000_ft_gives_4125_w():
    # 3.5 % per 1000 ft (makers' manuals, read).
    outage = COOL.model_copy(update={"altitude_m": 5000.0 * FT, "temperature_c": 25.0})
    report = power_report(resolve(powered(outage=outage)))
    assert report.rated_w.most == pytest.approx(4125.0, abs=1.0)


def test_sizing_example_of_a_co_operative():
    # READ: lamp 100 W, cooker 200 W, refrigerator 1200 / 2900 W, television 750 W: 3950 W.
    loads = [load("lamp", 100.0), load("cooker", 200.0), load("tv", 750.0),
             load("fridge", 1200.0, starting_w=2900.0)]  # fmt: skip
    report = power_report(resolve(powered(None, *loads)))
    assert report.hardest_start_w.most == pytest.approx(3950.0)
