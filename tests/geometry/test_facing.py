"""Places of an outline that face a point, on outlines small enough to see."""

import math

import numpy as np
import pytest
from shapely import Point, Polygon

from siteplan.geometry.facing import facing_places

BOX = Polygon([(0, 0), (4, 0), (4, 2), (0, 2)])
# A U open to the north: wings of 1 m width and 5 m length on a base 1 m deep and 10 m wide.
U = Polygon([(0, 0), (10, 0), (10, 5), (9, 5), (9, 1), (1, 1), (1, 5), (0, 5)])


def seen(solid, point):
    return sorted(
        tuple(round(part, 9) + 0.0 for part in one) for one in facing_places(solid, point)
    )


@pytest.mark.parametrize(
    ("point", "place"),
    [((2.0, 5.0), (2.0, 2.0)), ((7.0, 6.0), (4.0, 2.0)), ((-1.0, 1.0), (0.0, 1.0))],
)
def test_an_outline_without_inside_corners_has_one(point, place):
    assert seen(BOX, point) == [place]


def test_before_a_notch_each_wall_and_each_tip_counts():
    assert seen(U, (4.0, 3.0)) == [(1.0, 3.0), (4.0, 1.0), (9.0, 3.0)]
    # Out before the notch the tips of the wings, and the base between them.
    assert seen(U, (4.0, 8.0)) == [(1.0, 5.0), (4.0, 1.0), (9.0, 5.0)]


def test_what_a_wing_hides_is_not_seen():
    assert seen(U, (-3.0, 3.0)) == [(0.0, 3.0)]


def test_from_within_nothing_is_seen():
    assert seen(U, (5.0, 0.5)) == []


@pytest.mark.parametrize("turn_deg", [0.0, 33.0, 211.0])
@pytest.mark.parametrize("ring", [list(U.exterior.coords), list(U.exterior.coords)[::-1]])
def test_the_nearest_place_is_among_them_however_the_outline_lies(turn_deg, ring):
    turn = math.radians(turn_deg)
    spin = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    solid = Polygon(np.asarray(ring) @ spin.T)
    rng = np.random.default_rng(7)
    tried = 0
    for point in rng.uniform(-6.0, 16.0, (80, 2)) @ spin.T:
        away = solid.distance(Point(point))
        if away > 0.0:
            tried += 1
            places = facing_places(solid, tuple(point))
            gaps = np.hypot(*(places - point).T)
            assert gaps.min() == pytest.approx(away, abs=1e-9)
    assert tried > 40
