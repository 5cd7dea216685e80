"""Tape distances: find a place from known corners, and tell a place by its distances.

Two tapes meet in two places, on either side of the line through their corners; a third
tape tells which, and shows a misread tape.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from siteplan.errors import OutOfRangeError, SiteplanError
from siteplan.geometry.arrays import XY, FloatArray, IntArray, Shapes, as_points
from siteplan.geometry.ground import lay_ground
from siteplan.geometry.sight import sees
from siteplan.units import LENGTH_TOLERANCE_M

_LONGEST_TAPE_M = 1000.0
_ROUNDS = 50
_SAME_PLACE_M = 1e-4


class TapeError(SiteplanError):
    """The tapes and corners given determine no place."""


@dataclass(frozen=True, slots=True)
class Fix:
    """Where tape distances meet.

    Attributes
    ----------
    places : tuple of (float, float)
        Best first [m, m]; two if the tapes cannot tell on which side of a line it lies.
    misfit_m : float
        Largest difference between a tape and the distance drawn, at the first place [m].
    """

    places: tuple[XY, ...]
    misfit_m: float


@dataclass(frozen=True, slots=True)
class Ties:
    """How to find a place in the yard with a tape.

    Attributes
    ----------
    corners : tuple of int
        Which of the known corners the two tapes start from.
    distances_m : tuple of float
        What each tape must read [m].
    check_corner : int or None
        A third corner to check from; None if no other can be seen.
    check_m : float or None
        What the third tape must read [m].
    error_m : float
        How far off the place can be when both tapes are off by the given accuracy [m].
    mirror_xy : tuple of float
        The wrong place that has the same two distances [m, m].
    """

    corners: tuple[int, int]
    distances_m: tuple[float, float]
    check_corner: int | None
    check_m: float | None
    error_m: float
    mirror_xy: XY


def place_from_tapes(
    corners: npt.ArrayLike, tapes_m: Sequence[float], accuracy_m: float = 0.05
) -> Fix:
    """Return the place at given distances from known corners, by least squares.

    Parameters
    ----------
    corners : array_like
        Two or more known places [m], shape (n, 2).
    tapes_m : sequence of float
        Distance from each [m], over 0 to 1000.
    accuracy_m : float
        How well a tape is read [m]; places that fit all tapes within it are all told.

    Raises
    ------
    TapeError
        If fewer than two different corners are given, or as many tapes are not.
    OutOfRangeError
        If a tape is out of range.
    """
    known = as_points(corners)
    tapes = np.asarray(tapes_m, dtype=np.float64)
    if len(known) != len(tapes) or len(np.unique(known, axis=0)) < 2:
        raise TapeError("a place needs tapes from two different corners at least")
    for tape in tapes.tolist():
        if not 0.0 < tape <= _LONGEST_TAPE_M:
            raise OutOfRangeError("tape [m]", tape, 0.0, _LONGEST_TAPE_M)
    starts = [
        start
        for pair in itertools.combinations(range(len(known)), 2)
        for start in _meet(known, tapes, pair)
    ]
    found = sorted(
        (_settled(np.array(start), known, tapes) for start in starts), key=lambda f: f[1]
    )
    good = max(accuracy_m, found[0][1] + LENGTH_TOLERANCE_M)
    return Fix(_different([place for place, misfit in found if misfit <= good]), found[0][1])


def setting_out(
    place_xy: XY,
    corners: npt.ArrayLike,
    accuracy_m: float,
    longest_tape_m: float = 30.0,
    solids: Shapes = (),
) -> Ties:
    """Choose the two fixed corners that fix a place best, and a third to check from.

    Parameters
    ----------
    place_xy : tuple of float
        The place to be found [m, m].
    corners : array_like
        Fixed places one can hold a tape to [m], shape (n, 2).
    accuracy_m : float
        How far off a tape may be read [m].
    longest_tape_m : float
        Corners farther than this are not used [m].
    solids : array of geometries
        What a straight tape cannot pass.

    Raises
    ------
    TapeError
        If no two corners within the tape's length see the place from different directions.
    """
    known = as_points(corners)
    usable = _usable(as_points(place_xy)[0], known, longest_tape_m, solids)
    pairs = list(itertools.combinations(usable.tolist(), 2))
    errors = [_error_m(_directions(place_xy, known[list(pair)]), accuracy_m) for pair in pairs]
    if not pairs or not math.isfinite(min(errors)):
        raise TapeError("no two fixed corners within reach of the tape fix this place")
    one, other = pairs[int(np.argmin(errors))]
    mirror = _mirrored(place_xy, known[one], known[other])
    check = _check_corner(
        mirror, place_xy, known, [c for c in usable.tolist() if c not in (one, other)]
    )
    return Ties(
        (one, other),
        (math.dist(place_xy, known[one]), math.dist(place_xy, known[other])),
        check,
        None if check is None else math.dist(place_xy, known[check]),
        min(errors),
        mirror,
    )


def _meet(known: FloatArray, tapes: FloatArray, pair: tuple[int, int]) -> list[XY]:
    """Return where two circles meet; where they miss each other, the place between them."""
    (x0, y0), (x1, y1) = known[list(pair)].tolist()
    near, far = tapes[list(pair)].tolist()
    base = math.hypot(x1 - x0, y1 - y0)
    if base == 0.0:
        return []
    along = (near**2 - far**2 + base**2) / (2.0 * base)
    aside = math.sqrt(max(near**2 - along**2, 0.0))
    ux, uy = (x1 - x0) / base, (y1 - y0) / base
    foot_x, foot_y = x0 + along * ux, y0 + along * uy
    return [(foot_x - side * uy, foot_y + side * ux) for side in (aside, -aside)]


def _settled(at: FloatArray, known: FloatArray, tapes: FloatArray) -> tuple[FloatArray, float]:
    """Return the place near a start that fits all tapes best (Gauss-Newton) and its misfit."""
    for _ in range(_ROUNDS):
        away = at - known
        drawn = np.maximum(np.hypot(*away.T), LENGTH_TOLERANCE_M)
        step = np.linalg.lstsq(away / drawn[:, None], tapes - drawn, rcond=1e-6)[0]
        at = at + step
        if np.hypot(*step) < LENGTH_TOLERANCE_M / 1000.0:
            break
    return at, float(np.abs(np.hypot(*(at - known).T) - tapes).max())


def _different(places: list[FloatArray]) -> tuple[XY, ...]:
    kept: list[XY] = []
    for x, y in (place.tolist() for place in places):
        if all(math.dist((x, y), other) > _SAME_PLACE_M for other in kept):
            kept.append((x, y))
    return tuple(kept)


def _usable(place: FloatArray, known: FloatArray, longest_m: float, solids: Shapes) -> IntArray:
    length = np.hypot(*(known - place).T)
    within = np.flatnonzero((length > LENGTH_TOLERANCE_M) & (length <= longest_m))
    walls = lay_ground(solids).walls
    free = sees(place[None], known, (np.zeros_like(within), within), walls)
    return np.asarray(within[free], dtype=np.int64)


def _directions(place_xy: XY, known: FloatArray) -> FloatArray:
    away = np.asarray(place_xy) - known
    unit: FloatArray = away / np.hypot(*away.T)[:, None]
    return unit


def _error_m(directions: FloatArray, accuracy_m: float) -> float:
    """Return how far two tapes that are both off move the place at worst [m].

    Derived: with the tapes at an angle γ the place moves by δ/cos(γ/2) if both are off the
    same way, by δ/sin(γ/2) if they are off opposite ways; least, δ·√2, at a right angle.
    """
    cos = float(np.clip(directions[0] @ directions[1], -1.0, 1.0))
    worst = math.sqrt(min(1.0 - cos, 1.0 + cos) / 2.0)
    return accuracy_m / worst if worst > LENGTH_TOLERANCE_M else math.inf


def _mirrored(place_xy: XY, one: FloatArray, other: FloatArray) -> XY:
    along = (other - one) / np.hypot(*(other - one))
    away = np.asarray(place_xy) - one
    x, y = (one + 2.0 * (away @ along) * along - away).tolist()
    return (x, y)


def _check_corner(mirror: XY, place_xy: XY, known: FloatArray, others: list[int]) -> int | None:
    """Return the corner whose tape tells the place from its mirror image most clearly."""
    if not others:
        return None
    return max(
        others, key=lambda c: abs(math.dist(mirror, known[c]) - math.dist(place_xy, known[c]))
    )
