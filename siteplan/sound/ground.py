"""Attenuation by the ground, ISO 9613-2 clause 7.3.

The ground factor G is 0 for paving, water, ice and hard earth, 1 for grass and tilled soil.
"""

from typing import Literal

import numpy as np

from siteplan.errors import OutOfRangeError
from siteplan.sound.checks import Array, Numbers, numbers

Edition = Literal["1996", "2024"]

_REGION_HEIGHTS = 30.0


def _porous_shape(height_m: Array, distance_m: Array) -> Array:
    """Return a', b', c', d' of table 3, for 125 Hz to 1 kHz; shape (..., 4)."""
    h2 = height_m**2
    near = 1.0 - np.exp(-distance_m / 50.0)
    far = 1.0 - np.exp(-2.8e-6 * distance_m**2)
    a = 3.0 * np.exp(-0.12 * (height_m - 5.0) ** 2) * near + 5.7 * np.exp(-0.09 * h2) * far
    b = 8.6 * np.exp(-0.09 * h2) * near
    c = 14.0 * np.exp(-0.46 * h2) * near
    d = 5.0 * np.exp(-0.9 * h2) * near
    return np.asarray(1.5 + np.stack([a, b, c, d], axis=-1))


def _end_region_db(height_m: Array, factor: Array, distance_m: Array) -> Array:
    """Return As or Ar, shape (..., 8)."""
    shape = np.broadcast_shapes(height_m.shape, factor.shape, distance_m.shape)
    out = np.full((*shape, 8), -1.5)
    g = factor[..., np.newaxis]
    out[..., 1:5] += g * _porous_shape(*np.broadcast_arrays(height_m, distance_m))
    out[..., 5:] += 1.5 * g
    return out


def _middle_region_db(reach_m: Array, factor: Array, distance_m: Array) -> Array:
    """Return Am, shape (..., 8); the middle is empty while the end regions meet."""
    q = 1.0 - np.minimum(1.0, reach_m / np.maximum(distance_m, 1e-9))
    q, g = np.broadcast_arrays(q, factor)
    out = np.repeat((-3.0 * q * (1.0 - g))[..., np.newaxis], 8, axis=-1)
    out[..., 0] = -3.0 * q
    return out


def ground_db(
    distance_m: Numbers,
    source_height_m: Numbers,
    receiver_height_m: Numbers,
    factors: tuple[Numbers, Numbers, Numbers] = (0.0, 0.0, 0.0),
    edition: Edition = "1996",
) -> Array:
    """Return the ground attenuation Agr [dB] by the general method; negative is a gain.

    Parameters
    ----------
    distance_m : array_like
        Distance in plan [m], 0 to 10 000.
    source_height_m, receiver_height_m : array_like
        Heights over the ground [m], 0 to 200, broadcast against the distance.
    factors : tuple of three array_like
        Ground factors of the source, middle and receiver region, 0 to 1 each.
    edition : {"1996", "2024"}
        The later edition weakens the term for high paths at short range.

    Returns
    -------
    ndarray, shape (..., 8)

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.

    Notes
    -----
    ISO 9613-2:1996 clause 7.3.1, table 3 from memory, confirmed by the cases T01 to T06 of
    ISO/TR 17534-3:2015 (read second-hand). The term Kgeo of the 2024 edition is derived.
    """
    dp = numbers("distance [m]", distance_m, 0.0, 1e4)
    hs = numbers("source height [m]", source_height_m, 0.0, 200.0)
    hr = numbers("receiver height [m]", receiver_height_m, 0.0, 200.0)
    gs, gm, gr = (numbers("ground factor", g, 0.0, 1.0) for g in factors)
    total = _end_region_db(hs, gs, dp) + _end_region_db(hr, gr, dp)
    total = total + _middle_region_db(_REGION_HEIGHTS * (hs + hr), gm, dp)
    if edition == "1996":
        return np.asarray(total)
    kgeo = _image_ratio(dp, hs, hr)[..., np.newaxis]
    return np.asarray(-10.0 * np.log10(1.0 + (10.0 ** (-total / 10.0) - 1.0) * kgeo))


def _image_ratio(dp: Array, hs: Array, hr: Array) -> Array:
    """Return the squared ratio of the direct path to the path by the mirror source."""
    mirror = dp**2 + (hs + hr) ** 2
    return np.asarray((dp**2 + (hs - hr) ** 2) / np.maximum(mirror, 1e-12))


def alternative_ground_dba(slant_distance_m: Numbers, mean_height_m: Numbers) -> Array:
    """Return Agr [dB(A)] by the alternative method, for mostly porous ground and no tones.

    Parameters
    ----------
    slant_distance_m : array_like
        Straight distance from source to receiver [m], 1 to 10 000.
    mean_height_m : array_like
        Mean height of the path over the ground [m]; half the sum of the heights on flat ground.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.

    Notes
    -----
    ISO 9613-2:1996 eq. 10, read second-hand. Used together with `solid_angle_db`.
    """
    d = numbers("distance [m]", slant_distance_m, 1.0, 1e4)
    hm = numbers("mean path height [m]", mean_height_m, 0.0, 200.0)
    return np.maximum(0.0, 4.8 - (2.0 * hm / d) * (17.0 + 300.0 / d))


def solid_angle_db(
    distance_m: Numbers, source_height_m: Numbers, receiver_height_m: Numbers
) -> Array:
    """Return D_Omega [dB], the gain by ground reflection that goes with the alternative method.

    Notes
    -----
    ISO 9613-2:1996 eq. 11, from memory; its value at 200 m was read second-hand.
    """
    dp = numbers("distance [m]", distance_m, 0.0, 1e4)
    hs = numbers("source height [m]", source_height_m, 0.0, 200.0)
    hr = numbers("receiver height [m]", receiver_height_m, 0.0, 200.0)
    return np.asarray(10.0 * np.log10(1.0 + _image_ratio(dp, hs, hr)))


def _mean_between(starts: Array, ends: Array, factors: Array, low: float, high: float) -> float:
    """Return the length-weighted mean factor between two marks, or 0 where they meet."""
    if high - low <= 0.0:
        return 0.0
    overlap = np.clip(np.minimum(ends, high) - np.maximum(starts, low), 0.0, None)
    return float(np.sum(overlap * factors) / (high - low))


def region_factors(
    lengths_m: Numbers, factors: Numbers, source_height_m: float, receiver_height_m: float
) -> tuple[float, float, float]:
    """Return the ground factors of the source, middle and receiver region along one path.

    Parameters
    ----------
    lengths_m, factors : array_like, shape (n,)
        The stretches of ground from source to receiver: length [m] and factor 0 to 1.
    source_height_m, receiver_height_m : float
        Heights [m]; a region reaches 30 heights from its end, at most the whole path.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range or all lengths are 0.

    Notes
    -----
    Length-weighted mean, ISO/TR 17534-3:2015 clause 6.2.5 (read second-hand).
    """
    lengths = numbers("stretch of ground [m]", lengths_m, 0.0, 1e4)
    g = numbers("ground factor", factors, 0.0, 1.0)
    ends = np.cumsum(lengths)
    starts, whole = ends - lengths, float(lengths.sum())
    if whole <= 0.0:
        raise OutOfRangeError("length of the path [m]", whole, 0.0, 1e4)
    near = min(_REGION_HEIGHTS * source_height_m, whole)
    far = max(whole - _REGION_HEIGHTS * receiver_height_m, 0.0)
    return (
        _mean_between(starts, ends, g, 0.0, near),
        _mean_between(starts, ends, g, near, far),
        _mean_between(starts, ends, g, far, whole),
    )
