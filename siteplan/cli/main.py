"""Entry point of the command line."""

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import NoReturn

from siteplan import __version__
from siteplan.cli import codes, terminal, usage
from siteplan.errors import SiteplanError
from siteplan.words import Language, Manner, Text, complaint, plain

_LONGEST_COMPLAINT = 600


class _UsageError(Exception):
    """Arguments that cannot be read, with the parser that knows how they should be."""

    def __init__(self, parser: argparse.ArgumentParser, message: str) -> None:
        super().__init__(message)
        self.parser, self.message = parser, message


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; no traceback ever reaches the user."""
    given = sys.argv[1:] if arguments is None else list(arguments)
    language = usage.language_asked(given)
    if sys.stdout is None:
        said = Text("standard output is closed").say(Manner(language))
        return _complain(said, codes.NO_ACCESS)
    terminal.use_stand_ins(sys.stdout, sys.stderr)
    # A command ends before its garbage matters, and looking for it takes a tenth of its time.
    gc.disable()
    try:
        return _flush(_guarded(given, language), language)
    finally:
        gc.enable()


def _guarded(given: Sequence[str], language: Language) -> int:
    try:
        return _run(given)
    except _UsageError as error:
        return _refuse(error, language)
    except SystemExit as end:
        return codes.USAGE if end.code else codes.DONE
    except KeyboardInterrupt:
        return codes.INTERRUPTED
    except OSError as error:
        # A reader of our pipe who goes away is told nothing, yet not all was said, so it must
        # not end as if it had been.
        if not isinstance(error, BrokenPipeError):
            said = Text("cannot read or write ({why})", {"why": usage.why(error, language)})
            _complain(said.say(Manner(language)), codes.NO_ACCESS)
        return codes.NO_ACCESS
    except Exception as error:  # noqa: BLE001 - the last line of defence
        return _complain(usage.internal(error, language), codes.INTERNAL)


def _complain(what: str, code: int) -> int:
    print(f"siteplan: {plain(what, _LONGEST_COMPLAINT)}", file=sys.stderr)
    return code


def _refuse(error: _UsageError, language: Language) -> int:
    """Say what is wrong with the arguments, in signs that do nothing to a terminal."""
    error.parser.print_usage(sys.stderr)
    said = usage.mistake(plain(error.message, _LONGEST_COMPLAINT)).say(Manner(language))
    print(f"{error.parser.prog}: error: {said}", file=sys.stderr)
    return codes.USAGE


def _flush(code: int, language: Language) -> int:
    try:
        sys.stdout.flush()
    except OSError as error:
        # Without this the interpreter fails once more, with a traceback, while it closes.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if not isinstance(error, BrokenPipeError):
            said = Text(
                "cannot write to standard output ({why})", {"why": usage.why(error, language)}
            )
            return _complain(said.say(Manner(language)), codes.NO_ACCESS)
    return code


def _run(given: Sequence[str]) -> int:
    args = _parser(given).parse_args(given)
    run = getattr(args, "run", None)
    if run is None:
        from siteplan.cli import open as opening

        return opening.demo()
    try:
        return int(run(args))
    except SiteplanError as error:
        said = complaint(error).say(Manner(getattr(args, "language", None) or "en"))
        return _complain(said, codes.of(error))


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        """Leave what is wrong with the arguments to be said where the language is known."""
        raise _UsageError(self, message)


# In the order in which the help lists them.
COMMANDS = (
    "open",
    "review",
    "spots",
    "air",
    "night",
    "power",
    "draw",
    "paper",
    "export",
    "bring",
    "rules",
    "schema",
    "new",
)


def _parser(arguments: Sequence[str]) -> argparse.ArgumentParser:
    """Return the parser of these arguments: of the one command they name, or of all."""
    parser = _Parser(
        prog="siteplan",
        description="Where a portable generator may stand on your lot, how its cords run, and why. "
        "Without a command, the window opens on the demo lot.",
        epilog="Exit codes: 0 nothing at or above --fail-on; 1 findings; 2 usage; 3 not a valid "
        "plan; 4 cannot read or write; 5 internal error.",
    )
    parser.add_argument("--version", action="version", version=f"siteplan {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    named = arguments[:1] if arguments and arguments[0] in COMMANDS else COMMANDS
    for name in named:
        import_module(f"siteplan.cli.{name}").add_parser(commands)
    return parser
