"""The wind typed into a plan, as a rose: what is not known of it counts as still air."""

import pytest

from siteplan.plan.needs import Wind, WindSector
from siteplan.rules.carbon_monoxide_wind import rose_of


def sector(from_deg, share, speed_m_s=3.0):
    return WindSector(from_deg=from_deg, share=share, speed_m_s=speed_m_s)


def test_slow_sectors_and_hours_left_out_count_as_still():
    wind = Wind(
        sectors=(sector(90.0, 0.4), sector(0.0, 0.1, 0.49), sector(180.0, 0.2, 0.0)),
        calm_share=0.1,
    )
    rose = rose_of(wind)
    assert rose.shares == (0.0, 0.4, 0.0, 0.0)
    # 0.1 typed, 0.1 and 0.2 too slow to blow, 0.2 nobody told of.
    assert rose.calm_share == pytest.approx(0.6)


def test_half_a_metre_a_second_is_wind():
    rose = rose_of(Wind(sectors=(sector(90.0, 1.0, 0.5),), calm_share=0.0))
    assert (rose.shares[1], rose.calm_share) == (1.0, 0.0)


@pytest.mark.parametrize(
    ("from_deg", "sectors", "place"),
    [(270.0, 4, 3), (45.0, 8, 1), (22.5, 16, 1), (350.0, 36, 35), (13.0, 36, 1), (359.0, 36, 0)],
)
def test_a_rose_has_the_fewest_sectors_that_all_directions_fit(from_deg, sectors, place):
    rose = rose_of(Wind(sectors=(sector(0.0, 0.25), sector(from_deg, 0.5)), calm_share=0.25))
    assert len(rose.shares) == sectors
    assert rose.shares[place] == (0.75 if place == 0 else 0.5)


@pytest.mark.parametrize(("share", "told"), [(0.9, True), (0.92, True), (0.921, False)])
def test_shares_over_the_whole_are_no_rose(share, told):
    wind = Wind(sectors=(sector(0.0, share),), calm_share=0.1)
    assert (rose_of(wind) is not None) is told
