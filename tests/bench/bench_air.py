"""Speed of the blood model against scipy's solve_ivp, measured in the same run.

Run: PYTHONPATH=. python tests/bench/bench_air.py
1,000 openings, 24 h, steps of one minute. The solver is timed on a sample of openings and scaled.
Two ways of calling it are shown: restarted at each minute's new concentration, as the data are; and
for steady air, where it may choose its own long steps and our stepping gains least.
"""

import time

import numpy as np
from scipy.integrate import solve_ivp

from siteplan.air.blood import BODIES, cohb_percent

OPENINGS, STEPS, SAMPLE = 1000, 1440, 10
MINUTES = np.arange(1.0, STEPS + 1.0)
ENDS = np.concatenate([[0.0], MINUTES])
BODY = BODIES["public"]
LOSS, START = BODY.loss_per_min, 0.0075


def rooms() -> np.ndarray:
    """Return rooms that fill toward different levels, with gusts from minute to minute."""
    rng = np.random.default_rng(7)
    level = rng.uniform(20.0, 3000.0, (OPENINGS, 1))
    filling = rng.uniform(0.3, 3.0, (OPENINGS, 1))
    smooth = level * -np.expm1(-filling * MINUTES / 60.0)
    return smooth * rng.uniform(0.7, 1.3, (OPENINGS, STEPS))


def minute_by_minute(ppm: np.ndarray) -> np.ndarray:
    """Return COHb [%] with the solver restarted at each jump of the concentration."""
    gain, h, found = BODY.gain_per_min(ppm), START, []
    for index in range(STEPS):
        solved = solve_ivp(
            lambda _t, y, a: a - LOSS * y / (1.0 - y),
            (ENDS[index], ENDS[index + 1]),
            [h],
            args=(gain[index],),
            rtol=1e-8,
            atol=1e-10,
        )
        h = solved.y[0, -1]
        found.append(100.0 * h)
    return np.array(found)


def smooth_call(ppm: np.ndarray) -> np.ndarray:
    """Return COHb [%] of a steady concentration by one call with the solver's own steps."""
    gain = float(BODY.gain_per_min(ppm.mean()))
    solved = solve_ivp(
        lambda _t, y: gain - LOSS * y / (1.0 - y), (0.0, STEPS), [START], t_eval=MINUTES,
        rtol=1e-6, atol=1e-8,
    )  # fmt: skip
    return 100.0 * solved.y[0]


def timed(call, sample):
    """Return seconds for all openings, scaled from the sample, and the sample's curves."""
    begin = time.perf_counter()
    curves = np.stack([call(row) for row in sample])
    return (time.perf_counter() - begin) / len(sample) * OPENINGS, curves


def best_of(count, call):
    """Return the shortest of several runs [s] and the last result."""
    times = []
    for _ in range(count):
        begin = time.perf_counter()
        result = call()
        times.append(time.perf_counter() - begin)
    return min(times), result


def main() -> None:
    """Print seconds, ratios and the largest differences."""
    ppm = rooms()
    own, curves = best_of(3, lambda: cohb_percent(MINUTES, ppm))
    print(f"siteplan: {OPENINGS} openings x {STEPS} steps in {own:.3f} s")
    seconds, theirs = timed(minute_by_minute, ppm[:SAMPLE])
    apart = np.abs(curves[:SAMPLE] - theirs).max()
    print(
        f"solve_ivp, minute by minute: {seconds:.0f} s (scaled from {SAMPLE}), ratio"
        f" {seconds / own:.0f}, largest difference {apart:.1e} % COHb"
    )
    steady = np.broadcast_to(ppm.mean(axis=1, keepdims=True), ppm.shape)
    own_steady, curves = best_of(3, lambda: cohb_percent(MINUTES, steady))
    seconds, theirs = timed(smooth_call, steady[:SAMPLE])
    apart = np.abs(curves[:SAMPLE] - theirs).max()
    print(
        f"solve_ivp, steady air, its own steps: {seconds:.1f} s (scaled from {SAMPLE}), ratio"
        f" {seconds / own_steady:.0f}, largest difference {apart:.1e} % COHb"
    )


if __name__ == "__main__":
    main()
