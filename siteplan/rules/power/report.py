"""The power path of a plan as plain data, for the window, the command line and paper."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from siteplan.plan.machine import Cord
from siteplan.plan.needs import Load, Transfer
from siteplan.power.cords import next_stock_length_m
from siteplan.power.legs import Leg, LegSums, assign_legs, leg_sums
from siteplan.power.loads import StartStep, start_order
from siteplan.power.ways import Part, WayKind
from siteplan.rules.power.buy import CordToBuy, cord_for, cord_to_house
from siteplan.rules.power.capacity import rated_w, starting_w
from siteplan.rules.power.cord import needed_m
from siteplan.rules.power.currents import cord_drop, drop_share, running, starting
from siteplan.rules.power.gauge import ampacity_a, branch_loop_a, dip, needed_a, starts_hard
from siteplan.rules.power.loads import clash_groups, hardest_start_w
from siteplan.rules.power.motors import gives_lines, motor_lines
from siteplan.rules.power.sockets import kind_of
from siteplan.rules.power.span import Span, exact
from siteplan.rules.power.ways import Comparison, chosen_kind, compared, drawn, leg_of
from siteplan.scene import Scene
from siteplan.scene.cords import Crossing, Trouble
from siteplan.scene.feeds import Feed
from siteplan.words import Text

_HIGHEST_W = 200_000.0


@dataclass(frozen=True, slots=True)
class LoadRow:
    """One load: the cord that feeds it, its leg, and a leg that would balance the two.

    Attributes
    ----------
    load : Load
        As entered.
    cord : str or None
        Id of the cord it hangs on.
    leg, suggested : "A", "B" or None
        As entered, and as best for the balance; None for 240 V and for one leg.
    place : int
        Its place in the order of starting, from 1.
    peak_w : float
        Power while it starts in that order [W].
    """

    load: Load
    cord: str | None
    leg: Leg | None
    suggested: Leg | None
    place: int
    peak_w: float


@dataclass(frozen=True, slots=True)
class CordRow:
    """One cord: how long, how thick, what it carries and loses.

    Attributes
    ----------
    cord : Cord
        As entered.
    trouble : str or None
        Why it has no way, if it has none.
    laid_m, needed_m, stock_m : float or None
        Along its way with rises; with slack and the drawing's accuracy; next length sold [m].
    thinnest_awg : int or None
        Thinnest size that carries and loses little enough over that length.
    current_a, ampacity_a : Span
        What it must carry, and what its gauge may [A].
    drop, start_drop : Span
        Share of 120 V lost running, and while its hardest load starts.
    crossings : tuple of Crossing
        What it crosses.
    buy : CordToBuy
        The cord to buy for it.
    """

    cord: Cord
    trouble: Trouble | None
    laid_m: float | None
    needed_m: float | None
    stock_m: float | None
    thinnest_awg: int | None
    current_a: Span
    ampacity_a: Span
    drop: Span
    start_drop: Span
    crossings: tuple[Crossing, ...]
    buy: CordToBuy


@dataclass(frozen=True, slots=True)
class ChainRow:
    """One piece of the way from inlet to loads: its size, length, and share of voltage lost."""

    piece: Text
    gauge_awg: int | None
    length_m: float | None
    drop: Span


@dataclass(frozen=True, slots=True)
class PowerReport:
    """All about the power path of one placement.

    Attributes
    ----------
    rated_w, starting_w : Span
        What the machine gives for hours and for a start, after altitude, heat and fuel [W].
    running_w : float
        All loads together [W].
    hardest_start_w : Span
        The same while the hardest starts last [W].
    legs, suggested_legs : LegSums or None
        Sums of the legs as entered and as suggested; None with one leg or without loads.
    loads : tuple of LoadRow
        In the order of the plan.
    order : tuple of StartStep
        The order of starting with the lowest peak.
    clashes : tuple of tuple of str
        Ids of the loads that cannot run together.
    sums, motors : tuple of Text
        What the loads take and the generator gives; and of each motor whether it starts.
    worst_dip : (str, Span) or None
        The motor whose start dips its voltage most, and by which share.
    cords : tuple of CordRow
        In the order of the placement.
    chain : tuple of ChainRow
        Cord, feeder and the worst branch behind the first inlet that is fed.
    comparison : Comparison
        The ways to bring the power in, side by side.
    chosen : str or None
        The way that the plan's cords take.
    buys : tuple of CordToBuy
        The cord to buy for each cord; without any, the one that would lead to the house.
    parts : tuple of Part
        What is bought for that way.
    """

    rated_w: Span
    starting_w: Span
    running_w: float
    hardest_start_w: Span
    legs: LegSums | None
    suggested_legs: LegSums | None
    loads: tuple[LoadRow, ...]
    order: tuple[StartStep, ...]
    clashes: tuple[tuple[str, ...], ...]
    sums: tuple[Text, ...]
    motors: tuple[Text, ...]
    worst_dip: tuple[str, Span] | None
    cords: tuple[CordRow, ...]
    chain: tuple[ChainRow, ...]
    comparison: Comparison
    chosen: WayKind | None
    buys: tuple[CordToBuy, ...]
    parts: tuple[Part, ...]


def power_report(scene: Scene) -> PowerReport:
    """Return the power path of a scene: loads, legs, cords, the ways in, and what to buy."""
    loads, comparison, chosen = scene.plan.loads, compared(scene), chosen_kind(scene)
    order = start_order([drawn(one) for one in loads])
    legs, suggested = _legs(scene, loads)
    limit, start_limit = rated_w(scene.plan), starting_w(scene.plan)
    rows = tuple(_cord_row(scene, feed) for feed in scene.feeds)
    buys = _buys(scene, rows, comparison)
    groups = clash_groups(loads, limit.most, start_limit.most) if loads else ()
    return PowerReport(
        rated_w=limit,
        starting_w=start_limit,
        running_w=sum(one.running_w for one in loads),
        hardest_start_w=hardest_start_w(loads),
        legs=None if legs is None else leg_sums([drawn(one) for one in loads], legs),
        suggested_legs=None
        if suggested is None
        else leg_sums([drawn(one) for one in loads], suggested),
        loads=_load_rows(scene, order, suggested),
        order=order,
        clashes=tuple(tuple(loads[place].id for place in group) for group in groups),
        sums=tuple(gives_lines(scene)),
        motors=tuple(motor_lines(scene)),
        worst_dip=_worst_dip(scene),
        cords=rows,
        chain=_chain(scene),
        comparison=comparison,
        chosen=chosen,
        buys=buys,
        parts=tuple(_parts(chosen, comparison, buys)),
    )


def _legs(
    scene: Scene, loads: Sequence[Load]
) -> tuple[tuple[Leg | None, ...] | None, tuple[Leg | None, ...] | None]:
    """Return the legs as entered and as suggested; None where there are no two legs."""
    machine = scene.plan.machine
    if machine is None or machine.voltage == "120" or not loads:
        return None, None
    entered = tuple(leg_of(one) for one in loads)
    taken = [drawn(one) for one in loads]
    if sum(one.run_w for one in taken) > _HIGHEST_W:
        return entered, None
    fixed = {place: leg for place, leg in enumerate(entered) if leg is not None}
    return entered, assign_legs(taken, fixed)


def _load_rows(
    scene: Scene, order: Sequence[StartStep], suggested: Sequence[Leg | None] | None
) -> tuple[LoadRow, ...]:
    place_of = {step.load.name: (place, step) for place, step in enumerate(order, 1)}
    cord_of = {load.id: feed.cord.id for feed in scene.feeds for load in feed.loads}
    return tuple(
        LoadRow(
            load=load,
            cord=cord_of.get(load.id),
            leg=leg_of(load),
            suggested=None if suggested is None else suggested[place],
            place=place_of[load.id][0],
            peak_w=place_of[load.id][1].peak_w,
        )
        for place, load in enumerate(scene.plan.loads)
    )


def _worst_dip(scene: Scene) -> tuple[str, Span] | None:
    dips = [
        (load.id, dip(scene, feed, load))
        for feed in scene.feeds
        for load in feed.loads
        if starts_hard(load)
    ]
    return max(dips, key=lambda one: (one[1].least, one[1].most), default=None)


def _cord_row(scene: Scene, feed: Feed) -> CordRow:
    lost = feed.run.trouble is not None
    needed = None if lost else needed_m(scene, feed)
    kind, buy = kind_of(feed), cord_for(scene, feed)
    stock = buy.stock_m
    if buy.bought is None and needed is not None and not buy.forbidden:
        locking = kind is not None and kind.locking
        stock = next_stock_length_m(min(needed, 1000.0), "locking-30a" if locking else "household")
    return CordRow(
        cord=feed.cord,
        trouble=feed.run.trouble,
        laid_m=None if lost else feed.run.laid_m,
        needed_m=needed,
        stock_m=stock,
        thinnest_awg=buy.gauge_awg,
        current_a=needed_a(feed),
        ampacity_a=ampacity_a(feed.cord.gauge_awg, scene.plan.outage.temperature_c),
        drop=cord_drop(feed, running(feed).loop_a),
        start_drop=cord_drop(feed, starting(feed).loop_a),
        crossings=feed.run.crossings,
        buy=buy,
    )


def _buys(scene: Scene, rows: Sequence[CordRow], comparison: Comparison) -> tuple[CordToBuy, ...]:
    """Return the cords to buy; where none is entered, the one that would lead to the house."""
    if rows or comparison.lengths is None:
        return tuple(one.buy for one in rows)
    there = cord_to_house(scene, comparison.lengths.cord_m)
    return () if there is None else (there,)


def _parts(
    chosen: WayKind | None, comparison: Comparison, buys: Sequence[CordToBuy]
) -> Iterator[Part]:
    """Yield what is bought for the way chosen, its cords as they are entered."""
    if chosen is None:
        return
    yield from (one.part for one in buys if not one.forbidden)
    for one in comparison.ways:
        if one.way.kind == chosen:
            yield from (part for part in one.way.parts if part.kind != "cord")


def _chain(scene: Scene) -> tuple[ChainRow, ...]:
    """Return cord, feeder and worst branch behind the first inlet that is fed."""
    feed = next((one for one in scene.feeds if one.inlet is not None), None)
    if feed is None:
        return ()
    fixed = scene.plan.transfer or Transfer()
    loop = running(feed).loop_a
    branches = [branch_loop_a(one, one.running_w) for one in feed.loads]
    return (
        ChainRow(Text("Cord"), feed.cord.gauge_awg, feed.pieces_m, cord_drop(feed, loop)),
        _wire(Text("Feeder to the panel"), fixed.feeder_awg, fixed.feeder_length_m, loop),
        _wire(
            Text("Worst branch circuit"),
            fixed.branch_awg,
            fixed.branch_length_m,
            exact(max(branches, default=0.0)),
        ),
    )


def _wire(piece: Text, gauge: int | None, length_m: float | None, loop_a: Span) -> ChainRow:
    missing = Span(0.0, math.inf, (Text("its length"),))
    metres = missing if length_m is None else exact(length_m)
    return ChainRow(piece, gauge, length_m, drop_share(gauge, metres, loop_a))
