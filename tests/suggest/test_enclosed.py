"""How walled in many places are, against the same told place by place; and its bounds."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.geometry.openness import blocked_share, sides_walled
from siteplan.suggest.enclosed import Walls, barred_cells, seen, seen_from

REACH, SIZE = 6.5, 0.8
PIECES = st.lists(st.tuples(*[st.integers(-90, 90)] * 4), min_size=2, max_size=7).map(
    lambda rows: np.array(rows, dtype=float).reshape(-1, 2, 2) / 10.0
)


def walls_of(segments, aside=SIZE / 2.0, turn=0.0):
    count = len(segments)
    return Walls(segments, np.full(count, REACH), SIZE, turn, np.zeros(count, dtype=bool), aside)


def real(segments):
    return segments[np.hypot(*(segments[:, 1] - segments[:, 0]).T) > 0.5]


@settings(max_examples=120, deadline=None)
@given(PIECES, st.sampled_from([0.0, 15.0, 41.0]))
def test_never_less_walled_than_told_place_by_place(segments, turn):
    places = np.array([[0.05, 0.07], [1.5, -1.2], [-2.2, 3.1]])
    # A wall through the machine itself bars its place by the rule on clear air already.
    gaps = shapely.distance(shapely.points(places)[:, None], shapely.linestrings(segments))
    segments = real(segments[gaps.min(axis=0) > SIZE / 2.0])
    found = seen_from(places, walls_of(segments, turn=turn))
    for row, place in enumerate(places.tolist()):
        if len(segments) < 2:
            continue
        told = sides_walled(tuple(place), SIZE, segments, REACH, turn)
        assert found.cornered[row] >= (told.count >= 2 and told.adjoining)
        assert found.flanked[row] >= (told.count >= 2)


@settings(max_examples=80, deadline=None)
@given(PIECES)
def test_share_of_bearings_as_told_place_by_place(segments):
    segments = real(segments)
    if len(segments) < 2:
        return
    found = seen_from(np.array([[0.05, 0.07]]), walls_of(segments, aside=0.0)).share[0]
    told = blocked_share((0.05, 0.07), segments, REACH)
    near = shapely.distance(shapely.Point(0.05, 0.07), shapely.linestrings(segments)) <= REACH
    # One wall alone is never asked about: it blocks less than half.
    assert found == pytest.approx(told if near.sum() > 1 else 0.0, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(PIECES, st.floats(-1.0, 1.0), st.floats(-1.0, 1.0))
def test_bounds_of_a_cell_hold_for_every_place_in_it(segments, dx, dy):
    segments = real(segments)
    if len(segments) < 2:
        return
    within, count = 0.7, len(segments)
    index = np.arange(count)[None], np.ones((1, count), dtype=bool)
    cell = seen(np.array([[0.0, 0.0]]), within, walls_of(segments, aside=0.0), index)
    length = max(1.0, float(np.hypot(dx, dy)))
    place = (within * dx / length, within * dy / length)
    assert cell.share[0] >= blocked_share(place, segments, REACH) - 1e-9
    told = sides_walled(place, SIZE, segments, REACH)
    sided = seen(np.array([[0.0, 0.0]]), within, walls_of(segments), index)
    assert sided.cornered[0] >= (told.count >= 2 and told.adjoining)


def test_open_ground_has_no_barred_cells_and_a_court_has():
    ring = np.array([[0, 0], [8, 0], [8, 8], [0, 8]], dtype=float)
    court = np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)
    ground = shapely.box(1, 1, 7, 7)
    barred = barred_cells(ground, walls_of(court), lambda found: found.cornered)
    assert barred.covers(shapely.box(2, 2, 6, 6))
    alone = barred_cells(ground, walls_of(court[:1]), lambda found: found.cornered)
    assert alone.is_empty
