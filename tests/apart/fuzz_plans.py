"""Throw changed plan files at loading and review; nothing but a clear error may come of it.

Run: python tests/apart/fuzz_plans.py --count 100000 [--seed 1] [--keep DIR]

Each file is a sample or an awkward lot with parts or bytes changed. Of each, only a plan with a
review that can be told, or one line of error, may come; within the time allowed, and without
memory growing. Files that break this are kept, and the run then ends with 1.
"""

import argparse
import json
import random
import resource
import signal
import sys
import time
import traceback
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from siteplan.cli import night as night_command  # noqa: E402
from siteplan.errors import SiteplanError  # noqa: E402 - the path comes first
from siteplan.plan import store  # noqa: E402
from siteplan.plan.document import Plan  # noqa: E402
from siteplan.rules import review  # noqa: E402
from siteplan.rules.cards import cards  # noqa: E402
from siteplan.rules.findings import as_tree  # noqa: E402
from siteplan.rules.missing import grouped  # noqa: E402
from siteplan.rules.night import night_plan  # noqa: E402
from siteplan.rules.sound import levels  # noqa: E402
from siteplan.scene import resolve  # noqa: E402
from siteplan.suggest.answers import answers  # noqa: E402
from siteplan.words import Manner  # noqa: E402
from tests.helpers.mutations import changed_bytes, changed_tree  # noqa: E402
from tests.helpers.zoo import zoo  # noqa: E402

LONGEST_S = 5.0
MANNERS = (Manner("en", "feet"), Manner("es", "metres"))


class TookTooLongError(Exception):
    """A file took longer than allowed."""


def corpus() -> list[bytes]:
    """The plan files that are changed."""
    files = [path.read_bytes() for path in sorted((ROOT / "samples").glob("*.siteplan"))]
    return files + [store.dump(plan).encode() for plan in zoo().values()]


def mutant(seed: int, number: int, files: list[bytes], trees: list[object]) -> bytes:
    """The changed file of this number; the same for the same seed."""
    rng = random.Random(f"{seed}/{number}")  # noqa: S311 - to be repeated, not to be secret
    which = rng.randrange(len(files))
    if rng.random() < 0.25:
        return changed_bytes(rng, files[which])
    return changed_tree(rng, trees[which])


def judge(raw: bytes) -> str:
    """Load and review; return what came of it, or raise what must not come."""
    try:
        plan = store.parse(raw)
    except SiteplanError as error:
        line = str(error)
        assert line.isprintable(), line
        assert len(line) < 700, line
        return "refused"
    assert store.parse(store.dump(plan).encode()) == plan
    found = review(plan)
    for outcome in (*found.findings, *found.met, *found.unjudged):
        for manner in MANNERS:
            json.dumps(as_tree(outcome, manner), allow_nan=False)
    night(plan)
    for one in answers(resolve(plan), found):
        assert all(line.say(manner) for line in one.lines for manner in MANNERS)
    for line in grouped(found.unjudged):
        assert all(line.text.say(manner) for manner in MANNERS)
    return f"reviewed, worst {found.worst}"


def night(plan: Plan) -> None:
    """Tell levels, fuel, hours and cards of a plan, as the command does."""
    scene = resolve(plan)
    tree = night_command.tree("p", plan, levels(scene), night_plan(scene), MANNERS[0])
    json.dumps(tree, allow_nan=False)
    for card in cards(plan):
        assert list(night_command._card(card, MANNERS[1]))


def _too_long(_number: int, _frame: object) -> None:
    raise TookTooLongError


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=1000)
    parser.add_argument("--start", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, default=Path("/tmp/fuzz-plans"))  # noqa: S108
    args = parser.parse_args()
    signal.signal(signal.SIGPROF, _too_long)
    files = corpus()
    trees = [json.loads(raw) for raw in files]
    ends: Counter[str] = Counter()
    failures, slowest, began = 0, (0.0, -1), time.perf_counter()
    settled_kb = 0
    for number in range(args.start, args.start + args.count):
        raw = mutant(args.seed, number, files, trees)
        # The time of this process alone counts, so that others' work does not.
        start = time.process_time()
        signal.setitimer(signal.ITIMER_PROF, LONGEST_S)
        try:
            ends[judge(raw)] += 1
        except BaseException as error:
            if isinstance(error, KeyboardInterrupt):
                raise
            failures += 1
            args.keep.mkdir(parents=True, exist_ok=True)
            (args.keep / f"{args.seed}-{number}.siteplan").write_bytes(raw)
            print(f"{args.seed}-{number}: {traceback.format_exc(limit=-3)}", flush=True)
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
        slowest = max(slowest, (time.process_time() - start, number))
        if number == args.start + args.count // 10:
            settled_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    peak_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(f"{args.count} files from {len(files)} plans in {time.perf_counter() - began:.0f} s")
    for end, times in ends.most_common():
        print(f"  {times:7} {end}")
    print(f"  {failures:7} failures")
    print(f"  slowest {slowest[0] * 1000:.0f} ms (number {slowest[1]})")
    print(f"  memory {settled_kb / 1024:.0f} MiB after a tenth, {peak_kb / 1024:.0f} MiB at most")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
