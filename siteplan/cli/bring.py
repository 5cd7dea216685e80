"""`siteplan bring`: a parcel and footprints from GeoJSON, as the beginning of a plan."""

import argparse
import sys

from siteplan.cli import codes, common
from siteplan.words import Manner, Text

_BROUGHT_TEXT = (
    "a lot and {buildings} buildings were brought; every building counts as a dwelling unless the "
    "file says otherwise, and no opening is drawn yet"
)


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("bring", help="begin a plan from a GeoJSON parcel")
    parser.add_argument("file", metavar="FILE.geojson", help="GeoJSON file, or - for stdin")
    parser.add_argument("-o", "--output", required=True, metavar="PLAN", help="plan to write")
    parser.add_argument("--force", action="store_true", help="overwrite the file")
    common.add_language(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Read the file, write the plan, and say what was left out."""
    from siteplan.paper import bring
    from siteplan.plan.store import dump

    brought = bring.read(common.read_raw(args.file), args.file)
    common.write_file(args.output, dump(brought.plan).encode("utf-8"), force=args.force)
    done = Text(_BROUGHT_TEXT, {"buildings": len(brought.plan.buildings)})
    for note in (done, *brought.notes):
        print(f"siteplan: {note.say(Manner(args.language))}", file=sys.stderr)
    return codes.DONE
