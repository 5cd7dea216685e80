import numpy as np
import pytest
import shapely
from shapely import affinity, box

from siteplan.geometry import sight
from siteplan.geometry.ground import lay_ground
from siteplan.geometry.sight import sees


def scene(seed):
    """Return turned blocks and free places among them."""
    rng = np.random.default_rng(seed)
    blocks = [
        affinity.rotate(box(x, y, x + rng.uniform(1, 4), y + rng.uniform(1, 4)), rng.uniform(0, 90))
        for x, y in rng.uniform(0, 30, (14, 2))
    ]
    places = rng.uniform(-3, 36, (60, 2))
    solid = shapely.union_all(blocks)
    return blocks, places[~shapely.contains(solid, shapely.points(places))]


@pytest.mark.parametrize("chunk", [1, 500, 150_000])
@pytest.mark.parametrize("seed", range(4))
def test_sight_agrees_with_every_line_tried_against_every_block(monkeypatch, seed, chunk):
    monkeypatch.setattr(sight, "_CHUNK", chunk)
    blocks, places = scene(seed)
    near, far = np.meshgrid(np.arange(len(places)), np.arange(len(places)))
    pairs = np.random.default_rng(seed).permuted([near.ravel(), far.ravel()], axis=1)
    pairs = pairs[0], pairs[1]
    found = sees(places, places, pairs, lay_ground(blocks).walls)
    lines = shapely.linestrings(np.stack([places[pairs[0]], places[pairs[1]]], axis=1))
    core = shapely.union_all(blocks).buffer(-1e-6, join_style="mitre")
    assert found.tolist() == (~shapely.intersects(core, lines)).tolist()
    assert 0.05 < found.mean() < 0.95


def test_no_pairs_and_no_walls():
    nothing = np.zeros(0, dtype=np.int64)
    places = np.array([[0.0, 0.0], [1.0, 1.0]])
    assert sees(places, places, (nothing, nothing), np.empty((0, 2, 2))).shape == (0,)
    pair = np.array([0]), np.array([1])
    assert sees(places, places, pair, np.empty((0, 2, 2))).tolist() == [True]


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_line_straight_into_a_corner_is_cut_whatever_way_it_looks(turn):
    """Bearings begin at north: a span there runs over the seam."""
    block = affinity.rotate(box(-1, 3, 1, 5), turn, origin=(0, 0))
    eye = np.array([[0.0, 0.0]])
    beyond = np.array([affinity.rotate(shapely.Point(0, 9), turn, origin=(0, 0)).coords[0]])
    walls = lay_ground([block]).walls
    pair = np.array([0]), np.array([0])
    assert not sees(eye, beyond, pair, walls)[0]
    assert sees(eye, beyond / 4, pair, walls)[0]
    diamond = affinity.rotate(affinity.rotate(box(-1, 3, 1, 5), 45), turn, origin=(0, 0))
    assert not sees(eye, beyond, pair, lay_ground([diamond]).walls)[0]
