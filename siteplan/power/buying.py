"""Which cord to buy for a way: the length sold, the gauge, and what calls for that gauge."""

from typing import Literal, NamedTuple

from siteplan.power._checks import within
from siteplan.power.cords import (
    CORD_GAUGES_AWG,
    RUN_DROP_FRACTION,
    START_CORD_DROP_FRACTION,
    CordKind,
    cord_ampacity_a,
    next_stock_length_m,
    voltage_drop_v,
)
from siteplan.power.receptacles import LINE_TO_NEUTRAL_V

__all__ = [
    "THINNEST_CORD_AWG",
    "Bought",
    "Demand",
    "Reason",
    "cord_to_buy",
    "drop_share",
    "suits",
]

THINNEST_CORD_AWG = 16
"""General-use cord. Sources: nec-2023-240.5, cpsc-extension-cords (read second-hand)."""
Reason = Literal["ampacity", "drop", "start", "general-use"]
_HOTTEST_C, _COLDEST_C = 55.0, -50.0
# A loss computed to equal its limit meets it; binary fractions must not decide.
_EQUAL = 1.0 + 1e-9


class Demand(NamedTuple):
    """What a cord is asked to carry.

    Attributes
    ----------
    wire_a : float
        In its most loaded wire [A]; what the breaker lets through where anything may be
        plugged in at its end.
    loop_a : float
        Running, in the wire there and the wire back together [A].
    start_loop_a : float
        The same while the hardest load starts [A].
    neutral_a : float
        In a neutral that counts as loaded [A]; 0 where it does not.
    """

    wire_a: float
    loop_a: float
    start_loop_a: float = 0.0
    neutral_a: float = 0.0


class Bought(NamedTuple):
    """The cord to buy.

    Attributes
    ----------
    gauge_awg : int or None
        Thinnest that will do [AWG]; None if none that is sold will.
    length_m : float or None
        Length sold [m]; None if none so long is.
    reason : str or None
        What a thinner one would fail by: the current ("ampacity"), the loss running ("drop")
        or at a start ("start"), or that none thinner is for general use ("general-use").
    drop_share : float
        Share of 120 V that it loses running, over the length sold, 0 to 1.
    """

    gauge_awg: int | None
    length_m: float | None
    reason: Reason | None
    drop_share: float


def cord_to_buy(
    needed_m: float, demand: Demand, kind: CordKind = "household", ambient_c: float = 30.0
) -> Bought:
    """Return the shortest cord sold that reaches, of the thinnest gauge that will do.

    The loss is that over the whole length sold, for all of it is laid out.

    Parameters
    ----------
    needed_m : float
        What the way needs with its rises and slack [m], 0 to 1000.
    demand : Demand
        Currents [A], each 0 to any.
    kind : str
        "household" or "locking-30a", as in `next_stock_length_m`.
    ambient_c : float
        Air around it [°C]; above 55 °C no cord carries anything.

    Raises
    ------
    OutOfRangeError
        If the length is outside its range.

    Notes
    -----
    Ampacity: nec-2023-400.5 (read second-hand). Loss running: nec-2023-210.19 informational
    note (read second-hand); starting: common practice, no source.
    """
    stock_m = next_stock_length_m(within("length [m]", needed_m, 0.0, 1000.0), kind)
    laid_m = needed_m if stock_m is None else stock_m
    failed: Reason = "general-use"
    for gauge in CORD_GAUGES_AWG[CORD_GAUGES_AWG.index(THINNEST_CORD_AWG) :]:
        fault = _fault(gauge, laid_m, demand, ambient_c)
        if fault is None:
            return Bought(gauge, stock_m, failed, drop_share(gauge, laid_m, demand.loop_a))
        failed = fault
    thickest = CORD_GAUGES_AWG[-1]
    return Bought(None, stock_m, None, drop_share(thickest, laid_m, demand.loop_a))


def suits(gauge_awg: int, length_m: float, demand: Demand, ambient_c: float = 30.0) -> bool:
    """Return whether a cord at hand, so thick and so long [m], is as good as one to buy."""
    # A size between two that are sold carries what the thinner of them does.
    sold = [one for one in CORD_GAUGES_AWG if one >= gauge_awg]
    thinnest = gauge_awg > THINNEST_CORD_AWG or not sold
    return not thinnest and _fault(min(sold), length_m, demand, ambient_c) is None


def _fault(gauge: int, laid_m: float, demand: Demand, ambient_c: float) -> Reason | None:
    """Return what speaks against a gauge first, or None."""
    if ambient_c > _HOTTEST_C:
        return "ampacity"
    air_c = max(_COLDEST_C, ambient_c)
    if demand.wire_a > cord_ampacity_a(gauge, 2, air_c) * _EQUAL:
        return "ampacity"
    if demand.neutral_a and demand.neutral_a > cord_ampacity_a(gauge, 3, air_c) * _EQUAL:
        return "ampacity"
    if drop_share(gauge, laid_m, demand.loop_a) > RUN_DROP_FRACTION * _EQUAL:
        return "drop"
    if drop_share(gauge, laid_m, demand.start_loop_a) > START_CORD_DROP_FRACTION * _EQUAL:
        return "start"
    return None


def drop_share(gauge_awg: int, length_m: float, loop_a: float) -> float:
    """Return the share of 120 V lost over a length by a current there and back [A]."""
    per_m_and_a = voltage_drop_v(gauge_awg, 1.0, 1.0) / 2.0
    return per_m_and_a * length_m * loop_a / LINE_TO_NEUTRAL_V
