"""Kill the real window at random moments while someone edits and saves; nothing may be lost.

Run: python tests/apart/kill_edits.py [--kills 500] [--parallel 2] [--interval-ms 300] [--seed 1]

Each time a window without a screen opens the plan, edits it every few milliseconds and saves now
and then, telling through a pipe what it did and when. It is killed with signal 9. Then

- the plan file and its backup must load, the file no older than the last save that was told;
- every edit older than the recovery interval must be in the file or in the recovery file that the
  next start would offer; on a machine that does other work, too, some lateness is let pass;
- the next window must take over the lock that the killed one left behind.

The interval is shortened so that many kills take little time; 1000 is what the program uses.
"""

import argparse
import contextlib
import multiprocessing
import os
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))
os.environ["QT_QPA_PLATFORM"] = "offscreen"

from PySide6.QtCore import QSettings, QTimer  # noqa: E402 - the path comes first
from PySide6.QtWidgets import QWidget  # noqa: E402

from siteplan.assets import sample  # noqa: E402
from siteplan.desk import launch, recovery  # noqa: E402
from siteplan.desk.canvas import view  # noqa: E402, F401 - read once here, not in every child
from siteplan.desk.judge import Judge  # noqa: E402, F401
from siteplan.desk.session import Session  # noqa: E402
from siteplan.desk.steps import panels  # noqa: E402, F401
from siteplan.desk.window import Window  # noqa: E402
from siteplan.plan import edits, load, save  # noqa: E402
from siteplan.plan.document import Plan  # noqa: E402
from siteplan.plan.store import backup_of  # noqa: E402

_EVERY_MS = 7
# Beyond the interval, for a busy machine and a slow disk; how many needed it is told.
_SLACK_S = 0.5
# Some save often, some hardly ever.
_SAVING_SHARES, _UNDO_SHARE, _DRAG_SHARE = (0.003, 0.1), 0.05, 0.2


class Silent:
    """Stands in for the dialogs; a dialog here is a failure."""

    def tell(self, _parent: QWidget, message: str) -> None:
        raise AssertionError(message)


class Hand:
    """The one who edits: in the child, until it is killed."""

    def __init__(self, window: Window, number: int, said: int, rng: random.Random) -> None:
        self.window, self.number, self.said, self.rng = window, number, said, rng
        self.saving_share = rng.choice(_SAVING_SHARES)
        self.timer = QTimer(window)
        self.timer.timeout.connect(self.act)
        self.timer.start(_EVERY_MS)

    def tell(self, what: str) -> None:
        # After a kill the count goes on from the last edit told, which may be one that was lost.
        number = numbered(self.window.session.plan)
        os.write(self.said, f"{what} {number} {time.monotonic()}\n".encode())

    def act(self) -> None:
        dice = self.rng.random()
        if dice < self.saving_share:
            self.tell("saving")
            assert self.window.files.save()
            self.tell("saved")
        elif dice < self.saving_share + _UNDO_SHARE and self.window.session.undo_stack.canUndo():
            # Back and forth: what was undone and redone is not lost either.
            self.window.session.undo_stack.undo()
            self.window.session.undo_stack.redo()
        else:
            self.edit(drag=dice > 1.0 - _DRAG_SHARE)

    def edit(self, *, drag: bool) -> None:
        session = self.window.session
        if drag:
            session.begin_gesture()
        for _ in range(3 if drag else 1):
            self.number += 1
            assert session.edit("edit", self.change)
            self.tell("edit")
        session.end_gesture()

    def change(self, plan: Plan) -> Plan:
        at = (self.rng.uniform(0, 25), self.rng.uniform(0, 40))
        return edits.with_fields(edits.stand(plan, at), title=f"edit {self.number}")


def work_until_killed(place: "Place", number: int, said: int, seed: str) -> None:
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    QSettings.setPath(
        QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(place.folder / "settings")
    )
    recovery.DELAY_MS = place.interval_ms
    app = launch.application()
    window = Window(Session(), Silent(), place.kept)  # type: ignore[arg-type] # asks nothing here
    window.show()
    window.load()
    assert window.files.open(place.file)
    assert not window.session.read_only, "the lock of the killed window was not taken over"
    app.processEvents()
    hand = Hand(window, number, said, random.Random(seed))  # noqa: S311 - to be repeated
    hand.tell("ready")
    app.exec()


@dataclass
class Place:
    """Where one series of kills works."""

    folder: Path
    interval_ms: int

    @property
    def file(self) -> Path:
        return self.folder / "lot.siteplan"

    @property
    def kept(self) -> Path:
        return self.folder / "recovery"

    @property
    def log(self) -> Path:
        return self.folder / "child.log"


@dataclass
class Told:
    """What the child said before it died."""

    edits: dict[int, float] = field(default_factory=dict)
    saving: int = -1
    saved: int = -1

    def hear(self, text: str) -> None:
        # The last line may be cut.
        for line in text.splitlines():
            what, number, when = line.split()
            if what == "edit":
                self.edits[int(number)] = float(when)
            elif what in ("saving", "saved"):
                setattr(self, what, int(number))


def _child(place: Place, number: int, pipe: tuple[int, int], seed: str) -> None:
    try:
        os.close(pipe[0])
        with place.log.open("wb") as log:
            os.dup2(log.fileno(), 2)
        work_until_killed(place, number, pipe[1], seed)
    finally:
        os._exit(1)


def kill_once(place: Place, number: int, delay_s: float, seed: str) -> tuple[Told, float]:
    """Let a child work, kill it; return what it said and when it died."""
    pipe = os.pipe()
    child = os.fork()
    if child == 0:
        _child(place, number, pipe, seed)
    os.close(pipe[1])
    with os.fdopen(pipe[0], "r", encoding="ascii") as stream:
        first = stream.readline()
        assert first.startswith("ready"), place.log.read_text()
        time.sleep(delay_s)
        killed = time.monotonic()
        os.kill(child, signal.SIGKILL)
        _, status = os.waitpid(child, 0)
        assert os.WIFSIGNALED(status), place.log.read_text()
        rest = stream.read()
    assert "Traceback" not in place.log.read_text(), place.log.read_text()
    told = Told()
    told.hear(rest.rpartition("\n")[0])
    return told, killed


def numbered(plan: Plan) -> int:
    return int(plan.title.removeprefix("edit "))


def check(place: Place, before: int, told: Told, killed: float) -> tuple[int, float, str]:
    """Return the number that survived, the age of the oldest lost edit [s], and how it was kept."""
    there = numbered(load(place.file))
    floor, most = max(before, told.saved), max(before, told.saving)
    assert floor <= there <= most, f"saved {floor}, being saved {most}, there {there}"
    if backup_of(place.file).exists():
        assert numbered(load(backup_of(place.file))) <= there
    found = list(recovery.leftovers(place.kept))
    kept = max([there, *(numbered(one.plan) for one in found)])
    lost = [when for number, when in told.edits.items() if number > kept]
    age = killed - min(lost) if lost else 0.0
    assert age <= place.interval_ms / 1000 + _SLACK_S, f"an edit {age:.2f} s old is lost"
    for one in found:
        recovery.discard(one)
    how = "in the recovery file" if kept > there else "in the saved file"
    return max([kept, *told.edits]), age, how


def series(place: Place, kills: int, seed: str) -> tuple[Counter[str], list[float]]:
    """Kill so many times in one folder, and count what was found."""
    rng = random.Random(seed)  # noqa: S311 - to be repeated, not to be secret
    plan = load(sample("bad-placement.siteplan"))
    save(edits.with_fields(plan, title="edit 0"), place.file)
    counted: Counter[str] = Counter()
    ages, number = [], 0
    for kill in range(kills):
        before = numbered(load(place.file))
        delay = rng.uniform(0.0, 3.0 * place.interval_ms / 1000)
        told, killed = kill_once(place, number, delay, f"{seed}/{kill}")
        parts = [*place.folder.rglob(".*.part")]
        number, age, how = check(place, before, told, killed)
        ages.append(age)
        counted[how] += 1
        counted["edits"] += len(told.edits)
        counted["kills in the middle of a save"] += told.saving > told.saved
        counted["kills in the middle of a write"] += bool(parts)
        for part in parts:
            part.unlink()
        with contextlib.suppress(FileNotFoundError):
            for lock in place.kept.glob("*.lock"):
                lock.unlink()
    return counted, ages


def _series(task: tuple[Path, int, int, str]) -> tuple[Counter[str], list[float]]:
    folder, interval_ms, kills, seed = task
    folder.mkdir()
    return series(Place(folder, interval_ms), kills, seed)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, default=500)
    parser.add_argument("--parallel", type=int, default=2)
    parser.add_argument("--interval-ms", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    began = time.perf_counter()
    shares = [len(range(one, args.kills, args.parallel)) for one in range(args.parallel)]
    with tempfile.TemporaryDirectory() as scratch:
        tasks = [
            (Path(scratch) / str(one), args.interval_ms, share, f"{args.seed}/{one}")
            for one, share in enumerate(shares)
        ]
        with multiprocessing.get_context("fork").Pool(args.parallel) as pool:
            done = pool.map(_series, tasks, chunksize=1)
    counted = sum((one for one, _ in done), Counter())
    ages = sorted(age for _, some in done for age in some)
    print(f"{args.kills} kills in {time.perf_counter() - began:.0f} s: no saved file was lost")
    for what, times in counted.most_common():
        print(f"  {times:7} {what}")
    oldest, middle = (round(1000 * one) for one in (ages[-1], ages[len(ages) // 2]))
    late = sum(1000 * one > args.interval_ms for one in ages)
    print(f"  {late:7} kills with an edit lost that was older than the interval")
    print(f"  oldest lost edit {oldest} ms before the kill, median {middle} ms;", end=" ")
    print(f"the interval is {args.interval_ms} ms")
    return 0


if __name__ == "__main__":
    sys.exit(main())
