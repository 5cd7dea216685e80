"""Which cord to buy. Expected gauges are reckoned by hand from published tables.

Ampacity of two loaded wires: NEC 2023 Table 400.5(A)(1) column B (read second-hand): 16 AWG
13 A, 14 AWG 18 A, 12 AWG 25 A, 10 AWG 30 A, 8 AWG 40 A. Stranded copper at 75 °C: NEC 2023
Chapter 9 Table 8 (read second-hand), ohm per 1000 ft: 16 AWG 4.99, 14 AWG 3.14, 12 AWG 1.98,
10 AWG 1.24, 8 AWG 0.778. Loss running 3 % of 120 V: 3.6 V; at a start 10 %: 12 V.
"""

import pytest

from siteplan.errors import OutOfRangeError
from siteplan.power.buying import Demand, cord_to_buy, drop_share, suits
from siteplan.units import feet


def twice(amps, start_a=0.0):
    return Demand(amps, 2.0 * amps, 2.0 * start_a)


@pytest.mark.parametrize(
    ("needed_ft", "demand", "stock_ft", "gauge", "reason"),
    [
        # 1 A over 25 ft of 16 AWG loses 0.25 V.
        (20.0, twice(1.0), 25.0, 16, "general-use"),
        (25.0, twice(13.0), 25.0, 16, "general-use"),  # 3.24 V
        (25.0, twice(13.1), 25.0, 14, "ampacity"),
        (25.1, twice(13.0), 50.0, 12, "drop"),  # 50 ft: 14 AWG 4.08 V, 12 AWG 2.57 V
        # 5 A over 50 ft of 16 AWG: 2.5 V; a start of 30 A there: 14.97 V, 14 AWG 9.42 V.
        (50.0, twice(5.0, 30.0), 50.0, 14, "start"),
        (50.0, Demand(30.0, 10.0), 50.0, 10, "ampacity"),
        (50.0, Demand(30.0, 10.0, 0.0, 25.1), 50.0, 8, "ampacity"),  # column A: 10 AWG 25 A
        (50.0, Demand(30.0, 10.0, 0.0, 25.0), 50.0, 10, "ampacity"),
    ],
)
def test_length_gauge_and_what_calls_for_it(needed_ft, demand, stock_ft, gauge, reason):
    found = cord_to_buy(feet(needed_ft), demand)
    assert found.length_m == pytest.approx(feet(stock_ft))
    assert (found.gauge_awg, found.reason) == (gauge, reason)


def test_the_loss_is_that_of_the_whole_length_sold():
    # By hand: 10 A over 100 ft of 10 AWG, there and back: 2 x 10 x 0.124 = 2.48 V.
    found = cord_to_buy(feet(60.0), twice(10.0))
    assert found.gauge_awg == 10
    assert found.drop_share == pytest.approx(2.48 / 120.0, rel=2e-3)
    assert drop_share(10, feet(100.0), 20.0) == pytest.approx(found.drop_share)


@pytest.mark.parametrize(
    ("kind", "needed_ft", "sold"),
    [
        ("household", 200.0, True),
        ("household", 200.1, False),
        ("locking-30a", 100.0, True),
        ("locking-30a", 100.1, False),
    ],
)
def test_what_is_longer_than_is_sold_has_a_gauge_but_no_length(kind, needed_ft, sold):
    found = cord_to_buy(feet(needed_ft), twice(1.0), kind)
    assert (found.length_m is not None) is sold
    assert found.gauge_awg is not None


def test_no_cord_carries_more_than_the_thickest():
    # 4 AWG carries 70 A.
    assert cord_to_buy(1.0, twice(70.0)).gauge_awg == 4
    assert cord_to_buy(1.0, twice(70.1)).gauge_awg is None
    assert cord_to_buy(1.0, twice(70.1)).reason is None


@pytest.mark.parametrize(("air_c", "gauge"), [(30.0, 14), (31.0, 12), (55.0, 8), (55.1, None)])
def test_in_hot_air_a_cord_carries_less(air_c, gauge):
    # NEC 2023 Table 310.15(B)(1)(1), 60 °C: 31 to 35 °C 0.91, 51 to 55 °C 0.41 (read
    # second-hand): 14 AWG 16.4 A of 17 A; at 55 °C 10 AWG 12.3 A and 8 AWG 16.4 A of 16 A.
    found = cord_to_buy(1.0, Demand(17.0 if air_c < 50.0 else 16.0, 1.0), "household", air_c)
    assert found.gauge_awg == gauge


@pytest.mark.parametrize(
    ("gauge", "long_ft", "good"),
    [(14, 50.0, False), (12, 50.0, True), (10, 50.0, True), (11, 50.0, True), (18, 1.0, False)],
)
def test_a_cord_at_hand_is_as_good_or_not(gauge, long_ft, good):
    # 13 A over 50 ft: 14 AWG 4.08 V, 12 AWG 2.57 V of 3.6 V. Between two sizes the thinner
    # counts: 11 AWG as 12.
    assert suits(gauge, feet(long_ft), twice(13.0)) is good


def test_lengths_that_are_none_are_refused():
    with pytest.raises(OutOfRangeError, match="length"):
        cord_to_buy(-1.0, twice(1.0))
