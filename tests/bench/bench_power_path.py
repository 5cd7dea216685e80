"""A drag of the machine with five cords: routes, rules and figures in one frame of 16.7 ms.

Run it from the project's folder: python tests/bench/bench_power_path.py
"""

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from siteplan.assets import sample
from siteplan.plan import load
from siteplan.plan.document import Plan
from siteplan.plan.edits import stand
from siteplan.plan.machine import Cord
from siteplan.rules import power_report, review_scene
from siteplan.rules.power import OF_THE_PLACE, OF_THE_PLAN
from siteplan.scene import Scene, resolve

FRAME_MS = 16.7
STEPS = 60


def five_cords() -> Plan:
    """Return the good sample with five cords, round the house and to the inlet."""
    plan = load(sample("good-placement.siteplan"))
    ends = [(15.0, 8.0), (5.0, 12.0), (24.5, 12.0), (3.0, 5.0)]
    more = tuple(
        Cord(
            id=f"cord-{place}",
            receptacle="duplex-a" if place % 2 else "duplex-b",
            end=end,
            gauge_awg=12,
            pieces_m=(30.48,),
            outdoor_jacket=True,
            coiled=False,
        )
        for place, end in enumerate(ends)
    )
    placement = plan.placements[0].model_copy(update={"cords": (*plan.placements[0].cords, *more)})
    return plan.model_copy(update={"placements": (placement,)})


def power_rules(scene: Scene) -> int:
    """Run the rules of the power path alone."""
    assert scene.standing is not None
    count = sum(1 for judge in OF_THE_PLAN.values() for _ in judge(scene))
    for judge in OF_THE_PLACE.values():
        count += sum(1 for _ in judge(scene, scene.standing))
    return count


def timed(steps: Callable[[int], object]) -> list[float]:
    """Return the time of each step [ms]."""
    found = []
    for step in range(STEPS):
        start = time.perf_counter()
        steps(step)
        found.append(1000.0 * (time.perf_counter() - start))
    return found


def main() -> None:
    """Print median and worst of a drag step: routes and power rules, the review, the report."""
    plan = five_cords()
    scene = resolve(plan)
    review_scene(scene)
    power_report(scene)

    def moved(step: int) -> Scene:
        return resolve(stand(plan, (13.0 + 0.05 * step, 31.5 + 0.02 * step)), scene)

    rows = {
        "routes of 5 cords": lambda step: moved(step).cord_runs,
        "routes and power rules": lambda step: power_rules(moved(step)),
        "whole review": lambda step: review_scene(moved(step)),
        "power report": lambda step: power_report(moved(step)),
    }
    for name, run in rows.items():
        times = timed(run)
        worst = sorted(times)[int(0.95 * len(times))]
        share = statistics.median(times) / FRAME_MS
        print(
            f"{name:<26} median {statistics.median(times):6.2f} ms, 95 % {worst:6.2f} ms, "
            f"{share:4.0%} of a frame"
        )


if __name__ == "__main__":
    main()
