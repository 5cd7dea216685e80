"""How far exhaust must leave from an opening for the estimate to pass no rung of its rule.

The estimate falls with the straight distance, so each rung is a distance for each opening; the
eddy behind a building adds a distance from its walls, within which it counts at once.
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from siteplan.air.bands import outdoor_ppm
from siteplan.air.dilution import cavity_ppm, recirculation_length_m
from siteplan.air.source import RAW_CEILING_PPM
from siteplan.geometry.arrays import FloatArray, IntArray
from siteplan.rules.book import Rule, rule
from siteplan.rules.carbon_monoxide_case import (
    RULE,
    exchange_of,
    faces_m2,
    mean_room_ppm,
    opening_states,
    rate_of,
    reference_doses_ppm,
    run_h,
)
from siteplan.rules.common import accuracy_m
from siteplan.rules.findings import Signal
from siteplan.scene import Scene, Standing

_STEPS, _ROUNDS = 256, 3


class Rung(NamedTuple):
    """What one rung asks for.

    Attributes
    ----------
    signal : str
        What is said nearer than this.
    places : IntArray
        Indices of the openings that count.
    outlet_m : FloatArray
        What the outlet must keep from each of them, the drawing's accuracy added [m].
    walls : IntArray
        Indices of the buildings in whose eddy the rung is passed.
    walls_m : FloatArray
        What the machine must keep from the walls of each [m].
    """

    signal: Signal
    places: IntArray
    outlet_m: FloatArray
    walls: IntArray
    walls_m: FloatArray


def rungs_by_distance(scene: Scene, standing: Standing) -> Iterator[Rung]:
    """Yield what each rung of the estimate asks for, of a machine that is not confined."""
    book, setting = rule(RULE), scene.setting
    places = np.flatnonzero(setting.counts)
    if not len(places):
        return
    run = run_h(scene.plan.outage.hours, book)
    rate = rate_of(standing.machine, book, confined=False).indicative_g_h
    share = mean_room_ppm(np.ones(len(places)), _changes_per_h(scene, standing, places, book), run)
    slack = accuracy_m(scene.plan)
    farthest = book.figure("reach_m") + 2.0 * _size_m(standing)
    for signal, _, dose in reference_doses_ppm(run):
        # Rounded, so that openings of one kind share one search.
        most, which = np.unique(np.round(dose / share, 9), return_inverse=True)
        keep = np.asarray(_farthest_over_m(rate, tuple(most.tolist()), farthest))[which]
        walls, walls_m = _eddies(scene, places, rate, dose / share)
        yield Rung(signal, places, keep + slack, walls, walls_m)


def _changes_per_h(scene: Scene, standing: Standing, places: IntArray, book: Rule) -> FloatArray:
    states = opening_states(scene, standing, places)
    openings = [scene.plan.openings[place] for place in places.tolist()]
    return np.array(
        [
            exchange_of(one, state, book).indicative_per_h
            for one, state in zip(openings, states, strict=True)
        ]
    )


def _size_m(standing: Standing) -> float:
    """Return what the outlet may lie farther off than the nearest part of the machine [m]."""
    low_x, low_y, high_x, high_y = standing.reach.bounds
    return float(np.hypot(high_x - low_x, high_y - low_y))


@lru_cache(maxsize=64)
def _farthest_over_m(
    rate_g_h: float, most_ppm: tuple[float, ...], farthest_m: float
) -> tuple[float, ...]:
    """Return how far from the outlet each concentration is passed, a hair more [m]."""
    limit = np.array(most_ppm)
    low, high = np.zeros(len(limit)), np.full(len(limit), farthest_m)
    share = np.linspace(0.0, 1.0, _STEPS)[:, None]
    for _ in range(_ROUNDS):
        tried = low + (high - low) * share
        outside = outdoor_ppm(rate_g_h, tried.ravel()).indicative.ppm.reshape(tried.shape)
        over = (outside > limit).sum(axis=0)
        columns = np.arange(len(limit))
        low = tried[np.maximum(over - 1, 0), columns]
        high = tried[np.minimum(over, _STEPS - 1), columns]
    return tuple(high.tolist())


def _eddies(
    scene: Scene, places: IntArray, rate_g_h: float, most_ppm: FloatArray
) -> tuple[IntArray, FloatArray]:
    """Return the buildings whose eddy alone passes a concentration, and how far each reaches."""
    owners, airways = scene.setting.opening_building[places], scene.setting.airways
    found: list[tuple[int, float]] = []
    for owner in np.unique(owners).tolist():
        area = faces_m2(scene, owner)
        if area is None:
            continue
        mean = min(cavity_ppm(rate_g_h, 1.0, area), RAW_CEILING_PPM)
        if mean > most_ppm[owners == owner].min():
            long, eave = float(airways.faces_m[owner][1]), float(airways.eaves_m[owner])
            found.append((owner, recirculation_length_m(long, eave)))
    index = np.array([owner for owner, _ in found], dtype=np.int64)
    return index, np.array([reach for _, reach in found], dtype=np.float64)
