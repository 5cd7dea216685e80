"""`siteplan power`: loads and legs, cords, ways to bring the power in, and what to buy."""

import argparse
import json
import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from siteplan.cli import codes, common, terminal
from siteplan.units import Side
from siteplan.words import Kind, Manner, Quantity, Text, length, translate

if TYPE_CHECKING:
    from siteplan.power.legs import LegSums
    from siteplan.rules.power.buy import CordToBuy
    from siteplan.rules.power.report import CordRow, LoadRow, PowerReport
    from siteplan.rules.power.span import Span
    from siteplan.rules.power.ways import Compared

POWER_FORMAT = 1
_LOAD_WORDS = ("Load", "Runs", "Starts", "Volts", "Leg", "By", "Start order")
_CORD_WORDS = ("Cord", "Gauge", "Needs", "Sold", "Current", "Drop", "Drop at start")
_CHAIN_WORDS = ("Piece", "Gauge", "Length", "Drop")
_WAY_WORDS = ("How", "Outlet", "Reaches", "Runs", "Gives", "Drop")
_UNKNOWN = "–"


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("power", help="show loads, cords, and ways to bring power in")
    parser.add_argument("plan", metavar="PLAN", help="plan file, or - for stdin")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    common.add_manner(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the power path of a plan."""
    from siteplan.rules import power_report
    from siteplan.scene import resolve

    plan = common.read_plan(args.plan)
    report = power_report(resolve(plan))
    manner = common.manner(args)
    if args.json:
        print(json.dumps(tree(report, manner), ensure_ascii=False, allow_nan=False, indent=1))
        return codes.DONE
    print(f"{manner.show(args.plan)}: {manner.show(plan.title)}")
    _print_loads(report, manner)
    _print_cords(report, manner)
    _print_buys(report, manner)
    _print_ways(report, manner)
    _print_parts(report, manner)
    print()
    print(terminal.wrap(common.CAUTION.say(manner), "  "))
    return codes.DONE


def _print_loads(report: "PowerReport", manner: Manner) -> None:
    _heading(Text("Loads"), manner)
    if not report.loads:
        _say(Text("No load is entered."), manner)
        return
    from siteplan.plan.labels import label

    cords = {one.cord.id: label(one.cord).say(manner) for one in report.cords}
    _table(_LOAD_WORDS, [_load_row(one, cords, manner) for one in report.loads], manner)
    for text in report.sums:
        _say(text, manner)
    for text, sums in (
        (Text("Legs as entered: A {a}, B {b}, neutral {neutral}."), report.legs),
        (Text("Legs as suggested: A {a}, B {b}, neutral {neutral}."), report.suggested_legs),
    ):
        if sums is not None and (sums is not report.legs or any(one.leg for one in report.loads)):
            _say(_legs(text, sums), manner)
    if report.motors:
        _heading(Text("Can it start the motors?"), manner)
    for text in report.motors:
        print(terminal.wrap(text.say(manner), "    ", "  - "))


def _legs(text: Text, sums: "LegSums") -> Text:
    values = {
        "a": Quantity(sums.a_w, "power", "up"),
        "b": Quantity(sums.b_w, "power", "up"),
        "neutral": Quantity(sums.neutral_a, "current", "up"),
    }
    return Text(text.template, values)


def _load_row(row: "LoadRow", cords: Mapping[str, str], manner: Manner) -> list[str]:
    from siteplan.plan.labels import label

    load = row.load
    start = _UNKNOWN if load.starting_w is None else _watts(load.starting_w, manner)
    leg = row.leg or (f"({row.suggested})" if row.suggested else _UNKNOWN)
    return [
        manner.show(label(load)),
        _watts(load.running_w, manner),
        start,
        f"{load.volts} V",
        "A+B" if load.volts > 120 else leg,
        _UNKNOWN if row.cord is None else cords[row.cord],
        str(row.place),
    ]


def _print_cords(report: "PowerReport", manner: Manner) -> None:
    _heading(Text("Cords"), manner)
    if not report.cords:
        _say(Text("No cord is entered."), manner)
        return
    _table(_CORD_WORDS, [_cord_row(one, manner) for one in report.cords], manner)
    if report.chain:
        from siteplan.rules.power.says import gauge_text

        _heading(Text("From the inlet to the loads"), manner)
        rows = [
            [
                one.piece.say(manner),
                _UNKNOWN if one.gauge_awg is None else gauge_text(one.gauge_awg).say(manner),
                _long(one.length_m, manner),
                _bound(one.drop, "percent", manner),
            ]
            for one in report.chain
        ]
        _table(_CHAIN_WORDS, rows, manner)


def _print_buys(report: "PowerReport", manner: Manner) -> None:
    from siteplan.rules.power.buy import cord_lines

    if report.buys:
        _heading(Text("Which cord"), manner)
    for text in cord_lines(report.buys):
        print(terminal.wrap(text.say(manner), "    ", "  - "))


def _cord_row(row: "CordRow", manner: Manner) -> list[str]:
    from siteplan.plan.labels import label
    from siteplan.rules.power.says import gauge_text

    cord = row.cord
    return [
        manner.show(label(cord)),
        _UNKNOWN if cord.gauge_awg is None else gauge_text(cord.gauge_awg).say(manner),
        _long(row.needed_m, manner),
        _long(row.stock_m, manner),
        _bound(row.current_a, "current", manner),
        _bound(row.drop, "percent", manner),
        _bound(row.start_drop, "percent", manner),
    ]


def _print_ways(report: "PowerReport", manner: Manner) -> None:
    _heading(Text("Ways to bring the power in"), manner)
    for text in report.comparison.assumed:
        _say(text, manner)
    if not report.comparison.ways:
        return
    chosen = report.chosen
    rows = [_way_row(one, manner, chosen=one.way.kind == chosen) for one in report.comparison.ways]
    _table(_WAY_WORDS, rows, manner)
    for one in report.comparison.ways:
        print(f"\n  {one.title.say(manner)}")
        for remark in one.remarks:
            word = translate(remark.signal, manner.language)
            line = f"{terminal.SYMBOLS[remark.signal]} {word}: {remark.text.say(manner)}"
            print(terminal.wrap(line, "      ", "    "))


def _way_row(one: "Compared", manner: Manner, *, chosen: bool) -> list[str]:
    way = one.way
    whole = len(way.serves) + len(way.refuses)
    return [
        f"{one.title.say(manner)} {'←' if chosen else ''}".strip(),
        way.outlet or _UNKNOWN,
        f"{len(way.serves)}/{whole}",
        _watts(way.run_w, manner),
        manner.show(Quantity(way.limit_w, "power", "down")),
        manner.show(Quantity(100.0 * way.drop_total, "percent", "up")),
    ]


def _print_parts(report: "PowerReport", manner: Manner) -> None:
    from siteplan.rules.power.ways import part_text

    if report.parts:
        _heading(Text("Parts for the way chosen"), manner)
    for part in report.parts:
        print(f"  {part_text(part).say(manner)}")


def _heading(text: Text, manner: Manner) -> None:
    print(f"\n{text.say(manner)}")


def _say(text: Text, manner: Manner) -> None:
    print(terminal.wrap(text.say(manner), "  "))


def _table(head: Sequence[str], rows: Sequence[Sequence[str]], manner: Manner) -> None:
    """Print rows in columns, all but the first to the right."""
    lines = [[translate(one, manner.language) for one in head], *rows]
    widths = [max(len(line[column]) for line in lines) for column in range(len(head))]
    for line in lines:
        cells = [line[0].ljust(widths[0])]
        cells += [cell.rjust(width) for cell, width in zip(line[1:], widths[1:], strict=True)]
        print(f"  {'  '.join(cells)}")


def _watts(value: float, manner: Manner) -> str:
    return manner.show(Quantity(value, "power", "up"))


def _long(value_m: float | None, manner: Manner) -> str:
    return _UNKNOWN if value_m is None else manner.show(length(value_m, "up"))


def _bound(span: "Span", kind: Kind, manner: Manner, side: Side = "up") -> str:
    """Return a figure, or a dash where it is not known."""
    if span.missing and span.least != span.most:
        return _UNKNOWN
    scale = 100.0 if kind == "percent" else 1.0
    return manner.show(Quantity(scale * span.most, kind, side))


def tree(report: "PowerReport", manner: Manner) -> dict[str, object]:
    """Return a power report as plain data for JSON, units in the keys."""
    comparison = report.comparison
    return {
        "power_format": POWER_FORMAT,
        "rated_w": _span(report.rated_w),
        "starting_w": _span(report.starting_w),
        "running_w": report.running_w,
        "hardest_start_w": _span(report.hardest_start_w),
        "legs": _sums(report.legs),
        "suggested_legs": _sums(report.suggested_legs),
        "loads": [_load_tree(one) for one in report.loads],
        "sums": [one.say(manner) for one in report.sums],
        "motors": [one.say(manner) for one in report.motors],
        "clashes": [list(one) for one in report.clashes],
        "worst_dip": None if report.worst_dip is None else {
            "load": report.worst_dip[0], "share": _span(report.worst_dip[1]),
        },
        "cords": [_cord_tree(one) for one in report.cords],
        "chain": [
            {"piece": one.piece.say(manner), "gauge_awg": one.gauge_awg,
             "length_m": _number(one.length_m), "drop_share": _span(one.drop)}
            for one in report.chain
        ],
        "assumed": [one.say(manner) for one in comparison.assumed],
        "cords_to_buy": [buy_tree(one, manner) for one in report.buys],
        "chosen": report.chosen,
        "ways": [_way_tree(one, report, manner) for one in comparison.ways],
    }  # fmt: skip


def _load_tree(row: "LoadRow") -> dict[str, object]:
    load = row.load
    return {
        "load": load.id,
        "running_w": load.running_w,
        "starting_w": load.starting_w,
        "volts": load.volts,
        "cord": row.cord,
        "leg": row.leg,
        "suggested_leg": row.suggested,
        "start_place": row.place,
        "peak_w": row.peak_w,
    }


def _cord_tree(row: "CordRow") -> dict[str, object]:
    return {
        "cord": row.cord.id,
        "trouble": row.trouble,
        "laid_m": _number(row.laid_m),
        "needed_m": _number(row.needed_m),
        "stock_m": _number(row.stock_m),
        "gauge_awg": row.cord.gauge_awg,
        "thinnest_awg": row.thinnest_awg,
        "current_a": _span(row.current_a),
        "ampacity_a": _span(row.ampacity_a),
        "drop_share": _span(row.drop),
        "start_drop_share": _span(row.start_drop),
        "crossings": [
            {"kind": one.kind, "subject": one.subject, "at_m": list(one.at)}
            for one in row.crossings
        ],
    }


def buy_tree(one: "CordToBuy", manner: Manner) -> dict[str, object]:
    """Return a cord to buy as plain data for JSON, with the sentence that tells it."""
    from siteplan.rules.power.buy import cord_sentence

    return {
        "cord": one.cord or None,
        "needed_m": _number(one.needed_m),
        "length_m": _number(one.stock_m),
        "gauge_awg": one.gauge_awg,
        "reason": None if one.bought is None else one.bought.reason,
        "wires": one.wires,
        "outlet": one.outlet or None,
        "end": one.end or None,
        "entered_suits": one.entered_suits,
        "uncounted": [text.say(manner) for text in one.uncounted],
        "missing": [text.say(manner) for text in one.missing],
        "says": cord_sentence(one).say(manner),
    }


def _way_tree(one: "Compared", report: "PowerReport", manner: Manner) -> dict[str, object]:
    way, loads = one.way, report.loads
    return {
        "way": way.kind,
        "outlet": way.outlet,
        "serves": [loads[place].load.id for place in way.serves],
        "refuses": {loads[place].load.id: why for place, why in way.refuses},
        "running_w": way.run_w,
        "limit_w": way.limit_w,
        "starting_w": way.start_w,
        "start_limit_w": way.start_limit_w,
        "drop_share": round(way.drop_total, 6),
        "carries_all": way.carries_all,
        "electrician": way.electrician,
        "parts": [
            {"part": part.kind, "count": part.count, "gauge_awg": part.gauge_awg,
             "length_m": _number(part.length_m), "configuration": part.config}
            for part in way.parts
        ],
        "remarks": [
            {"signal": remark.signal, "text": remark.text.say(manner)} for remark in one.remarks
        ],
    }  # fmt: skip


def _sums(sums: "LegSums | None") -> dict[str, float] | None:
    if sums is None:
        return None
    return {"a_w": sums.a_w, "b_w": sums.b_w, "neutral_a": round(sums.neutral_a, 6)}


def _span(span: "Span") -> dict[str, float | None]:
    """Return both bounds; null where there is none."""
    return {"least": _number(span.least), "most": _number(span.most)}


def _number(value: float | None) -> float | None:
    return round(value, 6) if value is not None and math.isfinite(value) else None
