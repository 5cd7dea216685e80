"""Runs the tests after making sure that Qt's system libraries are there: `python -m tests`."""

import os
import shutil
import subprocess
import sys

from siteplan.desk.preflight import missing_packages


def main() -> int:
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    missing = missing_packages(with_x=False)
    if missing:
        command = ["apt-get", "install", "-y", "--no-install-recommends", *missing]
        if os.geteuid() != 0 or shutil.which("apt-get") is None:
            print(f"The tests need system libraries; install them with: sudo {' '.join(command)}")
            return 2
        subprocess.run(["apt-get", "update", "-q"], check=False)
        subprocess.run(command, check=True)
    return subprocess.call([sys.executable, "-m", "pytest", "-n", "2", *sys.argv[1:]])


if __name__ == "__main__":
    sys.exit(main())
