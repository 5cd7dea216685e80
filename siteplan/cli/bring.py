"""`siteplan bring`: a parcel and footprints from GeoJSON, as the beginning of a plan."""

import argparse
import sys
from pathlib import Path

from siteplan.cli import codes, common


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("bring", help="begin a plan from a GeoJSON parcel")
    parser.add_argument("file", metavar="FILE.geojson", help="GeoJSON file, or - for stdin")
    parser.add_argument("-o", "--output", required=True, metavar="PLAN", help="plan to write")
    parser.add_argument("--force", action="store_true", help="overwrite the file")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Read the file, write the plan, and say what was left out."""
    from siteplan.paper import bring
    from siteplan.plan.store import dump

    brought = bring.read(_raw(args.file), args.file)
    common.write_file(args.output, dump(brought.plan).encode("utf-8"), force=args.force)
    buildings = len(brought.plan.buildings)
    print(
        f"siteplan: a lot and {buildings} buildings were brought; every building counts as a "
        "dwelling unless the file says otherwise, and no opening is drawn yet",
        file=sys.stderr,
    )
    for note in brought.notes:
        print(f"siteplan: {note}", file=sys.stderr)
    return codes.DONE


def _raw(name: str) -> bytes:
    from siteplan.plan.errors import BrokenFileError, FileAccessError
    from siteplan.plan.store import LARGEST_FILE_BYTES

    try:
        if name == "-":
            raw = sys.stdin.buffer.read(LARGEST_FILE_BYTES + 1)
        else:
            with Path(name).open("rb") as stream:
                raw = stream.read(LARGEST_FILE_BYTES + 1)
    except OSError as error:
        raise FileAccessError(name, f"cannot be read ({error.strerror or error})") from error
    if len(raw) > LARGEST_FILE_BYTES:
        raise BrokenFileError(name, "is longer than 64 MiB")
    return raw
