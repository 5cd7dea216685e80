"""A dense quarter of real building outlines: every distance against an independent computation.

The outlines are the open `bubenec` data set in the momepy wheel (OpenStreetMap and cadastre
data of a quarter of Prague), brought from web-mercator to metres on the ground (UTM 33N).
Openings are generated. The brute force works on plain coordinates and knows no geometry engine.
"""

from functools import cache
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pyogrio
import pytest
import shapely
from pyproj import Transformer

from siteplan.plan.document import Plan
from siteplan.plan.edits import stand
from siteplan.rules import review_scene
from siteplan.rules.findings import Finding
from siteplan.scene import resolve
from tests.helpers.builders import building, make_plan, opening, standing

FT = 0.3048
KINDS = ["window", "door", "window", "fixed-window", "room-air-conditioner", "window",
         "foundation-vent", "exhaust-hood"]  # fmt: skip


def outlines() -> list[np.ndarray]:
    """Return the outlines in metres about the quarter's middle, none repeated at its end."""
    spec = find_spec("momepy")
    assert spec is not None
    assert spec.origin is not None
    path = Path(spec.origin).parent / "datasets" / "bubenec.gpkg"
    _, _, wkb, _ = pyogrio.raw.read(path, layer="buildings")
    to_ground = Transformer.from_crs(3857, 32633, always_xy=True)
    shapes = shapely.transform(shapely.from_wkb(wkb), to_ground.transform, interleaved=False)
    rings = [np.asarray(shape.simplify(0.05).exterior.coords)[:-1] for shape in shapes]
    middle = np.concatenate(rings).mean(axis=0)
    return [np.round(ring - middle, 3) for ring in rings]


@cache
def quarter() -> Plan:
    """Return the quarter as a plan: every wall over 2.5 m has an opening in its middle."""
    houses, openings = [], []
    for index, ring in enumerate(outlines()):
        house = building(
            [(x, y) for x, y in ring.tolist()],
            id=f"b{index}",
            owner="own" if index == 0 else "neighbour",
        )
        houses.append(house)
        for wall, (a, b) in enumerate(zip(ring, np.roll(ring, -1, axis=0), strict=True)):
            long = float(np.hypot(*(b - a)))
            if long > 2.5:
                name = f"o{index}-{wall}"
                kind = KINDS[len(openings) % len(KINDS)]
                openings.append(
                    opening(name, kind, building=house.id, wall=wall, offset_m=long / 2 - 0.5)
                )
    return make_plan(*houses, *openings, standing())


def to_segments(point: np.ndarray, a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Return the distance of a point to each segment a-b."""
    along = b - a
    share = ((point - a) * along).sum(axis=1) / (along**2).sum(axis=1)
    foot = a + np.clip(share, 0.0, 1.0)[:, None] * along
    return np.hypot(*(foot - point).T)


def crosses(p: np.ndarray, q: np.ndarray, a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Tell which segments a-b the segment p-q crosses."""

    def side(u, v, w):
        return (v[..., 0] - u[..., 0]) * (w[..., 1] - u[..., 1]) - (v[..., 1] - u[..., 1]) * (
            w[..., 0] - u[..., 0]
        )

    return (side(p, q, a) * side(p, q, b) <= 0) & (side(a, b, p) * side(a, b, q) <= 0)


def brute(corners: np.ndarray, a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Return the distance of a rectangle's edge to each segment."""
    best = np.full(len(a), np.inf)
    for p, q in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        best = np.minimum(best, to_segments(p, a, b))
        one, other = p[None, :], q[None, :]
        for end in (a, b):
            best = np.minimum(best, [to_segments(point, one, other)[0] for point in end])
        best[crosses(p, q, a, b)] = 0.0
    return best


def frame(x: float, y: float, turn_deg: float) -> np.ndarray:
    """Return the corners of the standard machine, 0.6 m by 0.8 m, turned clockwise."""
    turn = np.radians(turn_deg)
    ahead, right = np.array([np.sin(turn), np.cos(turn)]), np.array([np.cos(turn), -np.sin(turn)])
    signs = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    return np.array([(x, y)]) + [0.3 * s * right + 0.4 * t * ahead for s, t in signs]


def inside(point: np.ndarray, ring: np.ndarray) -> bool:
    """Tell whether a point lies in a ring, by counting crossings of a ray."""
    a, b = ring, np.roll(ring, -1, axis=0)
    spans = (a[:, 1] > point[1]) != (b[:, 1] > point[1])
    share = (point[1] - a[spans, 1]) / (b[spans, 1] - a[spans, 1])
    xs = a[spans, 0] + share * (b[spans, 0] - a[spans, 0])
    return bool((xs > point[0]).sum() % 2)


def places(count: int) -> list[tuple[float, float, float]]:
    rng = np.random.default_rng(20261125)
    return [
        (float(x), float(y), float(turn))
        for x, y, turn in zip(
            rng.uniform(-150, 150, count),
            rng.uniform(-150, 150, count),
            rng.uniform(0, 360, count),
            strict=True,
        )
    ]


@cache
def segments() -> tuple[np.ndarray, np.ndarray]:
    """Return both ends of every generated opening, from its wall alone."""
    rings = {one.id: np.asarray(one.outline) for one in quarter().buildings}
    starts, ends = [], []
    for one in quarter().openings:
        ring = rings[one.building]
        a, b = ring[one.wall], ring[(one.wall + 1) % len(ring)]
        unit = (b - a) / np.hypot(*(b - a))
        starts.append(a + unit * one.offset_m)
        ends.append(a + unit * (one.offset_m + one.width_m))
    return np.array(starts), np.array(ends)


def test_the_quarter_is_dense():
    plan = quarter()
    assert len(plan.buildings) > 120
    assert len(plan.openings) > 900


def test_the_places_are_near_enough_to_tell():
    a, b = segments()
    near = [(brute(frame(*place), a, b) < 25 * FT).sum() for place in places(12)]
    assert sum(count > 0 for count in near) >= 6


@pytest.mark.parametrize("place", places(12), ids=lambda p: f"{p[0]:.0f},{p[1]:.0f}")
def test_distances_are_those_of_the_brute_force(place):
    x, y, turn = place
    scene = resolve(stand(quarter(), (x, y), turn), resolve(quarter()))
    corners = frame(x, y, turn)
    a, b = segments()
    expected = brute(corners, a, b)
    # An opening on a wall that the machine straddles may lie wholly within the frame.
    within = np.array([inside(point, corners) for point in a])
    assert scene.opening_m == pytest.approx(np.where(within, 0.0, expected), abs=1e-6)
    for house, told in zip(quarter().buildings, scene.wall_m, strict=True):
        ring = np.asarray(house.outline)
        found = brute(corners, ring, np.roll(ring, -1, axis=0)).min()
        if inside(corners[0], ring):
            found = 0.0
        assert told == pytest.approx(found, abs=1e-6)


@pytest.mark.parametrize("place", places(12), ids=lambda p: f"{p[0]:.0f},{p[1]:.0f}")
def test_the_ladder_names_each_opening_by_its_brute_distance(place):
    x, y, turn = place
    said = review_scene(resolve(stand(quarter(), (x, y), turn), resolve(quarter())))
    a, b = segments()
    distance = brute(frame(x, y, turn), a, b)
    expected = {}
    for one, gap in zip(quarter().openings, distance.tolist(), strict=True):
        for word, limit in (("DANGER", 15 * FT), ("WARNING", 20 * FT), ("CAUTION", 25 * FT)):
            if one.kind != "fixed-window" and gap < limit - 1e-6:
                expected[one.id] = word
                break
    told = {
        one.subjects[0]: one.signal
        for one in said.findings
        if isinstance(one, Finding) and one.rule == "separation-opening"
    }
    assert told == expected
