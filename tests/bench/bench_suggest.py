"""Speed of the standing zone and of the search, beside testing a grid by the same rules.

Run `python tests/bench/bench_suggest.py` from the top of the checkout. Times are of the
processor, medians; the grid of 0.1 m is sampled and its time reckoned up.
"""

import math
import statistics
import time
from functools import partial

import numpy as np

from siteplan.assets import sample
from siteplan.plan import load
from siteplan.scene import resolve
from siteplan.suggest import spots
from siteplan.suggest.zone import found_at, placed, standing_zone
from tests.helpers import builders as b

GRID_M, TRIED = 0.1, 150


def seconds(work, repeat=5):
    """Return the median processor time of a call and its last answer."""
    answer, taken = work(), []
    for _ in range(repeat):
        begin = time.process_time()
        answer = work()
        taken.append(time.process_time() - begin)
    return statistics.median(taken), answer


def town(houses):
    """Return a plan of houses of 30 openings each, one to every 40 m of ground."""
    side = math.ceil(math.sqrt(houses))
    rng = np.random.default_rng(houses)
    parts = [b.lot(0.0, 0.0, 40.0 * side, 40.0 * math.ceil(houses / side))]
    for number in range(houses):
        x, y = 40.0 * (number % side) + 12.0, 40.0 * (number // side) + 14.0
        width, depth = rng.uniform(10.0, 16.0), rng.uniform(8.0, 12.0)
        name = f"house-{number}"
        parts.append(b.building(b.box(x, y, x + width, y + depth), id=name))
        for index in range(30):
            wall, place = index % 4, index // 4
            long = width if wall % 2 == 0 else depth
            offset = 0.1 + place * (long - 1.2) / 8.0
            parts.append(
                b.opening(f"o-{number}-{index}", building=name, wall=wall, offset_m=offset,
                          width_m=min(0.9, (long - 1.2) / 9.0))
            )  # fmt: skip
    return b.make_plan(*parts, b.standing(2.0, 2.0, turn_deg=30.0))


def zones():
    for houses in (1, 100):
        plan = town(houses)
        scene = placed(resolve(plan))
        taken, zone = seconds(partial(drawn, plan, scene), 5 if houses == 1 else 1)
        print(f"zone, {30 * houses} openings: {taken * 1e3:.1f} ms, {zone.allowed.area:.0f} m²")
        against_grid(scene, zone, taken)


def drawn(plan, scene):
    zone = standing_zone(plan, scene=scene)
    assert not zone.allowed.is_empty
    return zone


def against_grid(scene, zone, taken):
    """Print how much longer the rules take at every place of a grid."""
    low_x, low_y, high_x, high_y = zone.ground.bounds
    rng = np.random.default_rng(5)
    places = rng.uniform((low_x, low_y), (high_x, high_y), (TRIED, 2))
    begin = time.process_time()
    for x, y in places.tolist():
        found_at(scene, (x, y), zone.turn_deg)
    one = (time.process_time() - begin) / TRIED
    whole = one * zone.ground.area / GRID_M**2
    print(f"  grid of {GRID_M} m by the same rules: {whole:.0f} s, {whole / taken:.0f} times that")


def searched(plan):
    return spots(plan, scene=resolve(plan))


def searches():
    for name in ("good-placement", "bad-placement", "narrow-lot"):
        plan = load(sample(f"{name}.siteplan"))
        taken, found = seconds(partial(searched, plan))
        print(f"places, {name}: {taken * 1e3:.0f} ms, {len(found.places)} ({found.passes})")


if __name__ == "__main__":
    zones()
    searches()
