"""A real town quarter: 144 building footprints that ship with the momepy package.

Read from the installed package and turned from web Mercator into metres; nothing of it is
copied. Web Mercator stretches lengths here by 1.56.
"""

from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pyogrio.raw
import pyproj
import pytest
import shapely
from shapely import LineString

from siteplan.geometry.clearance import distances, footprint, witness_lines
from siteplan.geometry.routes import NoWayRoundError, RouteGraph
from siteplan.geometry.shapes import segments

pytestmark = pytest.mark.filterwarnings("ignore::RuntimeWarning:pyogrio")


@pytest.fixture(scope="module")
def buildings():
    # The package itself is not imported: its data is all that is wanted.
    path = Path(find_spec("momepy").origin).parent / "datasets" / "bubenec.gpkg"
    _, _, wkb, _ = pyogrio.raw.read(path, layer="buildings", columns=[])
    turn = pyproj.Transformer.from_crs(3857, 32633, always_xy=True)
    shapes = shapely.transform(
        shapely.from_wkb(wkb), lambda at: np.column_stack(turn.transform(at[:, 0], at[:, 1]))
    )
    middle = shapely.get_coordinates(shapes).mean(axis=0)
    return shapely.transform(shapes, lambda at: at - middle)


def free_places(buildings, count, seed):
    solid = shapely.union_all(buildings)
    places = np.random.default_rng(seed).uniform(-190, 190, (4 * count, 2))
    return places[shapely.distance(solid, shapely.points(places)) > 0.5][:count]


def least(machine, walls):
    """Return the least distance between two sets of segments, by numpy alone.

    Segments that do not cross are nearest at an end of one of them.
    """

    def ends_to(points, lines):
        start, along = lines[:, 0], lines[:, 1] - lines[:, 0]
        share = ((points[:, None] - start) * along).sum(-1) / (along * along).sum(-1)
        foot = start + np.clip(share, 0, 1)[..., None] * along
        return np.hypot(*(points[:, None] - foot).T).min()

    return min(ends_to(machine.reshape(-1, 2), walls), ends_to(walls.reshape(-1, 2), machine))


def test_clearances_in_a_town_agree_with_plain_numpy(buildings):
    for number, place in enumerate(free_places(buildings, 12, 1)):
        machine = footprint(tuple(place), 0.6, 0.9, 31.0 * number)
        if shapely.intersects(buildings, machine).any():
            continue
        measured = distances(machine, buildings)
        plain = [least(segments([machine]), segments([b])) for b in buildings]
        assert measured == pytest.approx(plain, abs=1e-9)
        lines = witness_lines(machine, buildings)
        assert np.hypot(*(lines[:, 1] - lines[:, 0]).T) == pytest.approx(measured, abs=1e-9)


def test_routes_in_a_town_cut_no_building_and_lead_back_the_same(buildings):
    graph = RouteGraph.build(buildings)
    core = shapely.union_all(buildings, grid_size=0.001).buffer(-0.002, join_style="mitre")
    shapely.prepare(core)
    places = [tuple(place) for place in free_places(buildings, 40, 2)]
    found = 0
    for start, goal in zip(places[::2], places[1::2], strict=True):
        try:
            route = graph.route(start, goal)
        except NoWayRoundError:
            # The quarter has closed courtyards; then there is no way back either.
            with pytest.raises(NoWayRoundError):
                graph.route(goal, start)
            continue
        found += 1
        assert not core.intersects(LineString(route.points))
        assert route.length_m >= np.hypot(*np.subtract(goal, start)) - 1e-9
        assert graph.route(goal, start).length_m == pytest.approx(route.length_m, abs=1e-9)
    assert found >= 5
