"""Fixed wiring and inlets against the published tables and clauses; circuits against algebra.

Marks: READ; SECOND-HAND, seen in a copy of the work; MEMORY; DERIVED.
"""

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from siteplan.power import copper, cords, legs, wiring
from siteplan.power.loads import Load


@pytest.mark.parametrize(
    ("gauge", "amps"),
    # NEC 2023 Table 310.16, copper at 60, 75 and 90 °C, SECOND-HAND
    [(12, (20, 25, 30)), (10, (30, 35, 40)), (8, (40, 50, 55)), (6, (55, 65, 75))],
)
def test_building_wire(gauge, amps):
    assert tuple(wiring.building_wire_a(gauge, column) for column in (60, 75, 90)) == amps


@pytest.mark.parametrize(
    ("inlet_a", "feeder", "ground"),
    # NEC 2023 Tables 310.16 (60 °C) and 250.122, SECOND-HAND
    [(20, 12, 12), (30, 10, 10), (50, 6, 10)],
)
def test_feeder_behind_an_inlet(inlet_a, feeder, ground):
    assert wiring.feeder_gauge_awg(inlet_a) == feeder
    assert wiring.equipment_ground_awg(inlet_a) == ground


@pytest.mark.parametrize(
    ("inlet_a", "needed"), [(30, False), (50, False), (99.9, False), (100, True), (200, True)]
)
def test_interlocked_disconnect_from_100_a(inlet_a, needed):
    # NEC 2023 702.12(C), READ in a code-education page
    assert wiring.inlet_needs_disconnect(inlet_a) is needed


@pytest.mark.parametrize(
    ("leg_a", "leg_b", "length"), [(20.0, 5.0, 30.0), (0.0, 24.0, 15.24), (16.0, 16.0, 45.0)]
)
def test_split_phase_losses_against_nodal_analysis(leg_a, leg_b, length):
    # The circuit solved as a network by numpy: nodes are the far ends of leg A, neutral and
    # leg B; sources of +120 and -120 V at the near end; loads draw fixed currents.
    ohm = copper.resistance_ohm_per_m(10) * length
    conductance = np.eye(3) / ohm
    near = np.array([120.0, 0.0, -120.0])
    drawn = np.array([-leg_a, leg_a - leg_b, leg_b])
    far = np.linalg.solve(conductance, near / ohm + drawn)
    drop = cords.split_phase_drop_v(10, length, leg_a, leg_b)
    assert 120 - (far[0] - far[1]) == pytest.approx(drop.leg_a_v)
    assert 120 - (far[1] - far[2]) == pytest.approx(drop.leg_b_v)
    assert 240 - (far[0] - far[2]) == pytest.approx(drop.line_to_line_v)


@pytest.mark.parametrize("seed", range(4))
def test_leg_assignment_against_integer_programming(seed):
    # scipy's mixed-integer solver: least t with -t <= sum of signed watts <= t
    watts = np.random.default_rng(seed).integers(10, 2000, size=14).astype(float)
    assigned = legs.assign_legs([Load("x", w, w) for w in watts])
    found = abs(sum(w if leg == "A" else -w for w, leg in zip(watts, assigned, strict=True)))
    total = watts.sum()
    rows = np.array([np.append(2 * watts, -1.0), np.append(2 * watts, 1.0)])
    best = milp(
        np.append(np.zeros(14), 1.0),
        constraints=LinearConstraint(rows, [-np.inf, total], [total, np.inf]),
        integrality=np.append(np.ones(14), 0),
        bounds=Bounds(0, np.append(np.ones(14), np.inf)),
    )
    assert best.success
    assert found == pytest.approx(best.fun, abs=1e-3)
