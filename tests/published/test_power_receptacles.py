"""Receptacles and their rules against the published tables and clauses.

Marks: READ; SECOND-HAND, seen in a copy of the work; DERIVED, arithmetic from the figures named.
"""

import pytest

from siteplan.power import cords
from siteplan.power import receptacles as book


@pytest.mark.parametrize(
    ("config", "shape", "full_va", "continuous_va"),
    # Shape: amperes, poles, wires. NEMA WD 6 volts, amperes and wires READ in a trade
    # listing; poles MEMORY except 5-15;
    # volt-amperes DERIVED (7200 for L14-30 READ)
    [
        ("5-15", (15, 2, 3), 1800, 1440),
        ("5-20", (20, 2, 3), 2400, 1920),
        ("L5-30", (30, 2, 3), 3600, 2880),
        ("TT-30", (30, 2, 3), 3600, 2880),
        ("L14-20", (20, 3, 4), 4800, 3840),
        ("L14-30", (30, 3, 4), 7200, 5760),
        ("14-50", (50, 3, 4), 12000, 9600),
        ("SS2-50", (50, 3, 4), 12000, 9600),
        ("CS6365", (50, 3, 4), 12000, 9600),
        ("6-15", (15, 2, 3), 3600, 2880),
        ("6-20", (20, 2, 3), 4800, 3840),
        ("6-50", (50, 2, 3), 12000, 9600),
        ("L6-20", (20, 2, 3), 4800, 3840),
        ("L6-30", (30, 2, 3), 7200, 5760),
    ],
)
def test_configurations(config, shape, full_va, continuous_va):
    row = book.receptacles()[config]
    assert (row.amps, row.poles, row.wires) == shape
    assert row.full_va == full_va
    assert row.continuous_va == pytest.approx(continuous_va)


@pytest.mark.parametrize("config", ["10-30", "10-50"])
def test_configurations_without_equipment_ground_are_rejected(config):
    # NEMA WD 6 in a trade listing, READ: three wires, no equipment ground, obsolete
    row = book.receptacles()[config]
    assert row.wires == 3
    assert not row.ground
    assert not row.can_feed_house


@pytest.mark.parametrize(("rating", "load"), [(15, 12), (20, 16), (30, 24)])
def test_largest_plugged_load(rating, load):
    # NEC 2023 Table 210.21(B)(2), SECOND-HAND
    assert book.max_plugged_a(rating) == pytest.approx(load)


def test_sixteen_gauge_household_cord_is_rated_13_a_and_1560_w():
    # CPSC extension-cord text (UL 817), READ: 16 AWG 13 A, 1560 W; 18 AWG 10 A, 1200 W
    assert cords.cord_ampacity_a(16, 2) == 13
    assert cords.cord_ampacity_a(16, 2) * book.LINE_TO_NEUTRAL_V == 1560
    assert cords.cord_ampacity_a(18, 2) * book.LINE_TO_NEUTRAL_V == 1200


@pytest.mark.parametrize(
    ("rated_w", "two_wire", "insulated", "needed"),
    # 29 CFR 1926.404(b)(1)(ii), READ: exempt is a two-wire single-phase set of not more than
    # 5 kW with conductors insulated from the frame
    [
        (4999, True, True, False),
        (5000, True, True, False),
        (5001, True, True, True),
        (6000, True, True, True),
        (5000, False, True, True),
        (5000, True, False, True),
    ],
)
def test_work_site_exemption(rated_w, two_wire, insulated, needed):
    found = book.work_site_needs_gfci(
        rated_w, two_wire=two_wire, single_phase=True, insulated_from_frame=insulated
    )
    assert found is needed


def test_work_site_exemption_is_for_single_phase_only():
    assert book.work_site_needs_gfci(
        3000, two_wire=True, single_phase=False, insulated_from_frame=True
    )


@pytest.mark.parametrize(("interlocked", "needed"), [(False, True), (True, False)])
def test_floating_six_kilowatt_set_with_both_voltages(interlocked, needed):
    # NEC 2023 445.20(A) and its exception, SECOND-HAND: 6 kW with L14-30 and 5-20
    found = book.generator_needs_gfci(6000, "floating", has_125_250_v=True, interlocked=interlocked)
    assert found is needed
