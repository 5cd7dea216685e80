"""The program as the shell sees it: whole processes, their streams and their ends."""

import fcntl
import json
import os
import signal
import subprocess
import sys
import termios
import time
from pathlib import Path

import psutil
import pytest

from siteplan.assets import sample

BAD = str(sample("bad-placement.siteplan"))
GOOD = str(sample("good-placement.siteplan"))
PROGRAM = [sys.executable, "-m", "siteplan"]


def siteplan(*arguments, env=None, **options):
    options = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE} | options
    return subprocess.run(
        [*PROGRAM, *arguments], env=os.environ | (env or {}), check=False, timeout=60, **options
    )


def test_findings_are_on_stdout_and_the_code_says_so():
    done = siteplan("review", BAD)
    assert (done.returncode, done.stderr) == (1, b"")
    assert "⬢ DANGER" in done.stdout.decode()


@pytest.mark.parametrize(
    "env",
    [
        {"LC_ALL": "C", "LANG": "C"},
        {"LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"},
        {"PYTHONIOENCODING": "ascii"},
        {"PYTHONIOENCODING": "latin-1"},
        {"PYTHONIOENCODING": "cp437"},
    ],
)
@pytest.mark.parametrize("language", ["en", "es"])
def test_any_encoding_of_the_terminal_will_do(env, language):
    done = siteplan("review", BAD, "--language", language, env=env)
    assert (done.returncode, done.stderr) == (1, b"")
    assert b"DANGER" in done.stdout or b"PELIGRO" in done.stdout
    assert b"?" not in done.stdout.replace(b"\n  ? ", b"")


def test_without_the_signs_met_and_not_judged_are_still_told_apart(tmp_path):
    tree = json.loads(sample("good-placement.siteplan").read_text(encoding="utf-8"))
    tree["accuracy"] = None
    done = siteplan(
        "review", "-", input=json.dumps(tree).encode(), env={"PYTHONIOENCODING": "ascii"}
    )
    assert done.returncode in {0, 1}
    assert b"\n  + " in done.stdout
    assert b"\n  ? " in done.stdout


def test_json_is_ascii_under_any_encoding():
    done = siteplan("review", BAD, "--json", env={"PYTHONIOENCODING": "utf-16"})
    assert json.loads(done.stdout.decode("utf-16"))["worst"] == "DANGER"
    assert siteplan("review", BAD, "--json").stdout.isascii()


def test_a_file_name_that_is_no_text_can_be_reviewed_and_named(tmp_path):
    name = os.fsencode(tmp_path) + b"/caf\xe9.siteplan"
    Path(os.fsdecode(name)).write_bytes(sample("good-placement.siteplan").read_bytes())
    done = siteplan("review", name)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"/caf" in done.stdout.splitlines()[0]
    assert json.loads(siteplan("review", name, "--json").stdout)["worst"] == "CAUTION"
    assert siteplan("review", name + b"x").returncode == 4


@pytest.mark.parametrize("unbuffered", ["", "1"])
@pytest.mark.parametrize("arguments", [["review", BAD], ["schema"]])
def test_a_full_disk_behind_stdout_ends_with_4_in_one_line(arguments, unbuffered):
    with Path("/dev/full").open("wb") as full:
        done = siteplan(*arguments, stdout=full, env={"PYTHONUNBUFFERED": unbuffered})
    assert done.returncode == 4
    assert done.stderr.count(b"\n") == 1
    assert b"No space left on device" in done.stderr


@pytest.mark.parametrize("unbuffered", ["", "1"])
def test_a_reader_who_goes_away_is_no_error_to_tell(unbuffered):
    reading, writing = os.pipe()
    os.close(reading)
    try:
        done = siteplan("review", BAD, stdout=writing, env={"PYTHONUNBUFFERED": unbuffered})
    finally:
        os.close(writing)
    # Whoever went away heard of no finding: the end must not be 0.
    assert done.returncode in {1, 4}
    assert done.stderr == b""


@pytest.mark.parametrize("arguments", [["review", GOOD], ["rules"], ["new", "-o", "-"]])
def test_closed_standard_output_ends_with_4(arguments):
    shell = ["/bin/sh", "-c", 'exec "$@" >&-', "sh", *PROGRAM, *arguments]
    done = subprocess.run(shell, capture_output=True, check=False, timeout=60)
    assert (done.returncode, done.stderr) == (4, b"siteplan: standard output is closed\n")


def test_everything_closed_still_ends_with_the_right_code():
    shell = ["/bin/sh", "-c", 'exec "$@" <&- 2>&-', "sh", *PROGRAM, "review", "-"]
    assert subprocess.run(shell, capture_output=True, check=False, timeout=60).returncode == 4


def test_standard_input_is_read_to_its_bound():
    with Path("/dev/zero").open("rb") as endless:
        done = siteplan("review", "-", stdin=endless)
    assert done.returncode == 3
    assert b"at most 40 MiB is read" in done.stderr


def test_a_new_plan_goes_to_stdout_whole(tmp_path):
    done = siteplan("new", "-o", "-", "--title", "Niño", env={"PYTHONIOENCODING": "ascii"})
    assert (done.returncode, done.stderr) == (0, b"")
    assert json.loads(done.stdout.decode("utf-8"))["title"] == "Niño"


def test_an_interrupt_ends_with_130_and_says_nothing(tmp_path):
    pipe = tmp_path / "never"
    os.mkfifo(pipe)
    # Reading a pipe that nobody closes waits for ever.
    running = subprocess.Popen(
        [*PROGRAM, "review", pipe], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    writer = os.open(pipe, os.O_WRONLY)
    os.write(writer, b"{")
    _wait_until_it_reads_again(running, writer)
    running.send_signal(signal.SIGINT)
    out, err = running.communicate(timeout=30)
    os.close(writer)
    assert (running.returncode, out, err) == (130, b"", b"")


def _wait_until_it_reads_again(running, pipe):
    """Wait until a process has taken what is in a pipe and sleeps, waiting for more.

    An interrupt that comes just before a call that waits is not seen until that call ends.
    """
    left = b"left"
    while running.poll() is None and (any(left) or not _sleeps(running.pid)):
        time.sleep(0.01)
        left = fcntl.ioctl(pipe, termios.FIONREAD, bytes(4))


def _sleeps(pid):
    return psutil.Process(pid).status() == psutil.STATUS_SLEEPING


def test_no_colour_reaches_a_pipe_or_who_does_not_want_it():
    assert b"\x1b" not in siteplan("review", BAD, env={"FORCE_COLOR": "1"}).stdout


NO_QT = """
import sys
class Blocker:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in {"PySide6", "pyqtgraph", "shiboken6"}:
            raise ImportError(name + " is not here")
sys.meta_path.insert(0, Blocker())
from siteplan.cli.main import main
sys.exit(main(sys.argv[1:]))
"""


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (["review", BAD], 1),
        (["rules"], 0),
        (["rules", "separation-opening"], 0),
        (["schema"], 0),
        (["new", "-o", "{out}.siteplan"], 0),
        (["draw", GOOD, "-o", "{out}.svg"], 0),
        (["draw", GOOD, "-o", "{out}.png"], 0),
    ],
)
def test_the_core_runs_where_qt_is_not_installed(tmp_path, arguments, code):
    given = [one.format(out=tmp_path / "out") for one in arguments]
    done = subprocess.run(
        [sys.executable, "-c", NO_QT, *given], capture_output=True, check=False, timeout=60
    )
    assert (done.returncode, done.stderr) == (code, b"")


LOADED = """
import sys
from siteplan.cli.main import main
main(sys.argv[1:])
print(" ".join(sorted({name.split(".")[0] for name in sys.modules})), file=sys.stderr)
"""


@pytest.mark.parametrize("plan", [BAD, GOOD])
def test_a_review_loads_neither_qt_nor_scipy_nor_typesetting(plan):
    done = subprocess.run(
        [sys.executable, "-c", LOADED, "review", plan], capture_output=True, check=True, timeout=60
    )
    loaded = set(done.stderr.decode().split())
    assert {"siteplan", "shapely", "numpy", "pydantic"} <= loaded
    assert not loaded & {"PySide6", "pyqtgraph", "shiboken6", "scipy", "typst", "pyproj"}
