"""Ways to bring a machine's power to the loads, compared by numbers."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from siteplan.power.buying import THINNEST_CORD_AWG, Demand, cord_to_buy
from siteplan.power.cords import (
    CORD_GAUGES_AWG,
    TOTAL_DROP_FRACTION,
)
from siteplan.power.legs import LegSums, assign_legs, leg_sums
from siteplan.power.loads import Load, needed_start_w, running_w
from siteplan.power.receptacles import (
    LINE_TO_NEUTRAL_V,
    Receptacle,
    max_plugged_a,
)
from siteplan.power.ways import Lengths, Machine, Part, PartKind, Refusal, Way, WayKind
from siteplan.power.wiring import (
    BUILDING_WIRE_A,
    Segment,
    chain_drop,
    equipment_ground_awg,
    feeder_gauge_awg,
)

__all__ = [
    "BOX_OUTLET_A",
    "BRANCH_A",
    "BRANCH_AWG",
    "THINNEST_CORD_AWG",
    "Lengths",
    "Machine",
    "Part",
    "PartKind",
    "Refusal",
    "Way",
    "WayKind",
    "compare",
    "inlet_transfer",
    "locking_cord_box",
    "single_cords",
    "through_wall",
]

BOX_OUTLET_A = 20.0
"""Outlets of a distribution box, each leg with its own 20 A breakers (common practice)."""
BRANCH_A, BRANCH_AWG = 20.0, 12
"""The usual branch circuit behind the panel (nec-2023-table-310.16, read second-hand)."""
_CORDS = frozenset({"cord", "inside-cord"})


@dataclass(frozen=True, slots=True)
class _Cord:
    """A cord in use and what is bought for it; a part without size or length is not sold."""

    segment: Segment
    part: Part


@dataclass(frozen=True, slots=True)
class _Limits:
    """What a way gives in all and on one leg [W]."""

    run_w: float
    start_w: float
    leg_run_w: float
    leg_start_w: float
    two_legs: bool


@dataclass(frozen=True, slots=True)
class _Path:
    """What a way is made of."""

    segments: Sequence[Segment]
    parts: Sequence[Part]

    def then(self, cords: Sequence[_Cord]) -> "_Path":
        """Return it continued by the cords to the loads, the worst of which counts."""
        worst = max(cords, key=lambda cord: cord.segment.drop_v, default=None)
        tail = [worst.segment] if worst else []
        return _Path([*self.segments, *tail], [*self.parts, *(cord.part for cord in cords)])


@dataclass(frozen=True, slots=True)
class _Reach:
    """Which loads a way reaches."""

    loads: Sequence[Load]
    refusals: Sequence[Refusal | None]

    def served(self) -> list[Load]:
        pairs = zip(self.loads, self.refusals, strict=True)
        return [load for load, refusal in pairs if refusal is None]

    def sums(self) -> LegSums:
        served = self.served()
        settled = {place: load.leg for place, load in enumerate(served) if load.leg is not None}
        return leg_sums(served, assign_legs(served, settled))

    def start_loop_a(self, outlet: Receptacle) -> float:
        """Return the current there and back while the hardest load starts [A]."""
        served = self.served()
        settled = {place: load.leg for place, load in enumerate(served) if load.leg is not None}
        legs, sums = assign_legs(served, settled), self.sums()
        loops = [0.0]
        for load, leg in zip(served, legs, strict=True):
            extra = load.extra_w / LINE_TO_NEUTRAL_V
            on_a = {"A": 1.0, "B": 0.0, None: 0.5}[leg]
            a_a, b_a = sums.a_a + on_a * extra, sums.b_a + (1.0 - on_a) * extra
            whole = a_a + b_a
            loops.append(2.0 * whole if outlet.legs == 1 else 3.0 * max(a_a, b_a) - whole)
        return max(loops)

    def one_leg_start_a(self) -> float:
        return needed_start_w(self.served()) / LINE_TO_NEUTRAL_V

    def one_leg_a(self) -> float:
        return sum(load.run_w for load in self.served()) / LINE_TO_NEUTRAL_V


def compare(machine: Machine, loads: Sequence[Load], lengths: Lengths) -> tuple[Way, ...]:
    """Return the four usual ways to connect, judged for the same machine and loads.

    Parameters
    ----------
    machine : Machine
    loads : sequence of Load
        In the user's order of need: where outlets run out, the last ones go without.
    lengths : Lengths

    Returns
    -------
    tuple of Way
        Single cords, locking cord to a distribution box, through-wall outlet, inlet with
        transfer equipment.

    Notes
    -----
    Sources: nec-2023-table-210.21(B)(2) for outlets, nec-2023-400.5 for cords,
    nec-2023-table-310.16 for wire, nec-2023-702.5 for the transfer equipment; the usual parts
    and sizes are common practice.
    """
    return (
        single_cords(machine, loads, lengths),
        locking_cord_box(machine, loads, lengths),
        through_wall(machine, loads, lengths),
        inlet_transfer(machine, loads, lengths),
    )


def single_cords(machine: Machine, loads: Sequence[Load], lengths: Lengths) -> Way:
    """Return the way with one household cord from an outlet of the machine to each load."""
    outlets = _household_outlets(machine)
    free = list(outlets)
    largest_a = max_plugged_a(outlets[-1].amps) if outlets else 0.0
    refusals: list[Refusal | None] = []
    for load in loads:
        refusal = _plug_refusal(load, largest_a)
        taken = next((each for each in free if load.run_a <= max_plugged_a(each.amps)), None)
        if refusal is None and taken is not None:
            free.remove(taken)
        refusals.append(refusal or (None if taken else "no-outlet-left"))
    length_m = lengths.cord_m + lengths.inside_m
    cords = [
        _household_cord("cord", length_m, _of_load(load), machine.ambient_c)
        for load, refusal in zip(loads, refusals, strict=True)
        if refusal is None
    ]
    worst = max(cords, key=lambda cord: cord.segment.drop_v, default=None)
    return _way(
        "single-cords",
        outlets[-1] if outlets else None,
        _cord_limits(machine, outlets),
        _Reach(loads, refusals),
        _Path([worst.segment] if worst else [], [cord.part for cord in cords]),
    )


def locking_cord_box(machine: Machine, loads: Sequence[Load], lengths: Lengths) -> Way:
    """Return the way with one locking cord to a box with four household outlets."""
    outlet = _locking_outlet(machine)
    outlet_a = 0.0 if outlet is None else max_plugged_a(min(outlet.amps, BOX_OUTLET_A))
    reach = _Reach(loads, [_plug_refusal(load, outlet_a) for load in loads])
    path = _Path([], [])
    if outlet is not None:
        trunk = _locking_cord(lengths.cord_m, outlet, reach, machine.ambient_c)
        inside = _inside_cords(reach.served(), lengths.inside_m, machine.ambient_c)
        box = Part("distribution-box", config=outlet.config)
        path = _Path([trunk.segment], [trunk.part, box]).then(inside)
    return _way("locking-cord-box", outlet, _outlet_limits(machine, outlet), reach, path)


def through_wall(machine: Machine, loads: Sequence[Load], lengths: Lengths) -> Way:
    """Return the way with an inlet outside and an outlet inside, apart from house wiring."""
    outlets = _household_outlets(machine)
    outlet = outlets[-1] if outlets else None
    outlet_a = 0.0 if outlet is None else max_plugged_a(outlet.amps)
    reach = _Reach(loads, [_plug_refusal(load, outlet_a) for load in loads])
    path = _Path([], [])
    if outlet is not None:
        current_a = min(reach.one_leg_a(), outlet_a)
        # Whatever is plugged in there draws up to the breaker.
        demand = Demand(outlet.amps, 2.0 * current_a, 2.0 * reach.one_leg_start_a())
        cord = _household_cord("cord", lengths.cord_m, demand, machine.ambient_c)
        inside = _inside_cords(reach.served(), lengths.inside_m, machine.ambient_c)
        wall = Part("through-wall-outlet", config=outlet.config)
        path = _Path([cord.segment], [cord.part, wall, Part("weather-cover")]).then(inside)
    limits = _outlet_limits(machine, outlet)
    return _way("through-wall", outlet, limits, reach, path, electrician=True)


def inlet_transfer(machine: Machine, loads: Sequence[Load], lengths: Lengths) -> Way:
    """Return the way with a power inlet and a transfer switch or interlock at the panel."""
    outlet = _locking_outlet(machine)
    outlet_a = 0.0 if outlet is None else max_plugged_a(outlet.amps)
    legs = 0 if outlet is None else outlet.legs
    reach = _Reach(loads, [_panel_refusal(load, outlet_a, legs) for load in loads])
    path = _Path([], []) if outlet is None else _panel_path(machine, outlet, reach, lengths)
    limits = _outlet_limits(machine, outlet)
    return _way("inlet-transfer", outlet, limits, reach, path, electrician=True)


def _panel_path(machine: Machine, outlet: Receptacle, reach: _Reach, lengths: Lengths) -> _Path:
    sums = reach.sums()
    cord = _locking_cord(lengths.cord_m, outlet, reach, machine.ambient_c)
    single_a = [load.run_a for load in reach.served() if not load.both_legs]
    branch_a = min(BRANCH_A, max(single_a, default=0.0))
    branch = Segment("branch", BRANCH_AWG, lengths.branch_m, branch_a)

    def chain(gauge: int) -> list[Segment]:
        feeder = _segment("feeder", gauge, lengths.feeder_m, outlet, sums)
        return [cord.segment, feeder, branch]

    thinnest = feeder_gauge_awg(outlet.amps)
    wires = sorted((gauge for gauge in BUILDING_WIRE_A if gauge <= thinnest), reverse=True)
    # Where no wire can mend the loss, it lies in cord or branch, and a thick feeder is wasted.
    feeder_awg = next(
        (each for each in wires if chain_drop(chain(each)).total <= TOTAL_DROP_FRACTION), thinnest
    )
    # A feeder enlarged for its loss has its equipment ground enlarged with it:
    # nec-2023-250.122(B) (from memory).
    enlarged = feeder_awg < thinnest
    ground_awg = feeder_awg if enlarged else equipment_ground_awg(outlet.amps)
    parts = [
        cord.part,
        Part("inlet-box", config=outlet.config),
        Part("weather-cover"),
        Part("feeder-cable", gauge_awg=feeder_awg, length_m=lengths.feeder_m),
        Part("ground-conductor", gauge_awg=ground_awg, length_m=lengths.feeder_m),
        Part("breaker", config=f"{outlet.legs}P{outlet.amps:g}"),
        Part("transfer-switch-or-interlock"),
        Part("inlet-label"),
    ]
    return _Path(chain(feeder_awg), parts)


def _way(
    kind: WayKind,
    outlet: Receptacle | None,
    limits: _Limits,
    reach: _Reach,
    path: _Path,
    *,
    electrician: bool = False,
) -> Way:
    served, sums, drop = reach.served(), reach.sums(), chain_drop(path.segments)
    run_w, start_w = running_w(served), needed_start_w(served)
    unsold = [part for part in path.parts if part.kind in _CORDS and not part.sold]
    return Way(
        kind=kind,
        outlet=outlet.config if outlet else None,
        legs=outlet.legs if outlet else 0,
        serves=tuple(place for place, no in enumerate(reach.refusals) if no is None),
        refuses=tuple((place, no) for place, no in enumerate(reach.refusals) if no is not None),
        limit_w=limits.run_w,
        start_limit_w=limits.start_w,
        run_w=run_w,
        start_w=start_w,
        leg_run_w=max(sums.a_w, sums.b_w) if limits.two_legs else run_w,
        leg_start_w=max(sums.start_a_w, sums.start_b_w) if limits.two_legs else start_w,
        leg_limit_w=limits.leg_run_w,
        leg_start_limit_w=limits.leg_start_w,
        drop_shares=drop.shares,
        drop_total=drop.total,
        cord_missing=bool(unsold),
        parts=_counted(path.parts),
        electrician=electrician,
    )


def _outlet_limits(machine: Machine, outlet: Receptacle | None) -> _Limits:
    """Return what one outlet gives; one that hangs on one leg of two gives half the machine."""
    if outlet is None:
        return _Limits(0.0, 0.0, 0.0, 0.0, two_legs=False)
    two_legs = outlet.legs == 2
    share = 0.5 if machine.legs == 2 and not two_legs else 1.0
    run_w, start_w = share * machine.running_w, share * machine.starting_w
    run_w = min(run_w, outlet.continuous_va)
    part = 0.5 if two_legs else 1.0
    return _Limits(run_w, start_w, part * run_w, part * start_w, two_legs)


def _cord_limits(machine: Machine, outlets: Sequence[Receptacle]) -> _Limits:
    """Return what several household outlets give together; they may hang on either leg."""
    if not outlets:
        return _outlet_limits(machine, None)
    run_w = min(machine.running_w, sum(each.continuous_va for each in outlets))
    two_legs = machine.legs == 2
    part = 0.5 if two_legs else 1.0
    leg_run_w = min(run_w, part * machine.running_w)
    return _Limits(run_w, machine.starting_w, leg_run_w, part * machine.starting_w, two_legs)


def _counted(parts: Sequence[Part]) -> tuple[Part, ...]:
    """Put equal parts together."""
    counts = Counter(parts)
    return tuple(replace(part, count=count) for part, count in counts.items())


def _household_outlets(machine: Machine) -> list[Receptacle]:
    fitting = [each for each in machine.known_outlets() if each.config in {"5-15", "5-20"}]
    return sorted(fitting, key=lambda each: each.amps)


def _locking_outlet(machine: Machine) -> Receptacle | None:
    """Return the largest outlet with both legs and a neutral, or else one leg of 30 A."""
    known = machine.known_outlets()
    both = [each for each in known if each.can_feed_house]
    single = [each for each in known if each.config in {"L5-30", "TT-30"}]
    return max(both or single, key=lambda each: each.amps, default=None)


def _plug_refusal(load: Load, largest_a: float) -> Refusal | None:
    if load.both_legs:
        return "needs-240-v"
    if load.hardwired:
        return "hardwired"
    if largest_a == 0.0:
        return "no-outlet"
    return "over-outlet" if load.run_a > largest_a else None


def _panel_refusal(load: Load, largest_a: float, legs: int) -> Refusal | None:
    if legs == 0:
        return "no-outlet"
    if load.both_legs and legs < 2:
        return "needs-240-v"
    return "over-outlet" if load.run_a > largest_a else None


def _household_cord(
    name: str, length_m: float, demand: Demand, ambient_c: float, kind: PartKind = "cord"
) -> _Cord:
    """Return a cord for a load or, where its wire carries more than its loop, for a breaker."""
    bought = cord_to_buy(length_m, demand, "household", ambient_c)
    laid_m = length_m if bought.length_m is None else bought.length_m
    segment = Segment(name, bought.gauge_awg or CORD_GAUGES_AWG[-1], laid_m, demand.loop_a / 2.0)
    return _Cord(segment, Part(kind, gauge_awg=bought.gauge_awg, length_m=bought.length_m))


def _of_load(load: Load) -> Demand:
    return Demand(load.run_a, 2.0 * load.run_a, 2.0 * load.start_w / load.volts)


def _inside_cords(served: Sequence[Load], inside_m: float, ambient_c: float) -> list[_Cord]:
    if inside_m == 0.0:
        return []
    return [
        _household_cord("inside cord", inside_m, _of_load(load), ambient_c, "inside-cord")
        for load in served
    ]


def _locking_cord(length_m: float, outlet: Receptacle, reach: _Reach, ambient_c: float) -> _Cord:
    sums = reach.sums()
    loop_a = _loop_a(sums.a_a, sums.b_a, outlet)
    neutral_a = min(outlet.amps, max(sums.a_a, sums.b_a)) if sums.count_neutral else 0.0
    demand = Demand(outlet.amps, loop_a, reach.start_loop_a(outlet), neutral_a)
    bought = cord_to_buy(length_m, demand, "locking-30a", ambient_c)
    laid_m = length_m if bought.length_m is None else bought.length_m
    segment = _segment("cord", bought.gauge_awg or CORD_GAUGES_AWG[-1], laid_m, outlet, sums)
    size, long = bought.gauge_awg, bought.length_m
    return _Cord(segment, Part("cord", gauge_awg=size, length_m=long, config=outlet.config))


def _loop_a(a_a: float, b_a: float, outlet: Receptacle) -> float:
    """Return the current there and back that the loss is reckoned from, bounded by a breaker."""
    if outlet.legs == 1:
        return 2.0 * min(outlet.amps, a_a + b_a)
    a, b = min(outlet.amps, a_a), min(outlet.amps, b_a)
    return 2.0 * max(a, b) - min(a, b)


def _segment(name: str, gauge: int, length_m: float, outlet: Receptacle, sums: LegSums) -> Segment:
    """Return a piece with the currents of the legs, which the outlet's breaker bounds."""
    if outlet.legs == 1:
        return Segment(name, gauge, length_m, min(outlet.amps, sums.a_a + sums.b_a))
    a_a, b_a = min(outlet.amps, sums.a_a), min(outlet.amps, sums.b_a)
    return Segment(name, gauge, length_m, a_a, b_a)
