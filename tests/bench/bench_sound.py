"""How long the sound layer takes; run as a script from the project's root.

The floor is a plain numpy evaluation of the same number of receiver-by-wall distances.
"""

import time

import numpy as np

from siteplan.sound import Screens, assess, contour_lines, level_grid, propagation
from siteplan.sound.rating import assumed_spectrum_db

SOURCE = (25.0, 20.0, 0.5)
POWER = assumed_spectrum_db(99.0, "low")


def best_ms(work, runs=7):
    times = []
    for _ in range(runs):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return 1000 * min(times)


def boundary(step=0.5):
    """Stand receivers on the 200 m boundary of a lot of 60 m by 40 m."""
    along = np.arange(0.0, 200.0, step)
    corners = np.array([(0, 0), (60, 0), (60, 40), (0, 40), (0, 0)])
    marks = np.array([0.0, 60.0, 100.0, 160.0, 200.0])
    x = np.interp(along, marks, corners[:, 0])
    y = np.interp(along, marks, corners[:, 1])
    return np.column_stack([x, y, np.full(len(along), 1.5)])


def scattered(count, length, seed=1):
    """Strew walls over the lot, none within 2 m of the source."""
    rng = np.random.default_rng(seed)
    middle = rng.uniform((1, 1), (59, 39), (count * 2, 2))
    middle = middle[np.hypot(*(middle - SOURCE[:2]).T) > 2 + length / 2][:count]
    angle = rng.uniform(0, np.pi, count)
    half = 0.5 * length * np.column_stack([np.cos(angle), np.sin(angle)])
    return np.stack([middle - half, middle + half], axis=1)


def onion(count):
    """Surround the source by rings of four walls: every path is cut by every ring."""
    walls = []
    for ring in range(count // 4):
        r = 3.0 + 0.25 * ring
        square = SOURCE[:2] + r * np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
        walls += [(square[i], square[(i + 1) % 4]) for i in range(4)]
    return np.array(walls)


def yard():
    """Fences in many pieces and twelve houses: 152 faces of walls and 48 of houses."""
    x = np.linspace(0, 60, 51)
    fence = np.stack([np.column_stack([x[:-1], 0 * x[1:]]), np.column_stack([x[1:], 0 * x[1:]])], 1)
    rows = [fence + np.array([0, y]) for y in (1.0, 30.0, 39.0)]
    houses = [
        np.array([(0, 0), (8, 0), (8, 6), (0, 6)]) + np.array([10 * (i % 6), 8 + 24 * (i // 6)])
        for i in range(12)
    ]
    return np.concatenate(rows), houses


def report(name, work, floor, target=None):
    took = best_ms(work)
    goal = f"  (target {target} ms)" if target else ""
    print(f"{name:52s} {took:8.1f} ms  {took / floor:6.1f} x floor{goal}")


def main():
    ears = boundary()
    walls = scattered(200, 4.0)
    ends = walls.reshape(-1, 2)
    floor = best_ms(lambda: np.hypot(*(ears[:, None, :2] - ends).transpose(2, 0, 1)).min(axis=1))
    print(f"floor: {len(ears)} receivers x {len(walls)} walls, distances   {floor:8.1f} ms")

    def scan(faces, houses=(), heights=()):
        return propagation(
            SOURCE, ears, POWER, Screens.build(faces, [1.8] * len(faces), houses, heights)
        )

    report("boundary scan, 200 scattered walls", lambda: scan(walls), floor, 50)
    fences, houses = yard()
    report(
        "boundary scan, 150 fence pieces + 12 houses",
        lambda: scan(fences, houses, [5.0] * 12),
        floor,
        50,
    )
    report("boundary scan, every path cut 50 times", lambda: scan(onion(200)), floor)

    def layer(faces, houses=(), heights=()):
        screens = Screens.build(faces, [1.8] * len(faces), houses, heights)
        grid = level_grid(
            (-20, -20, 80, 60), lambda at: assess(SOURCE[:2], at, 99.0, screens).level_dba
        )
        return contour_lines(grid, range(40, 81, 5))

    report("contour layer, 200 scattered walls", lambda: layer(walls), floor, 1000)
    report(
        "contour layer, 150 fence pieces + 12 houses",
        lambda: layer(fences, houses, [5.0] * 12),
        floor,
        1000,
    )


if __name__ == "__main__":
    main()
