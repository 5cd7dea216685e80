"""How long `siteplan review` takes as a whole process, beside the floor of its libraries.

Run: python tests/bench/bench_start.py [--rounds 15]

The floor is a bare `python -c "import numpy, shapely, pydantic"`. Both are run in turn, so that
a busy machine slows both alike; medians are compared.
"""

import argparse
import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PLAN = str(ROOT / "samples" / "bad-placement.siteplan")
# As an installed program runs: its byte code is kept, like that of its libraries.
ENV = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
COMMANDS = {
    "floor": [sys.executable, "-c", "import numpy, shapely, pydantic"],
    "review": [sys.executable, "-m", "siteplan", "review", PLAN],
    "review --json": [sys.executable, "-m", "siteplan", "review", PLAN, "--json"],
    "rules": [sys.executable, "-m", "siteplan", "rules"],
    "schema": [sys.executable, "-m", "siteplan", "schema"],
}


def seconds(command: list[str]) -> float:
    began = time.perf_counter()
    subprocess.run(command, cwd=ROOT, env=ENV, stdout=subprocess.DEVNULL, check=False)
    return time.perf_counter() - began


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--rounds", type=int, default=15)
    rounds = parser.parse_args().rounds
    taken: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for command in COMMANDS.values():
        seconds(command)  # warms the file cache and writes the byte code
    for _ in range(rounds):
        for name, command in COMMANDS.items():
            taken[name].append(seconds(command))
    floor = statistics.median(taken["floor"])
    for name, times in taken.items():
        middle = statistics.median(times)
        print(f"{name:<14} {middle * 1000:7.0f} ms   {middle / floor:5.2f} x floor")


if __name__ == "__main__":
    main()
