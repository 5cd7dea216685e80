"""Entry point of the command line."""

import argparse
from collections.abc import Sequence

from siteplan import __version__


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    parser = argparse.ArgumentParser(prog="siteplan")
    parser.add_argument("--version", action="version", version=f"siteplan {__version__}")
    parser.parse_args(arguments)
    return 0
