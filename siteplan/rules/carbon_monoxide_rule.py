"""The carbon monoxide estimate in the review: one finding that can only add or raise."""

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from siteplan.air.blood import cohb_percent
from siteplan.air.thresholds import CAUTION
from siteplan.rules.book import Rule, rule
from siteplan.rules.carbon_monoxide_case import (
    RULE,
    Case,
    case_of,
    grade,
    ranked,
    reference_doses_ppm,
)
from siteplan.rules.common import line_evidence
from siteplan.rules.findings import Evidence, Finding, Outcome, Signal, Unjudged
from siteplan.rules.ladder import whose
from siteplan.scene import Scene, Standing
from siteplan.words import Quantity, Text, Value, length

CAUTION_SENTENCE = Text(CAUTION)
_MOST_NAMED = 3
_COARSE_STEPS = 16
_CONFINED = Text(
    "The generator stands roofed or walled in. Its engine then makes several times as much carbon "
    "monoxide, and the place holds it: a danger at any distance, without any estimate."
)
_OUT = Text("Do not run it here. Carry it into the open, well away, before starting it.")
_ANYWHERE = (
    "In still air carbon monoxide can come in at {subject}, {path} off, and at any opening: no "
    "distance rules it out."
)
_MORE = (
    "By estimate more carbon monoxide comes in at {subject}, {path} off, than an ordinary "
    "generator {rung} off would bring."
)
# Figures stand in one text with the caution, so that no output can show them without it.
_FIGURES = (
    "Estimate for a light wind: {ppm} outside it, {blood} in the blood after {run}; still air "
    "can bring deadly amounts. {caution}"
)
_CHILDS_FIGURES = (
    "Estimate for a light wind: {ppm} outside it, {blood} in a small child's blood after {run}; "
    "still air can bring deadly amounts. {caution}"
)
_DO: dict[Signal, str] = {
    "DANGER": "Do not run it here. Stand it farther off, with every opening shut. {figures}",
    "WARNING": "Stand it farther off, with every opening shut. {figures}",
    "CAUTION": "Stand it farther off if the lot allows, with every opening shut. {figures}",
}
_DO_ANYWHERE = "Keep openings shut and alarms working. {figures}"


def co_estimate(scene: Scene, standing: Standing, said: Sequence[Outcome]) -> Iterator[Outcome]:
    """Warn by the estimate of what comes in at the worst opening.

    `said` is what the other rules found. There is no outcome that says a place will do.
    """
    book = rule(RULE)
    case = case_of(scene, standing, said, round_buildings=False)
    yield from _not_stated(book, case)
    if case.confined:
        yield Finding(book.id, "DANGER", (), _CONFINED, _OUT, book.sources)
        return
    if not len(case.places):
        reach = length(book.figure("reach_m"))
        missing = Text(
            "carbon monoxide indoors: no opening is drawn within {reach}", {"reach": reach}
        )
        yield Unjudged(book.id, (), missing, not_drawn=True)
        return
    yield _finding(scene, book, case)


def _not_stated(book: Rule, case: Case) -> Iterator[Unjudged]:
    if not case.rate_known:
        missing = Text(
            "how much carbon monoxide the engine makes: neither a label nor the engine size is "
            "entered; {rate} g/h was taken",
            {"rate": math.ceil(case.rate.indicative_g_h)},
        )
        yield Unjudged(book.id, (), missing)
    if not case.run_stated:
        hours = Quantity(case.run_h * 3600.0, "time", "up")
        missing = Text(
            "how long the generator runs: the length of the outage is not entered; {run} was "
            "taken for the carbon monoxide estimate",
            {"run": hours},
        )
        yield Unjudged(book.id, (), missing)


def _finding(scene: Scene, book: Rule, case: Case) -> Finding:
    outside = case.indicative_ppm()
    doses = case.dose_ppm(outside)
    rungs = reference_doses_ppm(case.run_h)
    openings = [scene.plan.openings[index] for index in case.places.tolist()]
    order = ranked(doses, openings).tolist()
    worst = order[0]
    signal, rung_m = grade(float(doses[worst]), rungs)
    graded = math.isfinite(rung_m)
    same = [one for one in order if grade(float(doses[one]), rungs) == (signal, rung_m)]
    named = same[: _MOST_NAMED if graded else 1]
    what: dict[str, Value] = {
        "subject": whose(scene.plan, openings[worst]),
        "path": length(float(case.path_m[worst])),
    }
    if graded:
        what["rung"] = length(rung_m)
    return Finding(
        rule=book.id,
        signal=signal,
        subjects=tuple(openings[one].id for one in named),
        what=Text(_MORE if graded else _ANYWHERE, what),
        do=Text(
            _DO[signal] if graded else _DO_ANYWHERE,
            {"figures": _figures(case, worst, float(outside[worst]))},
        ),
        sources=book.sources,
        evidence=_lines(scene, case, named) if graded else (),
    )


def holds_anywhere(finding: Finding) -> bool:
    """Tell whether a finding is the caution that no distance takes away."""
    return finding.rule == RULE and finding.what.template == _ANYWHERE


def _figures(case: Case, place: int, outside_ppm: float) -> Text:
    return Text(
        _CHILDS_FIGURES if case.person == "child" else _FIGURES,
        {
            "ppm": Quantity(outside_ppm, "concentration", "up"),
            "blood": Quantity(taken_up_percent(case, place, outside_ppm), "percent", "up"),
            "run": Quantity(case.run_h * 3600.0, "time", "up"),
            "caution": CAUTION_SENTENCE,
        },
    )


def _lines(scene: Scene, case: Case, named: Sequence[int]) -> tuple[Evidence, ...]:
    outlet = shapely.Point(case.outlet.at)
    lines = [
        shapely.shortest_line(outlet, scene.setting.openings[int(case.places[one])])
        for one in named
    ]
    return tuple(found for line in lines for found in line_evidence(shapely.get_coordinates(line)))


def taken_up_percent(case: Case, place: int, outside_ppm: float) -> float:
    """Return the person's carboxyhaemoglobin at the end of the run, in few steps [%].

    Each step breathes the exact mean over it of the room behind the opening, in the indicative
    band.
    """
    ends = np.linspace(0.0, case.run_h, _COARSE_STEPS + 1)
    changes = case.exchanges[place].indicative_per_h
    # The integral of 1 - e^-nt from 0.
    filled = ends + np.expm1(-changes * ends) / changes
    means = outside_ppm * np.diff(filled) / np.diff(ends)
    return float(cohb_percent(ends[1:] * 60.0, means, case.person)[-1])
