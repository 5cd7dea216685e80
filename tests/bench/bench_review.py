"""Speed of the review, as ratios against bare distance calls and floors timed in the same run.

Run `python tests/bench/bench_review.py` from the top of the checkout.
"""

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import shapely

TOP = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(TOP))

from siteplan.plan import load  # noqa: E402
from siteplan.plan.edits import stand  # noqa: E402
from siteplan.rules import review, review_scene  # noqa: E402
from siteplan.scene import resolve  # noqa: E402
from tests.helpers.builders import (  # noqa: E402
    box,
    building,
    fence,
    lot,
    make_plan,
    opening,
    standing,
    tree,
)

HOUSES, PER_HOUSE = 200, 15
KINDS = ["window", "door", "window", "fixed-window", "room-air-conditioner"]


def neighbourhood():
    """Return 200 houses in rows with 3,000 openings, a fence and a tree for each."""
    houses, openings, around = [], [], []
    for index in range(HOUSES):
        x, y = (index % 20) * 22.0, (index // 20) * 34.0
        name = f"h{index}"
        owner = "own" if index == 90 else "neighbour"
        houses.append(building(box(x, y, x + 13.0, y + 10.0), id=name, owner=owner))
        openings += [
            opening(
                f"o{index}-{k}",
                KINDS[k % len(KINDS)],
                building=name,
                wall=k % 4,
                offset_m=0.5 + 2.0 * (k // 4),
            )
            for k in range(PER_HOUSE)
        ]
        around.append(fence((x - 4.0, y - 6.0), (x - 4.0, y + 24.0), id=f"f{index}"))
        around.append(tree(x + 6.0, y + 18.0, id=f"t{index}"))
    x, y = (90 % 20) * 22.0, (90 // 20) * 34.0
    yard = lot(x - 4.0, y - 6.0, x + 18.0, y + 28.0)
    return make_plan(yard, *houses, *openings, *around, standing(x + 3.0, y + 20.0))


def seconds(work, repeat=60):
    """Return the median time of a call."""
    work()
    taken = []
    for _ in range(repeat):
        begin = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken)


def drag(plan):
    """Time single drag steps: the edit, the scene built on the last one, and the review."""
    x, y = plan.placement.at
    scene = resolve(plan)
    review_scene(scene)
    taken = []
    for step in range(60):
        begin = time.perf_counter()
        plan = stand(plan, (x + 0.01 * step, y + 0.005 * step), step)
        scene = resolve(plan, scene)
        review_scene(scene)
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken), max(taken)


def bare(plan):
    """Return a call of the vectorised distances over the pairs that the review measures."""
    scene = resolve(plan)
    setting, reach = scene.setting, scene.standing.reach
    targets = [setting.openings, setting.walls, setting.roofs, setting.around.shapes]
    return lambda: [shapely.distance(reach, one) for one in targets]


def whole(*commands, repeat=15):
    """Return the least time of each whole process, run by turns: the one least disturbed."""
    # An installed program has its modules compiled; so has this run after its first turn.
    env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    least = [float("inf")] * len(commands)
    for _ in range(repeat):
        for place, command in enumerate(commands):
            begin = time.perf_counter()
            subprocess.run(command, cwd=TOP, env=env, stdout=subprocess.DEVNULL, check=False)
            least[place] = min(least[place], time.perf_counter() - begin)
    return least


def main():
    """Print each figure beside its floor and limit."""
    np.seterr(all="raise", under="ignore")
    plan = neighbourhood()
    step, slowest = drag(plan)
    print(f"drag step, {HOUSES} buildings and {HOUSES * PER_HOUSE} openings: "
          f"median {step * 1e3:.2f} ms, slowest {slowest * 1e3:.2f} ms (limit 16 ms)")  # fmt: skip
    floor = seconds(bare(plan))
    scene = resolve(plan)
    full = seconds(lambda: review_scene(resolve(plan, scene)))
    print(f"review {full * 1e3:.2f} ms, bare distances {floor * 1e3:.2f} ms: "
          f"{full / floor:.2f} times (limit 4)")  # fmt: skip
    cold = seconds(lambda: review(plan), repeat=15)
    print(f"review with the scene built anew {cold * 1e3:.2f} ms: {cold / floor:.2f} times")
    for name in ("bad-placement", "good-placement", "narrow-lot"):
        sample = load(TOP / "samples" / f"{name}.siteplan")
        print(
            f"review of {name}: {seconds(lambda one=sample: review(one)) * 1e3:.2f} ms (limit 5 ms)"
        )
    import_floor, process = whole(
        [sys.executable, "-c", "import numpy, shapely, pydantic"],
        [sys.executable, "-m", "siteplan", "review", "samples/bad-placement.siteplan"],
    )
    print(f"whole process {process * 1e3:.0f} ms, bare imports {import_floor * 1e3:.0f} ms: "
          f"{process / import_floor:.2f} times (limit 2)")  # fmt: skip


if __name__ == "__main__":
    main()
