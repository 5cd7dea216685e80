"""Where nothing passes: the places with the least wrong, each with all that is wrong."""

import math
from dataclasses import replace

import numpy as np

from siteplan.geometry.arrays import FloatArray
from siteplan.rules.findings import serious, severity
from siteplan.suggest.ends import reach
from siteplan.suggest.search import Search
from siteplan.suggest.spot import Spot, cost, heard, reviewed, spot_at
from siteplan.suggest.survey import Survey
from siteplan.suggest.zone import found_at

_LOOKED_AT = 12
_SPREAD_M = 2.0
# A DANGER weighs as much as this many WARNINGs in the quick look; the rules decide after it.
_DANGER_WEIGHT = 8.0


def least_bad(search: Search, survey: Survey, count: int) -> tuple[Spot, ...]:
    """Return the least bad places, best first; none of them is a place to run a machine."""
    places = survey.places
    if not len(places):
        return ()
    wrong = _wrong(survey)
    exhaust = _exhaust_deg(survey)
    found: list[Spot] = []
    for row in np.argsort(wrong, kind="stable").tolist():
        x, y = places[row].tolist()
        if all(math.dist((x, y), one.at) >= _SPREAD_M for one in found):
            turn = search.turn_deg(float(exhaust[row]))
            spot = spot_at(search.scene, (x, y), turn, reach(search.scene, search.ends, (x, y)))
            found.append(replace(spot, findings=found_at(search.scene, (x, y), turn)))
        if len(found) == _LOOKED_AT:
            break
    best = [reviewed(search.scene, one) for one in sorted(found, key=_badness)[:count]]
    return tuple(heard(search.scene, one) for one in sorted(best, key=_badness))


def _wrong(survey: Survey) -> FloatArray:
    wrong = np.zeros(len(survey.places))
    for one in survey.columns:
        weight = _DANGER_WEIGHT if one.weight == severity("DANGER") else 1.0
        wrong += np.where(one.short_m > 0.0, weight * (1.0 + one.short_m / 6.0), 0.0)
    wrong += _DANGER_WEIGHT * survey.walled + 2.0 * survey.ways.barred.all(axis=1)
    return wrong


def _exhaust_deg(survey: Survey) -> FloatArray:
    ways = survey.ways
    some = ~ways.barred
    some[~some.any(axis=1)] = True
    return ways.best(some)


def _badness(spot: Spot) -> tuple[int, int, int, float]:
    grave = serious(spot.findings)
    worst = sum(one.signal == spot.worst for one in grave)
    return (severity(spot.worst), worst, len(grave), cost(spot)[1])
