"""The carbon monoxide estimate in full: every opening within reach, both bands, over the run.

It is a screening, uncertain by a factor of 10. Nothing here permits a distance; `caution` goes
with every figure wherever it is shown.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from siteplan.air.bands import Band, Outdoor, outdoor_ppm
from siteplan.air.blood import START_PERCENT, Activity
from siteplan.air.chain import Course, follow
from siteplan.air.entry import Exchange, OpeningState
from siteplan.air.source import SourceRate
from siteplan.air.thresholds import (
    ALARM_POINTS,
    CAUTION,
    SEVERE_PERCENT,
    SHOWN_PPM,
    AlarmPoint,
    Limit,
    Symptom,
    limits_passed,
    symptom_at,
)
from siteplan.air.wind import WindRose
from siteplan.geometry.arrays import FloatArray, IntArray
from siteplan.plan.lot import Opening
from siteplan.rules import confinement, overhead, walled
from siteplan.rules.book import rule
from siteplan.rules.carbon_monoxide_case import RULE, Case, case_of, ranked
from siteplan.rules.carbon_monoxide_wind import rose_of, share_toward
from siteplan.rules.findings import Outcome
from siteplan.rules.ladder import whose
from siteplan.scene import Scene, Standing
from siteplan.scene.plumes import XY, bearings_deg, path_to
from siteplan.words import Text

MOST_OPENINGS = 40
"""Openings followed in full, the worst; more add nothing that a reader could use."""


@dataclass(frozen=True, slots=True)
class Behind:
    """One band behind one opening over the run.

    Attributes
    ----------
    outdoor_ppm : float
        Outside the opening [ppm], the largest of the band's methods.
    by_method_ppm : mapping of str to float
        Each method's own figure there [ppm].
    minutes, room_ppm : FloatArray
        Times from the start [min], and the room's air then [ppm].
    cohb_percent : mapping of str to FloatArray
        Carboxyhaemoglobin of the public, of someone at heavy work and of a small child [%]; the
        peak is held.
    minutes_to_ppm : mapping of float to float
        When the room reaches the alarm levels [min]; infinity for never.
    minutes_to_severe : mapping of str to float
        When each person reaches 10 % [min].
    passed : tuple of Limit
        Published limits for the public that the room's averages pass.
    """

    outdoor_ppm: float
    by_method_ppm: Mapping[str, float]
    minutes: FloatArray
    room_ppm: FloatArray
    cohb_percent: Mapping[Activity, FloatArray]
    minutes_to_ppm: Mapping[float, float]
    minutes_to_severe: Mapping[Activity, float]
    passed: tuple[Limit, ...]

    @property
    def peak_percent(self) -> Mapping[Activity, float]:
        """Carboxyhaemoglobin of each person at the end [%]."""
        return {name: float(curve[-1]) for name, curve in self.cohb_percent.items()}

    @property
    def symptom(self) -> Symptom | None:
        """What the general public feels at the end of the run."""
        return symptom_at(self.peak_percent["public"])


@dataclass(frozen=True, slots=True)
class OpeningEstimate:
    """What is estimated for one opening.

    Attributes
    ----------
    opening : Opening
        Which one.
    label : Text
        What to call it.
    path_m : float
        Shortest way through the air, less the drawing's accuracy [m].
    way : tuple of points
        That way round the buildings [m]; the straight line if there is none.
    bearing_deg : float
        Direction from the exhaust, clockwise from true north [°].
    state : str
        "shut", "cracked" or "open".
    exchange : Exchange
        Air changes of the room behind it [1/h].
    dose_ppm : float
        Indicative mean over the run in the room [ppm]; openings are ranked by it.
    indicative, worst : Behind
        Both bands.
    downwind_share : float or None
        Share of hours in which it lies downwind, still air included [0..1]; None without a rose.
    """

    opening: Opening
    label: Text
    path_m: float
    way: tuple[XY, ...]
    bearing_deg: float
    state: OpeningState
    exchange: Exchange
    dose_ppm: float
    indicative: Behind
    worst: Behind
    downwind_share: float | None


@dataclass(frozen=True, slots=True)
class COEstimate:
    """The estimate of one plan's placement under review.

    Attributes
    ----------
    openings : tuple of OpeningEstimate
        Worst first.
    within_reach : int
        How many openings lie within reach; the worst of them are followed.
    reach_m : float
        How far the estimate looks [m].
    rate : SourceRate
        Carbon monoxide rate of both bands [g/h] and what it stands on.
    rate_known, confined, run_stated : bool
        Whether label or engine size is entered; whether the machine stands roofed or walled in,
        which is a danger without any estimate; whether the outage's length is entered.
    run_h : float
        Run followed [h].
    room_volume_m3 : float
        Size of the room behind an opening that is not shut [m³], assumed.
    start_percent : float
        Carboxyhaemoglobin before the run [%], a non-smoker's.
    person : str
        Whose blood tables tell of: a small child's where children are said to be at home.
    outlet_xy : tuple of float
        Where exhaust leaves [m].
    rose : WindRose or None
        Wind of the plan, if it has one whose shares make sense.
    wind_origin : str
        Where that wind comes from.
    wind_refused : bool
        Whether the plan's shares of wind are over the whole and so not used.
    caution : str
        Stands with every figure.
    """

    openings: tuple[OpeningEstimate, ...]
    within_reach: int
    reach_m: float
    rate: SourceRate
    rate_known: bool
    confined: bool
    run_stated: bool
    run_h: float
    room_volume_m3: float
    start_percent: float
    person: Activity
    outlet_xy: XY
    rose: WindRose | None
    wind_origin: str
    wind_refused: bool
    caution: str = CAUTION

    @property
    def alarm_points(self) -> tuple[AlarmPoint, ...]:
        """When a household alarm must sound (UL 2034, read second-hand)."""
        return ALARM_POINTS

    def by_distance(self, distance_m: FloatArray) -> Outdoor:
        """Return carbon monoxide outdoors at distances along the way of exhaust [m]."""
        return outdoor_ppm(self.rate.indicative_g_h, distance_m, worst_rate_g_h=self.rate.worst_g_h)


def estimate(scene: Scene) -> COEstimate | None:
    """Return the estimate of a scene, or None if no generator stands on the plan."""
    standing = scene.standing
    if standing is None:
        return None
    book = rule(RULE)
    said = _roofs_and_walls(scene, standing)
    case = case_of(scene, standing, said, round_buildings=True)
    doses = case.dose_ppm(case.outside_ppm()[0])
    openings = [scene.plan.openings[index] for index in case.places.tolist()]
    order = ranked(doses, openings)[:MOST_OPENINGS]
    wind = scene.plan.wind
    rose = None if wind is None else rose_of(wind)
    return COEstimate(
        openings=_openings(scene, case, order, rose),
        within_reach=len(case.places),
        reach_m=book.figure("reach_m"),
        rate=case.rate,
        rate_known=case.rate_known,
        confined=case.confined,
        run_stated=case.run_stated,
        run_h=case.run_h,
        room_volume_m3=book.figure("room_volume_m3"),
        start_percent=START_PERCENT,
        person=case.person,
        outlet_xy=case.outlet.at,
        rose=rose,
        wind_origin="" if wind is None else wind.origin,
        wind_refused=wind is not None and rose is None,
    )


def _roofs_and_walls(scene: Scene, standing: Standing) -> list[Outcome]:
    judges = (
        confinement.indoors,
        confinement.under_roof,
        walled.walled_in,
        walled.horizon_blocked,
        walled.window_well,
        overhead.cover,
    )
    return [outcome for judge in judges for outcome in judge(scene, standing)]


def _openings(
    scene: Scene, case: Case, order: IntArray, rose: WindRose | None
) -> tuple[OpeningEstimate, ...]:
    if not len(order):
        return ()
    doses = case.dose_ppm(case.outside_ppm()[0])
    segments = scene.setting.openings[case.places]
    bearings = bearings_deg(case.outlet.at, segments, scene.plan.north_deg)
    followed = _followed(case, order)
    found = []
    for index in order.tolist():
        opening = scene.plan.openings[int(case.places[index])]
        bearing = float(bearings[index])
        indicative, worst = followed[index]
        found.append(
            OpeningEstimate(
                opening=opening,
                label=whose(scene.plan, opening),
                path_m=float(case.path_m[index]),
                way=_way(scene, case, index),
                bearing_deg=bearing,
                state=case.states[index],
                exchange=case.exchanges[index],
                dose_ppm=float(doses[index]),
                indicative=indicative,
                worst=worst,
                downwind_share=None if rose is None else share_toward(rose, bearing),
            )
        )
    return tuple(found)


def _followed(case: Case, order: IntArray) -> dict[int, tuple[Behind, Behind]]:
    """Follow the openings, those in one building's recirculating air together."""
    areas = case.cavity_m2[order]
    found: dict[int, tuple[Behind, Behind]] = {}
    groups = [order[np.isnan(areas)]]
    groups += [order[areas == area] for area in np.unique(areas[np.isfinite(areas)])]
    for group in groups:
        if not len(group):
            continue
        area = float(case.cavity_m2[group[0]])
        exposure = follow(
            case.rate,
            case.path_m[group],
            [case.exchanges[index] for index in group.tolist()],
            run_minutes=case.run_h * 60.0,
            cavity_area_m2=area if math.isfinite(area) else None,
        )
        both = zip(_behind_each(exposure.indicative), _behind_each(exposure.worst), strict=True)
        found |= dict(zip(group.tolist(), both, strict=True))
    return found


def _way(scene: Scene, case: Case, index: int) -> tuple[XY, ...]:
    segment = scene.setting.openings[int(case.places[index])]
    route = path_to(scene.setting.airways, case.outlet, segment)
    if route is not None:
        return route.points
    middle = segment.interpolate(0.5, normalized=True)
    return (case.outlet.at, (float(middle.x), float(middle.y)))


def _behind_each(course: Course) -> tuple[Behind, ...]:
    """Return what is behind each opening of a course."""
    band: Band = course.outdoor
    to_ppm = {level: course.minutes_to_ppm(level) for level in SHOWN_PPM}
    severe = {name: course.minutes_to_percent(SEVERE_PERCENT, name) for name in course.cohb_percent}
    passed = limits_passed(course.minutes, course.room_ppm)
    return tuple(
        Behind(
            outdoor_ppm=float(band.ppm[row]),
            by_method_ppm=MappingProxyType(
                {str(name): float(values[row]) for name, values in band.by_method_ppm.items()}
            ),
            minutes=course.minutes,
            room_ppm=course.room_ppm[row],
            cohb_percent=MappingProxyType(
                {name: curves[row] for name, curves in course.cohb_percent.items()}
            ),
            minutes_to_ppm=MappingProxyType({at: float(each[row]) for at, each in to_ppm.items()}),
            minutes_to_severe=MappingProxyType(
                {name: float(each[row]) for name, each in severe.items()}
            ),
            passed=passed[row],
        )
        for row in range(len(course.room_ppm))
    )
