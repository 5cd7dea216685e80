import math

import pytest

from siteplan.errors import OutOfRangeError
from siteplan.power import receptacles as book


def test_every_row_is_sound():
    assert len(book.receptacles()) == 16
    for config, row in book.receptacles().items():
        assert row.config == config
        assert config in row.accepts
        assert row.poles == row.legs + row.neutral
        assert row.wires == row.poles + row.ground
        assert row.locking == config.startswith(("L", "SS", "CS"))
        assert {"125": 1, "250": 2, "125/250": 2}[row.volts] == row.legs
        assert row.known in {"read", "memory"}


def test_the_book_cannot_be_changed_by_a_reader():
    with pytest.raises(TypeError):
        book.receptacles()["5-15"] = None


@pytest.mark.parametrize(
    ("plug", "receptacle", "expected"),
    [
        ("5-15", "5-15", True),
        ("5-15", "5-20", True),
        ("5-20", "5-15", False),
        ("L5-30", "TT-30", False),
        ("TT-30", "L5-30", False),
        ("L14-30", "L14-30", True),
        ("L14-20", "L14-30", False),
        ("6-15", "6-20", True),
        ("6-15", "5-15", False),
        ("5-15", "23-99", None),
    ],
)
def test_which_plug_enters(plug, receptacle, expected):
    assert book.fits(plug, receptacle) is expected


@pytest.mark.parametrize(
    ("config", "house", "v120", "v240"),
    [
        ("L14-30", True, True, True),
        ("14-50", True, True, True),
        ("SS2-50", True, True, True),
        ("5-20", False, True, False),
        ("L5-30", False, True, False),
        ("TT-30", False, True, False),
        ("6-50", False, False, True),
        ("L6-30", False, False, True),
        ("10-30", False, True, True),
        ("10-50", False, True, True),
    ],
)
def test_what_a_receptacle_can_supply(config, house, v120, v240):
    row = book.receptacles()[config]
    assert (row.can_feed_house, row.supplies_120_v, row.supplies_240_v) == (house, v120, v240)


def test_the_machine_limits_a_large_receptacle():
    # By hand: 5000 W / 240 V = 20.83 A
    row = book.receptacles()["L14-30"]
    assert book.available_a(row, 5000) == pytest.approx(20.8333, abs=1e-4)
    assert book.available_a(row, 7200) == 30
    assert book.available_a(row, 9000) == 30
    assert book.available_a(row, 9000, breaker_a=25) == 25
    assert book.available_a(row, 9000, breaker_a=50) == 30
    assert book.available_a(book.receptacles()["5-20"], 1800) == 15


@pytest.mark.parametrize(
    ("rated_w", "neutral", "both", "interlocked", "needed"),
    [
        (15_000, "bonded", False, False, True),
        (15_001, "bonded", False, False, False),
        (15_001, None, True, False, False),
        (6000, "bonded", True, True, True),
        (6000, "floating", True, False, True),
        (6000, "floating", True, True, False),
        (6000, "floating", False, False, False),
        (6000, None, True, False, True),
        (6000, None, True, True, None),
        (6000, None, False, False, None),
    ],
)
def test_ground_fault_protection_on_the_set(rated_w, neutral, both, interlocked, needed):
    found = book.generator_needs_gfci(rated_w, neutral, has_125_250_v=both, interlocked=interlocked)
    assert found is needed


@pytest.mark.parametrize(("year", "will_do"), [(2013, True), (2014, True), (2015, False)])
def test_cord_sets_stand_in_on_older_machines(year, will_do):
    assert book.gfci_cord_set_will_do(year) is will_do


@pytest.mark.parametrize(
    ("own", "bonded", "needed"),
    [(True, True, False), (True, False, True), (False, True, True), (False, False, True)],
)
def test_ground_rod(own, bonded, needed):
    found = book.ground_rod_needed(own_receptacles_only=own, ground_pins_bonded=bonded)
    assert found is needed


@pytest.mark.parametrize(
    ("neutral", "switched", "match"),
    [
        ("floating", False, "match"),
        ("bonded", False, "second-bond"),
        ("bonded", True, "match"),
        ("floating", True, "no-bond"),
    ],
)
def test_neutral_and_transfer_equipment(neutral, switched, match):
    assert book.neutral_match(neutral, neutral_switched=switched) == match


@pytest.mark.parametrize("bad", [0.0, -1.0, 1e7, math.nan])
def test_ratings_that_are_none_are_refused(bad):
    row = book.receptacles()["5-15"]
    for call in (
        lambda: book.max_plugged_a(bad),
        lambda: book.available_a(row, bad),
        lambda: book.available_a(row, 1000, breaker_a=bad),
        lambda: book.generator_needs_gfci(bad, "bonded", has_125_250_v=False),
        lambda: book.work_site_needs_gfci(
            bad, two_wire=True, single_phase=True, insulated_from_frame=True
        ),
        lambda: book.gfci_cord_set_will_do(bad),
    ):
        with pytest.raises(OutOfRangeError):
            call()
