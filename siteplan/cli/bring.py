"""`siteplan bring`: a parcel and footprints from GeoJSON, as the beginning of a plan."""

import argparse
import sys
from typing import TYPE_CHECKING

from siteplan.cli import codes, common
from siteplan.words import Manner, Text, Value, length

if TYPE_CHECKING:
    from siteplan.plan.document import Plan

_BROUGHT_TEXT = (
    "a lot was brought, and buildings: {buildings}; the lot is {wide} wide and {deep} deep. Every "
    "building counts as a dwelling unless the file says otherwise, and no opening is drawn yet"
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
    done = Text(_BROUGHT_TEXT, _sizes(brought.plan))
    for note in (done, *brought.notes):
        print(f"siteplan: {note.say(Manner(args.language))}", file=sys.stderr)
    return codes.DONE


def _sizes(plan: "Plan") -> dict[str, Value]:
    """Return the number of buildings and the lot's size, to be held against the real ones."""
    corners = ((0.0, 0.0),) if plan.lot is None else plan.lot.outline
    xs, ys = zip(*corners, strict=True)
    return {
        "buildings": len(plan.buildings),
        "wide": length(max(xs) - min(xs), "near"),
        "deep": length(max(ys) - min(ys), "near"),
    }
