"""Zones as marks, and that a drawn keep-out zone errs outward."""

import math

import pytest
import shapely
from shapely import LineString, MultiPolygon, Point, Polygon, box

from siteplan.drawing.marks import Fill
from siteplan.drawing.zones import zone_marks
from siteplan.geometry.zones import keep_out


def drawn(marks):
    return shapely.union_all([Polygon(one.rings[0], one.rings[1:]) for one in marks])


def test_holes_and_parts_are_kept_and_lines_are_left_out():
    ring = box(0, 0, 10, 10) - box(4, 4, 6, 6)
    mixed = shapely.GeometryCollection([ring, box(20, 0, 21, 1), LineString([(0, 0), (30, 30)])])
    marks = zone_marks(mixed, "keep-out")
    assert all(isinstance(one, Fill) and one.role == "keep-out" for one in marks)
    assert drawn(marks).area == pytest.approx(96.0 + 1.0)


def test_nothing_draws_nothing():
    assert zone_marks(MultiPolygon([]), "standing-zone") == ()
    assert zone_marks(Point(0, 0), "standing-zone") == ()


@pytest.mark.parametrize("distance_m", [4.572, 6.096, 7.62])
def test_a_drawn_keep_out_zone_never_falls_short_of_its_distance(distance_m):
    zone = drawn(zone_marks(keep_out([box(0, 0, 3, 2)], distance_m), "keep-out"))
    for step in range(720):
        turn = math.radians(step / 2)
        rim = Point(3 + distance_m * math.cos(turn), 2 + distance_m * math.sin(turn))
        if rim.distance(box(0, 0, 3, 2)) <= distance_m:
            assert zone.contains(rim)
