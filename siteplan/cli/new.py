"""`siteplan new`: an empty plan to start from."""

import argparse

from siteplan.cli import codes, common


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("new", help="write an empty plan")
    parser.add_argument("-o", "--output", required=True, metavar="PLAN", help="file to write")
    parser.add_argument("--title", default="", help="title of the plan")
    parser.add_argument("--force", action="store_true", help="overwrite the file")
    common.add_language(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the file."""
    from siteplan.plan.document import Plan
    from siteplan.plan.store import dump
    from siteplan.words import plain

    content = dump(Plan(title=plain(args.title)[:120])).encode("utf-8")
    common.write_file(args.output, content, force=args.force)
    return codes.DONE
