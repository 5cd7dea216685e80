"""`siteplan open`, and `siteplan` alone: the window; without a display, the review in words."""

import argparse
import gc
import sys
from pathlib import Path

from siteplan.assets import sample
from siteplan.cli import codes, common

DEMO = "bad-placement.siteplan"


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("open", help="open the window on a plan")
    parser.add_argument("plan", metavar="PLAN", help="plan file")
    common.add_manner(parser)
    # Unless told, the window speaks as it did last.
    parser.set_defaults(run=run, language=None, units=None)


def run(args: argparse.Namespace) -> int:
    """Open the window on a plan; what is no plan is said before any window shows."""
    from siteplan.plan.store import load

    load(args.plan)
    return _window(Path(args.plan), args.language, args.units)


def demo() -> int:
    """Open the window on the demo lot; with no display, print its review and say why."""
    return _window(sample(DEMO), None, None)


def _window(path: Path, language: str | None, units: str | None) -> int:
    from siteplan.desk.preflight import why_no_window

    why = why_no_window()
    if why is None:
        from siteplan.desk.launch import run as run_window

        gc.enable()  # a window stays
        return run_window(path, language=language, units=units)
    how = argparse.Namespace(
        plans=[str(path)],
        json=False,
        answers=False,
        fail_on="DANGER",
        placement=None,
        units=units or "feet",
        language=language or "en",
    )
    print(f"siteplan: {why.say(common.manner(how))}", file=sys.stderr)
    from siteplan.cli import review

    review.run(how)
    return codes.DONE
