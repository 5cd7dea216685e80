"""Writing down everything that is said of a plan, line by line."""

import dataclasses
import zlib
from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np
from pydantic import BaseModel
from shapely.geometry.base import BaseGeometry

from siteplan.plan import Plan
from siteplan.rules import carbon_monoxide_words, night_words, power_report, review_scene
from siteplan.rules.carbon_monoxide import estimate
from siteplan.rules.carbon_monoxide_reach import rungs_by_distance
from siteplan.rules.cards import cards
from siteplan.rules.missing import grouped, open_count
from siteplan.rules.night import night_plan
from siteplan.rules.power.buy import cord_lines, short_sentence
from siteplan.rules.power.ways import part_text
from siteplan.rules.sound import levels
from siteplan.rules.sound_contours import contours
from siteplan.rules.sound_words import heard_line
from siteplan.scene import Scene, resolve
from siteplan.suggest.answers import answers
from siteplan.words import Quantity, Text

_LONGEST = 12


def record(plan: Plan) -> dict[str, dict[str, Any]]:
    """Return all that is said of a plan, by section."""
    scene = resolve(plan)
    said = review_scene(scene)
    return {
        "review": {
            "finding": said.findings,
            "met": said.met,
            "not judged": said.unjudged,
            "missing": grouped(said.unjudged),
            "open": open_count(said),
        },
        "answers": {"answer": answers(scene, said), "card": cards(plan)},
        "power": _power(scene),
        "air": _air(scene),
        "sound": _sound(scene),
        "night": _night(scene),
    }


def digests(plan: Plan) -> str:
    """Return a short digest of each section of a plan's record, on one line."""
    return " ".join(
        f"{section} {zlib.crc32(chr(10).join(lines(section, told)).encode()):08x}"
        for section, told in record(plan).items()
    )


def contour_digest(plan: Plan) -> str:
    """Return a short digest of the lines of equal level about the machine."""
    told = lines("contour", contours(resolve(plan)))
    return f"contours {zlib.crc32(chr(10).join(told).encode()):08x}"


def sentences(plan: Plan) -> list[str]:
    """Return every sentence said of a plan, each once, under the name of its section."""
    found: dict[str, None] = {}
    for section, told in record(plan).items():
        found[f"== {section}"] = None
        # What is said of one opening is said of forty; three are enough to read.
        shown = told | {"air opening": told.get("air opening", ())[:3]}
        found |= dict.fromkeys(_said(shown))
    return list(found)


def _said(value: Any) -> Iterator[str]:
    if isinstance(value, Text):
        yield value.say()
    for _, one in _items(value) or ():
        yield from _said(one)


def _power(scene: Scene) -> dict[str, Any]:
    report = power_report(scene)
    return {
        "power": report,
        "cord to buy": tuple(cord_lines(report.buys)),
        "cord in short": tuple(short_sentence(one) for one in report.buys),
        "part": tuple(part_text(one) for one in report.parts),
    }


def _air(scene: Scene) -> dict[str, Any]:
    found, standing = estimate(scene), scene.standing
    if found is None or standing is None:
        return {"air": None}
    words = carbon_monoxide_words
    return {
        "air": found,
        "air rung": tuple(rungs_by_distance(scene, standing)),
        "air basis": tuple(words.basis(found)),
        "air within": words.nothing_within(found),
        "air alarm": tuple(words.alarm(one) for one in found.alarm_points),
        "air opening": tuple(
            (words.headline(one), *words.details(one), words.symptoms(one.worst))
            for one in found.openings
        ),
    }


def _sound(scene: Scene) -> dict[str, Any]:
    return {"sound": levels(scene), "heard": heard_line(scene)}


def _night(scene: Scene) -> dict[str, Any]:
    plan, night, words = scene.plan, night_plan(scene), night_words
    told: dict[str, Any] = {
        "night": night,
        "refuel": words.refuel_line(night, plan.outage.quiet_from),
        "medical": tuple(words.medical_lines(night, plan)),
    }
    if night.missing:
        return told | {"night missing": words.missing_line(night)}
    return told | {
        "fuel": tuple(words.fuel_lines(night, plan)),
        "saving": tuple(words.saving_lines(night, plan)),
        "hour": tuple(words.hour_lines(night, plan)),
    }


def lines(name: str, value: Any) -> Iterator[str]:
    """Yield a value as lines, each led by the way to it."""
    if isinstance(value, Text):
        yield f"{name}: {value.say()}{_behind(value)}"
    elif (items := _items(value)) is None:
        yield f"{name}: {_plain(value)}"
    else:
        empty = True
        for key, one in items:
            empty = False
            yield from lines(f"{name}.{key}" if key else name, one)
        if empty:
            yield f"{name}: none"


def _items(value: Any) -> list[tuple[str, Any]] | None:
    """Return the named parts of a value, or None if it is said in one piece."""
    if isinstance(value, Quantity | BaseModel | BaseGeometry | str | Text):
        return None
    if dataclasses.is_dataclass(value):
        return [(one.name, getattr(value, one.name)) for one in dataclasses.fields(value)]
    if hasattr(value, "_asdict"):
        return list(value._asdict().items())
    if isinstance(value, Mapping):
        return [(str(key), one) for key, one in value.items()]
    if isinstance(value, tuple | list) and not _is_of_numbers(value):
        return [(str(place), one) for place, one in enumerate(value)]
    return None


def _is_of_numbers(value: Any) -> bool:
    flat = np.asarray(value, dtype=object).ravel().tolist() if len(value) else [""]
    return all(isinstance(one, int | float) for one in flat)


def _behind(text: Text) -> str:
    """Return the figures in a sentence as they are before they are rounded."""
    found = [
        f"{key} {_plain(one)}" for key, one in text.values.items() if isinstance(one, Quantity)
    ]
    inner = [_behind(one) for one in text.values.values() if isinstance(one, Text)]
    return (f" [{', '.join(found)}]" if found else "") + "".join(inner)


def _plain(value: Any) -> str:
    if isinstance(value, Quantity):
        return f"{_number(value.value)} {value.kind} {value.side}"
    if isinstance(value, BaseModel):
        return str(getattr(value, "id", type(value).__name__))
    if isinstance(value, BaseGeometry):
        return f"{value.geom_type} {_number(value.length)} {_number(value.area)}"
    if isinstance(value, bool | str) or value is None:
        return str(value)
    if isinstance(value, int | float):
        return _number(value)
    return _numbers(np.asarray(value, dtype=np.float64))


def _number(value: float) -> str:
    # Rounding errors differ from machine to machine: about nought, and where a digit ends in 5.
    return f"{value * (1.0 + 1e-9):.5g}" if abs(value) > 1e-9 else "0"


def _numbers(values: np.ndarray[Any, Any]) -> str:
    flat = values.ravel().tolist()
    if len(flat) <= _LONGEST:
        return ", ".join(_number(one) for one in flat)
    return f"{values.shape} sum {_number(sum(flat))}, {_number(flat[0])} to {_number(flat[-1])}"
