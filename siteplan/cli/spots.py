"""`siteplan spots`: where the generator can stand, why not elsewhere, and how to find the place."""

import argparse
import json
import math
import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING

from siteplan.cli import codes, common, terminal
from siteplan.units import Side, round_to
from siteplan.words import Manner, Text

if TYPE_CHECKING:
    from siteplan.plan.document import Plan
    from siteplan.rules.findings import Finding
    from siteplan.scene import Scene
    from siteplan.suggest.ranked import Spots
    from siteplan.suggest.spot import Spot

SPOTS_FORMAT = 1
COMPARE_FORMAT = 1
_MOST_FINDINGS = 4
_MOST_BINDING = 4


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("spots", help="say where the generator can stand")
    parser.add_argument("plan", metavar="PLAN", help="plan file, or - for stdin")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--count", type=_count, default=5, help="places wanted, 1 to 50 (5)")
    parser.add_argument(
        "--compare", action="store_true", help="compare the placements of the plan instead"
    )
    parser.add_argument(
        "--inlets", action="store_true", help="say where a power inlet would hang best instead"
    )
    common.add_manner(parser)
    parser.set_defaults(run=run)


def _count(text: str) -> int:
    number = int(text)
    if not 1 <= number <= 50:
        msg = f"{number} is not from 1 to 50"
        raise argparse.ArgumentTypeError(msg)
    return number


def run(args: argparse.Namespace) -> int:
    """Print the places; 1 if none passes."""
    from siteplan.scene import resolve
    from siteplan.suggest.ranked import spots

    manner = common.manner(args)
    plan = common.read_plan(args.plan)
    if args.compare:
        return _compare(args, plan, manner)
    scene = resolve(plan)
    if args.inlets:
        return _inlets(args, scene, manner)
    found = spots(plan, args.count, scene)
    if args.json:
        print(json.dumps(tree(args.plan, scene, found, manner), allow_nan=False, indent=1))
    else:
        print(f"{manner.show(args.plan)}: {manner.show(plan.title)}")
        print("\n".join(_lines(scene, found, manner)))
    return codes.DONE if found.passes else codes.FINDINGS


def _lines(scene: "Scene", found: "Spots", manner: Manner) -> Iterator[str]:
    from siteplan.suggest.say import (
        ANYWHERE_TEXT,
        NO_ENGINE_TEXT,
        NOT_ALL_TEXT,
        binding_text,
        headline,
    )

    plan = scene.plan
    yield terminal.wrap(headline(found).say(manner), "  ")
    for number, spot in enumerate(found.places, start=1):
        yield ""
        yield from _place(scene, spot, number, manner)
    if found.anywhere:
        yield ""
        yield "  " + ANYWHERE_TEXT.say(manner)
        for finding in found.anywhere:
            yield from _finding(finding, manner)
    if found.binding:
        yield ""
        rest = Text("What bars the rest of the lot")
        yield "  " + (rest if found.stands else Text("What bars the lot")).say(manner)
        for one in found.binding[:_MOST_BINDING]:
            yield terminal.wrap(binding_text(plan, one).say(manner), "    ", "  - ")
    if found.changes:
        yield ""
        yield "  " + Text("What would change that").say(manner)
        for change in found.changes:
            yield terminal.wrap(change.text.say(manner), "    ", "  - ")
    if not found.stands:
        yield ""
        yield terminal.wrap(NO_ENGINE_TEXT.say(manner), "  ")
    yield ""
    if found.stands:
        yield terminal.wrap(NOT_ALL_TEXT.say(manner), "  ")
    yield terminal.wrap(common.CAUTION.say(manner), "  ")


def _place(scene: "Scene", spot: "Spot", number: int, manner: Manner) -> Iterator[str]:
    from siteplan.suggest.say import about, tapes_text
    from siteplan.suggest.tapes import set_out

    said = " ".join(text.say(manner) for text in about(scene.plan, spot))
    yield terminal.wrap(said, "     ", f"  {number}  ")
    if spot.stands:
        # Nobody should find a place in the dark where it must not stand.
        yield terminal.wrap(tapes_text(set_out(scene, spot.at)).say(manner), "     ")
    for finding in spot.findings[:_MOST_FINDINGS]:
        yield from _finding(finding, manner)
    left = len(spot.findings) - _MOST_FINDINGS
    if left > 0:
        yield "     " + Text("and {count} more", {"count": left}).say(manner)


def _finding(finding: "Finding", manner: Manner) -> Iterator[str]:
    width = terminal.signal_width(manner.language)
    head = terminal.panel(finding.signal, sys.stdout, Text(finding.signal).say(manner), width)
    said = terminal.wrap(finding.what.say(manner), " " * (width + 8))
    yield f"    {head} {said.lstrip()}"


def tree(name: str, scene: "Scene", found: "Spots", manner: Manner) -> dict[str, object]:
    """Return the places as plain data for JSON."""
    from siteplan.rules.findings import as_tree
    from siteplan.suggest.say import headline

    plan = scene.plan
    return {
        "spots_format": SPOTS_FORMAT,
        "plan": {"file": name, "title": plan.title},
        "passes": found.passes,
        "headline": headline(found).say(manner),
        "places": [_as_tree(scene, one, manner) for one in found.places],
        "anywhere": [as_tree(one, manner) for one in found.anywhere],
        "nearest": None if found.nearest is None else _as_tree(scene, found.nearest, manner),
        "binding": [
            {
                "rule": one.rule,
                "share": round(one.share, 4),
                "alone_share": round(one.alone, 4),
                "subjects": list(one.subjects),
            }
            for one in found.binding
        ],
        "changes": [
            {"kind": one.kind, "text": one.text.say(manner), "at_m": one.at and list(one.at)}
            for one in found.changes
        ],
        "caution": common.CAUTION.say(manner),
    }


def _as_tree(scene: "Scene", spot: "Spot", manner: Manner) -> dict[str, object]:
    from siteplan.cli.power import buy_tree
    from siteplan.rules.findings import as_tree
    from siteplan.suggest.tapes import set_out

    numbers = {
        name: _rounded(name, getattr(spot, name))
        for name in ("turn_deg", "exhaust_deg", "cord_m", "opening_m",
                     "neighbour_m", "boundary_m", "room_m", "boundary_dba")
    }  # fmt: skip
    tapes = set_out(scene, spot.at) if spot.stands else None
    inlet = spot.inlet
    return {
        "at_m": [round(spot.at[0], 4), round(spot.at[1], 4)],
        **numbers,
        "cords_to_buy": [buy_tree(one, manner) for one in spot.buys],
        "ways_m": [[list(point) for point in way] for way in spot.ways],
        "inlet": None
        if inlet is None
        else {
            "building": inlet.on.building,
            "wall": inlet.on.wall,
            "offset_m": round(inlet.on.offset_m, 4),
            "feeder_m": _rounded("feeder_m", inlet.feeder_m),
        },
        "worst": spot.worst,
        "findings": [as_tree(one, manner) for one in spot.findings],
        "unjudged": [as_tree(one, manner) for one in spot.missing],
        "tapes": []
        if tapes is None
        else [
            {
                "from": one.corner.say(manner),
                "from_m": list(one.corner_xy),
                "length_m": round(one.length_m, 4),
                "check": one.check,
            }
            for one in tapes.tapes
        ],
    }


def _inlets(args: argparse.Namespace, scene: "Scene", manner: Manner) -> int:
    from siteplan.suggest.inlet_places import inlet_places
    from siteplan.suggest.say import about

    found = inlet_places(scene.plan, args.count)
    if args.json:
        places = [_as_tree(scene, one, manner) for one in found]
        print(json.dumps({"spots_format": SPOTS_FORMAT, "inlets": places}, indent=1))
    elif not found:
        print(terminal.wrap(NO_INLET_TEXT.say(manner), "  "))
    for number, spot in enumerate(() if args.json else found, start=1):
        said = " ".join(text.say(manner) for text in about(scene.plan, spot))
        print(terminal.wrap(said, "     ", f"  {number}  "))
    return codes.DONE if found else codes.FINDINGS


NO_INLET_TEXT = Text("No place for an inlet goes with a place for the generator that passes.")


_STEP = 1e-4
_UP = frozenset({"cord_m", "feeder_m", "boundary_dba"})


def _rounded(name: str, value: float | None) -> float | None:
    """Return a figure rounded against the reader: what is wanted long down, the rest up."""
    if value is None or not math.isfinite(value):
        return None
    side: Side = "near" if name.endswith("_deg") else "up" if name in _UP else "down"
    return round(round_to(value, _STEP, side), 4)


def _compare(args: argparse.Namespace, plan: "Plan", manner: Manner) -> int:
    from siteplan.rules.findings import severity
    from siteplan.suggest.side_by_side import compare

    rows = compare(plan)
    if args.json:
        placements = [
            {
                "placement": row.placement.id,
                "name": row.placement.name,
                "worst": row.worst,
                "counts": dict(row.counts),
                "unjudged": row.unjudged,
                "opening_m": _rounded("opening_m", row.opening_m),
                "dwelling_m": _rounded("dwelling_m", row.dwelling_m),
                "cord_m": _rounded("cord_m", row.cord_m),
                "boundary_dba": _rounded("boundary_dba", row.boundary_dba),
                "exhaust_deg": _rounded("exhaust_deg", row.exhaust_deg),
            }
            for row in rows
        ]
        whole = {"compare_format": COMPARE_FORMAT, "placements": placements}
        print(json.dumps(whole, allow_nan=False, indent=1))
    else:
        print("\n".join(_table(plan, manner)))
    bad = any(severity(row.worst) >= severity("WARNING") for row in rows)
    return codes.FINDINGS if bad else codes.DONE


def _table(plan: "Plan", manner: Manner) -> Iterator[str]:
    """Yield the placements side by side, one column each, so that it fits a terminal."""
    from siteplan.suggest.side_by_side import COMPARE_TITLES, cells, compare

    columns = [[Text(one).say(manner) for one in COMPARE_TITLES]]
    columns += [[manner.show(one) for one in cells(plan, row)] for row in compare(plan)]
    if len(columns) == 1:
        yield Text("No generator stands on the plan yet.").say(manner)
        return
    widths = [max(len(cell) for cell in column) for column in columns]
    for line in zip(*columns, strict=True):
        padded = (cell.ljust(width) for cell, width in zip(line, widths, strict=True))
        yield "  ".join(padded).rstrip()
