"""Weather files and wind roses."""

from pathlib import Path

import numpy as np
import pvlib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from siteplan.air.wind import (
    WeatherFileError,
    WindHours,
    WindRose,
    downwind_share,
    read_wind,
    wind_rose,
)
from siteplan.errors import OutOfRangeError

TMY3 = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
EPW_HEAD = (
    "LOCATION,Nowhere,-,-,TMY,000000,40.0,-80.0,-5.0,200.0\n"
    "DESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\n"
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,-\nCOMMENTS 2,-\n"
    "DATA PERIODS,1,1,Data,Sunday,1/1,1/1\n"
)


def epw(path, wind):
    """Write an EPW file of one day with the given pairs of direction and speed."""
    lines = []
    for hour, (direction, speed) in enumerate(wind, start=1):
        fields = [2001, 1, 1, hour, 0, "C9", *[20.0] * 14, direction, speed, *[0.0] * 13]
        lines.append(",".join(str(field) for field in fields))
    path.write_text(EPW_HEAD + "\n".join(lines) + "\n", encoding="utf-8")
    return path


def test_an_epw_file_reads_as_another_reader_reads_it(tmp_path):
    wind = [(10.0 * hour, 0.25 * hour) for hour in range(24)]
    path = epw(tmp_path / "day.epw", wind)
    theirs, _ = pvlib.iotools.read_epw(path)
    ours = read_wind(path)
    np.testing.assert_array_equal(ours.speed_m_s, theirs["wind_speed"])
    np.testing.assert_array_equal(ours.from_deg, theirs["wind_direction"])
    assert ours.missing == 0


def test_a_tmy3_file_reads_as_another_reader_reads_it():
    theirs, _ = pvlib.iotools.read_tmy3(TMY3, map_variables=True)
    ours = read_wind(TMY3)
    assert ours.speed_m_s.size == 8760
    np.testing.assert_allclose(ours.speed_m_s, theirs["wind_speed"])
    np.testing.assert_allclose(ours.from_deg, theirs["wind_direction"] % 360.0)


def test_missing_hours_are_counted_and_left_out(tmp_path):
    found = read_wind(epw(tmp_path / "day.epw", [(180.0, 3.0), (999, 999), (360.0, 999), (360, 2)]))
    assert found.missing == 2
    np.testing.assert_array_equal(found.from_deg, [180.0, 0.0])


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "neither"),
        ("a,b\nc,d\n", "neither"),
        ("\x00\x01", "neither"),
        (EPW_HEAD, "no hour"),
        (EPW_HEAD + "2001,1,1,1,0\n", "line 9"),
        (EPW_HEAD + ",".join(["x"] * 35) + "\n", "line 9"),
        (EPW_HEAD + "y" * 200_000 + "\n", "no table"),
    ],
)
def test_a_broken_file_is_refused_with_its_reason(tmp_path, text, reason):
    path = tmp_path / "bad.epw"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(WeatherFileError, match=reason):
        read_wind(path)


def test_a_huge_file_is_refused(tmp_path):
    path = tmp_path / "huge.epw"
    with path.open("wb") as file:
        file.truncate(30_000_001)
    with pytest.raises(WeatherFileError, match="30 MB"):
        read_wind(path)


def test_a_rose_of_four_winds_and_a_calm():
    hours = WindHours(
        np.array([2.0, 2.0, 2.0, 2.0, 0.49, 0.5]),
        np.array([0.0, 90.0, 180.0, 270.0, 0.0, 359.0]),
        0,
    )
    rose = wind_rose(hours, 4)
    np.testing.assert_allclose(rose.shares, [2 / 6, 1 / 6, 1 / 6, 1 / 6])
    assert rose.calm_share == pytest.approx(1 / 6)


@pytest.mark.parametrize("bearing", [0.0, 37.0, 90.0, 222.0, 350.0])
def test_the_share_downwind_agrees_with_counting_the_hours(bearing):
    hours = read_wind(TMY3)
    blows_to = (hours.from_deg + 180.0) % 360.0
    away = np.abs((blows_to - bearing + 180.0) % 360.0 - 180.0)
    counted = np.mean((away <= 45.0) | (hours.speed_m_s < 0.5))
    # The file has directions in tens of degrees; a rose smooths them over 22.5°.
    assert downwind_share(wind_rose(hours), bearing) == pytest.approx(counted, abs=0.04)


def test_an_opening_to_the_north_lies_downwind_in_south_wind():
    south = WindRose((0.0, 0.0, 1.0, 0.0), 0.0)
    assert downwind_share(south, 0.0) == pytest.approx(1.0)
    assert downwind_share(south, 180.0) == pytest.approx(0.0)
    assert downwind_share(south, 45.0) == pytest.approx(0.5)


def test_still_air_is_downwind_of_everything():
    still = WindRose((0.0,) * 16, 1.0)
    assert downwind_share(still, 123.0) == 1.0


@given(
    st.lists(st.floats(0.01, 1.0), min_size=4, max_size=36),
    st.floats(0.0, 360.0),
    st.floats(1.0, 45.0),
)
def test_shares_are_bounded_and_grow_with_the_angle(weights, bearing, angle):
    total = sum(weights)
    rose = WindRose(tuple(weight / total * 0.9 for weight in weights), 0.1)
    narrow, wide = downwind_share(rose, bearing, angle), downwind_share(rose, bearing, 2 * angle)
    assert 0.1 <= narrow <= wide + 1e-12 <= 1.0 + 1e-9


@pytest.mark.parametrize(
    ("shares", "calm"), [((0.5, 0.5), 0.1), ((0.4, 0.4), 0.1), ((1.2, -0.2), 0.0)]
)
def test_a_rose_that_does_not_add_up_is_refused(shares, calm):
    with pytest.raises(OutOfRangeError):
        WindRose(shares, calm)


@pytest.mark.parametrize("total", [0.98, 1.0, 1.02])
def test_a_typed_rose_may_be_rounded(total):
    assert WindRose((total / 2, total / 2), 0.0).sector_deg == 180.0
