"""The moving part of a drawing: the machine, its cords, and what the review says about it."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from siteplan.drawing.marks import (
    Dimension,
    Fill,
    Label,
    Mark,
    Marks,
    Point,
    Role,
    Stroke,
    Symbol,
)
from siteplan.drawing.walls import rings_of
from siteplan.geometry.clearance import unit_vector
from siteplan.plan.document import Plan
from siteplan.plan.labels import label
from siteplan.plan.machine import Cord, Machine, Placement
from siteplan.rules.findings import Evidence, Finding, Review, Signal
from siteplan.scene.around import fixture_xy
from siteplan.scene.cords import CordRun
from siteplan.scene.resolve import Standing, stand
from siteplan.words import Manner, Text

_ARROW_M = 1.4
_COVER_M = 0.25
# More lines than these crowd a drawing; the worst and tightest tell the reader enough.
_MOST_LINES = 6
_SAME_START_M = 1.5
_SAME_BEARING_DEG = 14.0

DISTANCE: Mapping[Signal, Role] = {
    "DANGER": "distance-danger",
    "WARNING": "distance-warning",
    "CAUTION": "distance-caution",
    "NOTICE": "distance-notice",
}
AREA: Mapping[Signal, Role] = {
    "DANGER": "area-danger",
    "WARNING": "area-warning",
    "CAUTION": "area-caution",
    "NOTICE": "area-notice",
}


def machine_marks(plan: Plan, manner: Manner | None = None, runs: Sequence[CordRun] = ()) -> Marks:
    """Return the machine of the placement under review, and faintly those of the others.

    Empty if there is no machine or no placement yet.

    Parameters
    ----------
    plan : Plan
        Whose machine, placements and cords to draw.
    manner : Manner
        Language and units of the texts.
    runs : sequence of CordRun
        The cords as they lie, as `Scene.cord_runs`. A cord without one is drawn straight
        through its waypoints.
    """
    manner = manner or Manner()
    if plan.machine is None or plan.placement is None:
        return ()
    marks: list[Mark] = []
    for placement in plan.placements:
        if placement is not plan.placement:
            marks.extend(_other(plan.machine, placement, manner))
    laid = {one.cord.id: one for one in runs}
    for cord in plan.placement.cords:
        marks.extend(_cord(plan, plan.placement, cord, laid.get(cord.id)))
    marks.extend(_standing(stand(plan.machine, plan.placement), manner))
    return tuple(marks)


def review_marks(
    review: Review,
    manner: Manner | None = None,
    most: int = _MOST_LINES,
) -> Marks:
    """Return areas, lines and signs that show the findings, the worst drawn last, on top.

    Every finding gets its sign; measured lines are drawn for the worst and tightest ones
    only, and not where they would run along one that is drawn already.

    Parameters
    ----------
    review : Review
        Whose evidence to draw.
    manner : Manner
        Language and units of the figures.
    most : int
        Measured lines drawn at most.
    """
    manner = manner or Manner()
    areas = [
        Fill((evidence.points,), AREA[finding.signal])
        for finding in review.findings
        for evidence in finding.evidence
        if evidence.shape == "area"
    ]
    walls = [
        Stroke(evidence.points, AREA[finding.signal])
        for finding in review.findings
        if _is_about_surroundings(finding)
        for evidence in finding.evidence
        if evidence.shape == "line"
    ]
    lines = spread(_finding_lines(review.findings, manner), most)
    signs = _signs(review.findings)
    return (*areas, *walls, *reversed(lines), *reversed(signs))


def _is_about_surroundings(finding: Finding) -> bool:
    # Such evidence is what stands around the machine, not a line measured to one place.
    return finding.measured is not None and finding.measured.kind in {"count", "share"}


def _finding_lines(findings: Iterable[Finding], manner: Manner) -> Iterator[Dimension]:
    for finding in findings:
        if finding.measured is None or finding.measured.kind != "length":
            continue
        text = f"{Text(finding.signal).say(manner)} {manner.show(finding.measured)}"
        for start, end in _two_ended(finding.evidence):
            yield Dimension(start, end, text, DISTANCE[finding.signal])


def _two_ended(evidence: Iterable[Evidence]) -> Iterator[tuple[Point, Point]]:
    for one in evidence:
        if one.shape == "line" and len(one.points) == 2 and one.points[0] != one.points[1]:
            yield one.points[0], one.points[1]


def spread(
    lines: Iterable[Dimension], most: int, taken: Iterable[Dimension] = ()
) -> list[Dimension]:
    """Return the first lines that run along none before them, nor along one that is taken."""
    kept: list[Dimension] = []
    others = list(taken)
    for line in lines:
        if len(kept) == most:
            break
        if not any(_along(line, other) for other in (*others, *kept)):
            kept.append(line)
    return kept


def _along(line: Dimension, other: Dimension) -> bool:
    if math.dist(line.start, other.start) > _SAME_START_M:
        return False
    apart = abs(_bearing(line) - _bearing(other)) % 360.0
    return min(apart, 360.0 - apart) < _SAME_BEARING_DEG


def _bearing(line: Dimension) -> float:
    across, up = line.end[0] - line.start[0], line.end[1] - line.start[1]
    return math.degrees(math.atan2(across, up))


def _signs(findings: Iterable[Finding]) -> list[Symbol]:
    found: dict[Point, Symbol] = {}
    for finding in findings:
        for evidence in finding.evidence:
            if evidence.shape == "area" or _is_about_surroundings(finding):
                continue
            spot = evidence.points[-1]
            key = (round(spot[0], 1), round(spot[1], 1))
            name = finding.signal.lower()
            found.setdefault(key, Symbol(name, spot, DISTANCE[finding.signal], size_mm=3.8))
    return list(found.values())


def _standing(standing: Standing, manner: Manner) -> Iterator[Mark]:
    placement, machine = standing.placement, standing.machine
    if placement.cover is not None:
        cover = standing.frame.buffer(_COVER_M, join_style="mitre")
        yield Stroke(rings_of(cover)[0], "machine-cover", closed=True)
    frame = rings_of(standing.frame)
    yield Fill(frame, "machine")
    yield Stroke(_front(placement, machine), "machine-front")
    if standing.machine.exhaust_side is not None:
        yield from _exhaust(standing)
    yield _machine_label(standing, manner)


def _front(placement: Placement, machine: Machine) -> tuple[Point, ...]:
    ahead, side = unit_vector(placement.turn_deg), unit_vector(placement.turn_deg + 90.0)
    x, y = placement.at
    depth, half = machine.length_m * 0.32, machine.width_m / 2
    return tuple(
        (float(x + ahead[0] * depth + side[0] * s), float(y + ahead[1] * depth + side[1] * s))
        for s in (-half, half)
    )


def _exhaust(standing: Standing) -> Iterator[Mark]:
    out = unit_vector(standing.exhaust_deg)
    x, y = standing.outlet_xy
    tip = (float(x + out[0] * _ARROW_M), float(y + out[1] * _ARROW_M))
    yield Stroke(((x, y), tip), "exhaust-arrow")
    yield Symbol("arrow-head", tip, "exhaust-arrow", turn_deg=standing.exhaust_deg, size_mm=3.0)


def _machine_label(standing: Standing, manner: Manner) -> Label:
    # The name begins on the side away from the exhaust; the layout may move it on.
    out = unit_vector(standing.exhaust_deg)
    x, y = standing.placement.at
    away = max(standing.machine.length_m, standing.machine.width_m) / 2
    at = (float(x - out[0] * away), float(y - out[1] * away))
    text = Text("Generator").say(manner)
    return Label(at, text, "machine-label", shift_mm=_off(-out[0], -out[1]), boxed=True)


def _off(across: float, up: float) -> tuple[float, float]:
    return (float(across) * 10.0, float(up) * 3.5)


def _other(machine: Machine, placement: Placement, manner: Manner) -> Iterator[Mark]:
    standing = stand(machine, placement)
    yield Stroke(rings_of(standing.frame)[0], "machine-other", closed=True)
    name = label(placement).say(manner)
    x, y = placement.at
    yield Label((x, y), name, "machine-other", height_mm=1.8, shift_mm=(0.0, -4.0))


def _cord(plan: Plan, placement: Placement, cord: Cord, run: CordRun | None) -> Iterator[Mark]:
    if run is not None and run.trouble is None:
        yield Stroke((*run.outdoors, *run.indoors), "cord")
        for crossing in run.crossings:
            yield Symbol("corner", crossing.at, "cord", size_mm=2.4)
        return
    points = (placement.at, *cord.waypoints, *_cord_end(plan, cord))
    if len(points) > 1:
        yield Stroke(points, "cord")
    if run is not None:
        yield Symbol("unjudged", points[-1], "cord", size_mm=3.4, text="?")


def _cord_end(plan: Plan, cord: Cord) -> Iterator[Point]:
    places = {one.id: fixture_xy(one, plan) for one in plan.fixtures}
    places |= {one.id: one.at for one in plan.loads if one.at is not None}
    if cord.to is not None and cord.to in places:
        yield places[cord.to]
    elif cord.end is not None:
        yield cord.end
