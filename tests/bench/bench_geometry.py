"""Speed of the geometry, as ratios against libraries and floors timed in the same run.

Run `python tests/bench/bench_geometry.py` from the top of the checkout.
"""

import math
import statistics
import time

import numpy as np
import shapely
from extremitypathfinder import PolygonEnvironment
from shapely import Polygon

from siteplan.geometry.clearance import distances, footprint, with_outlet
from siteplan.geometry.nearest import nearest_by_route
from siteplan.geometry.openness import blocked_share, horizon, sides_walled
from siteplan.geometry.routes import RouteGraph
from siteplan.geometry.zones import keep_out_of_centre, room_within


def seconds(work, repeat=7):
    """Return the median time of a call and its last answer."""
    answer, taken = work(), []
    for _ in range(repeat):
        begin = time.perf_counter()
        answer = work()
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken), answer


def rotated_blocks(corners, seed):
    """Return turned rectangles that stand apart, on a jittered grid, and its size."""
    rng = np.random.default_rng(seed)
    count = corners // 4
    side = math.ceil(math.sqrt(count))
    blocks = []
    for index in range(count):
        middle = np.array([index % side, index // side]) * 10.0 + 5.0 + rng.uniform(-1, 1, 2)
        width, length = rng.uniform(2.5, 5.0, 2)
        blocks.append(footprint(tuple(middle), width, length, rng.uniform(0, 360)))
    return blocks, side * 10.0


def routes(corners, queries=21):
    blocks, size = rotated_blocks(corners, corners)
    rng = np.random.default_rng(7)
    free = shapely.unary_union(blocks).buffer(0.01)
    places = [p for p in rng.uniform(0, size, (400, 2)) if not free.contains(shapely.Point(p))]
    pairs = [(tuple(a), tuple(b)) for a, b in zip(places[::2], places[1::2], strict=False)]
    pairs = pairs[:queries]
    frame = [(-5.0, -5.0), (size + 5, -5.0), (size + 5, size + 5), (-5.0, size + 5)]
    holes = [
        np.asarray(shapely.orient_polygons(b, exterior_cw=True).exterior.coords)[:-1]
        for b in blocks
    ]

    def library():
        env = PolygonEnvironment()
        env.store(frame, holes, validate=False)
        return env

    own_build, graph = seconds(lambda: RouteGraph.build(blocks, Polygon(frame)), 5)
    lib_build, env = seconds(library, 1)
    own_ask, own = seconds(lambda: [graph.route(a, b).length_m for a, b in pairs], 3)
    lib_ask, lib = seconds(lambda: [env.find_shortest_path(a, b)[1] for a, b in pairs], 1)
    worst = max(abs(a - b) for a, b in zip(own, lib, strict=True))
    own_all, lib_all = own_build + own_ask, lib_build + lib_ask
    print(
        f"routes, {corners} corners, {len(pairs)} queries: build {own_build * 1e3:.2f} ms"
        f" (extremitypathfinder {lib_build * 1e3:.0f}), query {own_ask / len(pairs) * 1e3:.2f} ms"
        f" ({lib_ask / len(pairs) * 1e3:.1f}); build and queries {lib_all / own_all:.1f}x faster,"
        f" build {lib_build / own_build:.1f}x, queries {lib_ask / own_ask:.1f}x;"
        f" lengths differ by at most {worst:.1e} m"
    )


def openness():
    rng = np.random.default_rng(1)
    for count in (100, 1000, 4000):
        middle, half = rng.uniform(-60, 60, (count, 2)), rng.normal(0, 3, (count, 2))
        walls = np.stack([middle - half, middle + half], axis=1)
        for name, work in (
            ("horizon of 720 rays", lambda w=walls: horizon((0, 0), w, 30.0)),
            ("blocked share", lambda w=walls: blocked_share((0, 0), w, 30.0)),
            ("sides walled", lambda w=walls: sides_walled((0, 0), 0.8, w, 6.0)),
        ):
            print(f"{name}, {count} walls: {seconds(work, 51)[0] * 1e3:.3f} ms")


def clearance():
    rng = np.random.default_rng(2)
    ends = rng.uniform(0, 400, (3000, 1, 2)) + rng.uniform(-0.5, 0.5, (3000, 2, 2))
    openings = shapely.linestrings(ends)
    machine = with_outlet(footprint((200, 200), 0.6, 0.9, 30.0), (200.4, 200.6))
    own = seconds(lambda: distances(machine, openings), 51)[0]
    bare = seconds(lambda: shapely.distance(machine, openings), 51)[0]
    print(
        f"clearance to 3000 openings: {own * 1e3:.3f} ms, {own / bare:.2f}x bare shapely.distance"
    )


def zones():
    rng = np.random.default_rng(3)
    frame = footprint((0, 0), 0.6, 0.9, 30.0)
    for count, side in ((30, 40), (300, 140), (3000, 400)):
        turn = rng.uniform(0, 2 * math.pi, count)
        middle = rng.uniform(0, side, (count, 2))
        half = 0.45 * np.column_stack([np.cos(turn), np.sin(turn)])
        openings = shapely.linestrings(np.stack([middle - half, middle + half], axis=1))
        lot = shapely.box(0, 0, side, side)

        def room(openings=openings, lot=lot):
            zone = keep_out_of_centre(openings, 6.096, frame, (0.5, 0.6))
            return room_within(lot, frame, 1.5).difference(zone)

        taken, region = seconds(room, 5)
        floor = seconds(
            lambda o=openings: shapely.union_all(shapely.buffer(o, 6.1, quad_segs=64)), 5
        )[0]
        print(
            f"room for a machine among {count} openings: {taken * 1e3:.1f} ms,"
            f" {taken / floor:.1f}x the zone of a mere point (buffers and union),"
            f" {region.area:.0f} m² left"
        )


def nearest_spot():
    blocks, size = rotated_blocks(100, 11)
    graph = RouteGraph.build(blocks, shapely.box(-5, -5, size + 5, size + 5))
    corners = shapely.get_coordinates(blocks[0].exterior)
    start = tuple(corners[0] + 0.01 * (corners[0] - np.array(blocks[0].centroid.coords[0])))
    region = shapely.box(size - 8, size - 8, size, size)
    for block in blocks:
        region = region.difference(block.buffer(2.0, quad_segs=64))
    taken, route = seconds(lambda: nearest_by_route(start, region, graph), 21)
    print(f"nearest spot on foot among 100 corners: {taken * 1e3:.2f} ms ({route.length_m:.2f} m)")


if __name__ == "__main__":
    clearance()
    openness()
    zones()
    nearest_spot()
    for size in (100, 500):
        routes(size)
