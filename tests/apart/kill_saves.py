"""Kill a program at random moments while it edits and saves; the saved file must stay whole.

Run: python tests/apart/kill_saves.py [--kills 500] [--seed 1]

A child edits a plan and saves it in a loop, and says after each save that it is done. It is
killed with signal 9 at a random moment. The file must then load, and be either the last version
the child said was saved or the next one.
"""

import argparse
import os
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from siteplan.plan import edits, load, save  # noqa: E402 - the path comes first
from siteplan.plan.document import Backdrop, Plan  # noqa: E402


def edited(plan: Plan, version: int, rng: random.Random) -> Plan:
    """The plan with its machine moved and its title telling the version; of changing size."""
    size = rng.choice([0, 0, 100_000, 2_000_000])
    backdrop = Backdrop(media_type="image/png", data_base64="A" * size) if size else None
    moved = edits.stand(plan, (rng.uniform(-50, 50), rng.uniform(-50, 50)))
    return edits.with_fields(moved, title=f"version {version}", backdrop=backdrop)


def work_until_killed(file: Path, version: int, said: int, seed: str) -> None:
    rng = random.Random(seed)  # noqa: S311 - to be repeated, not to be secret
    plan = load(file)
    while True:
        version += 1
        plan = edited(plan, version, rng)
        save(plan, file)
        os.write(said, f"{version}\n".encode())


def kill_once(file: Path, version: int, delay_s: float, seed: str) -> int:
    """Let a child work, kill it, and return the last version it said was saved."""
    hearing, saying = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(hearing)
            work_until_killed(file, version, saying, seed)
        finally:
            os._exit(1)
    os.close(saying)
    time.sleep(delay_s)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "the child ended by itself"
    with os.fdopen(hearing, encoding="ascii") as stream:
        said = stream.read().split()
    return int(said[-1]) if said else version


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    rng = random.Random(args.seed)  # noqa: S311 - to be repeated, not to be secret
    found: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "lot.siteplan"
        sample = load(ROOT / "samples" / "good-placement.siteplan")
        save(edits.with_fields(sample, title="version 0"), file)
        version, most_parts, saves = 0, 0, 0
        for kill in range(args.kills):
            said = kill_once(file, version, rng.uniform(0.0, 0.05), f"{args.seed}/{kill}")
            there = int(load(file).title.removeprefix("version "))
            assert said <= there <= said + 1, f"kill {kill}: {said} was saved, {there} is there"
            found["killed before the save was told" if there > said else "as told"] += 1
            saves += there - version
            version = there
            parts = list(Path(folder).glob(".*.part"))
            found["killed in mid-write"] += len(parts) > 0
            most_parts = max(most_parts, len(parts))
            for part in parts:
                part.unlink()
    print(f"{args.kills} kills among {saves} saves: every file loaded and was one of the two")
    for what, times in found.most_common():
        print(f"  {times:5} {what}")
    print(f"  at most {most_parts} unfinished file beside it after a kill")
    return 0


if __name__ == "__main__":
    sys.exit(main())
