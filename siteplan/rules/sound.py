"""How loud the machine is along the boundary and before the neighbours' windows.

It informs at NOTICE level and never more. A quieter place never outweighs the distances for
carbon monoxide: no other rule looks at a level.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from siteplan.geometry.arrays import FloatArray
from siteplan.plan.document import Plan
from siteplan.plan.labels import label
from siteplan.plan.rings import signed_area_m2
from siteplan.rules.sound_hearing import Hearing, Levels, hearing
from siteplan.rules.sound_limits import Limits, Pair, Where, limits
from siteplan.scene import Scene
from siteplan.scene.acoustics import Spots
from siteplan.sound.assess import UNCERTAINTY_DB
from siteplan.sound.limits import Verdict, verdict
from siteplan.sound.receivers import (
    BOUNDARY_HEIGHT_M,
    BOUNDARY_STEP_M,
    before_windows,
)
from siteplan.words import Text

Kind = Literal["side", "window", "wall", "ring"]
Point = tuple[float, float]

# Beyond this a side is heard at its nearest place alone, and a window not at all.
_REACH_M = 200.0
_MOST_WINDOWS = 60
# Round the place found on a side, for the report.
_FINE_STEP_M = 0.05

SIDE_TEXTS = (
    "north boundary",
    "north-east boundary",
    "east boundary",
    "south-east boundary",
    "south boundary",
    "south-west boundary",
    "west boundary",
    "north-west boundary",
)
LEVELS_NOTE_TEXT = (
    "A prediction, not a measurement. Local code and a measurement govern; the distances for "
    "carbon monoxide go first, however quiet another place is."
)
LEFT_OUT_TEXT = "{count} more windows and walls, farther away, are left out."
STOREY_TEXTS = ("ground floor", "upper floor", "second upper floor")


@dataclass(frozen=True, slots=True)
class Heard:
    """The loudest place of a side of the lot, of a window, or of a wall's storey.

    Attributes
    ----------
    kind : str
        "side" of the lot; "window" of a neighbour; "wall" of a neighbour whose windows are not
        all drawn; "ring" at the distance of a limit on the machine itself.
    subjects : tuple of str
        Ids of the things it belongs to; none for a side.
    name : Text
        What to call it.
    at : tuple of float
        Where [m].
    height_m : float
        Height over the ground [m].
    distance_m : float
        From the machine's middle, the drawing's accuracy taken off [m].
    level_dba : float
        Level [dB(A)]; at least this if `too_near`.
    too_near : bool
        Whether it is nearer than 3 m, where nothing is modelled.
    added_db, credit_db : float
        For walls beside the machine, and for the screen credited [dB].
    screen : str or None
        Id of that screen.
    limits : Pair
        The limits that hold there.
    """

    kind: Kind
    subjects: tuple[str, ...]
    name: Text
    at: Point
    height_m: float
    distance_m: float
    level_dba: float
    too_near: bool
    added_db: float
    credit_db: float
    screen: str | None
    limits: Pair

    def verdict(self, *, night: bool) -> Verdict | None:
        """Return how the level compares with a limit; None if that cannot be told."""
        limit = self.limits.night_dba if night else self.limits.day_dba
        if limit is None:
            return None
        found = verdict(self.level_dba, limit)
        # Too near the level is a lower bound, which can only tell that it is above.
        return None if self.too_near and found != "above" else found


@dataclass(frozen=True, slots=True)
class SoundReport:
    """Levels of one placement.

    Attributes
    ----------
    power_dba : float or None
        Sound power reckoned with [dB(A)]; None if no machine stands on the plan.
    rating_assumed : bool
        Whether it is the figure for an unknown machine.
    limits : Limits
        The limits of the plan.
    sides, windows : tuple of Heard
        Every side of the lot in its order; windows and walls, loudest first.
    left_out : int
        Windows and walls farther away that are not among them.
    ring : Heard or None
        Of a limit on the machine itself: the loudest direction at its distance.
    uncertainty_db : float
        Accuracy of every level [± dB].
    uncredited : tuple of str
        Ids of fences and buildings that screen nothing because height or solidity is missing.
    """

    power_dba: float | None
    rating_assumed: bool
    limits: Limits
    sides: tuple[Heard, ...] = ()
    windows: tuple[Heard, ...] = ()
    left_out: int = 0
    ring: Heard | None = None
    uncertainty_db: float = UNCERTAINTY_DB
    uncredited: tuple[str, ...] = ()


def levels(scene: Scene) -> SoundReport:
    """Return the levels along every side of the lot and before every neighbour's window.

    Without a rating the power of an unknown machine is assumed, and marked. The loudest place
    of each side is searched to 0.05 m.
    """
    found, plan = hearing(scene), scene.plan
    held = limits(plan)
    if found is None:
        return SoundReport(None, rating_assumed=False, limits=held)
    heard, assumed = found
    windows, left_out = _windows(heard, plan, held.window)
    return SoundReport(
        power_dba=heard.power_dba,
        rating_assumed=assumed,
        limits=held,
        sides=tuple(_sides(heard, plan, held.boundary)),
        windows=windows,
        left_out=left_out,
        ring=_ring(heard, held),
        uncredited=heard.acoustics.uncredited,
    )


def loudest(scene: Scene, where: Where) -> Heard | None:
    """Return the loudest place of a kind, found by steps of half a metre; None without any.

    The review asks for this at every step of a drag; it looks only at places that could be
    the loudest.
    """
    found, plan = hearing(scene), scene.plan
    if found is None:
        return None
    heard, held = found[0], limits(plan)
    if where == "at-distance":
        return _ring(heard, held)
    if where == "boundary":
        return _loudest_side(heard, plan, held.boundary)
    return _loudest_window(heard, plan, held.window)


# -- the boundary --------------------------------------------------------------


def _ends(plan: Plan) -> Iterator[tuple[Point, Point]]:
    outline = () if plan.lot is None else plan.lot.outline
    for index, start in enumerate(outline):
        yield start, outline[(index + 1) % len(outline)]


def side_ears(start: Point, end: Point, source: FloatArray, step_m: float) -> FloatArray:
    """Return places along a side, its ends and its nearest place to the source among them [m].

    Parameters
    ----------
    start, end : tuple of float
        Ends of the side [m].
    source : FloatArray
        The machine [m], shape (2,).
    step_m : float
        Largest step between neighbouring places [m].
    """
    a, along = np.asarray(start), np.asarray(end) - np.asarray(start)
    length = max(float(np.hypot(*along)), 1e-9)
    foot = float(np.clip((source - a) @ along / length, 0.0, length))
    low, high = max(0.0, foot - _REACH_M), min(length, foot + _REACH_M)
    count = max(1, math.ceil((high - low) / step_m - 1e-9))
    marks = np.append(np.linspace(low, high, count + 1), foot)
    return _on_side(a, along / length, marks)


def _on_side(a: FloatArray, unit: FloatArray, marks: FloatArray) -> FloatArray:
    points = a + marks[:, np.newaxis] * unit
    return np.column_stack([points, np.full(len(points), BOUNDARY_HEIGHT_M)])


def _sides(heard: Hearing, plan: Plan, pair: Pair) -> Iterator[Heard]:
    ends = list(_ends(plan))
    coarse = [side_ears(start, end, heard.source, BOUNDARY_STEP_M) for start, end in ends]
    found = _loudest_of_each(heard, coarse)
    fine = [_around(at, *side) for (at, _), side in zip(found, ends, strict=True)]
    for number, both in enumerate(zip(found, _loudest_of_each(heard, fine), strict=True)):
        loudest_here = max(both, key=lambda one: float(one[1].level_dba[0]))
        yield _heard(heard, ("side", (), _side_name(plan, number)), loudest_here, pair)


def _loudest_of_each(
    heard: Hearing, groups: Sequence[FloatArray]
) -> list[tuple[FloatArray, Levels]]:
    """Return the loudest place of each group of places, none of them empty, all heard at once."""
    if not groups:
        return []
    ears = np.concatenate(groups)
    every = heard.levels(ears)
    ends = np.cumsum([len(one) for one in groups])
    tops = [
        int(end) - len(one) + int(np.argmax(every.level_dba[int(end) - len(one) : int(end)]))
        for one, end in zip(groups, ends, strict=True)
    ]
    return [(ears[top], every.only(top)) for top in tops]


def _around(place: FloatArray, start: Point, end: Point) -> FloatArray:
    """Return places close by on the same side, in fine steps."""
    a, along = np.asarray(start), np.asarray(end) - np.asarray(start)
    length = max(float(np.hypot(*along)), 1e-9)
    here = float((place[:2] - a) @ along / length)
    low, high = max(0.0, here - BOUNDARY_STEP_M), min(length, here + BOUNDARY_STEP_M)
    return _on_side(a, along / length, np.arange(low, high + 1e-9, _FINE_STEP_M))


def _loudest_side(heard: Hearing, plan: Plan, pair: Pair) -> Heard | None:
    parts = [side_ears(start, end, heard.source, BOUNDARY_STEP_M) for start, end in _ends(plan)]
    if not parts:
        return None
    ears = np.concatenate(parts)
    best = heard.loudest(ears)
    if best is None:
        return None
    side = int(np.searchsorted(np.cumsum([len(one) for one in parts]), best[0], side="right"))
    return _heard(heard, ("side", (), _side_name(plan, side)), (ears[best[0]], best[1]), pair)


def _side_name(plan: Plan, number: int) -> Text:
    (ax, ay), (bx, by) = list(_ends(plan))[number]
    turn = 1.0 if plan.lot is None or signed_area_m2(plan.lot.outline) > 0.0 else -1.0
    out = math.degrees(math.atan2(turn * (by - ay), -turn * (bx - ax)))
    point = round((out - plan.north_deg) / 45.0) % len(SIDE_TEXTS)
    return Text(SIDE_TEXTS[point])


# -- the neighbours ------------------------------------------------------------


def _ears(spots: Spots) -> FloatArray:
    if not spots.subjects:
        return np.zeros((0, 3))
    ears = before_windows(spots.on_wall, spots.outward, spots.storey)
    ears[:, 2] = np.where(np.isnan(spots.height_m), ears[:, 2], spots.height_m)
    return np.asarray(ears)


def _heard_spots(heard: Hearing) -> tuple[FloatArray, list[int]]:
    """Return places near enough, and their numbers; undrawn windows only in walls that face it."""
    spots = heard.acoustics.spots
    ears = _ears(spots)
    leg = heard.source - ears[:, :2]
    near = np.hypot(*leg.T) <= _REACH_M
    faces = np.einsum("nk,nk->n", leg, spots.outward.reshape(-1, 2)) > 0.0
    numbers = np.flatnonzero(near & (faces | np.array(spots.drawn, dtype=bool)))
    return ears[numbers], [int(one) for one in numbers]


def _windows(heard: Hearing, plan: Plan, pair: Pair) -> tuple[tuple[Heard, ...], int]:
    """Return what is heard at windows and walls, loudest first, and how many are left out.

    Of very many, those are kept that would hear most without screens.
    """
    ears, numbers = _heard_spots(heard)
    spots = heard.acoustics.spots
    groups: dict[tuple[str, int], list[int]] = {}
    for row, number in enumerate(numbers):
        groups.setdefault((spots.subjects[number], int(spots.storey[number])), []).append(row)
    bound = heard.bound_dba(ears)
    loud = sorted(groups.values(), key=lambda rows: -bound[rows].max())
    kept = loud[:_MOST_WINDOWS]
    tops = _loudest_of_each(heard, [ears[rows] for rows in kept])
    found = [
        _window(heard, plan, numbers[rows[0]], here, pair)
        for rows, here in zip(kept, tops, strict=True)
    ]
    found.sort(key=lambda one: -one.level_dba)
    return tuple(found), max(0, len(loud) - _MOST_WINDOWS)


def _loudest_window(heard: Hearing, plan: Plan, pair: Pair) -> Heard | None:
    ears, numbers = _heard_spots(heard)
    best = heard.loudest(ears)
    if best is None:
        return None
    row = best[0]
    return _window(heard, plan, numbers[row], (ears[row], best[1]), pair)


def _window(
    heard: Hearing, plan: Plan, number: int, here: tuple[FloatArray, Levels], pair: Pair
) -> Heard:
    spots = heard.acoustics.spots
    subject, drawn = spots.subjects[number], spots.drawn[number]
    things = plan.openings if drawn else plan.buildings
    thing = next(one for one in things if one.id == subject)
    storey = Text(STOREY_TEXTS[min(int(spots.storey[number]), len(STOREY_TEXTS) - 1)])
    values = {"subject": label(thing), "storey": storey}
    name = Text(
        "{subject}, {storey}" if drawn else "{subject}, {storey}, where a window may be", values
    )
    return _heard(heard, ("window" if drawn else "wall", (subject,), name), here, pair)


# -- what both share -----------------------------------------------------------


def _heard(
    heard: Hearing,
    named: tuple[Kind, tuple[str, ...], Text],
    here: tuple[FloatArray, Levels],
    pair: Pair,
) -> Heard:
    ear, found = here
    number = int(found.screen[0])
    return Heard(
        kind=named[0],
        subjects=named[1],
        name=named[2],
        at=(float(ear[0]), float(ear[1])),
        height_m=float(ear[2]),
        distance_m=float(found.distance_m[0]),
        level_dba=float(found.level_dba[0]),
        too_near=bool(found.too_near[0]),
        added_db=float(found.added_db[0]),
        credit_db=float(found.credit_db[0]),
        screen=None if number < 0 else heard.acoustics.screens.owners[number],
        limits=pair,
    )


def _ring(heard: Hearing, held: Limits) -> Heard | None:
    """Return the loudest direction at the distance of a limit on the machine itself.

    No screen is credited, and no accuracy of the drawing taken off: the distance is not drawn.
    """
    if held.distance_m is None or held.at_distance.none:
        return None
    turns = np.radians(np.arange(0.0, 360.0, 5.0))
    ears = np.full((len(turns), 3), BOUNDARY_HEIGHT_M)
    ears[:, 0] = heard.source[0] + held.distance_m * np.sin(turns)
    ears[:, 1] = heard.source[1] + held.distance_m * np.cos(turns)
    exact = Hearing(heard.source, heard.power_dba, 0.0, heard.acoustics)
    added = exact.added_db(ears)
    upper = exact.bound_dba(ears) + added
    worst = int(np.argmax(upper))
    return Heard(
        kind="ring",
        subjects=(),
        name=Text("its own distance"),
        at=(float(ears[worst, 0]), float(ears[worst, 1])),
        height_m=BOUNDARY_HEIGHT_M,
        distance_m=held.distance_m,
        level_dba=float(upper[worst]),
        too_near=False,
        added_db=float(added[worst]),
        credit_db=0.0,
        screen=None,
        limits=held.at_distance,
    )
