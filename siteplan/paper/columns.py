"""Tables as CSV (RFC 4180): findings, distances, parts. Numbers in SI, texts inert.

A text that a spreadsheet would take for a formula gets an apostrophe before it; numbers of
this program's own are written bare, so that they can be reckoned with.
"""

import csv
import io
import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Literal

from siteplan.paper.sections.parts import listed
from siteplan.paper.subject import Subject
from siteplan.plan.labels import label
from siteplan.plan.lot import Building, Opening
from siteplan.rules.common import accuracy_m, certain_m
from siteplan.rules.findings import SUFFIX, Finding, Met, Unjudged
from siteplan.units import round_to
from siteplan.words import Quantity, length, plain

Which = Literal["findings", "distances", "parts"]
Value = str | float | int | None

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_DECIMALS = 4
_STEP = 1e-4
# A sentence of this program's own is never cut short of its caution.
_LONGEST_CELL = 4000


def write(columns: tuple[str, ...], rows: Iterable[Mapping[str, Value]]) -> str:
    """Return rows as the text of a CSV file, with a heading row."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow(columns)
    for row in rows:
        writer.writerow([inert(row.get(name)) for name in columns])
    return stream.getvalue()


def inert(value: Value) -> str | float | int:
    """Return a cell: a number as it is, a text in one line that is no formula."""
    if value is None or (isinstance(value, float) and not math.isfinite(value)):
        return ""
    if isinstance(value, str):
        text = plain(value, _LONGEST_CELL).strip()
        return f"'{text}" if text.startswith(_FORMULA) else text
    return round(value, _DECIMALS) if isinstance(value, float) else value


FINDINGS = (
    "outcome",
    "signal",
    "rule",
    "subjects",
    "measured",
    "limit",
    "margin",
    "unit",
    "what",
    "do",
    "missing",
    "sources",
)


def findings(subject: Subject) -> str:
    """Return every outcome of the review as CSV, findings worst first."""
    review = subject.review
    rows: list[dict[str, Value]] = [_finding(subject, one) for one in review.findings]
    rows += [_met(subject, one) for one in review.met]
    rows += [_unjudged(subject, one) for one in review.unjudged]
    return write(FINDINGS, rows)


def _finding(subject: Subject, one: Finding) -> dict[str, Value]:
    return {
        "outcome": "finding",
        "signal": one.signal,
        "what": one.what.say(subject.manner),
        "do": one.do.say(subject.manner),
        **_common(one),
    }


def _met(subject: Subject, one: Met) -> dict[str, Value]:
    return {"outcome": "met", "what": one.what.say(subject.manner), **_common(one)}


def _unjudged(subject: Subject, one: Unjudged) -> dict[str, Value]:
    return {
        "outcome": "not judged",
        "rule": one.rule,
        "subjects": " ".join(one.subjects),
        "missing": one.missing.say(subject.manner),
    }


def _common(one: Finding | Met) -> dict[str, Value]:
    return {
        "rule": one.rule,
        "subjects": " ".join(one.subjects),
        "measured": _number(one.measured),
        "limit": _number(one.limit),
        "margin": _number(one.margin),
        "unit": "" if one.measured is None else SUFFIX[one.measured.kind],
        "sources": " ".join(one.sources),
    }


def _number(value: Quantity | None) -> float | None:
    """Return a figure rounded to its own side, before a cell rounds it to the nearest."""
    return None if value is None else round_to(value.value, _STEP, value.side)


DISTANCES = ("subject", "kind", "name", "drawn_m", "accuracy_m", "counted_m", "counts")


def distances(subject: Subject) -> str:
    """Return the distance from the machine to every opening and building as CSV."""
    return write(DISTANCES, _distances(subject))


def _distances(subject: Subject) -> Iterator[dict[str, Value]]:
    scene, setting, plan = subject.scene, subject.scene.setting, subject.plan
    for opening, away, counts in zip(plan.openings, scene.opening_m, setting.counts, strict=True):
        yield _distance(subject, opening, float(away), counts=bool(counts))
    by_walls = setting.walled_for_openings
    for building, away, counts in zip(plan.buildings, scene.wall_m, by_walls, strict=True):
        yield _distance(subject, building, float(away), counts=bool(counts))


def _distance(
    subject: Subject, thing: Opening | Building, drawn_m: float, *, counts: bool
) -> dict[str, Value]:
    known = math.isfinite(drawn_m)
    return {
        "subject": thing.id,
        "kind": thing.kind,
        "name": label(thing).say(subject.manner),
        "drawn_m": drawn_m,
        "accuracy_m": accuracy_m(subject.plan),
        "counted_m": _number(length(certain_m(subject.plan, drawn_m))) if known else None,
        "counts": "yes" if counts else "no",
    }


PARTS = ("part", "count", "size", "length_m")


def parts(subject: Subject) -> str:
    """Return every cord, inlet and piece of equipment that the plan names as CSV."""
    return write(PARTS, _parts(subject))


def _parts(subject: Subject) -> Iterator[dict[str, Value]]:
    for what, count, size, long_m in listed(subject):
        yield {
            "part": what.say(subject.manner),
            "count": count,
            "size": None if size is None else size.say(subject.manner),
            "length_m": long_m,
        }


TABLES: Mapping[Which, Callable[[Subject], str]] = {
    "findings": findings,
    "distances": distances,
    "parts": parts,
}
