"""The cautious calculation for a lot: what a portable set makes of the boundary and windows.

Hard ground, a spectrum with more bass than most, walls beside the set as plain additions, and
screening only where a screen plainly stands in the way, with a ceiling on its credit. These
rules are this project's own (proposal) around the formulas of ISO 9613-2; they err on the loud
side.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from siteplan.sound.checks import Array, Numbers, numbers, shaped
from siteplan.sound.cuts import Cuts
from siteplan.sound.levels import a_weighted_dba
from siteplan.sound.propagation import Conditions, Task, least_of, trace
from siteplan.sound.rating import assumed_spectrum_db
from siteplan.sound.receivers import BOUNDARY_HEIGHT_M
from siteplan.sound.reflection import beside_walls_db
from siteplan.sound.screens import NO_SCREENS, Mask, Rows, Screens

SOURCE_HEIGHT_M: Final = 0.5
"""Height from which the sound spreads (proposal)."""

TOP_HEIGHT_M: Final = 1.0
"""Height of set and exhaust that a screen must hide (proposal)."""

TOO_NEAR_M: Final = 3.0
"""Nearer than this nothing is calculated: no source of the formulas was tested so near."""

CLEAR_CUT_M: Final = 0.3
"""How far a screen must stand over the line of sight to be credited (proposal)."""

FENCE_CREDIT_DB: Final = 10.0
HOUSE_CREDIT_DB: Final = 15.0
"""Most that a fence or a house is credited with (proposal)."""

SOFTEST_GROUND: Final = 0.5
"""Largest ground factor allowed: wet, frozen or trodden ground cannot be told apart (proposal)."""

UNCERTAINTY_DB: Final = 5.0
"""Accuracy with a catalogue figure [± dB] (proposal); propagation alone is ±3 dB."""


_DISTANCES_M: Final[Array] = np.geomspace(TOO_NEAR_M, 5000.0, 800)


@dataclass(frozen=True)
class Assessment:
    """Cautious levels at n receivers.

    Attributes
    ----------
    level_dba : ndarray, shape (n,)
        A-weighted level [dB(A)]; not a number where it is not modelled: too near, or indoors.
    open_dba : ndarray, shape (n,)
        The same without walls [dB(A)].
    beside_db : ndarray, shape (n,)
        Added for walls beside the set [dB].
    credit_db : ndarray, shape (n,)
        Taken off for the screen credited [dB].
    governing : ndarray of int, shape (n,)
        Number of that screen, -1 where none is; walls first, then buildings.
    too_near : ndarray of bool, shape (n,)
        Where the receiver is nearer than 3 m.
    indoors : ndarray of bool, shape (n,)
        Where the receiver is inside a building; the levels are those outdoors.
    """

    level_dba: Array
    open_dba: Array
    beside_db: Array
    credit_db: Array
    governing: Rows
    too_near: Mask
    indoors: Mask

    @property
    def worst(self) -> int | None:
        """The receiver with the highest level, or None if none was modelled."""
        if np.isnan(self.level_dba).all():
            return None
        return int(np.nanargmax(self.level_dba))


def assess(
    source_xy: Numbers,
    receivers: Numbers,
    power_dba: float,
    screens: Screens = NO_SCREENS,
    *,
    ground_factor: float = 0.0,
) -> Assessment:
    """Return cautious levels at receivers around one portable set.

    Parameters
    ----------
    source_xy : array_like, shape (2,)
        Where the set stands [m].
    receivers : array_like, shape (n, 3)
        Places in plan and heights [m]; see `siteplan.sound.receivers`.
    power_dba : float
        Sound power LwA [dB(A)], 40 to 160; of several sets, their energy sum.
    screens : Screens
        Solid walls and buildings.
    ground_factor : float
        0 hard to 0.5.

    Returns
    -------
    Assessment

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.

    Notes
    -----
    Proposal of this project; formulas as in `propagation`. A fence is not credited where walls
    beside the set throw the sound over it.
    """
    total = float(numbers("sound power [dB(A)]", power_dba, 40.0, 160.0))
    g = float(numbers("ground factor", ground_factor, 0.0, SOFTEST_GROUND))
    x, y = numbers("place of the set [m]", source_xy, -1e6, 1e6)
    ears = shaped("receiver [m]", receivers, (3,))
    whole = Task.checked(
        (x, y, SOURCE_HEIGHT_M),
        assumed_spectrum_db(total, "low"),
        screens,
        Conditions(ground=(g, g, g)),
        TOP_HEIGHT_M,
    )
    parts = [_assessed(task, part) for part, task in whole.parts(ears)]
    return Assessment(*(np.concatenate(column) for column in zip(*parts, strict=True)))


def open_distance_m(power_dba: float, limit_dba: float, beside_db: float = 0.0) -> float:
    """Return how far over open hard ground the level is above a limit [m].

    Parameters
    ----------
    power_dba : float
        Sound power LwA [dB(A)], 40 to 160.
    limit_dba : float
        Level wanted [dB(A)], 0 to 160.
    beside_db : float
        Added by walls beside the set [dB], 0 to 9.

    Returns
    -------
    float
        Distance in plan [m], at least 3; infinite if it is more than 5 km.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.

    Notes
    -----
    From `assess` itself. Beyond 60 m it is further than by the inverse square, for ISO 9613-2
    has the ground between the end regions add to the level.
    """
    limit = float(numbers("noise limit [dB(A)]", limit_dba, 0.0, 160.0))
    beside = float(numbers("walls beside the set [dB]", beside_db, 0.0, 9.0))
    ears = np.zeros((_DISTANCES_M.size, 3))
    ears[:, 0], ears[:, 2] = _DISTANCES_M, BOUNDARY_HEIGHT_M
    above = assess((0.0, 0.0), ears, power_dba).level_dba + beside - limit
    if above[-1] > 0.0:
        return math.inf
    # Levels fall with distance, so the excess is turned round to rise for interpolation.
    return float(np.interp(0.0, above[::-1], _DISTANCES_M[::-1]))


def _assessed(task: Task, ears: Array) -> tuple[Array, Array, Array, Array, Rows, Mask, Mask]:
    found = trace(task, ears)
    open_dba = a_weighted_dba(found.open_db)
    beside = beside_walls_db(task.source, ears, task.screens)
    credit, governing = np.zeros(len(ears)), np.full(len(ears), -1)
    is_fence = found.cuts.obstacle < task.screens.wall_count
    gain = open_dba[found.cuts.receiver] - a_weighted_dba(found.behind_db)
    gain = np.minimum(gain, np.where(is_fence, FENCE_CREDIT_DB, HOUSE_CREDIT_DB))
    counts = _plainly_in_the_way(found.cuts) & ~(is_fence & (beside[found.cuts.receiver] > 0.0))
    gain = np.where(counts & (gain > 0.0), gain, 0.0)
    best = least_of(-gain, found.cuts.receiver)
    best = best[gain[best] > 0.0]
    at = found.cuts.receiver[best]
    credit[at], governing[at] = gain[best], found.cuts.obstacle[best]
    slant = np.sqrt(np.sum((ears - task.source) ** 2, axis=1))
    too_near = slant < TOO_NEAR_M
    indoors = task.screens.indoors(ears[:, :2])
    level = np.where(too_near | indoors, np.nan, open_dba + beside - credit)
    return level, open_dba, beside, credit, governing, too_near, indoors


def _plainly_in_the_way(cuts: Cuts) -> Mask:
    """Return which screens are well over the line of sight and reach past it on both sides."""
    overlaps = (cuts.side_reaches_m > cuts.height_m[:, np.newaxis]).all(axis=1)
    return np.asarray((cuts.above_m >= CLEAR_CUT_M) & overlaps)
