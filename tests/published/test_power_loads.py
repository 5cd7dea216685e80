"""Loads, motors and derating against published tables and worked examples.

Marks: READ; SECOND-HAND, seen in a copy of the work; DERIVED, arithmetic from the figures named.
"""

import pytest

from siteplan.power import derating, legs, loads, motors
from siteplan.power.appliances import appliances
from siteplan.power.loads import Load
from siteplan.units import feet

FULL_LOAD = [
    # NEC 2023 Table 430.248, SECOND-HAND: hp, A at 115 V, A at 230 V
    (1 / 6, 4.4, 2.2),
    (1 / 4, 5.8, 2.9),
    (1 / 3, 7.2, 3.6),
    (1 / 2, 9.8, 4.9),
    (3 / 4, 13.8, 6.9),
    (1, 16, 8.0),
    (1.5, 20, 10),
    (2, 24, 12),
    (3, 34, 17),
    (5, 56, 28),
]
LOCKED_ROTOR = [
    # NEC 2023 Table 430.251(A), SECOND-HAND
    (1 / 2, 58.8, 29.4),
    (3 / 4, 82.8, 41.4),
    (1, 96, 48),
    (1.5, 120, 60),
    (2, 144, 72),
    (3, 204, 102),
    (5, 336, 168),
]


@pytest.mark.parametrize(("horsepower", "at_115", "at_230"), FULL_LOAD)
def test_full_load_current(horsepower, at_115, at_230):
    assert motors.full_load_a(horsepower, 115) == at_115
    assert motors.full_load_a(horsepower, 230) == at_230


@pytest.mark.parametrize(("horsepower", "at_115", "at_230"), LOCKED_ROTOR)
def test_locked_rotor_current(horsepower, at_115, at_230):
    assert motors.locked_rotor_a(horsepower, 115) == at_115
    assert motors.locked_rotor_a(horsepower, 230) == at_230


@pytest.mark.parametrize(
    ("letter", "low", "high"),
    # NEC 2023 Table 430.7(B), SECOND-HAND
    [("A", 0, 3.14), ("B", 3.15, 3.54), ("C", 3.55, 3.99), ("D", 4.0, 4.49), ("E", 4.5, 4.99),
     ("F", 5.0, 5.59), ("G", 5.6, 6.29), ("H", 6.3, 7.09), ("J", 7.1, 7.99), ("K", 8.0, 8.99),
     ("L", 9.0, 9.99), ("M", 10.0, 11.19), ("N", 11.2, 12.49), ("P", 12.5, 13.99),
     ("R", 14, 15.99), ("S", 16, 17.99), ("T", 18, 19.99), ("U", 20, 22.39)],
)  # fmt: skip
def test_code_letters(letter, low, high):
    assert motors.locked_rotor_kva(letter, 1) == (low, high)


def test_code_letter_l_at_half_a_horsepower():
    # NEC 2023 Table 430.7(B), SECOND-HAND; DERIVED: 4.50 to 4.995 kVA, 39.1 to 43.4 A at 115 V
    assert motors.locked_rotor_kva("L", 0.5) == pytest.approx((4.50, 4.995))
    assert motors.locked_rotor_by_code_a("L", 0.5, 115) == pytest.approx((39.1, 43.4), abs=0.1)


@pytest.mark.parametrize(
    ("horsepower", "running", "starting"),
    # Generator maker's motor table, READ: universal, repulsion-induction, capacitor, split-phase
    [
        (1 / 8, 275, (400, 600, 850, 1200)),
        (1 / 4, 400, (500, 850, 1050, 1700)),
        (1 / 3, 450, (600, 975, 1350, 1950)),
        (1 / 2, 600, (750, 1300, 1800, 2600)),
        (3 / 4, 850, (1000, 1900, 2600, None)),
    ],
)
def test_motor_watts_by_type(horsepower, running, starting):
    kinds = ("universal", "repulsion-induction", "capacitor", "split-phase")
    assert motors.RUNNING_W_BY_HP[horsepower] == running
    found = tuple(motors.STARTING_W_BY_HP[kind].get(horsepower) for kind in kinds)
    assert found == starting


@pytest.mark.parametrize(
    ("key", "run_w", "start_w", "low", "high"),
    # Highest and lowest running watts found: rural electric co-operative, DOE, two magazines, a
    # newspaper, a contractor, READ; proposals lean to the larger figures
    [
        ("refrigerator", 700, 2200, 500, 1000),
        ("freezer", 500, 1500, 500, 800),
        ("sump-pump-third", 800, 2100, 700, 800),
        ("sump-pump-half", 1050, 3200, 1050, 1050),
        ("well-pump-half", 1000, 3100, 250, 1100),
        ("furnace-blower-quarter", 600, 1600, 600, 600),
        ("furnace-blower-third", 700, 1800, 600, 750),
        ("furnace-blower-half", 875, 3200, 875, 1100),
        ("window-ac-large", 1400, 4200, 1412, 3250),
        ("microwave", 1100, 1100, 600, 1500),
        ("coffee-maker", 1200, 1200, 900, 1200),
        ("toaster", 1400, 1400, 800, 1400),
        ("range-element", 2000, 2000, 1500, 2000),
        ("water-heater-power-vent", 500, 2000, 500, 500),
        ("dryer-electric", 5000, 5000, 1800, 5000),
        ("washer", 1150, 2300, 350, 1150),
        ("dishwasher", 1200, 1400, 700, 2400),
        ("portable-heater", 1500, 1500, 750, 1500),
        ("hair-dryer", 1875, 1875, 1200, 1875),
        ("iron", 1800, 1800, 1000, 1800),
        ("vacuum-cleaner", 1440, 1440, 1000, 1440),
        ("oxygen-concentrator", 600, 1200, 300, 600),
    ],
)  # fmt: skip
def test_appliance_watts(key, run_w, start_w, low, high):
    row = appliances()[key]
    found = [each.watts for each in row.found_run]
    assert (row.run_w, row.start_w) == (run_w, start_w)
    assert (min(found), max(found)) == (low, high)


def test_one_horsepower_well_pump_from_the_motor_tables():
    # NEC 2023 Tables 430.248 and 430.251(A), SECOND-HAND; DERIVED: 8.0 A and 48 A at 230 V
    row = appliances()["well-pump-one"]
    assert motors.full_load_a(1, 230) * 230 == pytest.approx(1840)
    assert motors.locked_rotor_a(1, 230) * 230 == pytest.approx(11_040)
    assert [each.watts for each in row.found_start] == [5500, 8000, 11_040]
    assert row.run_w >= 1840
    assert motors.locked_rotor_kva("K", 1)[0] * 1000 == row.start_w


def test_co_operative_sizing_example():
    # Rural electric co-operative, generator sizing page, READ: lamp 100 W, cooker 200 W,
    # refrigerator 1200 W running and 2900 W starting, television 750 W: 3950 W
    kitchen = [
        Load("lamp", 100, 100),
        Load("cooker", 200, 200),
        Load("refrigerator", 1200, 2900),
        Load("television", 750, 750),
    ]
    assert loads.needed_start_w(kitchen) == 3950


def test_magazine_refrigerator():
    # Magazine wattage table, READ: 800 W and 2300 W more to start: 3100 W
    assert loads.needed_start_w([Load("refrigerator", 800, 800 + 2300)]) == 3100


def test_energy_of_a_computer_and_of_a_fan():
    # DOE appliance energy page, READ: (120 + 150) W, 4 h, 365 d: 394 kWh; 200 W, 4 h, 120 d: 96
    assert loads.energy_kwh(120 + 150, 4, 365) == pytest.approx(394, abs=0.5)
    assert loads.energy_kwh(200, 4, 120) == pytest.approx(96, abs=0.5)


def test_a_refrigerator_draws_full_watts_a_third_of_the_time():
    # DOE appliance energy page, READ: plugged in 24 h, 8 h at full watts
    assert loads.full_power_hours(24) == pytest.approx(8)


@pytest.mark.parametrize(("volts", "watts", "amps"), [(125, 1250, 10)])
def test_current_from_watts_and_volts(volts, watts, amps):
    # Battery-charger manual, footnote of the cord table, READ: 1250 W / 125 V = 10 A
    sums = legs.leg_sums([Load("charger", watts, watts, volts)], ["A"])
    assert sums.a_w / volts == amps


def test_lost_neutral_example():
    # Two loads in series on 240 V, DERIVED: 1200 W and 300 W see 48 V and 192 V
    assert legs.open_neutral_v(1200, 300) == pytest.approx((48, 192))


def test_a_leg_of_a_5_kw_set_carries_20_8_a():
    # DERIVED: 5000 W / 2 / 120 V
    assert legs.leg_sums([Load("half", 2500, 2500)], ["A"]).a_a == pytest.approx(20.8, abs=0.05)


def test_small_engine_at_5000_feet():
    # Two makers' manuals, READ: 3.5 % (3 %) per 1000 ft; DERIVED: 4125 W (4250 W) of 5000 W
    at_77_f = 25.0
    assert derating.derated_w(5000, feet(5000), at_77_f) == pytest.approx(4125, abs=1)
    milder = derating.DeratingRule(0.03 / feet(1000), 0.0, 0.0, 25.0)
    assert derating.derated_w(5000, feet(5000), at_77_f, rule=milder) == pytest.approx(4250, abs=1)


@pytest.mark.parametrize(
    ("altitude", "air", "factor"),
    # Contractor set's manual, READ: 1500 m 0.97, 3000 m 0.88; 45 °C 0.97, 50 °C 0.94
    [(1000, 40, 1.0), (1500, 40, 0.97), (3000, 40, 0.88), (500, 45, 0.97), (500, 50, 0.94)],
)
def test_contractor_set(altitude, air, factor):
    found = derating.derating_factor(altitude, air, derating.CONTRACTOR)
    assert found == pytest.approx(factor, abs=1e-12)


def test_army_2_kw_set_at_8000_feet():
    # TM 9-6115-673-13&P Table 2-3, READ: 1.3 % per 328 ft above 4000 ft; DERIVED: loss 317 W
    left = derating.derated_w(2000, feet(8000), 35, rule=derating.ARMY_2_KW)
    assert 2000 - left == pytest.approx(317, abs=1)


def test_dual_fuel_label():
    # Label of a dual-fuel set, READ: 1200 W on gasoline, 950 W on propane
    assert derating.derated_w(1200, fuel="propane") == pytest.approx(950, abs=3)
    # For a start 1750 W and 1200 W: never more than the label, nor 1 % less of the rating.
    start_w = 1750 * derating.FUEL_START_FACTORS["propane"]
    assert 1200 - 17.5 <= start_w <= 1200


@pytest.mark.parametrize(("gasoline_w", "gas_w"), [(26_000, 22_500)])
def test_natural_gas_loss_is_not_understated(gasoline_w, gas_w):
    # Makers' pages, READ: 10 to 20 % less; example 26 kW on propane, 22.5 kW on natural gas
    assert derating.derated_w(gasoline_w, fuel="natural-gas") <= gas_w
