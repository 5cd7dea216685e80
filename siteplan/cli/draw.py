"""`siteplan draw`: the plan as a picture, true to scale."""

import argparse
from typing import TYPE_CHECKING

from siteplan.cli import codes, common

if TYPE_CHECKING:
    from siteplan.drawing import Marks
    from siteplan.plan.document import Plan


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("draw", help="draw the plan to scale as SVG or PNG")
    parser.add_argument("plan", metavar="PLAN", help="plan file, or - for stdin")
    parser.add_argument(
        "-o", "--output", required=True, metavar="FILE", help="file ending in .svg or .png"
    )
    parser.add_argument(
        "--around", choices=("lot", "machine"), default="lot", help="what to show (lot)"
    )
    parser.add_argument(
        "--zone", action="store_true", help="show where no checked rule forbids the generator"
    )
    parser.add_argument("--scale", metavar="SCALE", help="1:100, 1/8 in ...; best fit if left out")
    parser.add_argument("--sheet", choices=("letter", "a4"), help="size of the sheet")
    parser.add_argument(
        "--theme", choices=("print", "light", "dark", "high-contrast"), default="print"
    )
    parser.add_argument("--dpi", type=float, default=200.0, help="pixels per inch of a PNG (200)")
    parser.add_argument("--force", action="store_true", help="overwrite the file")
    common.add_manner(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Draw, and write the file."""
    from siteplan.paper import scales, sheet
    from siteplan.rules import review

    kind = common.ending(args.output, ".svg", ".png")
    plan = common.read_plan(args.plan)
    manner = common.manner(args)
    letter = args.sheet == "letter" or (args.sheet is None and manner.system == "feet")
    wish = sheet.Wish(
        size_mm=sheet.LETTER_LANDSCAPE_MM if letter else sheet.A4_LANDSCAPE_MM,
        turnable=True,
        around=args.around,
        scale=None if args.scale is None else scales.named(args.scale),
        theme=args.theme,
    )
    under = _zone(plan) if args.zone else ()
    drawn = sheet.plan_sheet(plan, review(plan), manner, wish, under=under)
    if kind == ".svg":
        content = drawn.svg.encode("utf-8")
    else:
        from siteplan.paper import typeset

        content = typeset.png(drawn, args.dpi)
    common.write_file(args.output, content, force=args.force)
    return codes.DONE


def _zone(plan: "Plan") -> "Marks":
    from siteplan.drawing import zone_marks
    from siteplan.suggest import standing_zone

    return zone_marks(standing_zone(plan).tint, "standing-zone")
