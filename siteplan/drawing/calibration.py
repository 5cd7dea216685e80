"""Placing a picture under the drawing: two points, or three and more, and a check length.

Pixels run right and down, metres east and north of the drawing's origin.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from siteplan.errors import SiteplanError

Point = tuple[float, float]
Pair = tuple[Point, Point]
"""A picture point [px] and its place on the lot [m]."""

_CLOSEST_PX = 20.0
# A triangle flatter than this lets a small slip of the hand turn into a large one across it.
_FLATTEST = 0.15


class CalibrationError(SiteplanError):
    """The points do not place the picture."""


@dataclass(frozen=True, slots=True)
class Fit:
    """How pixels become metres: x = a·u + b·v + c, y = d·u + e·v + f.

    Attributes
    ----------
    matrix : tuple of float
        a, b, c, d, e, f.
    residual_m : float
        Largest distance between a point and where the picture puts it [m]; 0 for two or
        three points, which fit exactly and so tell nothing of their error.
    """

    matrix: tuple[float, float, float, float, float, float]
    residual_m: float

    def place(self, pixel: Point) -> Point:
        """Return where a picture point [px] lies on the lot [m]."""
        a, b, c, d, e, f = self.matrix
        u, v = pixel
        return (a * u + b * v + c, d * u + e * v + f)

    @property
    def m_per_px(self) -> float:
        """Mean size of a pixel on the lot [m]."""
        a, b, _, d, e, _ = self.matrix
        return math.sqrt(abs(a * e - b * d))


def fit(pairs: Sequence[Pair]) -> Fit:
    """Return the fit of two points (turn and size) or of three and more (least squares).

    Parameters
    ----------
    pairs : sequence of pairs
        At least two; picture points at least 20 px apart.

    Raises
    ------
    CalibrationError
        If there are too few points, or they lie too close together or nearly on one line.
    """
    if len(pairs) < 2:
        msg = "a picture needs two points whose places on the lot are known"
        raise CalibrationError(msg)
    return similarity(pairs[0], pairs[1]) if len(pairs) == 2 else affine(pairs)


def similarity(first: Pair, second: Pair) -> Fit:
    """Return the turn, size and shift that put two picture points in their places.

    Raises
    ------
    CalibrationError
        If the points lie too close together in the picture or on the lot.
    """
    (p, place_p), (q, place_q) = first, second
    if math.dist(p, q) < _CLOSEST_PX or math.dist(place_p, place_q) <= 0.0:
        msg = "the two points lie too close together; take two far apart in the picture"
        raise CalibrationError(msg)
    # As complex numbers, with v turned upwards: place = k · pixel + shift.
    pixel_p, pixel_q = complex(p[0], -p[1]), complex(q[0], -q[1])
    k = (complex(*place_q) - complex(*place_p)) / (pixel_q - pixel_p)
    shift = complex(*place_p) - k * pixel_p
    return Fit((k.real, k.imag, shift.real, k.imag, -k.real, shift.imag), 0.0)


def affine(pairs: Sequence[Pair]) -> Fit:
    """Return the affine map that fits three or more points best (least squares).

    Raises
    ------
    CalibrationError
        If there are fewer than three, or they lie too close together or nearly on one line.
    """
    pixels = np.array([pixel for pixel, _ in pairs], dtype=np.float64)
    places = np.array([place for _, place in pairs], dtype=np.float64)
    if len(pairs) < 3 or _flatness(pixels) < _FLATTEST or _flatness(places) < _FLATTEST:
        msg = "the points lie nearly on one line; take three that span a wide triangle"
        raise CalibrationError(msg)
    design = np.column_stack([pixels, np.ones(len(pixels))])
    solution, *_ = np.linalg.lstsq(design, places, rcond=None)
    misses = np.hypot(*(design @ solution - places).T)
    (a, d), (b, e), (c, f) = solution.tolist()
    residual = float(misses.max()) if len(pairs) > 3 else 0.0
    return Fit((a, b, c, d, e, f), residual)


def _flatness(points: npt.NDArray[np.float64]) -> float:
    """Return the least spread of points over their greatest, 0 on a line or all in one place."""
    spread = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
    return float(spread[1] / spread[0]) if spread[0] > 0.0 else 0.0


def check_error_m(found: Fit, start: Point, end: Point, true_m: float) -> float:
    """Return by how much a known length comes out wrong [m]; it enters the drawing's accuracy.

    Parameters
    ----------
    found : Fit
        The fit to check.
    start, end : tuple of float
        Ends of the length in the picture [px].
    true_m : float
        Its length on the ground [m], over 0.

    Raises
    ------
    CalibrationError
        If the length is not over 0, or its ends fall together.
    """
    if not true_m > 0.0 or start == end:
        msg = "a check length must be over 0 and have two different ends"
        raise CalibrationError(msg)
    return abs(math.dist(found.place(start), found.place(end)) - true_m)


def picture_error_m(found: Fit, check_m: float | None) -> float:
    """Return the picture's own error, to be kept as the backdrop's check error [m].

    The larger of the points' residual and the check length's error. The review adds it to the
    drawing's accuracy, so it makes distances shorter and never longer.
    """
    return max(found.residual_m, check_m or 0.0)
