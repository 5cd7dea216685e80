"""`siteplan export`: the plan's figures as CSV, or its shapes as GeoJSON."""

import argparse

from siteplan.cli import codes, common


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("export", help="write the figures as CSV or GeoJSON")
    parser.add_argument("plan", metavar="PLAN", help="plan file, or - for stdin")
    parser.add_argument(
        "-o", "--output", required=True, metavar="FILE", help="file ending in .csv or .geojson"
    )
    parser.add_argument(
        "--table",
        choices=("findings", "distances", "parts"),
        default="findings",
        help="which table a CSV file holds (findings)",
    )
    parser.add_argument("--force", action="store_true", help="overwrite the file")
    common.add_manner(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the file."""
    from siteplan.paper import columns, documents, geojson

    kind = common.ending(args.output, ".csv", ".geojson")
    subject = documents.about(common.read_plan(args.plan), common.manner(args))
    text = geojson.write(subject) if kind == ".geojson" else columns.TABLES[args.table](subject)
    common.write_file(args.output, text.encode("utf-8"), force=args.force)
    return codes.DONE
