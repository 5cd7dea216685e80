"""Every range a docstring states: its ends are accepted, what lies just outside is not."""

import pytest

from siteplan.errors import OutOfRangeError
from siteplan.power import (
    copper,
    cords,
    derating,
    fuel,
    legs,
    loads,
    motors,
    outage,
    receptacles,
    wiring,
)
from siteplan.power.connection import Lengths, Machine
from siteplan.power.loads import Load

FIVE_20 = receptacles.receptacles()["5-20"]

RANGES = [
    ("formula temperature", lambda x: copper.formula_resistance_ohm_per_m(12, x), -50, 150),
    ("table temperature", lambda x: copper.resistance_ohm_per_m(12, x), -50, 150),
    ("power factor", lambda x: copper.effective_impedance_ohm_per_m(12, x), 0.1, 1),
    ("gauge", lambda x: copper.diameter_m(round(x)), -3, 40),
    ("bundle", lambda x: cords.bundling_factor(round(x)), 1, 100),
    ("loaded conductors", lambda x: cords.cord_ampacity_a(12, round(x)), 2, 100),
    ("ambient", cords.ambient_factor, -50, 55),
    ("drop length", lambda x: cords.voltage_drop_v(12, x, 1), 0, 1000),
    ("drop current", lambda x: cords.voltage_drop_v(12, 1, x), 0, 1000),
    ("split length", lambda x: cords.split_phase_drop_v(12, x, 1, 1), 0, 1000),
    ("split current", lambda x: cords.split_phase_drop_v(12, 1, 1, x), 0, 1000),
    ("start factor", lambda x: cords.start_drop_v(12, 1, 1, x), 1, 10),
    ("voltage", lambda x: cords.smallest_gauge_awg(1, 1, x), 100, 600),
    ("drop share", lambda x: cords.smallest_gauge_awg(1, 1, 120, x), 0.001, 0.5),
    ("longest current", lambda x: cords.longest_length_m(12, x), 0.01, 1000),
    ("stock length", cords.next_stock_length_m, 0, 1000),
    ("receptacle", receptacles.max_plugged_a, 1, 200),
    ("rated power", lambda x: receptacles.available_a(FIVE_20, x), 1, 1e6),
    ("breaker", lambda x: receptacles.available_a(FIVE_20, 1e4, x), 1, 200),
    (
        "set rating",
        lambda x: receptacles.generator_needs_gfci(x, "bonded", has_125_250_v=True),
        1,
        1e6,
    ),
    (
        "site rating",
        lambda x: receptacles.work_site_needs_gfci(
            x, two_wire=True, single_phase=True, insulated_from_frame=True
        ),
        1,
        1e6,
    ),
    ("year", lambda x: receptacles.gfci_cord_set_will_do(round(x)), 1900, 2200),
    ("running", lambda x: Load("x", x, 200_000), 0, 200_000),
    ("starting", lambda x: Load("x", 100, x), 100, 200_000),
    ("load voltage", lambda x: Load("x", 1, 1, x), 100, 250),
    ("continuous", loads.continuous_limit_w, 0, 200_000),
    ("clash running", lambda x: loads.clashes([], x, 1), 0, 200_000),
    ("clash starting", lambda x: loads.clashes([], 1, x), 0, 200_000),
    ("clash group", lambda x: loads.clashes([], 1, 1, round(x)), 1, 4),
    ("keep running", lambda x: loads.keep_within([], x, 1), 0, 200_000),
    ("keep starting", lambda x: loads.keep_within([], 1, x), 0, 200_000),
    ("dip demand", lambda x: loads.set_dip_fraction(x, 5000), 0, 1e6),
    ("dip rating", lambda x: loads.set_dip_fraction(1, x), 1, 1e6),
    ("reactance", lambda x: loads.set_dip_fraction(1, 1, x), 0.05, 1),
    ("cord share", lambda x: loads.worst_start_dip([(1, x)], 1000), 0, 1),
    ("energy power", lambda x: loads.energy_kwh(x, 1), 0, 200_000),
    ("energy hours", lambda x: loads.energy_kwh(1, x), 0, 24),
    ("energy days", lambda x: loads.energy_kwh(1, 1, x), 0, 366),
    ("plugged hours", loads.full_power_hours, 0, 8784),
    ("imbalance rating", lambda x: legs.leg_sums([], []).imbalance(x), 1, 200_000),
    ("open neutral a", lambda x: legs.open_neutral_v(x, 100), 1, 200_000),
    ("open neutral b", lambda x: legs.open_neutral_v(100, x), 1, 200_000),
    ("open neutral volts", lambda x: legs.open_neutral_v(1, 1, x), 100, 130),
    ("full load", motors.full_load_a, 0.05, 5),
    ("locked rotor", motors.locked_rotor_a, 0.05, 5),
    ("code size", lambda x: motors.locked_rotor_kva("L", x), 0.05, 10),
    ("code volts", lambda x: motors.locked_rotor_by_code_a("L", 1, x), 100, 600),
    ("low motor volts", lambda x: motors.full_load_a(1, x), 110, 125),
    ("high motor volts", lambda x: motors.full_load_a(1, x), 220, 250),
    ("altitude", lambda x: derating.derating_factor(x, 20), -450, 5000),
    ("air", lambda x: derating.derating_factor(0, x), -50, 60),
    ("derated rating", derating.derated_w, 1, 1e6),
    ("no load", lambda x: fuel.straight_line(x, 10, 0.5), 0, 10),
    ("full load fuel", lambda x: fuel.straight_line(0, x, 0.5), 0, 1e12),
    ("load over rating", lambda x: fuel.straight_line(1, 2, x), 0, 1.1),
    ("fuel rating", lambda x: fuel.gasoline_l_per_h(0, x), 1, 1e6),
    ("fuel load", lambda x: fuel.gasoline_l_per_h(x, 1000), 0, 1100),
    ("no-load share", lambda x: fuel.gasoline_l_per_h(1, 10, no_load_share=x), 0.1, 0.7),
    ("saved load", lambda x: fuel.gasoline_saved_l(x, 1), 0, 1e6),
    ("saved hours", lambda x: fuel.gasoline_saved_l(1, x), 0, 1440),
    ("saved share", lambda x: fuel.gasoline_saved_l(1, 1, no_load_share=x), 0.1, 0.7),
    ("propane", fuel.propane_l_per_h, 0, 1e5),
    ("natural gas", fuel.natural_gas_m3_per_h, 0, 1e5),
    ("propane volume", fuel.propane_volume_l, 0, 1e5),
    ("propane heat", fuel.propane_heat_j, 0, 1e5),
    ("propane demand", fuel.propane_demand_w, 0, 1e5),
    ("vapour mass", lambda x: fuel.vapour_draw_w(x, 20), 0, 50),
    ("vapour air", lambda x: fuel.vapour_draw_w(40, x), -50, 60),
    ("canned fuel", fuel.cans_needed, 0, 1e5),
    ("can", lambda x: fuel.cans_needed(1, x), 0.5, 60),
    ("endurance tank", lambda x: outage.endurance_h(x, 1), 0.1, 2000),
    ("endurance use", lambda x: outage.endurance_h(1, x), 0.01, 1000),
    ("outage tank", lambda x: outage.plan_outage([(1, 1)], x), 0.1, 2000),
    ("outage use", lambda x: outage.plan_outage([(0.1, x)], 100), 0.01, 1000),
    ("outage hours", lambda x: outage.plan_outage([(x, 1)], 100), 0, 1440),
    ("rest", lambda x: outage.plan_outage([(1, 1)], 10, x), 20, 240),
    ("feeder", wiring.feeder_gauge_awg, 1, 55),
    ("ground", wiring.equipment_ground_awg, 1, 60),
    (
        "conductor rating",
        lambda x: wiring.generator_conductor_a(x, 240, overload_prevented=False),
        1,
        1e6,
    ),
    (
        "conductor volts",
        lambda x: wiring.generator_conductor_a(1, x, overload_prevented=False),
        100,
        600,
    ),
    ("inlet", wiring.inlet_needs_disconnect, 1, 400),
    (
        "disconnect rating",
        lambda x: wiring.building_disconnect_needed(x, inlet_within_reach=True),
        1,
        1e6,
    ),
    ("machine running", lambda x: Machine(x, 400_000, ()), 1, 200_000),
    ("machine starting", lambda x: Machine(100, x, ()), 100, 400_000),
    ("cord length", Lengths, 0, 500),
]
WHOLE = {"gauge", "bundle", "loaded conductors", "year", "clash group"}


@pytest.mark.parametrize(("name", "call", "low", "high"), RANGES, ids=[name for name, *_ in RANGES])
def test_a_range_ends_where_it_says(name, call, low, high):
    step = 1 if name in WHOLE else max(1e-4, 1e-6 * abs(high))
    low_step = 1 if name in WHOLE else max(1e-4, 1e-6 * abs(low))
    call(low)
    call(high)
    for outside in (low - low_step, high + step):
        with pytest.raises(OutOfRangeError):
            call(outside)


def test_counts_of_loads_end_at_two_hundred():
    many = [Load("x", 1, 1)] * 200
    assert loads.clashes(many[:200], 1e5, 1e5, 1) == ()
    assert len(loads.keep_within(many, 1e5, 1e5)) == 200
    assert len(legs.assign_legs(many)) == 200
    for call in (
        lambda: loads.clashes([*many, many[0]], 1e5, 1e5, 1),
        lambda: loads.keep_within([*many, many[0]], 1e5, 1e5),
        lambda: legs.assign_legs([*many, many[0]]),
    ):
        with pytest.raises(OutOfRangeError, match="number of loads"):
            call()


def test_all_loads_together_end_at_200_kw():
    assert len(legs.assign_legs([Load("x", 100_000, 100_000)] * 2)) == 2
    with pytest.raises(OutOfRangeError, match="all loads"):
        legs.assign_legs([Load("x", 100_000, 100_000)] * 2 + [Load("y", 1, 1)])


def test_the_figures_of_practice_are_the_ones_stated():
    assert cords.RUN_DROP_FRACTION == 0.03
    assert cords.TOTAL_DROP_FRACTION == 0.05
    assert cords.START_CORD_DROP_FRACTION == 0.10
    assert cords.START_PREFERRED_DIP_FRACTION == 0.20
    assert cords.START_TOTAL_DIP_FRACTION == 0.30
    assert pytest.approx(76.2) == cords.LONGEST_CABLE_M
    assert legs.IMBALANCE_GOAL == 0.25
    assert (loads.WORKSHEET_RUN_SHARE, loads.WORKSHEET_START_SHARE) == (0.90, 1.50)
    assert (motors.START_MULTIPLIER_LOW, motors.START_MULTIPLIER_HIGH) == (3, 6)
    assert (outage.COOLING_MIN, outage.SHORTEST_COOLING_MIN) == (30, 20)
    assert pytest.approx(3.048) == outage.STORE_DISTANCE_M
    assert pytest.approx(7.62) == outage.STORE_MACHINE_DISTANCE_M
    assert receptacles.CONTINUOUS_SHARE == 0.8
