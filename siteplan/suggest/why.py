"""Why there is no place, or none better, and what would change that.

A shorter limit is never offered, nor is shutting a window: distances hold for shut windows.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely

from siteplan.geometry.arrays import XY
from siteplan.plan.around import Barrier, FuelStore, GasCylinder, Ground, Shelter
from siteplan.plan.document import Plan
from siteplan.plan.edits import changed, drop, with_fields
from siteplan.plan.labels import label
from siteplan.plan.lot import Accuracy
from siteplan.plan.rings import wall as wall_ends
from siteplan.rules.book import rule
from siteplan.rules.common import accuracy_m
from siteplan.rules.findings import serious, severity
from siteplan.scene import resolve
from siteplan.scene.cords import MACHINE_RISE_M
from siteplan.scene.walls import outward_normal
from siteplan.suggest.compass import compass_text
from siteplan.suggest.ends import End, Ends, reach
from siteplan.suggest.inlets import InletPlace, inlet_candidates
from siteplan.suggest.search import Search
from siteplan.suggest.spot import Spot
from siteplan.suggest.survey import Survey
from siteplan.suggest.zone import OF_THE_SPOT, found_at, placed
from siteplan.words import Text, Value, length

_BEYOND_M = 15.0
_WORTH_SAYING_M = 3.0
_LEAST_SHARE = 0.05

Kind = Literal["measure", "move", "open-up", "consent", "inlet", "cord"]


@dataclass(frozen=True, slots=True)
class Binding:
    """A rule that bars ground.

    Attributes
    ----------
    rule : str
        Its id.
    share, alone : float
        Share of the lot it bars, and share that nothing but it bars, 0 to 1, from a sample.
    subjects : tuple of str
        The things that bar most by it, most first.
    """

    rule: str
    share: float
    alone: float
    subjects: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Change:
    """Something that would help.

    Attributes
    ----------
    kind : str
        "measure", "move", "open-up", "consent", "inlet" or "cord".
    text : Text
        What, and what it would bring.
    at : tuple of float or None
        The place it concerns [m].
    """

    kind: Kind
    text: Text
    at: XY | None = None


def binding(survey: Survey) -> tuple[Binding, ...]:
    """Return the rules that bar a share of the lot worth telling, most first."""
    barred = survey.barred_by
    if not len(survey.places):
        return ()
    count = np.sum(list(barred.values()), axis=0)
    found = [
        Binding(
            name,
            float(where.mean()),
            float((where & (count == 1)).mean()),
            _most(survey, name),
        )
        for name, where in barred.items()
        if where.mean() >= _LEAST_SHARE
    ]
    return tuple(sorted(found, key=lambda one: -one.share))


def _most(survey: Survey, name: str) -> tuple[str, ...]:
    shares: dict[str, float] = {}
    for one in survey.columns:
        if one.rule == name:
            share = float((one.short_m > 0.0).mean())
            shares[one.subject] = max(share, shares.get(one.subject, 0.0))
    return tuple(sorted(shares, key=lambda subject: -shares[subject])[:3])


def changes(search: Search, best: Spot | None) -> tuple[Change, ...]:
    """Return what would help: to find any place, or to reach the best one with less cord."""
    if best is None:
        return tuple(_to_find_any(search.scene.plan))
    return (*_other_cord(best), *_other_inlet(search, best))


def _to_find_any(plan: Plan) -> Iterator[Change]:
    yield from _measure(plan)
    yield from _move(plan)
    yield from _open_up(plan)
    yield from _consent(plan)


def _measure(plan: Plan) -> Iterator[Change]:
    slack, taped = accuracy_m(plan), rule("drawing-accuracy").figure("taped_m")
    if slack <= taped:
        return
    if passing(with_fields(plan, accuracy=Accuracy(method="taped"))) is not None:
        text = Text(
            "Measure the lot with a tape: {slack} are taken off every distance for how it was "
            "measured, and with {taped} there would be places.",
            {"slack": length(slack, "up"), "taped": length(taped, "up")},
        )
        yield Change("measure", text)


def _move(plan: Plan) -> Iterator[Change]:
    things = [
        one
        for one in (*plan.surroundings, *plan.fixtures)
        if isinstance(one, FuelStore | GasCylinder)
        or (isinstance(one, Shelter) and one.kind in {"tent", "canopy"})
        or (isinstance(one, Ground) and one.kind == "brush")
    ]
    for one in things:
        if passing(drop(plan, [one.id])) is not None:
            values = {"subject": label(one)}
            yield Change("move", Text("Move {subject} away: there would be places then.", values))


def _open_up(plan: Plan) -> Iterator[Change]:
    fences = [one for one in plan.surroundings if isinstance(one, Barrier)]
    if fences and passing(drop(plan, [one.id for one in fences])) is not None:
        text = Text(
            "Fences and hedges wall the lot in. Taken down where you may, or three quarters "
            "open, they would leave places."
        )
        yield Change("open-up", text)


def _consent(plan: Plan) -> Iterator[Change]:
    if plan.lot is None:
        return
    lot = shapely.Polygon(plan.lot.outline)
    wide = shapely.buffer(lot, _BEYOND_M, join_style="mitre")
    outline = tuple((x, y) for x, y in shapely.get_coordinates(wide)[:-1].tolist())
    at = passing(with_fields(plan, lot=changed(plan.lot, outline=outline, legs=())))
    if at is None:
        return
    x, y = at
    middle = lot.centroid
    point = compass_text(plan, float(np.degrees(np.arctan2(x - middle.x, y - middle.y))))
    text = Text(
        "With a neighbour's consent: {distance} beyond your boundary to the {point} there is a "
        "place that passes the rules, as far as the plan shows what is there.",
        {"distance": length(float(lot.distance(shapely.Point(at))), "up"), "point": point},
    )
    yield Change("consent", text, at)


def passing(plan: Plan) -> XY | None:
    """Return a place that passes the rules about it, or None if the search finds none."""
    search = Search.of(placed(resolve(plan)))
    for one in search.promising():
        found = found_at(search.scene, one.at, one.turn_deg)
        if not found or severity(found[0].signal) < severity("WARNING"):
            return one.at
    return None


def _other_cord(best: Spot) -> Iterator[Change]:
    """Tell what the rules on cords ask for where only they are against the best place."""
    told: set[str] = set()
    for one in serious(best.findings):
        if one.rule not in OF_THE_SPOT and one.do.say() not in told:
            told.add(one.do.say())
            yield Change("cord", one.do)


def _other_inlet(search: Search, best: Spot) -> Iterator[Change]:
    """Offer another inlet place where the inlets there are cost much more cord."""
    if best.cord_m is None or best.inlet is not None:
        return
    places = inlet_candidates(search.scene)
    hung = tuple(End(one.at, MACHINE_RISE_M + one.height_m, None, one) for one in places)
    found = reach(search.scene, Ends(hung, all_needed=False), best.at)
    if found.end is None or found.end.inlet is None:
        return
    if best.cord_m - found.cord_m >= _WORTH_SAYING_M:
        values: dict[str, Value] = {
            "need": length(found.cord_m, "up"),
            "have": length(best.cord_m, "up"),
            "place": inlet_text(search.scene.plan, found.end.inlet),
        }
        text = Text(
            "An inlet {place} would take {need} of cord from the best place instead of {have}.",
            values,
        )
        yield Change("inlet", text, found.end.inlet.at)


def inlet_text(plan: Plan, inlet: InletPlace) -> Text:
    """Return where on the house an inlet would hang, by the points of the compass."""
    building = plan.building(inlet.on.building)
    assert building is not None  # noqa: S101 - it came from the plan
    out_x, out_y = outward_normal(building, inlet.on.wall)
    (ax, ay), (bx, by) = wall_ends(building.outline, inlet.on.wall)
    return Text(
        "on the {point} wall of {building}, {offset} from its {end} corner",
        {
            "point": compass_text(plan, math.degrees(math.atan2(out_x, out_y))),
            "building": label(building),
            "offset": length(inlet.on.offset_m, "near"),
            "end": compass_text(plan, math.degrees(math.atan2(ax - bx, ay - by))),
        },
    )
