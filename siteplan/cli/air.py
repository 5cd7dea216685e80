"""`siteplan air`: carbon monoxide from exhaust to blood, as an estimate that permits nothing."""

import argparse
import json
import math
import sys
from typing import TYPE_CHECKING

from siteplan.cli import codes, common, terminal
from siteplan.errors import SiteplanError
from siteplan.words import Manner, translate

if TYPE_CHECKING:
    from siteplan.plan.document import Plan
    from siteplan.rules.carbon_monoxide import Behind, COEstimate, OpeningEstimate

AIR_FORMAT = 1
_NO_MACHINE_TEXT = "no generator stands on the plan yet, so there is nothing to estimate"


class NothingToEstimateError(SiteplanError):
    """No generator stands on the plan."""


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser(
        "air", help="estimate carbon monoxide indoors; it can only warn, never permit"
    )
    parser.add_argument("plan", metavar="PLAN", help="plan file, or - for stdin")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument(
        "--wind", metavar="FILE", help="hourly weather (EPW or TMY3) to take the wind from"
    )
    parser.add_argument(
        "-o", "--output", metavar="PLAN", help="write the plan with that wind in it"
    )
    parser.add_argument("--force", action="store_true", help="overwrite the file")
    common.add_manner(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Estimate, and write the plan with its wind if asked."""
    from siteplan.plan import store
    from siteplan.rules.carbon_monoxide import estimate
    from siteplan.scene import resolve

    plan = common.read_plan(args.plan)
    if args.wind is not None:
        plan = _with_wind(plan, args.wind)
    if args.output is not None:
        common.write_file(args.output, store.dump(plan).encode("utf-8"), force=args.force)
    if args.output == "-":
        return codes.DONE
    found = estimate(resolve(plan))
    if found is None:
        raise NothingToEstimateError(_NO_MACHINE_TEXT)
    manner = common.manner(args)
    if args.json:
        print(json.dumps(tree(args.plan, plan, found, manner), allow_nan=False, indent=1))
    else:
        _print(args.plan, plan, found, manner)
    return codes.DONE


def _with_wind(plan: "Plan", name: str) -> "Plan":
    from siteplan.plan.edits import with_fields
    from siteplan.rules.carbon_monoxide_wind import wind_from_file

    return with_fields(plan, wind=wind_from_file(name))


def tree(name: str, plan: "Plan", found: "COEstimate", manner: Manner) -> dict[str, object]:
    """Return an estimate as plain data for JSON; a time that never comes is null."""
    placement = plan.placement
    return {
        "air_format": AIR_FORMAT,
        "plan": {
            "file": name,
            "title": plan.title,
            "placement": None if placement is None else placement.id,
        },
        "caution": translate(found.caution, manner.language),
        "confined": found.confined,
        "rate_g_per_h": {"indicative": found.rate.indicative_g_h, "worst": found.rate.worst_g_h},
        "rate_basis": found.rate.basis,
        "run_h": found.run_h,
        "run_stated": found.run_stated,
        "room_volume_m3": found.room_volume_m3,
        "start_cohb_percent": found.start_percent,
        "reach_m": found.reach_m,
        "openings_within_reach": found.within_reach,
        "wind": None if found.rose is None else {
            "origin": found.wind_origin,
            "calm_share": found.rose.calm_share,
            "shares_clockwise_from_north": list(found.rose.shares),
        },
        "alarm_points": [
            {
                "ppm": one.ppm,
                "not_before_min": one.not_before_min,
                "not_after_min": _finite(one.not_after_min),
            }
            for one in found.alarm_points
        ],
        "openings": [_opening(one, manner) for one in found.openings],
    }  # fmt: skip


def _finite(value: float) -> float | None:
    return round(value, 4) if math.isfinite(value) else None


def _opening(one: "OpeningEstimate", manner: Manner) -> dict[str, object]:
    return {
        "opening": one.opening.id,
        "name": one.label.say(manner),
        "state": one.state,
        "path_m": round(one.path_m, 4),
        "way_m": [list(point) for point in one.way],
        "bearing_deg": round(one.bearing_deg, 2),
        "downwind_share": one.downwind_share,
        "air_changes_per_h": {
            "indicative": one.exchange.indicative_per_h,
            "worst": one.exchange.worst_per_h,
        },
        "mean_room_ppm": round(one.dose_ppm, 4),
        "indicative": _behind(one.indicative),
        "worst": _behind(one.worst),
    }


def _behind(band: "Behind") -> dict[str, object]:
    return {
        "outdoor_ppm": round(band.outdoor_ppm, 4),
        "by_method_ppm": {name: round(value, 4) for name, value in band.by_method_ppm.items()},
        "room_ppm_at_end": round(float(band.room_ppm[-1]), 4),
        "cohb_percent_at_end": {name: round(value, 4) for name, value in band.peak_percent.items()},
        "minutes_to_ppm": {f"{k:g}": _finite(v) for k, v in band.minutes_to_ppm.items()},
        "minutes_to_10_percent": {k: _finite(v) for k, v in band.minutes_to_severe.items()},
        "limits_passed": [
            {
                "name": one.name,
                "ppm": round(one.ppm, 2),
                "minutes": one.minutes,
                "source": one.source,
            }
            for one in band.passed
        ],
    }


def _print(name: str, plan: "Plan", found: "COEstimate", manner: Manner) -> None:
    from siteplan.plan.labels import label
    from siteplan.rules import carbon_monoxide_words as words

    say = manner.show
    placement = plan.placement
    where = "" if placement is None else f" · {say(label(placement))}"
    print(f"{say(name)}: {say(plan.title)}{where}\n")
    _caution(found, manner)
    print()
    for text in words.basis(found):
        print(terminal.wrap(text.say(manner), "  "))
    _print_openings(found, manner)
    print()
    for point in found.alarm_points:
        print(terminal.wrap(words.alarm(point).say(manner), "  "))
    print()
    _caution(found, manner)
    print(terminal.wrap(common.CAUTION.say(manner), "  "))


def _print_openings(found: "COEstimate", manner: Manner) -> None:
    from siteplan.rules import carbon_monoxide_words as words

    if not found.openings:
        print(terminal.wrap(words.nothing_within(found).say(manner), "  "))
    for place, one in enumerate(found.openings, start=1):
        print()
        print(terminal.wrap(f"{place}. {words.headline(one).say(manner)}", "  "))
        for text in words.details(one):
            print(terminal.wrap(text.say(manner), "     "))


def _caution(found: "COEstimate", manner: Manner) -> None:
    word = translate("CAUTION", manner.language)
    head = terminal.panel("CAUTION", sys.stdout, word)
    indent = " " * (len(word) + 4)
    print(head, terminal.wrap(translate(found.caution, manner.language), indent).lstrip())
