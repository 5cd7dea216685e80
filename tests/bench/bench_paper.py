"""How long papers take: each set as a whole process, and again in the same process.

Run: PYTHONPATH=. python tests/bench/bench_paper.py
Aims: a whole process within 1.5 s, a second set in the same process within 0.3 s. The floor
beside them is a process that only imports what a set needs.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from siteplan.paper import documents
from siteplan.plan.store import load

ROOT = Path(__file__).resolve().parents[2]
KINDS = ("household", "records", "installer")
SAMPLES = ("bad-placement", "good-placement", "narrow-lot")
ROUNDS = 5
WHOLE_S, SECOND_S = 1.5, 0.3


def main() -> int:
    """Print the figures; 1 if an aim is missed."""
    floor = median(lambda: process("-c", "import numpy, shapely, pydantic, typst"))
    print(f"floor: a process that imports numpy, shapely, pydantic, typst: {floor:.3f} s")
    missed = False
    with tempfile.TemporaryDirectory() as folder:
        for name in SAMPLES:
            for kind in KINDS:
                whole, second = measure(name, kind, Path(folder) / "out.pdf")
                missed |= whole > WHOLE_S or second > SECOND_S
                print(
                    f"{name:16} {kind:10} whole process {whole:.3f} s, "
                    f"{whole / floor:.2f} x the floor; second in this process {second:.3f} s"
                )
    return int(missed)


def measure(name: str, kind: str, output: Path) -> tuple[float, float]:
    """Return the seconds of a whole process, and of a second set in this one."""
    path = ROOT / "samples" / f"{name}.siteplan"
    command = ("-m", "siteplan", "paper", str(path), "--for", kind, "-o", str(output), "--force")
    whole = median(lambda: process(*command))
    plan = load(path)
    documents.make(plan, kind)
    return whole, median(lambda: documents.make(plan, kind))


def process(*arguments: str) -> None:
    """Run Python in the checkout and wait for it."""
    subprocess.run([sys.executable, *arguments], cwd=ROOT, check=True)


def median(task: Callable[[], object]) -> float:
    """Return the median time of a task [s]."""
    times = []
    for _ in range(ROUNDS):
        begin = time.perf_counter()
        task()
        times.append(time.perf_counter() - begin)
    return statistics.median(times)


if __name__ == "__main__":
    sys.exit(main())
