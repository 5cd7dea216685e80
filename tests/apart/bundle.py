"""Builds the one-folder bundle with PyInstaller and starts it: `python tests/apart/bundle.py`.

Needs the `bundle` extra. The window is started without a screen and closed by the program
itself once it stands; the review of the demo lot must come out as it does from a checkout.
"""

import argparse
import os
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = """
import sys
from siteplan.cli.main import main
sys.exit(main())
"""
# Loaded by name at run time, so PyInstaller cannot see them.
HIDDEN = ("pydantic.deprecated.decorator", "PySide6.QtOpenGL", "PySide6.QtSvg", "PySide6.QtTest")
LEFT_OUT = ("tkinter", "matplotlib", "IPython", "pytest")


def build(folder: Path) -> Path:
    """Build the bundle below `folder` and return its program."""
    script = folder / "siteplan_program.py"
    script.write_text(PROGRAM, encoding="utf-8")
    command = [sys.executable, "-m", "PyInstaller", "--noconfirm", "--log-level=WARN", "--onedir"]
    command += ["--name=siteplan", f"--distpath={folder / 'dist'}", f"--workpath={folder / 'work'}"]
    command += [f"--specpath={folder}", f"--paths={ROOT}", "--collect-submodules=siteplan"]
    for name in ("resources", "samples"):
        command.append(f"--add-data={ROOT / name}{os.pathsep}siteplan/_shared/{name}")
    command += [f"--hidden-import={name}" for name in HIDDEN]
    command += [f"--exclude-module={name}" for name in LEFT_OUT]
    subprocess.run([*command, str(script)], check=True, cwd=folder)
    return folder / "dist" / "siteplan" / "siteplan"


def start(program: Path) -> None:
    """Run the bundle's commands and its window, away from the checkout."""
    away = {"PATH": "/usr/bin:/bin", "HOME": str(program.parent), "LANG": "C.UTF-8"}
    review = subprocess.run(
        [program, "review", ROOT / "samples" / "bad-placement.siteplan"],
        env=away, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert review.returncode == 1, review.stderr
    assert "DANGER" in review.stdout
    drawn = program.parent / "drawn.svg"
    sample = ROOT / "samples" / "good-placement.siteplan"
    subprocess.run([program, "draw", sample, "-o", drawn], env=away, check=True)
    paper = program.parent / "paper.pdf"
    household = ["--for", "household", "-o", paper]
    subprocess.run([program, "paper", sample, *household], env=away, check=True)
    assert paper.read_bytes().startswith(b"%PDF-")
    window = subprocess.Popen([program], env=away | {"QT_QPA_PLATFORM": "offscreen"})
    try:
        window.wait(timeout=8)
    except subprocess.TimeoutExpired:
        window.terminate()
        window.wait(timeout=10)
    else:
        msg = f"the window ended by itself with {window.returncode}"
        raise SystemExit(msg)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--keep", type=Path, help="build here and keep the bundle")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        folder = args.keep or Path(scratch)
        folder.mkdir(parents=True, exist_ok=True)
        program = build(folder)
        start(program)
        size = sum(one.stat().st_size for one in program.parent.rglob("*") if one.is_file())
        print(f"bundle built and started: {program} ({size / 2**20:.0f} MiB)")


if __name__ == "__main__":
    main()
