"""Attenuation by screens, ISO 9613-2 clause 7.4, joined with the ground by ISO/TR 17534-3.

A screen counts only if it weighs at least 10 kg/m² and has no gaps; slats and hedges are none.
The bands run along the last axis; everything else broadcasts before it.
"""

from typing import Final

import numpy as np

from siteplan.sound.checks import Array, Numbers, numbers
from siteplan.sound.ground import Edition
from siteplan.sound.levels import OCTAVES_HZ

SPEED_M_PER_S: Final = 340.0
"""Speed of sound of the screening formulas (ISO 9613-2 clause 7.4, read second-hand)."""

SINGLE_EDGE_CAP_DB: Final = 20.0
DOUBLE_EDGE_CAP_DB: Final = 25.0
"""Largest Dz over the top (ISO 9613-2 clause 7.4, read second-hand)."""

_C2 = 20.0
_CURVED_RAY_M = 2000.0
_TINY = 1e-12


def _columns(values: Numbers) -> Array:
    return np.asarray(values, dtype=np.float64)[..., np.newaxis]


def double_edge_factor(depth_m: Numbers, frequency_hz: Numbers = OCTAVES_HZ) -> Array:
    """Return C3, 1 for a single edge to 3 for a deep obstacle.

    Parameters
    ----------
    depth_m : array_like
        Distance e between the edges [m], 0 to 10⁶; 0 is a single edge.
    frequency_hz : array_like, shape (k,)
        Frequencies [Hz].

    Returns
    -------
    ndarray, shape (..., k)

    Raises
    ------
    OutOfRangeError
        If the depth is outside its range.

    Notes
    -----
    ISO 9613-2:1996 eq. 15, read second-hand, rewritten so that e = 0 gives 1.
    """
    e2 = _columns(numbers("depth of the obstacle [m]", depth_m, 0.0, 1e6)) ** 2
    w2 = (5.0 * SPEED_M_PER_S / np.asarray(frequency_hz, dtype=np.float64)) ** 2
    return np.asarray((e2 + w2) / (e2 / 3.0 + w2))


def _curvature(lengths: tuple[Array, Array, Array], z: Array, floor: Array, new: bool) -> Array:
    """Return Kmet, the weakening of a screen by rays that bend down in favourable weather."""
    near, far, e = lengths
    straight = near + far + e - np.abs(z)
    numbers("straight distance [m]", straight, -1e-6, np.inf)
    longer, height = (np.maximum(near, far) + e, z - floor) if new else (np.maximum(near, far), z)
    product = longer * np.minimum(near, far) * np.maximum(straight, 0.0)
    bent = np.exp(-np.sqrt(product / (2.0 * np.maximum(height, _TINY))) / _CURVED_RAY_M)
    return np.asarray(np.where(height > 0.0, bent, 1.0))


def least_detour_m(c3: Numbers, frequency_hz: Numbers = OCTAVES_HZ) -> Array:
    """Return zmin [m], the (negative) detour at and below which a screen does nothing.

    Notes
    -----
    ISO 9613-2 clause 7.4, read second-hand.
    """
    wavelength = SPEED_M_PER_S / np.asarray(frequency_hz, dtype=np.float64)
    return np.asarray(-2.0 * wavelength / (_C2 * np.asarray(c3, dtype=np.float64)))


def screen_db(
    detour_m: Numbers,
    to_source_m: Numbers,
    to_receiver_m: Numbers,
    depth_m: Numbers = 0.0,
    *,
    edition: Edition = "1996",
    frequency_hz: Numbers = OCTAVES_HZ,
) -> Array:
    """Return Dz [dB] of the path over the top of a screen, before its cap.

    Parameters
    ----------
    detour_m : array_like
        z [m]: path over the edges less the straight distance; negative if the line of sight
        passes above the top.
    to_source_m, to_receiver_m : array_like
        Distances dss, dsr [m] from the source to the first edge, from the last edge to the
        receiver.
    depth_m : array_like
        Distance e between the edges [m]; 0 for a thin wall.
    edition : {"1996", "2024"}
        Edition of the standard.
    frequency_hz : array_like, shape (k,)
        Frequencies [Hz].

    Returns
    -------
    ndarray, shape (..., k)

    Raises
    ------
    OutOfRangeError
        If the detour is longer than the whole way over the edges.

    Notes
    -----
    ISO 9613-2:1996 eq. 14 and 18 and the 2024 edition's form, read second-hand; C2 = 20.
    """
    z, near, far = (_columns(v) for v in (detour_m, to_source_m, to_receiver_m))
    c3 = double_edge_factor(depth_m, frequency_hz)
    floor = least_detour_m(c3, frequency_hz)
    kmet = _curvature((near, far, _columns(depth_m)), z, floor, edition == "2024")
    wavelength = SPEED_M_PER_S / np.asarray(frequency_hz, dtype=np.float64)
    gain = _C2 / wavelength * c3 * z
    inner = 3.0 + gain * kmet if edition == "1996" else 1.0 + (2.0 + gain) * kmet
    return np.asarray(np.where(z > floor, 10.0 * np.log10(np.maximum(inner, 1.0)), 0.0))


def capped_db(dz_db: Numbers, depth_m: Numbers) -> Array:
    """Return Dz [dB] of a path over the top, held to 20 dB (one edge) or 25 dB (two).

    Notes
    -----
    ISO 9613-2 clause 7.4, read second-hand.
    """
    cap = np.where(_columns(depth_m) > 0.0, DOUBLE_EDGE_CAP_DB, SINGLE_EDGE_CAP_DB)
    return np.minimum(np.asarray(dz_db, dtype=np.float64), cap)


def side_db(detour_m: Numbers, depth_m: Numbers = 0.0, frequency_hz: Numbers = OCTAVES_HZ) -> Array:
    """Return Dz [dB] of a path round a vertical edge: no bending of rays and no cap.

    Parameters
    ----------
    detour_m : array_like
        z [m], at least 0; infinite where there is no way round.
    depth_m : array_like
        Distance e between the vertical edges [m].
    frequency_hz : array_like, shape (k,)
        Frequencies [Hz].

    Notes
    -----
    ISO 9613-2:1996 clause 7.4 with Kmet = 1, read second-hand.
    """
    z = _columns(detour_m)
    wavelength = SPEED_M_PER_S / np.asarray(frequency_hz, dtype=np.float64)
    c3 = double_edge_factor(depth_m, frequency_hz)
    return np.asarray(10.0 * np.log10(3.0 + _C2 / wavelength * c3 * z))


def joined_db(dz_db: Numbers, ground_db: Numbers) -> Array:
    """Return Agr + Abar [dB] of the path over the top.

    A gain by the ground (Agr < 0) is kept behind the screen; a loss by it is replaced by the
    screen's if that is larger. The literal reading of ISO 9613-2 eq. 12 would drop the gain and
    credit the screen with up to 4 dB more.

    Notes
    -----
    ISO/TR 17534-3:2015 clause 5.5, derived: needed to meet its cases T08, T09 and T11.
    """
    dz, ground = np.asarray(dz_db, dtype=np.float64), np.asarray(ground_db, dtype=np.float64)
    return np.where(ground < 0.0, dz + ground, np.maximum(dz, ground))


def combined_db(paths_db: list[Array], unscreened_db: Numbers) -> Array:
    """Return the attenuation [dB] of several paths together, never less than without a screen.

    Parameters
    ----------
    paths_db : list of ndarray
        Ground and screen attenuation of each path [dB]; infinite for a path that is not there.
    unscreened_db : array_like
        Ground attenuation without the screen [dB].

    Notes
    -----
    Energy sum over the paths; the rule that an obstacle may not raise the level is
    ISO/TR 17534-3:2015 clause 5.6 (heading read, effect derived from its case T09).
    """
    energy = np.sum([10.0 ** (-path / 10.0) for path in paths_db], axis=0)
    return np.maximum(-10.0 * np.log10(energy), np.asarray(unscreened_db, dtype=np.float64))
