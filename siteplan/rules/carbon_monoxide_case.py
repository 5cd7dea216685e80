"""What the carbon monoxide estimate reckons with: source, ways, openings and run of one plan."""

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from siteplan.air.bands import indicative_ppm, outdoor_ppm
from siteplan.air.blood import Activity
from siteplan.air.dilution import WIND_FLOOR_M_S, cavity_ppm, recirculation_length_m
from siteplan.air.entry import AIR_CHANGES, Exchange, OpeningState, exchange
from siteplan.air.source import RAW_CEILING_PPM, SourceRate, source_rate
from siteplan.geometry.arrays import FloatArray, IntArray
from siteplan.plan.lot import Opening
from siteplan.plan.machine import Machine
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import accuracy_m
from siteplan.rules.findings import SIGNALS, Finding, Outcome, Signal
from siteplan.rules.left_open import ajar_for_cord
from siteplan.scene import Scene, Standing
from siteplan.scene.plumes import (
    Outlet,
    outlet_height_m,
    path_lengths_m,
    straight_lengths_m,
)

RULE = "co-estimate"
CONFINING = frozenset(
    {"indoors", "under-roof", "walled-in", "horizon-blocked", "window-well", "cover"}
)
"""Rules whose DANGER says that the machine stands roofed or walled in."""
_LEAST_W = 1.0
_LEAST_AREA_M2 = 1e-4


class Case(NamedTuple):
    """One machine, the openings within reach of its exhaust, and the run.

    Attributes
    ----------
    outlet : Outlet
        Where exhaust leaves.
    rate : SourceRate
        Carbon monoxide rate for both bands [g/h].
    rate_known : bool
        Whether label or engine size is stated; else the screening rate was taken.
    confined : bool
        Whether the machine stands roofed or walled in; the rate is then the one at reduced oxygen.
    run_h : float
        Length of the run followed [h].
    run_stated : bool
        Whether the plan says how long the outage is.
    person : str
        Whose blood is told of: a small child's where children are said to be at home.
    places : IntArray
        Indices of the openings within reach.
    path_m : FloatArray
        Way of the exhaust to each, less the drawing's accuracy [m].
    states : tuple of str
        "shut", "cracked" or "open".
    exchanges : tuple of Exchange
        Air changes of the room behind each.
    cavity_m2 : FloatArray
        Frontal area of the building in whose recirculating air the machine stands [m²]; nan if
        it stands in none's.
    """

    outlet: Outlet
    rate: SourceRate
    rate_known: bool
    confined: bool
    run_h: float
    run_stated: bool
    person: Activity
    places: IntArray
    path_m: FloatArray
    states: tuple[OpeningState, ...]
    exchanges: tuple[Exchange, ...]
    cavity_m2: FloatArray

    def outside_ppm(self) -> FloatArray:
        """Return carbon monoxide outside each opening, shape (2, n): indicative and worst."""
        bands = outdoor_ppm(
            self.rate.indicative_g_h, self.path_m, worst_rate_g_h=self.rate.worst_g_h
        )
        both = np.stack([bands.indicative.ppm, bands.worst.ppm])
        both[0] = np.maximum(both[0], self._cavity_ppm(self.rate.indicative_g_h, 1.0))
        both[1] = np.maximum(both[1], self._cavity_ppm(self.rate.worst_g_h, WIND_FLOOR_M_S))
        return both

    def indicative_ppm(self) -> FloatArray:
        """Return the first row of `outside_ppm`, for a fraction of the work."""
        open_air = indicative_ppm(self.rate.indicative_g_h, self.path_m)
        return np.maximum(open_air, self._cavity_ppm(self.rate.indicative_g_h, 1.0))

    def _cavity_ppm(self, rate_g_h: float, wind_m_s: float) -> FloatArray:
        """Return the mean of the recirculating air, 0 outside of it [ppm]."""
        found = np.zeros(len(self.cavity_m2))
        for index in np.flatnonzero(np.isfinite(self.cavity_m2)).tolist():
            mean = cavity_ppm(rate_g_h, wind_m_s, float(self.cavity_m2[index]))
            found[index] = min(mean, RAW_CEILING_PPM)
        return found

    def dose_ppm(self, outside_ppm: FloatArray) -> FloatArray:
        """Return the mean over the run in the room behind each opening [ppm].

        The indicative one, of carbon monoxide outside in the indicative band.
        """
        changes = np.array([one.indicative_per_h for one in self.exchanges], dtype=np.float64)
        return mean_room_ppm(outside_ppm, changes, self.run_h)


def mean_room_ppm(outside_ppm: FloatArray, changes_per_h: FloatArray, run_h: float) -> FloatArray:
    """Return the mean over a run in a room that starts clean [ppm]: C (1 - (1 - e^-nT)/(nT)).

    Source: the single-zone balance, integrated (derived).
    """
    turns = changes_per_h * run_h
    return np.asarray(outside_ppm * (1.0 + np.expm1(-turns) / turns))


def case_of(
    scene: Scene, standing: Standing, outcomes: Iterable[Outcome], *, round_buildings: bool
) -> Case:
    """Return the case of a plan.

    `outcomes` are what the rules on roofs and walls say; a DANGER among them means confined.
    Exhaust goes round the buildings, or straight: the review takes the straight line, so that
    drawing one more building can never make it milder.
    """
    book = rule(RULE)
    places = within_reach(scene, book)
    openings = [scene.plan.openings[index] for index in places.tolist()]
    outlet = Outlet(standing.outlet_xy, outlet_height_m(standing.machine.exhaust_height_m))
    segments = scene.setting.openings[places]
    if round_buildings:
        path = path_lengths_m(scene.setting.airways, outlet, openings, segments)
    else:
        path = straight_lengths_m(outlet, segments)
    states = tuple(opening_states(scene, standing, places))
    known = _rate_known(standing.machine)
    held = confined(outcomes)
    stated = scene.plan.outage.hours
    return Case(
        outlet=outlet,
        rate=rate_of(standing.machine, book, confined=held),
        rate_known=known,
        confined=held,
        run_h=run_h(stated, book),
        run_stated=stated is not None,
        person="child" if scene.plan.household.children_or_pregnancy else "public",
        places=places,
        path_m=np.maximum(path - _doubt_m(scene, standing.machine), 0.0),
        states=states,
        exchanges=tuple(
            exchange_of(one, state, book) for one, state in zip(openings, states, strict=True)
        ),
        cavity_m2=_cavities_m2(scene, places),
    )


def _doubt_m(scene: Scene, machine: Machine) -> float:
    """Return how much nearer than drawn the outlet may be [m]: on any side while none is said."""
    if machine.exhaust_side is not None:
        return accuracy_m(scene.plan)
    across = math.hypot(machine.width_m, machine.length_m) + 2.0 * abs(machine.exhaust_offset_m)
    return accuracy_m(scene.plan) + across


def within_reach(scene: Scene, book: Rule) -> IntArray:
    """Return the openings that count and lie within the rule's reach."""
    near = scene.opening_m - accuracy_m(scene.plan) <= book.figure("reach_m")
    return np.flatnonzero(near & scene.setting.counts)


def confined(outcomes: Iterable[Outcome]) -> bool:
    """Tell whether a rule on roofs and walls calls the place a danger."""
    return any(
        isinstance(one, Finding) and one.signal == "DANGER" and one.rule in CONFINING
        for one in outcomes
    )


def run_h(stated_h: float | None, book: Rule) -> float:
    """Return the run to follow [h]: the whole outage, at least 8 h; blood is level after a day."""
    least, longest = book.figure("least_run_h"), book.figure("longest_followed_h")
    return min(max(stated_h or least, least), longest)


def _rate_known(machine: Machine) -> bool:
    return machine.co_label_g_per_h is not None or machine.engine_cc is not None


def rate_of(machine: Machine, book: Rule, *, confined: bool) -> SourceRate:
    """Return the machine's carbon monoxide rate; what is not stated is taken high.

    A label may raise it. One that promises less is not followed: a warning that another machine
    of its size would bring is not taken back for it.
    """
    engine_kw = None
    if machine.rated_w is not None and machine.rated_w >= _LEAST_W:
        shaft_kw = machine.rated_w / 1000.0 / book.figure("alternator_share")
        engine_kw = min(shaft_kw, book.figure("largest_engine_kw"))
    turning = "inverter_speed_rpm" if machine.inverter else "usual_speed_rpm"
    rates = [
        source_rate(
            label_g_h=label,
            displacement_cc=machine.engine_cc,
            engine_kw=engine_kw,
            speed_rpm=book.figure(turning),
            confined=confined,
        )
        for label in {None, machine.co_label_g_per_h}
    ]
    return max(rates, key=lambda rate: rate.indicative_g_h)


def opening_states(scene: Scene, standing: Standing, places: IntArray) -> Iterator[OpeningState]:
    """Yield whether each of some openings is shut, cracked for a cord, or open to the air."""
    ajar = ajar_for_cord(scene, standing)
    for index in places.tolist():
        opening = scene.plan.openings[index]
        # What a fan or burner draws air through is never shut to the air outdoors.
        if opening.state == "open" or scene.setting.intakes[index]:
            yield "open"
        else:
            yield "cracked" if opening.id in ajar else "shut"


def exchange_of(opening: Opening, state: OpeningState, book: Rule) -> Exchange:
    """Return the air changes of the room behind an opening in its state."""
    if state == "shut":
        return AIR_CHANGES[state]
    height = book.figure("unknown_opening_height_m")
    if opening.sill_m is not None and opening.head_m is not None:
        height = opening.head_m - opening.sill_m
    if state == "cracked":
        area = book.figure("ajar_gap_m") * height
    else:
        area = book.figure("open_share") * height * opening.width_m
    return _exchange(state, max(area, _LEAST_AREA_M2), book.figure("room_volume_m3"), height)


# The openings of a lot stay as they are while the machine is dragged about.
@lru_cache(maxsize=1024)
def _exchange(state: OpeningState, area_m2: float, volume_m3: float, height_m: float) -> Exchange:
    return exchange(state, area_m2, volume_m3, height_m)


def _cavities_m2(scene: Scene, places: IntArray) -> FloatArray:
    """Return the smallest face of each opening's building, if the machine stands in its lee."""
    airways = scene.setting.airways
    found = np.full(len(places), np.nan)
    owners = scene.setting.opening_building[places]
    for owner in np.unique(owners).tolist():
        area = faces_m2(scene, owner)
        if area is None:
            continue
        long, eave = float(airways.faces_m[owner][1]), float(airways.eaves_m[owner])
        if scene.wall_m[owner] <= recirculation_length_m(long, eave):
            found[owners == owner] = area
    return found


def faces_m2(scene: Scene, building: int) -> float | None:
    """Return a building's smallest face [m²]; None if it is open at its sides or has no height."""
    airways = scene.setting.airways
    short, eave = float(airways.faces_m[building][0]), float(airways.eaves_m[building])
    if not math.isfinite(short) or min(short, eave) <= 0.0:
        return None
    return short * eave


def reference_doses_ppm(run_hours: float) -> tuple[tuple[Signal, float, float], ...]:
    """Return the rungs: signal word, distance [m], and the dose of the reference case [ppm].

    The reference case is a generator of the screening rate in the open and a shut opening.
    """
    return _reference(rule(RULE), run_hours)


@lru_cache(maxsize=64)
def _reference_at(rate_g_h: float, distances: tuple[float, ...], run_hours: float) -> FloatArray:
    outside = outdoor_ppm(rate_g_h, distances).indicative.ppm
    changes = np.full(len(distances), AIR_CHANGES["shut"].indicative_per_h)
    return mean_room_ppm(outside, changes, run_hours)


def _reference(book: Rule, run_hours: float) -> tuple[tuple[Signal, float, float], ...]:
    rungs = [
        (signal, book.figures[f"{signal.lower()}_at_m"])
        for signal in SIGNALS
        if f"{signal.lower()}_at_m" in book.figures
    ]
    distances = tuple(distance for _, distance in rungs)
    doses = _reference_at(book.figure("reference_g_per_h"), distances, run_hours)
    return tuple(
        (signal, distance, dose)
        for (signal, distance), dose in zip(rungs, doses.tolist(), strict=True)
    )


def ranked(doses_ppm: FloatArray, openings: Sequence[Opening]) -> IntArray:
    """Return the order of openings, most first; equal ones by their ids, however drawn."""
    doses = [float(f"{dose:.6g}") for dose in doses_ppm.tolist()]
    places = sorted(range(len(openings)), key=lambda one: (-doses[one], openings[one].id))
    return np.array(places, dtype=np.int64)


def grade(dose_ppm: float, rungs: Sequence[tuple[Signal, float, float]]) -> tuple[Signal, float]:
    """Return the signal word of a dose and the distance of the rung it passes [m].

    CAUTION and infinity if it passes none: even then nothing is cleared.
    """
    for signal, distance, reference in rungs:
        if dose_ppm > reference:
            return signal, distance
    return "CAUTION", math.inf
