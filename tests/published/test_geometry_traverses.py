"""Traverses and areas against survey course texts and worked examples.

Lengths were published in feet; a traverse has no unit of its own, so the figures are used
as they stand.
"""

import math

import pytest

from siteplan.geometry.shapes import signed_area_m2
from siteplan.geometry.survey import balanced, traverse


def test_area_by_coordinates_first_course_example():
    """Read: J. Mahun, open survey text, Traverse Computations, chapter G: 102,935.7 ft²."""
    north_east = [(500.0, 2000.0), (323.614, 1561.426), (526.996, 1488.321), (719.336, 1686.956)]
    corners = [(east, north) for north, east in north_east]
    assert abs(signed_area_m2(corners)) == pytest.approx(102_935.7, abs=0.05)
    # The same text's two cross-product sums.
    assert pytest.approx(abs(signed_area_m2(corners)), abs=0.1) == (3_590_045.6 - 3_384_174.1) / 2
    sides = [math.dist(corners[i], corners[i - 1]) for i in range(4)]
    assert sum(sides) == pytest.approx(1347.570, abs=5e-4)
    assert abs(signed_area_m2(corners)) / 43_560 == pytest.approx(2.363079, abs=5e-7)


def test_area_by_coordinates_second_course_example():
    """Read: the same course text, chapter on area: sums 2,190,612 and 1,909,624 → 140,494 ft²."""
    north_east = [
        (406.31, 1259.97),
        (235.12, 1489.47),
        (65.81, 1126.40),
        (317.89, 942.04),
        (675.32, 1282.54),
    ]
    area = abs(signed_area_m2([(east, north) for north, east in north_east]))
    assert area == pytest.approx(140_494, abs=1.0)
    assert area == pytest.approx(140_493.107, abs=5e-4)


UNIVERSITY = [
    ("N26°10'E", 285.10),
    ("S75°25'E", 610.45),
    ("S15°30'W", 720.48),
    ("N1°42'W", 203.00),
    ("N53°06'W", 647.02),
]


def test_closure_of_a_university_example():
    """Read: Purdue University course notes: misclosure −0.71/+0.53, 0.89 in 2466.05, 1/2771.

    The published ratio comes from rounded legs: 1 % is allowed.
    """
    result = traverse(UNIVERSITY)
    east, north = result.points[-1]
    assert north == pytest.approx(-0.71, abs=0.01)
    assert east == pytest.approx(0.53, abs=0.01)
    assert result.length_m == pytest.approx(2466.05, abs=1e-9)
    assert result.closure_m == pytest.approx(0.89, abs=0.01)
    assert result.precision == pytest.approx(2771, rel=0.01)


def test_compass_rule_of_a_university_example():
    """Read: the same notes: balanced coordinates Y, X from A at 10000, 10000."""
    published = [
        (10000.0, 10000.0),
        (10255.96, 10125.66),
        (10102.44, 10716.31),
        (9408.37, 10523.62),
        (9611.34, 10517.55),
    ]
    result = balanced(UNIVERSITY)
    for (x, y), (north, east) in zip(result.points, published, strict=False):
        assert (y + 10000, x + 10000) == pytest.approx((north, east), abs=0.011)
    assert result.points[-1] == pytest.approx((0, 0), abs=1e-9)
    # Area of the published corners by the shoelace formula: 272,608.1 ft².
    assert abs(signed_area_m2([(e, n) for n, e in published])) == pytest.approx(272_608.1, abs=0.05)
    assert result.area_m2 == pytest.approx(272_608.1, rel=2e-5)


def test_closure_of_a_problem_with_seconds():
    """Read: a worked civil engineering problem on a student site (weaker): 0.045 ft, 1:22,500."""
    legs = [
        ("N22°36'40\"W", 314.02),
        ("S60°39'24\"W", 264.49),
        ("S38°46'10\"E", 213.50),
        ("N88°22'58\"E", 217.69),
    ]
    result = traverse(legs)
    latitudes, departures = (
        [289.883, -129.611, -166.460, 6.144],
        [-120.733, -230.556, 133.691, 217.603],
    )
    for index, (latitude, departure) in enumerate(zip(latitudes, departures, strict=True)):
        (x0, y0), (x1, y1) = result.points[index : index + 2]
        assert (x1 - x0, y1 - y0) == pytest.approx((departure, latitude), abs=6e-4)
    assert result.closure_m == pytest.approx(0.045, abs=5e-4)
    assert result.precision == pytest.approx(22_500, rel=2e-3)


def test_area_by_latitudes_and_departures_of_a_handbook_problem():
    """Read: data of a problem in a handbook of civil engineering calculations.

    Its answer page was not seen: 72,106.19 is the coordinate method done by hand.
    """
    latitudes = [-132.3, 9.6, 97.9, 161.9, -35.3, -101.8]
    departures = [-135.6, -77.5, -198.5, 143.6, 246.7, 21.3]
    legs = [
        (math.degrees(math.atan2(e, n)) % 360, math.hypot(e, n))
        for n, e in zip(latitudes, departures, strict=True)
    ]
    result = traverse(legs)
    assert result.area_m2 == pytest.approx(72_106.19, abs=0.01)
    assert result.length_m == pytest.approx(1058.50, abs=0.005)
    assert result.closure_m < 1e-9


def test_turned_rectangle():
    """Read: a survey lesson on double meridian distance; area derived: 400 · 300."""
    legs = [("N30°E", 400.0), ("S60°E", 300.0), ("S30°W", 400.0), ("N60°W", 300.0)]
    result = traverse(legs)
    assert result.points[1] == pytest.approx((200.0, 346.4), abs=0.02)
    assert result.area_m2 == pytest.approx(120_000.0)


def test_missing_closing_side():
    """Read: an exercise with its last side missing; closing side and area derived."""
    result = traverse([("N", 295.62), ("E", 287.91), ("S", 216.57)])
    x, y = result.points[-1]
    assert (-y, -x) == pytest.approx((-79.05, -287.91))
    assert result.closure_m == pytest.approx(298.56, abs=0.01)
    assert result.area_m2 == pytest.approx(73_732.31, abs=0.01)
    assert result.area_m2 == pytest.approx(287.91 * (295.62 + 216.57) / 2)
