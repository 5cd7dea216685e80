import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError, UnitTextError
from siteplan.geometry.survey import NoTraverseError, azimuth_deg, balanced, traverse

SQUARE = [("N", 10.0), ("E", 10.0), ("S", 10.0), ("W", 10.0)]


@pytest.mark.parametrize(
    ("text", "azimuth"),
    [
        ("N26°10'E", 26 + 10 / 60),
        ("S75°25'E", 180 - 75 - 25 / 60),
        ("S15°30'W", 195.5),
        ("N1°42'W", 360 - 1.7),
        ("n 22 36 40 w", 360 - 22 - 36 / 60 - 40 / 3600),
        ("N22-36-40W", 360 - 22 - 36 / 60 - 40 / 3600),
        ("N 22° 36′ 40.5″ O", 360 - 22 - 36 / 60 - 40.5 / 3600),
        ("N45.5E", 45.5),
        ("N 0 W", 0.0),
        ("S0E", 180.0),
        ("N90E", 90.0),
        ("W", 270.0),
        ("o", 270.0),
        ("153.5", 153.5),
        ("153°30'", 153.5),
        ("153 30 36", 153.51),
        ("360", 0.0),
        (360.0, 0.0),
        (0.0, 0.0),
    ],
)
def test_bearings_are_read(text, azimuth):
    assert azimuth_deg(text) == pytest.approx(azimuth, abs=1e-9)


@pytest.mark.parametrize(
    "text",
    ["", "up", "N26", "26E", "N26°60'E", "N26°10'60\"E", "NE", "N26E10", "N-5E", "-3", "1e2"],
)
def test_other_text_is_no_bearing(text):
    with pytest.raises(UnitTextError, match="is not a bearing"):
        azimuth_deg(text)


@pytest.mark.parametrize("bearing", ["N90°01'E", "S91W", "360.1", 360.1, -0.1, math.nan])
def test_angles_out_of_range_are_refused(bearing):
    with pytest.raises(OutOfRangeError):
        azimuth_deg(bearing)


@pytest.mark.parametrize(("length", "read"), [(39, True), (40, True), (41, False), (10**6, False)])
def test_a_bearing_is_a_short_text(length, read):
    text = "N26°10'E".ljust(length)
    if read:
        assert azimuth_deg(text) == pytest.approx(26 + 1 / 6)
    else:
        with pytest.raises(UnitTextError) as error:
            azimuth_deg(text)
        assert len(error.value.text) == 40


def test_a_square_closes():
    result = traverse(SQUARE)
    expected = [[0, 0], [0, 10], [10, 10], [10, 0], [0, 0]]
    assert np.array(result.points) == pytest.approx(np.array(expected), abs=1e-12)
    assert result.closure_m == pytest.approx(0.0, abs=1e-12)
    assert math.isinf(result.precision)
    assert result.area_m2 == pytest.approx(100.0)
    assert result.length_m == 40.0


def test_a_gap_is_told_and_never_closed():
    result = traverse([*SQUARE[:3], ("W", 9.0)])
    assert result.points[-1] == pytest.approx((1.0, 0.0), abs=1e-12)
    assert result.closure_m == pytest.approx(1.0)
    assert result.precision == pytest.approx(39.0)


def test_balancing_closes_by_the_length_of_the_legs():
    result = balanced([*SQUARE[:3], ("W", 9.0)])
    assert result.points[1] == pytest.approx((-10 / 39, 10.0))
    assert result.points[-1] == pytest.approx((0, 0), abs=1e-12)
    assert math.isinf(result.precision)


@pytest.mark.parametrize("length", [0.0, -1.0, math.nan, 100_000.1])
def test_a_leg_must_have_a_length(length):
    with pytest.raises(OutOfRangeError, match="leg"):
        traverse([("N", length)])


def test_a_leg_may_be_short_or_long():
    assert traverse([("N", 0.01)]).length_m == 0.01
    assert traverse([("N", 100_000.0)]).length_m == 100_000.0


def test_no_legs_make_no_traverse():
    with pytest.raises(NoTraverseError):
        traverse([])


legs = st.lists(st.tuples(st.floats(0, 359.9), st.floats(0.1, 300)), min_size=3, max_size=8)


@settings(max_examples=50, deadline=None)
@given(legs)
def test_balanced_traverse_closes_and_straight_distance_bounds_closure(chain):
    raw = traverse(chain)
    assert raw.closure_m <= raw.length_m + 1e-9
    assert len(raw.points) == len(chain) + 1
    assert balanced(chain).closure_m == pytest.approx(0.0, abs=1e-9)


@settings(max_examples=50, deadline=None)
@given(st.integers(0, 359), st.integers(0, 59))
def test_quadrant_text_and_azimuth_agree(degrees, minutes):
    azimuth = degrees + minutes / 60
    ns = "N" if azimuth <= 90 or azimuth >= 270 else "S"
    ew = "E" if azimuth <= 180 else "W"
    within = abs(azimuth - 180) if ns == "S" else min(azimuth, 360 - azimuth)
    whole = round(within * 60)
    assert azimuth_deg(f"{ns}{whole // 60}°{whole % 60}'{ew}") == pytest.approx(azimuth % 360)
