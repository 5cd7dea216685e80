"""Runs the command line: `python -m siteplan`, and `siteplan` where it is installed."""

import gc
import sys

from siteplan.cli.main import main


def run() -> int:
    """Run the command of this process and return its exit code."""
    code = main()
    # As it ends, the interpreter looks through every object for garbage once more: a sixth of a
    # review's time, for memory that the system takes back in the same moment.
    gc.freeze()
    return code


if __name__ == "__main__":
    sys.exit(run())
