"""Entry point of the command line."""

import argparse
import os
import sys
from collections.abc import Sequence

from siteplan import __version__
from siteplan.cli import codes
from siteplan.errors import SiteplanError


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; no traceback ever reaches the user."""
    try:
        return _run(arguments)
    except SiteplanError as error:
        print(f"siteplan: {error}", file=sys.stderr)
        return codes.of(error)
    except KeyboardInterrupt:
        return codes.INTERRUPTED
    except BrokenPipeError:
        # The reader went away; without this the interpreter complains while closing.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return codes.DONE
    except Exception as error:  # noqa: BLE001 - the last line of defence
        name = type(error).__name__
        print(f"siteplan: internal error ({name}: {error}); please report it", file=sys.stderr)
        return codes.INTERNAL


def _run(arguments: Sequence[str] | None) -> int:
    parser = _parser()
    args = parser.parse_args(arguments)
    run = getattr(args, "run", None)
    if run is None:
        from siteplan.cli import open as opening

        return opening.demo()
    return int(run(args))


def _parser() -> argparse.ArgumentParser:
    from siteplan.cli import draw, new, paper, review, rules, schema
    from siteplan.cli import open as opening

    parser = argparse.ArgumentParser(
        prog="siteplan",
        description="Where a portable generator may stand on your lot, how its cords run, and why. "
        "Without a command, the window opens on the demo lot.",
        epilog="Exit codes: 0 nothing at or above --fail-on; 1 findings; 2 usage; 3 not a valid "
        "plan; 4 cannot read or write; 5 internal error.",
    )
    parser.add_argument("--version", action="version", version=f"siteplan {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    for command in (opening, review, draw, paper, rules, schema, new):
        command.add_parser(commands)
    return parser
