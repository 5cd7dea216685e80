import math

import numpy as np
import pytest
import shapely
from shapely import LineString, Polygon, affinity, box

from siteplan.geometry.ground import SINK_M, lay_ground

L_SHAPE = Polygon([(0, 0), (4, 0), (4, 1), (1, 1), (1, 3), (0, 3)])


def test_corners_that_bulge_are_turning_corners_with_their_neighbours():
    ground = lay_ground([L_SHAPE])
    assert {tuple(c) for c in ground.corners} == {(0, 0), (4, 0), (4, 1), (1, 3), (0, 3)}
    at = {tuple(c): i for i, c in enumerate(ground.corners.tolist())}
    here = at[4, 1]
    assert ground.before[here].tolist() == [4, 0]
    assert ground.after[here].tolist() == [1, 1]


def test_courtyard_corners_turn_where_the_solid_bulges_into_it():
    ring = box(0, 0, 10, 10).difference(Polygon([(2, 2), (8, 2), (8, 8), (5, 4), (2, 8)]))
    assert {tuple(c) for c in lay_ground([ring]).corners} == {
        (0, 0),
        (10, 0),
        (10, 10),
        (0, 10),
        (5, 4),
    }


@pytest.mark.parametrize("shape", [L_SHAPE, box(0, 0, 3, 3).difference(box(1, 1, 2, 2))])
@pytest.mark.parametrize("turn", [0.0, 17.0])
def test_walls_are_sunk_a_micrometre_into_the_solid(shape, turn):
    solid = affinity.rotate(shape, turn)
    walls = lay_ground([solid]).walls
    lines = shapely.linestrings(walls)
    assert shapely.contains(solid, lines).all()
    assert shapely.distance(lines, solid.boundary) == pytest.approx(SINK_M, rel=1e-3)
    # Solid to the left: a step to the left of each wall's middle stays inside.
    along = walls[:, 1] - walls[:, 0]
    left = np.column_stack([-along[:, 1], along[:, 0]]) / np.hypot(*along.T)[:, None]
    assert shapely.contains_xy(solid, *(walls.mean(axis=1) + 1e-3 * left).T).all()


def test_walls_beside_a_spike_stay_inside_it():
    spike = Polygon([(0, 0), (10, 0.02), (0, 0.04)])
    lines = shapely.linestrings(lay_ground([spike]).walls)
    assert shapely.contains(spike, lines).all()
    assert (shapely.distance(lines, spike.boundary) > 1e-9).all()


def test_solids_that_stand_alone_keep_their_exact_corners():
    turned = affinity.rotate(box(0, 0, 1, 1), 12.3456)
    ground = lay_ground([turned, box(5, 5, 6, 6)])
    exact = {tuple(c) for c in turned.exterior.coords}
    assert exact <= {tuple(c) for c in ground.corners}


def test_corners_of_crossing_solids_come_back_exactly_and_their_union_is_right():
    turned = affinity.rotate(box(0, 0, 4, 4), 12.3456)
    other = box(1.23456789, 3, 6, 5)
    ground = lay_ground([turned, other])
    union = turned.union(other)
    assert ground.solid.symmetric_difference(union).area < 0.001 * union.length
    outer = {
        c
        for c in [*turned.exterior.coords, *other.exterior.coords]
        if union.touches(shapely.Point(c))
    }
    assert outer <= {tuple(c) for c in ground.corners}


def test_a_line_is_a_centimetre_thick():
    ground = lay_ground([LineString([(0, 0), (4, 0), (4, 3)])])
    assert ground.solid.bounds == pytest.approx((-0.005, -0.005, 4.005, 3.005))


def test_a_line_a_solid_and_nothing_together():
    ground = lay_ground([None, Polygon(), box(0, 0, 1, 1), LineString([(3, 0), (3, 1)])])
    assert len(ground.solid.geoms) == 2
    assert lay_ground([]).walls.shape == (0, 2, 2)


def test_the_frame_round_a_boundary_is_no_turning_corner():
    lot = Polygon([(0, 0), (10, 0), (10, 10), (6, 10), (6, 4), (4, 4), (4, 10), (0, 10)])
    ground = lay_ground([], lot)
    assert {tuple(c) for c in ground.corners} == {(6, 4), (4, 4)}
    assert ground.solid.contains(shapely.Point(5, 7))
    assert ground.solid.contains(shapely.Point(-5000, 7))


def test_one_point_in_common_is_plugged_by_a_millimetre():
    ground = lay_ground([box(0, 0, 5, 5), box(5, 5, 10, 10)])
    assert len(ground.solid.geoms) == 1
    assert ground.solid.area == pytest.approx(50.0, abs=3e-6)
    gap = ground.solid.intersection(LineString([(4.9, 5.1), (5.1, 4.9)])).length
    assert gap == pytest.approx(math.sqrt(2) * 0.001, rel=1e-6)
