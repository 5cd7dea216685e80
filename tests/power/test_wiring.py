import math

import pytest

from siteplan.errors import OutOfRangeError
from siteplan.power import wiring
from siteplan.power.cords import voltage_drop_v
from siteplan.power.wiring import Segment


@pytest.mark.parametrize(
    ("breaker", "gauge"), [(15, 14), (15.1, 12), (20, 12), (20.1, 10), (30, 10), (30.1, 8), (50, 6)]
)
def test_feeder_just_under_at_and_over_each_row(breaker, gauge):
    assert wiring.feeder_gauge_awg(breaker) == gauge


@pytest.mark.parametrize(
    ("breaker", "gauge"), [(15, 14), (15.1, 12), (20, 12), (20.1, 10), (60, 10)]
)
def test_equipment_ground(breaker, gauge):
    assert wiring.equipment_ground_awg(breaker) == gauge


@pytest.mark.parametrize(("prevented", "amps"), [(False, 28.75), (True, 25.0)])
def test_conductors_from_the_machine_carry_115_percent(prevented, amps):
    # By hand: 6000 W / 240 V = 25 A
    found = wiring.generator_conductor_a(6000, 240, overload_prevented=prevented)
    assert found == pytest.approx(amps)


@pytest.mark.parametrize(
    ("rated", "reach", "needed"),
    [(15_000, True, False), (15_001, True, True), (5000, False, True)],
)
def test_disconnect_at_the_building(rated, reach, needed):
    assert wiring.building_disconnect_needed(rated, inlet_within_reach=reach) is needed


def test_a_chain_adds_up():
    cord = Segment("cord", 10, 30.0, 20.0, 20.0)
    branch = Segment("branch", 12, 15.0, 8.0)
    found = wiring.chain_drop([cord, branch])
    half = voltage_drop_v(10, 30.0, 20.0) / 2
    assert dict(found.shares)["cord"] == pytest.approx(half / 120)
    assert dict(found.shares)["branch"] == pytest.approx(voltage_drop_v(12, 15.0, 8.0) / 120)
    assert found.total == pytest.approx(sum(share for _, share in found.shares))
    assert wiring.chain_drop([]).total == 0


@pytest.mark.parametrize("bad", [0.0, -1.0, 1e7, math.nan])
def test_figures_that_are_none_are_refused(bad):
    for call in (
        lambda: wiring.feeder_gauge_awg(bad),
        lambda: wiring.equipment_ground_awg(bad),
        lambda: wiring.generator_conductor_a(bad, 240, overload_prevented=False),
        lambda: wiring.generator_conductor_a(100, bad, overload_prevented=False),
        lambda: wiring.inlet_needs_disconnect(bad),
        lambda: wiring.building_disconnect_needed(bad, inlet_within_reach=True),
    ):
        with pytest.raises(OutOfRangeError):
            call()


@pytest.mark.parametrize(("gauge", "column"), [(4, 60), (10, 105)])
def test_wire_not_listed_is_refused(gauge, column):
    with pytest.raises(OutOfRangeError):
        wiring.building_wire_a(gauge, column)
