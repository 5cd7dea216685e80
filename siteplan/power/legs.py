"""The two legs of a 120/240 V machine: sums, neutral, balance, assignment of loads."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from siteplan.power._checks import within
from siteplan.power.loads import Load
from siteplan.power.receptacles import LINE_TO_NEUTRAL_V

Leg = Literal["A", "B"]

IMBALANCE_GOAL = 0.25
"""Difference of the legs over a leg's rating to aim for (common practice, no source)."""
ELECTRONIC_SHARE = 0.5
"""Share of pulsed current above which the neutral counts. Source: nec-2023-400.5(A) notes, a
rule for wye systems (read second-hand), applied here with caution to two legs."""

_UNITS_PER_W = 10
_MOST_LOADS = 200
_HIGHEST_TOTAL_W = 200_000.0


@dataclass(frozen=True, slots=True)
class LegSums:
    """What each leg carries.

    Attributes
    ----------
    a_w, b_w : float
        Running on each leg, half of each 240 V load included [W].
    start_a_w, start_b_w : float
        The same while the hardest load of that leg starts [W].
    neutral_a : float
        In the neutral, loads in phase [A].
    electronic_share : float
        Share of pulsed loads in the 120 V loads.
    """

    a_w: float
    b_w: float
    start_a_w: float
    start_b_w: float
    neutral_a: float
    electronic_share: float

    @property
    def a_a(self) -> float:
        """Current of leg A [A]."""
        return self.a_w / LINE_TO_NEUTRAL_V

    @property
    def b_a(self) -> float:
        """Current of leg B [A]."""
        return self.b_w / LINE_TO_NEUTRAL_V

    @property
    def count_neutral(self) -> bool:
        """Whether the neutral should count as loaded when the cord's ampacity is chosen."""
        return self.electronic_share > ELECTRONIC_SHARE

    def imbalance(self, rated_w: float) -> float:
        """Return the difference of the legs over what one leg of the machine carries.

        Raises
        ------
        OutOfRangeError
            If the rating [W] is not 1 to 200000.
        """
        within("rated power [W]", rated_w, 1.0, _HIGHEST_TOTAL_W)
        return abs(self.a_w - self.b_w) / (rated_w / 2.0)


def leg_sums(loads: Sequence[Load], legs: Sequence[Leg | None]) -> LegSums:
    """Return what each leg carries.

    Parameters
    ----------
    loads : sequence of Load
        At most 200.
    legs : sequence of "A", "B" or None
        One for each load; ignored for 240 V loads, which hang on both. A 120 V load without a
        leg is left out.

    Raises
    ------
    ValueError
        If the two sequences differ in length.
    """
    pairs = list(zip(loads, legs, strict=True))
    on_a, start_a = _leg_w(pairs, "A")
    on_b, start_b = _leg_w(pairs, "B")
    single = [load for load, leg in pairs if leg is not None and not load.both_legs]
    pulsed = sum(load.run_w for load in single if load.electronic)
    total = sum(load.run_w for load in single)
    return LegSums(
        a_w=on_a,
        b_w=on_b,
        start_a_w=start_a,
        start_b_w=start_b,
        neutral_a=abs(on_a - on_b) / LINE_TO_NEUTRAL_V,
        electronic_share=pulsed / total if total else 0.0,
    )


def _leg_w(pairs: Sequence[tuple[Load, Leg | None]], wanted: Leg) -> tuple[float, float]:
    here = [
        (load, 0.5 if load.both_legs else 1.0)
        for load, leg in pairs
        if load.both_legs or leg == wanted
    ]
    running = sum(share * load.run_w for load, share in here)
    return running, running + max((share * load.extra_w for load, share in here), default=0.0)


def assign_legs(
    loads: Sequence[Load], fixed: Mapping[int, Leg] | None = None
) -> tuple[Leg | None, ...]:
    """Return the assignment of 120 V loads to legs with the least difference of the legs.

    Parameters
    ----------
    loads : sequence of Load
        At most 200 loads, together at most 200 kW.
    fixed : mapping of int to "A" or "B"
        Places in `loads` whose leg is given.

    Returns
    -------
    tuple of "A", "B" or None
        One for each load; None for 240 V loads, which add equally to both legs. The heavier
        leg carries the least it can, and so does the neutral.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    Exact for loads stated to 0.1 W: every sum that leg A can reach is kept as a bit of a whole
    number, one number for each load, and the way to the best sum is read backwards (derived).
    """
    within("number of loads", len(loads), 0, _MOST_LOADS)
    within("all loads [W]", sum(load.run_w for load in loads), 0.0, _HIGHEST_TOTAL_W)
    given = fixed or {}
    legs: list[Leg | None] = [
        None if load.both_legs else given.get(place) for place, load in enumerate(loads)
    ]
    free = [place for place, load in enumerate(loads) if legs[place] is None and not load.both_legs]
    units = [round(load.run_w * _UNITS_PER_W) for load in loads]
    lead = sum(units[place] for place, leg in enumerate(legs) if leg == "A")
    lead -= sum(units[place] for place, leg in enumerate(legs) if leg == "B")
    for place, on_a in zip(free, _split([units[place] for place in free], lead), strict=True):
        legs[place] = "A" if on_a else "B"
    return tuple(legs)


def _split(units: Sequence[int], lead: int) -> list[bool]:
    """Choose which go to A so that lead + A - B is nearest to zero."""
    reachable = [1]
    for unit in units:
        reachable.append(reachable[-1] | reachable[-1] << unit)
    # lead + a - (total - a) = 0 where a is half of total - lead.
    best = _nearest_bit(reachable[-1], sum(units) - lead)
    chosen = [False] * len(units)
    for place in range(len(units) - 1, -1, -1):
        # Without the load if the rest reaches the sum: light loads then stay on B.
        if not reachable[place] >> best & 1:
            chosen[place] = True
            best -= units[place]
    return chosen


def _nearest_bit(bits: int, goal_twice: int) -> int:
    """Return the place of the set bit nearest to half the goal; the higher of two."""
    middle = max(0, goal_twice // 2)
    below = (bits & ((1 << (middle + 1)) - 1)).bit_length() - 1
    above = bits >> (middle + 1)
    if not above:
        return below
    next_above = middle + (above & -above).bit_length()
    return min((next_above, below), key=lambda place: abs(2 * place - goal_twice))


def open_neutral_v(
    watts_a: float, watts_b: float, nominal_v: float = LINE_TO_NEUTRAL_V
) -> tuple[float, float]:
    """Return the voltages on the loads of the two legs when the neutral is lost [V].

    Parameters
    ----------
    watts_a, watts_b : float
        What each leg draws at its nominal voltage [W], 1 to 200000.
    nominal_v : float
        Leg to neutral [V], 100 to 130.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    The loads stand in series on both legs: the lighter one gets the higher voltage (derived).
    """
    within("power of leg A [W]", watts_a, 1.0, _HIGHEST_TOTAL_W)
    within("power of leg B [W]", watts_b, 1.0, _HIGHEST_TOTAL_W)
    both_v = 2.0 * within("leg voltage [V]", nominal_v, 100.0, 130.0)
    return both_v * watts_b / (watts_a + watts_b), both_v * watts_a / (watts_a + watts_b)
