"""`siteplan paper`: a set of papers as PDF."""

import argparse

from siteplan.cli import codes, common


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("paper", help="put the plan on paper (PDF)")
    parser.add_argument("plan", metavar="PLAN", help="plan file, or - for stdin")
    parser.add_argument(
        "--for",
        dest="reader",
        required=True,
        choices=("household", "records", "installer"),
        help="who it is for",
    )
    parser.add_argument("-o", "--output", required=True, metavar="FILE.pdf", help="file to write")
    parser.add_argument(
        "--archive", action="store_true", help="also keep to PDF/A-2a, for long keeping"
    )
    parser.add_argument("--force", action="store_true", help="overwrite the file")
    common.add_manner(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Set the pages, and write the file."""
    from siteplan.paper import documents

    plan = common.read_plan(args.plan)
    content = documents.make(plan, args.reader, common.manner(args), archive=args.archive)
    common.write_file(args.output, content, force=args.force)
    return codes.DONE
