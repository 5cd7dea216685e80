"""Loads on a machine: what they need to run and to start, in what order, what clashes."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal, NamedTuple

from siteplan.power._checks import within
from siteplan.power.receptacles import CONTINUOUS_SHARE

WORKSHEET_RUN_SHARE = 0.90
WORKSHEET_START_SHARE = 1.50
"""Running and starting load over rating. Source: public-power-worksheet (read)."""
REFRIGERATION_SHARE = 1.0 / 3.0
"""Part of its plugged hours a refrigerator draws full watts.

Source: doe-appliance-energy (read).
"""

_HIGHEST_W = 200_000.0
_MOST_LOADS = 200


@dataclass(frozen=True, slots=True)
class Load:
    """Something that draws power.

    Attributes
    ----------
    name : str
        Key for the caller.
    run_w : float
        Running [W], 0 to 200000.
    start_w : float
        Total while starting [W], at least run_w.
    volts : float
        120 (one leg) or 240 (both legs) [V].
    electronic : bool
        Draws current in pulses, so that the neutral of two legs may not cancel.
    hardwired : bool
        Has no plug: only the house's own wiring reaches it.
    leg : "A", "B" or None
        The leg it hangs on where that is settled; None for 240 V and where it is free.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.
    """

    name: str
    run_w: float
    start_w: float
    volts: float = 120.0
    electronic: bool = False
    hardwired: bool = False
    leg: Literal["A", "B"] | None = None

    def __post_init__(self) -> None:
        within("running power [W]", self.run_w, 0.0, _HIGHEST_W)
        within("starting power [W]", self.start_w, self.run_w, _HIGHEST_W)
        within("voltage [V]", self.volts, 100.0, 250.0)

    @property
    def extra_w(self) -> float:
        """What starting adds to running [W]."""
        return self.start_w - self.run_w

    @property
    def run_a(self) -> float:
        """Current while running [A], at its own voltage."""
        return self.run_w / self.volts

    @property
    def both_legs(self) -> bool:
        """Whether it hangs between the two legs."""
        return self.volts > 200.0


class StartStep(NamedTuple):
    """One step of a start order: the load, the peak while it starts and the sum after [W]."""

    load: Load
    peak_w: float
    running_w: float


def running_w(loads: Sequence[Load]) -> float:
    """Return the power with everything running [W]."""
    return sum(load.run_w for load in loads)


def needed_start_w(loads: Sequence[Load]) -> float:
    """Return the power needed if everything runs and the hardest motor starts last [W].

    Notes
    -----
    Sum of running watts and the largest extra for starting: one motor starts at a time, in any
    order. Source: coop-start-rule (read).
    """
    return running_w(loads) + max((load.extra_w for load in loads), default=0.0)


def all_at_once_w(loads: Sequence[Load]) -> float:
    """Return the power needed if everything starts together, as when power comes back [W]."""
    return sum(load.start_w for load in loads)


def start_order(loads: Sequence[Load]) -> tuple[StartStep, ...]:
    """Return the order of switching on with the lowest peak, and the power at each step.

    Notes
    -----
    Largest extra first. If a load with a smaller extra stands directly before one with a larger,
    swapping them never raises the higher of their two peaks, so this order is best (derived).
    """
    steps = []
    total = 0.0
    for load in sorted(loads, key=lambda load: (-load.extra_w, -load.run_w, load.name)):
        peak = total + load.start_w
        total += load.run_w
        steps.append(StartStep(load, peak, total))
    return tuple(steps)


def ordered_peak_w(loads: Sequence[Load]) -> float:
    """Return the highest power met when the loads are started in the best order [W]."""
    return max((step.peak_w for step in start_order(loads)), default=0.0)


def continuous_limit_w(rated_w: float) -> float:
    """Return what a machine should carry for hours [W]: 80 % of its derated rating.

    Parameters
    ----------
    rated_w : float
        Running rating after derating [W], 0 to 200000.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    Common practice, no source; by analogy with continuous loads on a circuit
    (nec-2023-210.20(A), read second-hand).
    """
    return CONTINUOUS_SHARE * within("rated power [W]", rated_w, 0.0, _HIGHEST_W)


def clashes(
    loads: Sequence[Load], run_limit_w: float, start_limit_w: float, largest_group: int = 3
) -> tuple[tuple[int, ...], ...]:
    """Return the smallest groups of loads that cannot run together.

    Parameters
    ----------
    loads : sequence of Load
        At most 200.
    run_limit_w, start_limit_w : float
        What the machine gives running, and for a start [W], 0 to 200000.
    largest_group : int
        Groups of up to so many loads are looked for, 1 to 4.

    Returns
    -------
    tuple of tuple of int
        Places in `loads`. A group of one can never run. No group holds a smaller one. Groups
        whose members fit in every smaller selection but not all together may still exist
        beyond `largest_group`; compare `running_w` and `needed_start_w` with the limits too.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.
    """
    within("number of loads", len(loads), 0, _MOST_LOADS)
    within("running limit [W]", run_limit_w, 0.0, _HIGHEST_W)
    within("starting limit [W]", start_limit_w, 0.0, _HIGHEST_W)
    within("largest group", largest_group, 1, 4)
    found: list[tuple[int, ...]] = []
    for size in range(1, largest_group + 1):
        smaller = [set(group) for group in found]
        for group in combinations(range(len(loads)), size):
            if any(known.issubset(group) for known in smaller):
                continue
            chosen = [loads[place] for place in group]
            if running_w(chosen) > run_limit_w or needed_start_w(chosen) > start_limit_w:
                found.append(group)
    return tuple(found)


def keep_within(loads: Sequence[Load], run_limit_w: float, start_limit_w: float) -> tuple[int, ...]:
    """Return which loads stay on when the machine cannot carry all.

    Parameters
    ----------
    loads : sequence of Load
        In the user's order of need, the most needed first; at most 200.
    run_limit_w, start_limit_w : float
        As in `clashes`.

    Returns
    -------
    tuple of int
        Places in `loads`. Each load is kept if it still fits beside those kept before it, so
        that nothing needed gives way to something less needed.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.
    """
    within("number of loads", len(loads), 0, _MOST_LOADS)
    within("running limit [W]", run_limit_w, 0.0, _HIGHEST_W)
    within("starting limit [W]", start_limit_w, 0.0, _HIGHEST_W)
    kept: list[int] = []
    for place in range(len(loads)):
        chosen = [loads[each] for each in (*kept, place)]
        if running_w(chosen) <= run_limit_w and needed_start_w(chosen) <= start_limit_w:
            kept.append(place)
    return tuple(kept)


def set_dip_fraction(start_va: float, rated_va: float, reactance_pu: float = 0.25) -> float:
    """Return the share of its voltage a machine loses while a motor starts.

    Parameters
    ----------
    start_va : float
        Drawn at full voltage while starting [VA], 0 to 1e6.
    rated_va : float
        Rating of the machine [VA], 1 to 1e6.
    reactance_pu : float
        Transient reactance of the machine over its rated impedance, 0.05 to 1. 0.25 is a
        figure from memory; the maker's governs.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    dip = s x / (1 + s x), s = start_va / rated_va. Source: nema-mg-1-32 (from memory).
    """
    within("starting demand [VA]", start_va, 0.0, 1e6)
    within("rated power [VA]", rated_va, 1.0, 1e6)
    within("transient reactance [per unit]", reactance_pu, 0.05, 1.0)
    step = reactance_pu * start_va / rated_va
    return step / (1.0 + step)


def worst_start_dip(
    starts: Sequence[tuple[float, float]], rated_va: float, reactance_pu: float = 0.25
) -> tuple[int, float] | None:
    """Return which motor's start dips the voltage most, and the share lost.

    Parameters
    ----------
    starts : sequence of (float, float)
        For each motor: demand while starting [VA], and the share of the voltage its cord,
        feeder and branch lose meanwhile.
    rated_va, reactance_pu
        As in `set_dip_fraction`.

    Returns
    -------
    (int, float) or None
        Place in `starts`, and machine's dip and cord's drop together; None without motors.

    Raises
    ------
    OutOfRangeError
        Outside the ranges of `set_dip_fraction`; for a cord share outside 0 to 1.
    """
    dips = [
        set_dip_fraction(demand, rated_va, reactance_pu)
        + within("share lost in the cord", share, 0.0, 1.0)
        for demand, share in starts
    ]
    if not dips:
        return None
    worst = max(range(len(dips)), key=dips.__getitem__)
    return worst, dips[worst]


def energy_kwh(watts: float, hours_per_day: float, days: float = 1.0) -> float:
    """Return the energy used [kWh].

    Parameters
    ----------
    watts : float
        While on [W], 0 to 200000.
    hours_per_day : float
        0 to 24 [h].
    days : float
        0 to 366.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    Source: doe-appliance-energy (read).
    """
    within("power [W]", watts, 0.0, _HIGHEST_W)
    within("hours per day", hours_per_day, 0.0, 24.0)
    return watts * hours_per_day * within("days", days, 0.0, 366.0) / 1000.0


def full_power_hours(plugged_hours: float) -> float:
    """Return the hours a refrigerator draws its full watts in so many hours plugged in [h].

    Parameters
    ----------
    plugged_hours : float
        0 to 8784 [h].

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    Source: doe-appliance-energy (read).
    """
    return REFRIGERATION_SHARE * within("hours plugged in", plugged_hours, 0.0, 8784.0)
