"""Assigning 20 loads to two legs, beside scipy's integer solver on the same loads.

Run: python tests/bench/bench_power.py
"""

import time

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from siteplan.power.legs import assign_legs
from siteplan.power.loads import Load, clashes

COUNT = 20


def best_of(call, times=7):
    spans = []
    for _ in range(times):
        start = time.perf_counter()
        call()
        spans.append(time.perf_counter() - start)
    return min(spans)


def by_solver(watts):
    rows = np.array([np.append(2 * watts, -1.0), np.append(2 * watts, 1.0)])
    total = watts.sum()
    return milp(
        np.append(np.zeros(COUNT), 1.0),
        constraints=LinearConstraint(rows, [-np.inf, total], [total, np.inf]),
        integrality=np.append(np.ones(COUNT), 0),
        bounds=Bounds(0, np.append(np.ones(COUNT), np.inf)),
    )


def main():
    watts = np.random.default_rng(1).integers(10, 2000, size=COUNT).astype(float)
    loads = [Load("x", w, 2 * w) for w in watts]
    ours, solver = best_of(lambda: assign_legs(loads)), best_of(lambda: by_solver(watts))
    print(f"legs for {COUNT} loads: {1e3 * ours:.2f} ms; scipy milp {1e3 * solver:.1f} ms; "
          f"ratio {solver / ours:.0f}")  # fmt: skip
    print(f"clashes among {COUNT}: {1e3 * best_of(lambda: clashes(loads, 5000, 7000)):.1f} ms")


if __name__ == "__main__":
    main()
