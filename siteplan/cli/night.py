"""`siteplan night`: how loud it is, how long the fuel lasts, and the outage by the clock."""

import argparse
import json
from collections.abc import Iterator
from typing import TYPE_CHECKING

from siteplan.cli import codes, common, terminal
from siteplan.words import Manner, Quantity, Text, Value

if TYPE_CHECKING:
    from siteplan.plan.document import Plan
    from siteplan.rules.cards import Card
    from siteplan.rules.night import NightPlan
    from siteplan.rules.sound import Heard, SoundReport

NIGHT_FORMAT = 1
_VERDICT_WORDS = {"within": "within", "close": "close", "above": "above"}
_NOT_JUDGED = Text("not judged")
_QUESTIONS = (Text("Will the neighbours hear it?"), Text("When may it be refuelled?"))


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this command to the command line."""
    parser = commands.add_parser("night", help="levels, fuel, hours and cards for the outage")
    parser.add_argument("plan", metavar="PLAN", help="plan file, or - for stdin")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    common.add_manner(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print levels, fuel, the hours of the outage and the cards."""
    from siteplan.rules.cards import cards
    from siteplan.rules.night import night_plan
    from siteplan.rules.night_words import refuel_line
    from siteplan.rules.sound import levels
    from siteplan.rules.sound_words import heard_line
    from siteplan.scene import resolve

    manner = common.manner(args)
    plan = common.read_plan(args.plan)
    scene = resolve(plan)
    sound, night = levels(scene), night_plan(scene)
    said = (heard_line(scene), refuel_line(night, plan.outage.quiet_from))
    if args.json:
        whole = tree(args.plan, plan, sound, night, manner)
        whole["answers"] = {"sound": said[0].say(manner), "refuel": said[1].say(manner)}
        print(json.dumps(whole, allow_nan=False, indent=1))
        return codes.DONE
    for text, answer in zip(_QUESTIONS, said, strict=True):
        print(text.say(manner))
        print(terminal.wrap(answer.say(manner), "  "))
        print()
    for lines in (_levels(sound, manner), _fuel(night, plan, manner), _hours(night, plan, manner)):
        told = list(lines)
        if told:
            print("\n".join(told), end="\n\n")
    for card in cards(plan):
        print("\n".join(_card(card, manner)))
        print()
    print(terminal.wrap(common.CAUTION.say(manner), "  "))
    return codes.DONE


def _levels(sound: "SoundReport", manner: Manner) -> Iterator[str]:
    from siteplan.rules.sound import LEFT_OUT_TEXT, LEVELS_NOTE_TEXT

    yield Text("Levels (prediction, ±{band} dB)", {"band": _count(sound.uncertainty_db)}).say(
        manner
    )
    if sound.power_dba is None:
        yield terminal.wrap(Text("No generator stands on the plan yet.").say(manner), "  ")
        return
    if sound.rating_assumed:
        yield terminal.wrap(
            Text(
                "The generator's sound rating is missing; a sound power of {power} is assumed.",
                {"power": Quantity(sound.power_dba, "level", "up")},
            ).say(manner),
            "  ",
        )
    places = [*sound.sides, *sound.windows, *([] if sound.ring is None else [sound.ring])]
    for one in places:
        yield terminal.wrap(_heard(one, manner), "    ", "  ")
    if sound.left_out:
        left = Text(LEFT_OUT_TEXT, {"count": sound.left_out})
        yield terminal.wrap(left.say(manner), "  ")
    yield terminal.wrap(Text(LEVELS_NOTE_TEXT).say(manner), "  ")


def _heard(one: "Heard", manner: Manner) -> str:
    level = Quantity(one.level_dba, "level", "up")
    said = [Text("{place}: {level}", {"place": one.name, "level": level}).say(manner)]
    for night, limit in ((False, one.limits.day_dba), (True, one.limits.night_dba)):
        if limit is None:
            continue
        found = one.verdict(night=night)
        word = _NOT_JUDGED if found is None else Text(_VERDICT_WORDS[found])
        values: dict[str, Value] = {"word": word, "limit": Quantity(limit, "level", "down")}
        template = "at night {word} (limit {limit})" if night else "by day {word} (limit {limit})"
        said.append(Text(template, values).say(manner))
    return "; ".join(said)


def _fuel(night: "NightPlan", plan: "Plan", manner: Manner) -> Iterator[str]:
    from siteplan.rules.night_words import fuel_lines, missing_line

    yield Text("Fuel").say(manner)
    lines = [missing_line(night)] if night.missing else list(fuel_lines(night, plan))
    yield from (terminal.wrap(one.say(manner), "  ") for one in lines)


def _hours(night: "NightPlan", plan: "Plan", manner: Manner) -> Iterator[str]:
    from siteplan.rules.night_words import hour_lines

    hours = list(hour_lines(night, plan))
    if hours:
        yield Text("The hours").say(manner)
    for clock, line in hours:
        yield terminal.wrap(f"{clock}  {line.say(manner)}", "         ", "  ")


def _card(card: "Card", manner: Manner) -> Iterator[str]:
    yield Text(card.title).say(manner)
    for number, step in enumerate(card.steps, start=1):
        sign = "[ ]" if card.mark == "box" else f"{number}. "
        yield terminal.wrap(step.say(manner), "      ", f"  {sign} ")
    for note in card.notes:
        yield terminal.wrap(note.say(manner), "  ")


def _count(value: float) -> Quantity:
    return Quantity(value, "count")


def tree(
    name: str, plan: "Plan", sound: "SoundReport", night: "NightPlan", manner: Manner
) -> dict[str, object]:
    """Return levels, fuel, hours and cards as plain data for JSON."""
    from siteplan.rules.cards import cards

    placement = plan.placement
    return {
        "night_format": NIGHT_FORMAT,
        "plan": {
            "file": name,
            "title": plan.title,
            "placement": None if placement is None else placement.id,
        },
        "sound": _sound_tree(sound, manner),
        "fuel": _fuel_tree(night, manner),
        "cards": [
            {
                "id": card.id,
                "title": Text(card.title).say(manner),
                "steps": [one.say(manner) for one in card.steps],
                "notes": [one.say(manner) for one in card.notes],
                "sources": list(card.sources),
            }
            for card in cards(plan)
        ],
        "caution": common.CAUTION.say(manner),
    }


def _sound_tree(sound: "SoundReport", manner: Manner) -> dict[str, object]:
    held = sound.limits
    return {
        "power_dba": _rounded(sound.power_dba),
        "rating_assumed": sound.rating_assumed,
        "uncertainty_db": sound.uncertainty_db,
        "preset": None if held.preset is None else held.preset.id,
        "sides": [_place_tree(one, manner) for one in sound.sides],
        "windows": [_place_tree(one, manner) for one in sound.windows],
        "at_distance": None if sound.ring is None else _place_tree(sound.ring, manner),
        "left_out_count": sound.left_out,
        "not_credited": list(sound.uncredited),
    }


def _place_tree(one: "Heard", manner: Manner) -> dict[str, object]:
    return {
        "kind": one.kind,
        "subjects": list(one.subjects),
        "name": one.name.say(manner),
        "at_m": [round(part, 3) for part in one.at],
        "height_m": round(one.height_m, 3),
        "distance_m": round(one.distance_m, 3),
        "level_dba": _rounded(one.level_dba),
        "too_near": one.too_near,
        "added_db": _rounded(one.added_db),
        "credit_db": _rounded(one.credit_db),
        "screen": one.screen,
        "day_limit_dba": one.limits.day_dba,
        "night_limit_dba": one.limits.night_dba,
        "day": one.verdict(night=False),
        "night": one.verdict(night=True),
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 2)


def _fuel_tree(night: "NightPlan", manner: Manner) -> dict[str, object]:
    if night.missing:
        return {"missing": [one.say(manner) for one in night.missing]}
    return {
        "missing": [],
        "start": night.clock(0.0),
        "hours_h": night.hours,
        "cooling_min": night.cooling_min,
        "fuel_most_l": _rounded(night.fuel_most_l),
        "fuel_least_l": _rounded(night.fuel_least_l),
        "tank_l": night.tank_l,
        "shortest_tank_h": _rounded(night.shortest_tank_h),
        "store_l": _rounded(night.store_l),
        "stored_l": night.stored_l,
        "store_limit_l": _rounded(night.store_limit_l),
        "overloaded": night.overloaded,
        "periods": [
            {
                "start_h": _rounded(one.start_h),
                "end_h": _rounded(one.end_h),
                "quiet": one.quiet,
                "loads": list(one.loads),
                "mean_w": _rounded(one.mean_w),
                "most_l_per_h": _rounded(one.most_l_per_h),
                "least_l_per_h": _rounded(one.least_l_per_h),
            }
            for one in night.periods
        ],
        "stretches": [
            {
                "kind": one.kind,
                "start_h": _rounded(one.start_h),
                "end_h": _rounded(one.end_h),
                "start": night.clock(one.start_h),
                "fuel_l": _rounded(one.fuel_l),
            }
            for one in night.stretches
        ],
        "stops": [
            {
                "stop": night.clock(one.stop_h),
                "start": night.clock(one.start_h, later=True),
                "asleep": one.asleep,
            }
            for one in night.stops
        ],
        "savings": [
            {"load": one.load, "hours_h": _rounded(one.hours), "saved_l": _rounded(one.saved_l)}
            for one in night.savings
        ],
        "leave_off": list(night.leave_off),
        "lasts_then": night.lasts_then,
    }
