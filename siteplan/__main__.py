"""Runs the command line: `python -m siteplan`."""

import sys

from siteplan.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
