"""Geometry against published tables, worked examples and closed forms.

"Read": the figures were seen in the work named. "Derived": a closed form, written out here.
"""

import math

import numpy as np
import pytest
import shapely
from shapely import LineString, Polygon, box

from siteplan.geometry.clearance import distances
from siteplan.geometry.nearest import nearest_by_route
from siteplan.geometry.openness import blocked_share, horizon, open_ratio, sky_view
from siteplan.geometry.routes import NoWayRoundError, RouteGraph, shortest_route
from siteplan.geometry.shapes import ring_fault, signed_area_m2
from siteplan.geometry.zones import keep_out

FAR_M = 10_000.0


def _ring(count, radius):
    corner = np.linspace(0, 2 * math.pi, count + 1)
    ends = radius * np.column_stack([np.sin(corner), np.cos(corner)])
    return np.stack([ends[:-1], ends[1:]], axis=1)


@pytest.mark.parametrize("h_over_w", [0.25, 0.5, 1.0, 2.0, 3.0])
def test_sky_view_in_a_street(h_over_w):
    """Middle of an endless canyon: cos(atan(2H/W)); Oke 1981, from memory."""
    published = {0.25: 0.894427, 0.5: 0.707107, 1.0: 0.447214, 2.0: 0.242536, 3.0: 0.164399}
    street = np.array([[[-5, -9e3], [-5, 9e3]], [[5, -9e3], [5, 9e3]]])
    seen = sky_view((0, 0), street, [10 * h_over_w] * 2, FAR_M)
    assert seen == pytest.approx(published[h_over_w], abs=2e-6)
    assert published[h_over_w] == pytest.approx(math.cos(math.atan(2 * h_over_w)), abs=5e-7)


@pytest.mark.parametrize(("h_over_r", "expected"), [(0.5, 0.8), (1.0, 0.5), (2.0, 0.2)])
def test_sky_view_in_a_round_basin(h_over_r, expected):
    """Derived: 1/(1 + (H/R)²)."""
    basin = _ring(2000, 4.0)
    assert sky_view((0, 0), basin, [4.0 * h_over_r] * 2000, 9.0) == pytest.approx(expected, 1e-5)


@pytest.mark.parametrize("point", [(5.0, 3.0), (1.0, 1.0), (9.5, 0.5)])
def test_visible_area_of_a_closed_room(point):
    """Derived: all of a convex room is seen from any place in it; 10 by 6 gives 60."""
    ends = np.array([[0, 0], [10, 0], [10, 6], [0, 6], [0, 0]], dtype=float)
    room = np.stack([ends[:-1], ends[1:]], axis=1)
    assert math.pi * np.mean(horizon(point, room, 20.0) ** 2) == pytest.approx(60.0, rel=2e-3)
    assert open_ratio(point, room, 20.0) * math.pi * 400 == pytest.approx(60.0, rel=2e-3)


def test_blocked_share_in_an_inside_corner():
    """Derived: legs 10 and 6, two metres from both: (90° + atan(8/2) + atan(4/2))/360°."""
    corner = np.array([[[0, 0], [10, 0]], [[0, 0], [0, 6]]], dtype=float)
    seen = blocked_share((2, 2), corner, 50.0)
    assert seen == pytest.approx(0.637219, abs=5e-7)
    assert seen == pytest.approx((math.pi / 2 + math.atan(4) + math.atan(2)) / (2 * math.pi))


def test_blocked_share_before_one_wall():
    """Derived: wall 10 m long, 1 m in front of its middle: 2·atan(5)/2π."""
    seen = blocked_share((0, 0), np.array([[[-5, 1], [5, 1]]]), 50.0)
    assert seen == pytest.approx(0.437167, abs=5e-7)


def test_route_round_a_square():
    """Derived: block [-1, 1]², from (-3, 0) to (3, 0): 2·√5 + 2."""
    route = shortest_route((-3, 0), (3, 0), [box(-1, -1, 1, 1)])
    assert route.length_m == pytest.approx(2 * math.sqrt(5) + 2, abs=1e-9)
    assert route.length_m == pytest.approx(6.4721359550, abs=1e-9)


@pytest.mark.parametrize(("sides", "expected"), [(16, 4.505555), (64, 4.510893), (256, 4.511273)])
def test_route_round_a_disc(sides, expected):
    """Derived: the inscribed n-gon's taut string; limit 2·√3 + π/3. Inscribed is shorter."""
    turn = 2 * math.pi * np.arange(sides) / sides
    disc = Polygon(np.column_stack([np.cos(turn), np.sin(turn)]))
    length = shortest_route((-2, 0), (2, 0), [disc]).length_m
    assert length == pytest.approx(expected, abs=6e-7)
    assert length < 2 * math.sqrt(3) + math.pi / 3


LOT = Polygon([(0, 0), (10, 0), (9, 5), (10, 10), (0, 10)])
HOLE = Polygon([(3, 7), (5, 9), (4.6, 7), (5, 4)])
README_HOLE = Polygon([(3, 7), (5, 9), (4.5, 7), (5, 4)])


@pytest.mark.parametrize(
    ("start", "goal", "hole", "by", "expected"),
    [
        ((4, 4.5), (6, 4.5), HOLE, (5, 4), math.sqrt(5)),
        ((4, 8.5), (6, 8.5), HOLE, (5, 9), math.sqrt(5)),
        ((4.5, 1), (4, 8.5), README_HOLE, (3, 7), 7.987434076),
    ],
)
def test_routes_of_an_open_library(start, goal, hole, by, expected):
    """Read: extremitypathfinder, tests/test_cases.py and its README (MIT licence)."""
    route = shortest_route(start, goal, [hole], LOT)
    assert route.points == (start, by, goal)
    assert route.length_m == pytest.approx(expected, abs=1e-9)


def test_route_does_not_slip_through_a_shared_wall():
    """Derived: √8 + 4 + √17 + √11.25; two independent programs gave 14.3056347165."""
    route = shortest_route((2, 4), (15, 4.5), [box(4, 2, 8, 6), box(8, 3, 12, 8)])
    assert route.points == ((2, 4), (4, 2), (8, 2), (12, 3), (15, 4.5))
    assert route.length_m == pytest.approx(14.3056347165, abs=1e-9)


def test_hole_from_edge_to_edge_leaves_no_path():
    """Read: an issue thread of the same library; start and goal on either side."""
    with pytest.raises(NoWayRoundError):
        shortest_route((5, 1), (5, 9), [box(0, 4, 10, 5)], box(0, 0, 10, 10))


def test_nearest_legal_spot_of_a_court():
    """Computed beforehand by another program; its grid searches gave 16.957 and 16.802.

    A search that ends at the first place in sight of each corner gives 17.543.
    """
    house = Polygon(
        [(10, 10), (30, 10), (30, 30), (24, 30), (24, 14), (16, 14), (16, 30), (10, 30)]
    )
    ends = [
        [(16, 20), (16, 21)],
        [(24, 24), (24, 25)],
        [(16, 28), (16, 29)],
        [(10, 20), (10, 21)],
        [(19, 14), (21, 14)],
    ]
    openings = [LineString(e) for e in ends]
    zones = shapely.union_all([o.buffer(6.096 * 1.0005, quad_segs=64) for o in openings])
    lot = box(0, 0, 40, 50)
    region = lot.difference(zones).difference(house)
    route = nearest_by_route((20, 14.05), region, RouteGraph.build([house], lot))
    assert route.length_m == pytest.approx(16.7616, abs=5e-5)
    assert route.points[-1] == pytest.approx((21.854, 30.709), abs=5e-4)


def _shortfall(quad_segs):
    ring = shapely.Point(0, 0).buffer(1.0, quad_segs=quad_segs)
    return 100 * (1 - shapely.distance(ring.boundary, shapely.Point(0, 0))), ring.area / math.pi


@pytest.mark.parametrize(
    ("quad_segs", "shortfall_percent", "area_ratio"),
    [
        (4, 1.9215, 0.97450),
        (8, 0.4815, 0.99359),
        (16, 0.1205, 0.99839),
        (32, 0.0301, 0.99960),
        (64, 0.0075, 0.99990),
    ],
)
def test_buffers_are_drawn_short(quad_segs, shortfall_percent, area_ratio):
    """Derived: chord middles at cos(π/4q), area ratio (2q/π)·sin(π/2q): why zones grow."""
    short, area = _shortfall(quad_segs)
    assert short == pytest.approx(shortfall_percent, abs=5e-5)
    assert short == pytest.approx(100 * (1 - math.cos(math.pi / (4 * quad_segs))))
    assert area == pytest.approx(area_ratio, abs=5e-6)
    assert area == pytest.approx(2 * quad_segs / math.pi * math.sin(math.pi / (2 * quad_segs)))


def test_drawn_zone_makes_up_for_the_shortfall():
    """Edge of the drawn zone between 1.0003 and 1.0007 of the distance, for random outlines."""
    rng = np.random.default_rng(20)
    for _ in range(40):
        outline = shapely.convex_hull(shapely.MultiPoint(rng.uniform(0, 30, (6, 2))))
        edge = keep_out([outline], 20.0).exterior
        places = shapely.line_interpolate_point(edge, np.linspace(0, edge.length, 3000))
        measured = shapely.distance(outline, places) / 20.0
        assert measured.min() >= 1.0003
        assert measured.max() <= 1.0007


def test_share_of_points_at_exactly_20_that_measure_less():
    """Derived by trial: some 24 % of points set at 20 measure under 20; hence the tolerance."""
    turn = np.random.default_rng(3).uniform(0, 2 * math.pi, 20_000)
    points = shapely.points(12.3 + 20 * np.cos(turn), 45.6 + 20 * np.sin(turn))
    measured = distances(shapely.Point(12.3, 45.6), points)
    assert 0.1 < np.mean(measured < 20.0) < 0.5
    assert (measured > 20.0 - 1e-6).all()


@pytest.mark.parametrize(
    ("corners", "area"),
    [
        ([(0, 0), (4, 0), (4, 3)], 6.0),
        ([(0, 0), (4, 0), (4, 1), (1, 1), (1, 3), (0, 3)], 6.0),
        ([(0, 0), (2, 2), (2, 0), (0, 2)], 0.0),
    ],
)
def test_area_of_small_outlines(corners, area):
    """Derived; the last is a bow-tie, whose signed halves cancel."""
    assert signed_area_m2(corners) == area
    assert (ring_fault(corners) is None) == (area > 0)
