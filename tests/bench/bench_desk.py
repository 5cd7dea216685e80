"""How long the window takes: one drag step, and the first window from a cold interpreter.

Run as `python tests/bench/bench_desk.py`; nothing here is part of the test suite. The frame
of a 60 Hz screen, 16.7 ms, is the floor a drag step is held against; a repaint of the whole
view without any plan, taken in the same run, is the floor of the painting.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from siteplan.assets import sample
from siteplan.desk import launch, making
from siteplan.desk.session import Session
from siteplan.desk.window import Window
from siteplan.plan import Plan, edits, load

FRAME_MS = 1000.0 / 60.0
STEPS = 150


def plan_with_openings(count: int) -> Plan:
    """The bad sample with so many openings on its own house and garage."""
    plan = load(sample("bad-placement.siteplan"))
    number = 0
    while len(plan.openings) < count:
        spot = making.Spot("house", number % 4, 0.2 + 0.45 * (number // 4), 0.4)
        plan, _ = making.add_opening(plan, "window", spot)
        number += 1
    return plan


def drag_steps() -> tuple[list[float], dict[str, float], float]:
    """Times of whole drag steps [ms], their parts at the median, and a bare repaint."""
    launch.application()
    session = Session(plan_with_openings(30))
    window = Window(session, folder=Path(tempfile.mkdtemp()))
    window.resize(1600, 1000)
    window.show()
    window.load()
    QTest.qWait(400)
    at = session.plan.placement.at
    session.begin_gesture()
    times: list[float] = []
    cpu: list[float] = []
    edit_times: list[float] = []
    for step in range(STEPS):
        place = (at[0] + 0.03 * (step % 60), at[1] + 0.05 * (step % 80))
        start, used = time.perf_counter(), time.process_time()
        session.edit("move", lambda plan, p=place, t=step * 3.0: edits.stand(plan, p, t))
        middle = time.perf_counter()
        QApplication.processEvents()
        times.append((time.perf_counter() - start) * 1000)
        cpu.append((time.process_time() - used) * 1000)
        edit_times.append((middle - start) * 1000)
    session.end_gesture()
    repaints = []
    for _ in range(20):
        start = time.perf_counter()
        window.canvas.viewport.repaint()
        repaints.append((time.perf_counter() - start) * 1000)
    parts = {
        "edit, review and signals": statistics.median(edit_times),
        "processor time (other programs left out)": statistics.median(cpu),
    }
    window.session.undo_stack.setClean()
    window.close()
    return times, parts, statistics.median(repaints)


FIRST_WINDOW = """
import time, sys
start = time.perf_counter()
from pathlib import Path
from PySide6.QtCore import QTimer
from siteplan.desk import launch
from siteplan.desk.session import Session
from siteplan.desk.window import Window
app = launch.application()
session = Session()
window = Window(session, folder=Path(sys.argv[1]))
window.show()
app.processEvents()
shown = time.perf_counter() - start
window.files.open_demo()
window.load()
app.processEvents()
print(shown, time.perf_counter() - start, time.process_time())
"""


def first_window() -> tuple[float, float, float]:
    """Seconds until the window shows, the drawing is there, and of processor (medians of 5)."""
    shown, ready, cpu = [], [], []
    for _ in range(5):
        done = subprocess.run(
            [sys.executable, "-c", FIRST_WINDOW, tempfile.mkdtemp()],
            capture_output=True,
            text=True,
            check=True,
        )
        one, other, used = done.stdout.split()
        cpu.append(float(used))
        shown.append(float(one))
        ready.append(float(other))
    return statistics.median(shown), statistics.median(ready), statistics.median(cpu)


def main() -> None:
    """Print the figures."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    times, parts, repaint = drag_steps()
    median, worst = statistics.median(times), sorted(times)[int(len(times) * 0.95)]
    print(f"drag step, 30 openings, 1600x1000: median {median:.1f} ms, 95 % {worst:.1f} ms")
    print(f"  = {median / FRAME_MS:.2f} of a 60 Hz frame; whole repaint {repaint:.1f} ms")
    for name, value in parts.items():
        print(f"  of which {name}: {value:.1f} ms")
    shown, ready, cpu = first_window()
    print(f"first window {shown:.2f} s, with the drawing {ready:.2f} s (interpreter start apart)")
    print(f"  processor time of the whole process {cpu:.2f} s")


if __name__ == "__main__":
    main()
