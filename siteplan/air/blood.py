"""Carboxyhaemoglobin by the non-linear Coburn-Forster-Kane equation.

The equation is Vb dx/dt = VCO - x PcO2 / (M B (C - x)) + PICO / B with B = 1/DL + (PB - 47)/VA.
Source: Coburn, Forster and Kane, J. Clin. Invest. 44, 1965; Peterson and Stewart,
J. Appl. Physiol. 39, 1975 (form read second-hand). Within one step of constant CO it has an exact
implicit solution; that is solved here, so the length of a step costs no accuracy.
"""

from collections.abc import Sequence
from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt

from siteplan.air.checks import FloatArray, known, within

Activity = Literal["rest", "public", "light", "heavy", "child"]

START_PERCENT = 0.75
"""COHb of a non-smoker before exposure [%] (read second-hand: 0.5 to 0.8); smokers 2 to 20."""
_WATER_VAPOUR_MMHG = 47.0
# Newton's rule squares the error: a last change below this leaves one below 1e-10.
_LAST_CHANGE = 1e-6
_MOST_ROUNDS = 60


class Body(NamedTuple):
    """The parameters of one person in the equation.

    Attributes
    ----------
    diffusing_ml_min_mmhg : float
        Lung diffusing capacity for CO, DL.
    ventilation_ml_min : float
        Alveolar ventilation, VA.
    blood_ml : float
        Blood volume, Vb. 5500 (read second-hand).
    o2_capacity : float
        O2 capacity of blood, C [ml/ml]. 0.20: Peterson and Stewart 1970 (from memory).
    haldane : float
        Affinity ratio, M. 218 (read second-hand; 204 to 250 seen).
    capillary_o2_mmhg : float
        Mean O2 tension in lung capillaries, PcO2. 100 (from memory; 110 seen).
    endogenous_ml_min : float
        CO made by the body, VCO. 0.007 (read second-hand).
    pressure_mmhg : float
        Barometric pressure, PB.
    """

    diffusing_ml_min_mmhg: float
    ventilation_ml_min: float
    blood_ml: float = 5500.0
    o2_capacity: float = 0.20
    haldane: float = 218.0
    capillary_o2_mmhg: float = 100.0
    endogenous_ml_min: float = 0.007
    pressure_mmhg: float = 760.0

    @property
    def resistance(self) -> float:
        """Resistance of the lung to CO, B [mmHg min/ml]."""
        dry_mmhg = self.pressure_mmhg - _WATER_VAPOUR_MMHG
        return 1.0 / self.diffusing_ml_min_mmhg + dry_mmhg / self.ventilation_ml_min

    @property
    def _store_ml(self) -> float:
        return self.blood_ml * self.o2_capacity

    @property
    def loss_per_min(self) -> float:
        """Rate constant b of the loss term b h/(1 - h), with h = COHb/100 [1/min]."""
        return self.capillary_o2_mmhg / (self.haldane * self.resistance * self._store_ml)

    def gain_per_min(self, ppm: npt.ArrayLike) -> FloatArray:
        """Return the gain of COHb as a fraction [1/min] in air of a CO concentration [ppm].

        Inspired CO is ppm × PB (not PB - 47): 6.6 % higher, and the convention that reproduces
        the AEGL and UL 2034 figures (read second-hand as ppm/1316).
        """
        inspired_mmhg = np.asarray(ppm, dtype=np.float64) * 1e-6 * self.pressure_mmhg
        return (self.endogenous_ml_min + inspired_mmhg / self.resistance) / self._store_ml


BODIES: dict[Activity, Body] = {
    "rest": Body(30.0, 6_000.0),
    "public": Body(30.0, 14_000.0),
    "light": Body(40.0, 18_000.0),
    "heavy": Body(60.0, 30_000.0),
    "child": Body(10.0, 2_500.0, blood_ml=800.0, o2_capacity=0.16),
}
"""Activity sets. rest, light and heavy: NIOSH criteria document 1972 and Peterson and Stewart 1975
(from memory, confirmed by recalculation). public: VA fitted to the ten rows of AEGL-2 and AEGL-3
for CO, so those rows are no independent evidence (derived). child: a child of 10 kg, values
assumed for illustration (common practice, no source)."""


def body_of(activity: Activity | Body) -> Body:
    """Return the parameter set of an activity, or the set itself if one is given.

    Raises
    ------
    UnknownNameError
        If there is no such activity.
    """
    if isinstance(activity, Body):
        return activity
    known("activity", activity, BODIES)
    return BODIES[activity]


def _decay_exponent(distance: FloatArray, pace: FloatArray) -> FloatArray:
    """Solve s + w (1 - exp(-s)) = pace for s, with w the scaled distance from equilibrium.

    The left side rises with s and is concave for w > 0, convex for w < 0, so Newton's rule from
    pace/(1 + w) closes in from one side and cannot run away.
    """
    exponent = pace / (1.0 + distance)
    for _ in range(_MOST_ROUNDS):
        weighted = distance * np.exp(-exponent)
        change = (exponent + distance - weighted - pace) / (1.0 + weighted)
        exponent = exponent - change
        if np.abs(change).max(initial=0.0) < _LAST_CHANGE:
            break
    return exponent


def _march(
    start: FloatArray, steps_min: FloatArray, gain: FloatArray, loss: FloatArray
) -> FloatArray:
    """Return COHb fractions after each step; gain has shape (steps, ...), start and loss (...)."""
    total = gain + loss
    balance = gain / total
    room = loss / total
    pull = total / loss
    lift = gain / loss
    pace = steps_min.reshape(-1, *[1] * (gain.ndim - 1)) * total * pull
    result = np.empty_like(gain)
    fraction = start
    for index in range(gain.shape[0]):
        distance = lift[index] - pull[index] * fraction
        exponent = _decay_exponent(distance, pace[index])
        fraction = balance[index] - room[index] * distance * np.exp(-exponent)
        result[index] = fraction
    return result


def cohb_percent(
    minutes: npt.ArrayLike,
    ppm: npt.ArrayLike,
    activity: Activity | Body = "public",
    start_percent: npt.ArrayLike = START_PERCENT,
) -> FloatArray:
    """Return carboxyhaemoglobin at given times while breathing given CO.

    Parameters
    ----------
    minutes : array_like, shape (n,) or a number
        Times from the start of exposure [min], from 0, never falling. Each is the end of a step;
        the first step begins at 0.
    ppm : array_like, shape (..., n) or a number
        CO held over each step [ppm, 0 to 1 000 000]; leading axes are openings or persons. With
        a single time every element is an exposure of its own, of any shape.
    activity : str or Body
        "rest", "public" (awake, the default), "light", "heavy", "child", or a parameter set.
    start_percent : float or array_like, shape (...)
        COHb at time 0 [%, 0 to 99].

    Returns
    -------
    ndarray, shape (..., n)
        COHb at the end of each step [%], above 0 and below 100. It falls again in cleaner air;
        use `hold_peak` before warning on it, as the model clears too fast at rest (200 to 242 min
        against 320 min measured).

    Raises
    ------
    OutOfRangeError
        If times fall, a number is outside its range, or the shapes do not fit.

    Notes
    -----
    Exact to 1e-8 % COHb for CO constant over each step. Against measured or agency values with
    the matching activity expect ±10 % or ±0.6 % COHb, whichever is larger; activity alone changes
    early uptake by a factor of 2.5 to 3.
    """
    return np.asarray(cohb_percents(minutes, ppm, (activity,), start_percent)[0])


def cohb_percents(
    minutes: npt.ArrayLike,
    ppm: npt.ArrayLike,
    activities: Sequence[Activity | Body],
    start_percent: npt.ArrayLike = START_PERCENT,
) -> FloatArray:
    """Return `cohb_percent` for several activities at once, which is faster than one by one.

    Parameters
    ----------
    minutes, ppm, start_percent : array_like
        As for `cohb_percent`.
    activities : sequence of str or Body
        One or more.

    Returns
    -------
    ndarray, shape (activities, ..., n)
        COHb [%].

    Raises
    ------
    OutOfRangeError
        As for `cohb_percent`.
    """
    ends = within("time [min]", minutes, 0.0, 1e7)
    concentration = within("CO [ppm]", ppm, 0.0, 1e6)
    start = within("COHb at the start [%]", start_percent, 0.0, 99.0)
    bodies = [body_of(activity) for activity in activities]
    if ends.ndim == 0:
        return _percents(ends.reshape(1), concentration[..., np.newaxis], bodies, start)[..., 0]
    return _percents(ends, concentration, bodies, start)


def _percents(
    ends: FloatArray, concentration: FloatArray, bodies: Sequence[Body], start: FloatArray
) -> FloatArray:
    steps = within("step between times [min]", np.diff(ends, prepend=0.0), 0.0, 1e7)
    per_time = concentration.shape[-1] if concentration.ndim else 1
    if per_time != 1:
        within("CO values along the last axis", per_time, ends.size, ends.size)
    held = np.broadcast_to(concentration, np.broadcast_shapes(concentration.shape, ends.shape))
    by_step = np.moveaxis(held, -1, 0)
    gain = np.stack([body.gain_per_min(by_step) for body in bodies], axis=1)
    loss = np.array([body.loss_per_min for body in bodies])
    loss = loss.reshape(-1, *[1] * (gain.ndim - 2))
    fractions = _march(np.broadcast_to(start / 100.0, gain.shape[1:]), steps, gain, loss)
    return np.ascontiguousarray(np.moveaxis(fractions, 0, -1)) * 100.0


def equilibrium_percent(ppm: npt.ArrayLike, activity: Activity | Body = "public") -> FloatArray:
    """Return the COHb reached after endless exposure.

    Parameters
    ----------
    ppm : array_like
        CO [ppm, 0 to 1 000 000].
    activity : str or Body
        As for `cohb_percent`; it matters only through the CO the body makes.

    Returns
    -------
    ndarray, shape of ppm
        COHb [%]. Source: the Haldane relation, h = M (PICO + B VCO)/PcO2, COHb = h/(1 + h)
        (derived from the equation).

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.
    """
    body = body_of(activity)
    gain = body.gain_per_min(within("CO [ppm]", ppm, 0.0, 1e6))
    return 100.0 * gain / (gain + body.loss_per_min)


def minutes_to_percent(
    percent: npt.ArrayLike,
    ppm: npt.ArrayLike,
    activity: Activity | Body = "public",
    start_percent: float = START_PERCENT,
) -> FloatArray:
    """Return the time to reach a COHb level in constant CO, by the implicit exact solution.

    Parameters
    ----------
    percent : array_like
        Level [%, 0 to 99].
    ppm : array_like
        Constant CO [ppm, 0 to 1 000 000], broadcast with percent.
    activity : str or Body
        As for `cohb_percent`.
    start_percent : float
        COHb at time 0 [%, 0 to 99].

    Returns
    -------
    ndarray
        Minutes; 0 if the level is not above the start, infinity if it is never reached.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.

    Notes
    -----
    Source: the equation with h = COHb/100 reads dh/dt = a - b h/(1 - h); separated and integrated,
    t = (k ln(e0/e) + e0 - e)/(a + b) with k = b/(a + b) and e the distance below equilibrium. The
    same solution in other letters is read second-hand.
    """
    body = body_of(activity)
    level = within("COHb [%]", percent, 0.0, 99.0) / 100.0
    start = float(within("COHb at the start [%]", start_percent, 0.0, 99.0)) / 100.0
    gain = body.gain_per_min(within("CO [ppm]", ppm, 0.0, 1e6))
    total = gain + body.loss_per_min
    far, near = gain / total - start, gain / total - level
    with np.errstate(divide="ignore", invalid="ignore"):
        reached = (body.loss_per_min / total * np.log(far / near) + far - near) / total
    return np.where(level <= start, 0.0, np.where(near > 0.0, reached, np.inf))


def hold_peak(curve: npt.ArrayLike) -> FloatArray:
    """Return the highest value so far along the last axis: no decay ever clears a warning."""
    return np.maximum.accumulate(np.asarray(curve, dtype=np.float64), axis=-1)
