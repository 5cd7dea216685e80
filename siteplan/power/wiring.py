"""The fixed part of the path: building wire, equipment ground, inlet, drop along the chain."""

from collections.abc import Sequence
from typing import NamedTuple

from siteplan.power._checks import listed, within
from siteplan.power.cords import split_phase_drop_v, voltage_drop_v
from siteplan.power.receptacles import LINE_TO_NEUTRAL_V, PORTABLE_LIMIT_W

BUILDING_WIRE_A: dict[int, tuple[float, float, float]] = {
    14: (15.0, 20.0, 25.0),  # from memory; the rest read second-hand
    12: (20.0, 25.0, 30.0),
    10: (30.0, 35.0, 40.0),
    8: (40.0, 50.0, 55.0),
    6: (55.0, 65.0, 75.0),
}
"""Copper at 60, 75 and 90 °C [A]. Source: nec-2023-table-310.16 (read second-hand)."""

_GROUND_AWG = ((15.0, 14), (20.0, 12), (60.0, 10))
LARGE_INLET_A = 100.0
"""Inlets from here need an interlocked disconnect.

Source: nec-2023-702.12(C) (read second-hand).
"""
GENERATOR_CONDUCTOR_FACTOR = 1.15
"""Source: nec-2023-445.13(A) (read second-hand)."""


class Segment(NamedTuple):
    """A piece of the path from machine to load.

    Attributes
    ----------
    name : str
        Such as "cord", "feeder" or "branch".
    gauge_awg : int
        Size of its conductors.
    length_m : float
        One way [m].
    leg_a_a, leg_b_a : float
        Currents [A]; leg_b_a is None in a two-wire 120 V piece.
    """

    name: str
    gauge_awg: int
    length_m: float
    leg_a_a: float
    leg_b_a: float | None = None

    @property
    def drop_v(self) -> float:
        """Lost to the worse leg, or there and back in two wires [V]."""
        if self.leg_b_a is None:
            return voltage_drop_v(self.gauge_awg, self.length_m, self.leg_a_a)
        return split_phase_drop_v(
            self.gauge_awg, self.length_m, self.leg_a_a, self.leg_b_a
        ).worst_leg_v


class ChainDrop(NamedTuple):
    """Share of 120 V lost in each piece, in order, and in all."""

    shares: tuple[tuple[str, float], ...]
    total: float


def chain_drop(segments: Sequence[Segment]) -> ChainDrop:
    """Return the share of 120 V lost along a path, cord and feeder and branch together.

    The worse leg of each piece is added to the worse leg of the next, which bounds the loss of
    any one load from above (derived).
    """
    shares = tuple((each.name, each.drop_v / LINE_TO_NEUTRAL_V) for each in segments)
    return ChainDrop(shares, sum(share for _, share in shares))


def building_wire_a(gauge_awg: int, column_c: int = 60) -> float:
    """Return the ampacity of copper building wire [A].

    Parameters
    ----------
    gauge_awg : int
        14, 12, 10, 8 or 6.
    column_c : int
        60, 75 or 90; nonmetallic-sheathed cable takes 60.

    Raises
    ------
    OutOfRangeError
        For others.

    Notes
    -----
    Sources: nec-2023-table-310.16 (read second-hand); nec-2023-334.80 (from memory).
    """
    columns = (60, 75, 90)
    listed("wire gauge [AWG]", gauge_awg, BUILDING_WIRE_A)
    listed("temperature column [°C]", column_c, columns)
    return BUILDING_WIRE_A[gauge_awg][columns.index(column_c)]


def feeder_gauge_awg(breaker_a: float) -> int:
    """Return the thinnest copper building wire for a breaker, by the 60 °C column.

    Parameters
    ----------
    breaker_a : float
        1 to 55 [A].

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    30 A: 10 AWG; 50 A: 6 AWG. Source: nec-2023-table-310.16 (read second-hand).
    """
    within("breaker [A]", breaker_a, 1.0, BUILDING_WIRE_A[6][0])
    return max(gauge for gauge, row in BUILDING_WIRE_A.items() if row[0] >= breaker_a)


def equipment_ground_awg(breaker_a: float) -> int:
    """Return the copper equipment grounding conductor for a breaker of 1 to 60 A.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    Source: nec-2023-table-250.122 (read second-hand; the row of 15 A from memory).
    """
    within("breaker [A]", breaker_a, 1.0, _GROUND_AWG[-1][0])
    return next(gauge for most, gauge in _GROUND_AWG if breaker_a <= most)


def generator_conductor_a(rated_w: float, volts: float, *, overload_prevented: bool) -> float:
    """Return the least ampacity of conductors from a machine to its first breaker [A].

    Parameters
    ----------
    rated_w : float
        Nameplate [W], 1 to 1e6.
    volts : float
        Between the conductors [V], 100 to 600.
    overload_prevented : bool
        Whether the machine's design keeps it from being overloaded.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    115 % of the nameplate current, else 100 %. Source: nec-2023-445.13(A) (read second-hand).
    """
    within("rated power [W]", rated_w, 1.0, 1e6)
    nameplate = rated_w / within("voltage [V]", volts, 100.0, 600.0)
    return nameplate * (1.0 if overload_prevented else GENERATOR_CONDUCTOR_FACTOR)


def inlet_needs_disconnect(inlet_a: float) -> bool:
    """Return whether an inlet for a portable source needs an interlocked disconnect.

    Parameters
    ----------
    inlet_a : float
        Rating [A], 1 to 400.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    From 100 A; not if the inlet itself is rated as a disconnect or the site is supervised.
    Source: nec-2023-702.12(C) (read second-hand).
    """
    return within("inlet rating [A]", inlet_a, 1.0, 400.0) >= LARGE_INLET_A


def building_disconnect_needed(rated_w: float, *, inlet_within_reach: bool) -> bool:
    """Return whether a portable set needs a further disconnect at the building.

    Parameters
    ----------
    rated_w : float
        Rated power [W], 1 to 1e6.
    inlet_within_reach : bool
        Cord and plug can be reached readily.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    Not up to 15 kW by cord and plug. Sources: nec-2023-702.12(B) (from memory),
    nec-2023-445.18(A) (read second-hand).
    """
    within("rated power [W]", rated_w, 1.0, 1e6)
    return not (rated_w <= PORTABLE_LIMIT_W and inlet_within_reach)
