"""A dragging hand is not stopped by the search for garbage."""

import subprocess
import sys

STARTED = """
import gc, os
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from PySide6.QtCore import QTimer
from siteplan.desk import launch
app = launch.application()
QTimer.singleShot(1500, app.quit)
launch.run(None)
print(gc.get_freeze_count(), len(gc.get_objects()))
"""


def test_what_stands_at_the_start_is_not_looked_through_again(tmp_path):
    env = {"HOME": str(tmp_path), "PATH": "/usr/bin:/bin", "PYTHONPATH": ":".join(sys.path)}
    done = subprocess.run(
        [sys.executable, "-c", STARTED], capture_output=True, text=True, env=env, check=True
    )
    frozen, watched = (int(word) for word in done.stdout.split())
    assert frozen > 2 * watched
