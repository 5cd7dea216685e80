"""The wind typed into a plan, as a rose: what is not known of it counts as still air."""

import numpy as np
import pytest

from siteplan.air.wind import WindHours
from siteplan.plan.needs import Wind, WindSector
from siteplan.rules.carbon_monoxide_wind import rose_of, wind_from_file, wind_of


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


def test_hourly_wind_becomes_shares_and_mean_speeds():
    # Ten hours: six from the south-west, two of them about 225°, two from the north, one of
    # which comes from 355°, and two too slow to blow from anywhere.
    hours = WindHours(
        speed_m_s=np.array([2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 1.0, 2.0, 0.4, 0.0]),
        from_deg=np.array([225.0, 225.0, 225.0, 225.0, 220.0, 230.0, 0.0, 355.0, 225.0, 0.0]),
        missing=0,
    )
    wind = wind_of(hours, "A mast\x1b on a roof")
    told = {one.from_deg: (one.share, one.speed_m_s) for one in wind.sectors if one.share}
    assert told == {0.0: (0.2, 1.5), 225.0: (0.6, 4.5)}
    assert [one.from_deg for one in wind.sectors] == [22.5 * place for place in range(16)]
    assert {one.speed_m_s for one in wind.sectors if not one.share} == {0.0}
    assert (wind.calm_share, wind.origin) == (0.2, "A mast on a roof")


def test_a_gale_beyond_what_a_plan_holds_is_held_at_its_most():
    hours = WindHours(np.array([70.0, 80.0, 1.004]), np.array([90.0, 90.0, 0.0]), 0)
    speeds = {one.from_deg: one.speed_m_s for one in wind_of(hours, "").sectors}
    assert (speeds[90.0], speeds[0.0]) == (60.0, 1.0)


def test_a_weather_file_gives_its_name(tmp_path):
    file = tmp_path / "hours.csv"
    file.write_text(
        "1,A place\nDate,Wdir (degrees),Wspd (m/s)\na,90,2.0\nb,90,4.0\nc,180,3.0\nd,0,0.0\n"
    )
    wind = wind_from_file(file)
    told = [(one.from_deg, one.share, one.speed_m_s) for one in wind.sectors if one.share]
    assert told == [(90.0, 0.5, 3.0), (180.0, 0.25, 3.0)]
    assert (wind.calm_share, wind.origin) == (0.25, "hours.csv")


def test_shares_a_little_over_the_whole_are_held_at_it():
    rose = rose_of(Wind(sectors=(sector(0.0, 0.01), sector(90.0, 0.01, 0.1)), calm_share=1.0))
    assert (rose.shares[0], rose.calm_share) == (0.01, 1.0)
