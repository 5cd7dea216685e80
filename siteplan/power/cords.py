"""Flexible cords: what they lose, how thick and how long they may be; what they carry."""

import math
from typing import Literal, NamedTuple

from siteplan.power._checks import within
from siteplan.power.ampacity import (
    AMPACITY_A,
    ambient_factor,
    bundling_factor,
    cord_ampacity_a,
    loaded_conductors,
)
from siteplan.power.copper import effective_impedance_ohm_per_m
from siteplan.units import feet

__all__ = [
    "AMPACITY_A",
    "CORD_GAUGES_AWG",
    "LOCKED_ROTOR_FACTOR",
    "LONGEST_CABLE_M",
    "RUN_DROP_FRACTION",
    "START_CORD_DROP_FRACTION",
    "START_PREFERRED_DIP_FRACTION",
    "START_TOTAL_DIP_FRACTION",
    "STOCK_LENGTHS_FT",
    "TOTAL_DROP_FRACTION",
    "CordKind",
    "SplitPhaseDrop",
    "ambient_factor",
    "bundling_factor",
    "cord_ampacity_a",
    "loaded_conductors",
    "longest_length_m",
    "next_stock_length_m",
    "smallest_gauge_awg",
    "split_phase_drop_v",
    "start_drop_v",
    "voltage_drop_v",
]

RUN_DROP_FRACTION = 0.03
"""Cord alone, running. Source: nec-2023-210.19 informational note (read second-hand)."""
TOTAL_DROP_FRACTION = 0.05
"""Cord, feeder and branch. Source: nec-2023-215.2 informational note 2 (read second-hand)."""
START_CORD_DROP_FRACTION = 0.10
"""Cord while a motor starts (common practice, no source)."""
START_TOTAL_DIP_FRACTION = 0.30
"""Cord and machine while a motor starts; above it contactors drop out and motors stall.

Source: genset-makers-voltage-dip (read); 0.20 is preferred (common practice, no source).
"""
START_PREFERRED_DIP_FRACTION = 0.20
LOCKED_ROTOR_FACTOR = 6.0
"""Starting current over running current. Source: nec-2023-table-430.251 (read second-hand)."""
LONGEST_CABLE_M = feet(250.0)
"""Machine to user, army practice. Source: army-tm-9-6150-228 page 2-9 (read)."""

CORD_GAUGES_AWG = (18, 16, 14, 12, 10, 8, 6, 4)
"""Sizes cords are sold in, thinnest first (common practice, no source)."""

CordKind = Literal["household", "locking-30a"]
STOCK_LENGTHS_FT: dict[CordKind, tuple[float, ...]] = {
    "household": (25.0, 50.0, 100.0, 200.0),
    "locking-30a": (10.0, 25.0, 50.0, 100.0),
}
"""Lengths cords are sold in [ft] (household read at a trade page; locking common practice)."""

_HIGHEST_CURRENT_A = 1000.0
_LONGEST_RUN_M = 1000.0


class SplitPhaseDrop(NamedTuple):
    """The losses of a four-wire 120/240 V run.

    Attributes
    ----------
    leg_a_v, leg_b_v : float
        Lost between a leg and the neutral at the far end [V]; below zero where the other
        leg's neutral current lifts this one.
    line_to_line_v : float
        Lost between the legs [V].
    neutral_a : float
        Neutral current [A], without sign.
    """

    leg_a_v: float
    leg_b_v: float
    line_to_line_v: float
    neutral_a: float

    @property
    def worst_leg_v(self) -> float:
        """The larger loss of the two legs [V]."""
        return max(self.leg_a_v, self.leg_b_v)


def voltage_drop_v(
    gauge_awg: int,
    length_m: float,
    current_a: float,
    power_factor: float = 1.0,
    temperature_c: float = 75.0,
) -> float:
    """Return the voltage lost there and back in a two-wire run, 120 or 240 V alike [V].

    Parameters
    ----------
    gauge_awg : int
        American wire gauge, -3 (4/0) to 40.
    length_m : float
        One way [m], 0 to 1000.
    current_a : float
        In the run [A], 0 to 1000; the locked-rotor current while a motor starts.
    power_factor : float
        0.1 to 1; 1 is the cautious choice.
    temperature_c : float
        Conductor temperature [°C].

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    Vd = 2 I L (R cos θ + X sin θ). Source: ufc-3-520-01 appendix B-2.2 (read).
    """
    within("length [m]", length_m, 0.0, _LONGEST_RUN_M)
    within("current [A]", current_a, 0.0, _HIGHEST_CURRENT_A)
    per_m = effective_impedance_ohm_per_m(gauge_awg, power_factor, temperature_c)
    return 2.0 * current_a * length_m * per_m


def split_phase_drop_v(
    gauge_awg: int,
    length_m: float,
    leg_a_a: float,
    leg_b_a: float,
    *,
    neutral_gauge_awg: int | None = None,
    temperature_c: float = 75.0,
) -> SplitPhaseDrop:
    """Return the losses of a 120/240 V run with neutral, loads in phase.

    Parameters
    ----------
    gauge_awg, neutral_gauge_awg : int
        American wire gauge of the legs and of the neutral (the same if not given).
    length_m : float
        One way [m], 0 to 1000.
    leg_a_a, leg_b_a : float
        Current of each leg [A], 0 to 1000, the 240 V loads in both.
    temperature_c : float
        Conductor temperature [°C].

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    Kirchhoff's laws, neutral current = A - B (derived).
    """
    within("length [m]", length_m, 0.0, _LONGEST_RUN_M)
    for current in (leg_a_a, leg_b_a):
        within("leg current [A]", current, 0.0, _HIGHEST_CURRENT_A)
    leg_ohm = length_m * effective_impedance_ohm_per_m(gauge_awg, 1.0, temperature_c)
    neutral_awg = gauge_awg if neutral_gauge_awg is None else neutral_gauge_awg
    neutral_ohm = length_m * effective_impedance_ohm_per_m(neutral_awg, 1.0, temperature_c)
    unbalance = leg_a_a - leg_b_a
    return SplitPhaseDrop(
        leg_a_v=leg_a_a * leg_ohm + unbalance * neutral_ohm,
        leg_b_v=leg_b_a * leg_ohm - unbalance * neutral_ohm,
        line_to_line_v=(leg_a_a + leg_b_a) * leg_ohm,
        neutral_a=abs(unbalance),
    )


def start_drop_v(
    gauge_awg: int,
    length_m: float,
    running_a: float,
    factor: float = LOCKED_ROTOR_FACTOR,
    temperature_c: float = 75.0,
) -> float:
    """Return an upper bound of the voltage a cord loses while a motor starts [V].

    Parameters
    ----------
    gauge_awg, length_m, temperature_c
        As in `voltage_drop_v`.
    running_a : float
        Full-load current of the motor [A].
    factor : float
        Starting over running current, 1 to 10; 6 until about three quarters of full speed.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    Power factor 1 bounds the drop from above (derived). Source of the factor:
    nec-2023-table-430.251 (read second-hand).
    """
    within("start factor", factor, 1.0, 10.0)
    return voltage_drop_v(gauge_awg, length_m, running_a * factor, 1.0, temperature_c)


def smallest_gauge_awg(
    current_a: float,
    length_m: float,
    voltage_v: float = 120.0,
    drop_fraction: float = RUN_DROP_FRACTION,
    check_ampacity: bool = True,
    *,
    loaded_conductors: int = 2,
    ambient_c: float = 30.0,
) -> int | None:
    """Return the thinnest cord that meets the drop and, unless told otherwise, the ampacity.

    Parameters
    ----------
    current_a : float
        In the cord [A], 0 to 1000.
    length_m : float
        One way [m], 0 to 1000, all pieces together.
    voltage_v : float
        Nominal [V], 100 to 600.
    drop_fraction : float
        Largest share of the voltage that may be lost, 0.001 to 0.5.
    check_ampacity : bool
        Published cord tables often leave ampacity out; a cord must meet both.
    loaded_conductors, ambient_c
        As in `cord_ampacity_a`.

    Returns
    -------
    int or None
        Gauge [AWG]; None if no cord that is sold will do.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.
    """
    allowed_v = _allowed_drop_v(voltage_v, drop_fraction)
    for gauge in CORD_GAUGES_AWG:
        carries = not check_ampacity or current_a <= cord_ampacity_a(
            gauge, loaded_conductors, ambient_c
        )
        if voltage_drop_v(gauge, length_m, current_a) <= allowed_v and carries:
            return gauge
    return None


def longest_length_m(
    gauge_awg: int,
    current_a: float,
    voltage_v: float = 120.0,
    drop_fraction: float = RUN_DROP_FRACTION,
    loaded_conductors: int = 2,
) -> float:
    """Return the longest run [m], one way, that keeps the drop; 0 if the cord cannot carry it.

    Parameters
    ----------
    gauge_awg : int
        A cord size, as in `cord_ampacity_a`.
    current_a : float
        In the cord [A], 0.01 to 1000.
    voltage_v, drop_fraction, loaded_conductors
        As in `smallest_gauge_awg`; voltage_v = 240 for a balanced 120/240 V cord.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.
    """
    within("current [A]", current_a, 0.01, _HIGHEST_CURRENT_A)
    if current_a > cord_ampacity_a(gauge_awg, loaded_conductors):
        return 0.0
    allowed_v = _allowed_drop_v(voltage_v, drop_fraction)
    return allowed_v / voltage_drop_v(gauge_awg, 1.0, current_a)


def next_stock_length_m(length_m: float, kind: CordKind = "household") -> float | None:
    """Return the shortest cord sold [m] that is at least this long, or None if none is.

    Parameters
    ----------
    length_m : float
        What the route needs with its rises and slack [m], 0 to 1000.
    kind : str
        "household" (straight plugs) or "locking-30a" (four-wire).

    Raises
    ------
    OutOfRangeError
        Outside that range.
    """
    within("length [m]", length_m, 0.0, _LONGEST_RUN_M)
    lengths = (feet(stock) for stock in STOCK_LENGTHS_FT[kind])
    return next((stock for stock in lengths if _reaches(stock, length_m)), None)


def _reaches(stock_m: float, length_m: float) -> bool:
    return stock_m >= length_m or math.isclose(stock_m, length_m, rel_tol=1e-9)


def _allowed_drop_v(voltage_v: float, drop_fraction: float) -> float:
    within("voltage [V]", voltage_v, 100.0, 600.0)
    within("share of voltage lost", drop_fraction, 0.001, 0.5)
    # A drop computed to equal the limit meets it; binary fractions must not decide.
    return voltage_v * drop_fraction * (1.0 + 1e-12)
