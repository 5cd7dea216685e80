"""Whether cords are thick enough: what they carry, and what they lose."""

import math
from collections.abc import Iterator

from siteplan.plan.labels import label
from siteplan.plan.needs import Load, Transfer
from siteplan.power.ampacity import AMPACITY_A, cord_ampacity_a
from siteplan.power.loads import set_dip_fraction
from siteplan.power.receptacles import LINE_TO_NEUTRAL_V
from siteplan.rules.book import rule
from siteplan.rules.findings import Outcome, Unjudged
from siteplan.rules.power.capacity import rated_w
from siteplan.rules.power.currents import (
    Loading,
    cord_drop,
    described,
    drop_share,
    outlet_a,
    running,
    start_w,
    starting,
    while_starting,
)
from siteplan.rules.power.says import (
    Case,
    Says,
    each_cord,
    gathered,
    gauge_text,
    judged,
    rungs,
    warning,
    way,
)
from siteplan.rules.power.span import Span, exact, grows, unknown
from siteplan.scene import Scene, Standing
from siteplan.scene.feeds import Feed
from siteplan.words import Text

_HOTTEST_C, _COLDEST_C = 55.0, -50.0
_LEAST_W, _MOST_VA = 1.0, 1e6
_NO_TEMPERATURE = Text("the air temperature: above 86 °F a cord carries less")
_NO_GAUGE = Text("its wire gauge")
_THICKER = Text("Use a thicker cord, or a shorter one where it still reaches.")
_CARRIES = Says(
    Text("{subject} would carry {measured}; it may carry {limit}."),
    Text("{subject} carries {measured} of the {limit} it may."),
    Text("Use a thicker cord: a smaller gauge number. An overloaded cord burns."),
    "current",
)
_LOSES = Says(
    Text("{subject} loses {measured} of its voltage; {limit} is advised."),
    Text("{subject} loses {measured} of its voltage; up to {limit} is well."),
    _THICKER,
    "share",
)
_LOSES_IN_ALL = Says(
    Text("On the way to {subject}, cord, feeder and branch lose {measured} of the voltage; "
         "{limit} is advised."),
    Text("On the way to {subject}, cord, feeder and branch lose {measured} of the voltage; up to "
         "{limit} is well."),
    Text("Use a thicker or shorter cord, or have a thicker feeder laid."),
    "share",
)  # fmt: skip
_LOSES_STARTING = Says(
    Text("{subject} loses {measured} of its voltage while a motor starts; {limit} is advised."),
    Text("{subject} loses {measured} of its voltage while a motor starts; up to {limit} is well."),
    Text("Use a thicker or shorter cord: a motor that does not come up to speed overheats."),
    "share",
)
_DIPS = Says(
    Text("When {subject} starts, its voltage dips by {measured}; {limit} is advised."),
    Text("When the hardest motor, {subject}, starts, its voltage dips by {measured}; up to "
         "{limit} is well."),
    Text("Start it first and alone, on a thicker or shorter cord, or use a larger generator."),
    "share",
)  # fmt: skip


def cord_gauge(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Judge the current in each cord by the ampacity of its gauge."""
    book = rule("cord-gauge")
    ambient_c = scene.plan.outage.temperature_c

    def judge(feed: Feed) -> Iterator[Outcome]:
        names = (feed.cord.id,)
        case = Case(book, described(feed), names, way(feed))
        limit = warning(ampacity_a(feed.cord.gauge_awg, ambient_c))
        yield from judged(case, needed_a(feed), limit, _CARRIES)

    yield from each_cord(scene, book, judge)
    if scene.feeds and ambient_c is None:
        yield Unjudged(book.id, (), _NO_TEMPERATURE)


def needed_a(feed: Feed) -> Span:
    """Return the current that a cord must carry [A].

    A cord to an inlet or an outlet box must carry whatever its breaker lets through.
    """
    if not feed.shared:
        return running(feed).wire_a
    outlet = outlet_a(feed)
    least = max(outlet.least, min(outlet.most, running(feed).wire_a.least))
    return Span(least, outlet.most, outlet.missing)


def ampacity_a(gauge_awg: int | None, ambient_c: float | None) -> Span:
    """Return what two loaded wires of a cord carry [A], in air of 30 °C if nothing is known."""
    if gauge_awg is None:
        return unknown(0.0, math.inf, _NO_GAUGE)
    rows = [row for row in AMPACITY_A if row >= gauge_awg]
    air_c = 30.0 if ambient_c is None else max(_COLDEST_C, ambient_c)
    if not rows or air_c > _HOTTEST_C:
        return exact(0.0)
    # A size between two rows carries what the thinner of them does.
    return exact(cord_ampacity_a(min(rows), 2, air_c))


def cord_thin(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse cords thinner than general-use cords are sold."""
    book = rule("cord-thin")
    thinnest = int(book.figure("thinnest_awg"))
    says = Says(
        Text("{subject} is thinner than {thinnest}.", {"thinnest": gauge_text(thinnest)}),
        Text("{subject} is not thinner than {thinnest}.", {"thinnest": gauge_text(thinnest)}),
        Text("Use {thinnest} or thicker: a smaller number.", {"thinnest": gauge_text(thinnest)}),
        "count",
    )

    def judge(feed: Feed) -> Iterator[Outcome]:
        awg = feed.cord.gauge_awg
        size = unknown(-3.0, 20.0, _NO_GAUGE) if awg is None else exact(float(awg))
        case = Case(book, described(feed), (feed.cord.id,), way(feed))
        yield from judged(case, size, warning(exact(float(thinnest))), says)

    yield from each_cord(scene, book, judge)


def cord_loss(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Judge the voltage that each cord loses with all its loads running."""
    book = rule("cord-drop")
    limits = [(signal, exact(figure)) for signal, figure in rungs(book, "share")]

    def judge(feed: Feed) -> Iterator[Outcome]:
        lost = cord_drop(feed, running(feed).loop_a)
        case = Case(book, described(feed), (feed.cord.id,), way(feed))
        yield from judged(case, lost, limits, _LOSES)

    yield from each_cord(scene, book, judge)


def cord_start_loss(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Judge the voltage that each cord loses while its hardest load starts."""
    book = rule("cord-start-drop")
    limits = [(signal, exact(figure)) for signal, figure in rungs(book, "share")]

    def judge(feed: Feed) -> Iterator[Outcome]:
        lost = cord_drop(feed, starting(feed).loop_a)
        case = Case(book, described(feed), (feed.cord.id,), way(feed))
        yield from judged(case, lost, limits, _LOSES_STARTING)

    yield from each_cord(scene, book, judge)


def chain_loss(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Judge the voltage lost from the machine to each load behind an inlet."""
    book = rule("chain-drop")
    limits = [(signal, exact(figure)) for signal, figure in rungs(book, "share")]
    behind = [(feed, load) for feed in scene.feeds if feed.inlet for load in feed.loads]
    if not behind:
        missing = Text("no load is entered behind an inlet")
        yield Unjudged(book.id, (), missing, not_drawn=True)
        return
    yield from gathered(
        outcome
        for feed, load in behind
        for outcome in judged(
            Case(book, label(load), (load.id, feed.cord.id), way(feed)),
            chain_drop(scene.plan.transfer, feed, load, running(feed), load.running_w),
            limits,
            _LOSES_IN_ALL,
        )
    )


def chain_drop(
    transfer: Transfer | None, feed: Feed, load: Load, loading: Loading, load_w: float
) -> Span:
    """Return the share of 120 V lost on the way to a load: cord, and behind an inlet the rest."""
    lost = cord_drop(feed, loading.loop_a)
    if feed.inlet is None:
        return lost
    loop_a = branch_loop_a(load, load_w)
    fixed = transfer or Transfer()
    feeder = drop_share(
        fixed.feeder_awg, _stated_m(fixed.feeder_length_m, _NO_FEEDER), loading.loop_a
    )
    branch = drop_share(
        fixed.branch_awg, _stated_m(fixed.branch_length_m, _NO_BRANCH), exact(loop_a)
    )
    pieces = (lost, _named(feeder, _NO_FEEDER), _named(branch, _NO_BRANCH))
    return grows(lambda *shares: sum(shares), *pieces)


def branch_loop_a(load: Load, load_w: float) -> float:
    """Return what a load's own branch circuit loses by [A], both wires together."""
    # Between the legs half the current flows, and each leg loses to its own wire alone.
    return load_w / LINE_TO_NEUTRAL_V * (0.5 if load.volts > LINE_TO_NEUTRAL_V else 2.0)


_NO_FEEDER = Text("gauge and length of the feeder from inlet to panel")
_NO_BRANCH = Text("gauge and length of the branch circuits")


def _stated_m(length_m: float | None, missing: Text) -> Span:
    return unknown(0.0, math.inf, missing) if length_m is None else exact(length_m)


def _named(lost: Span, missing: Text) -> Span:
    """Return a span whose own gaps are told in one text."""
    if math.isfinite(lost.most):
        return lost
    return Span(lost.least, lost.most, (missing,))


def start_dip(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Judge how far the voltage dips when each motor starts: machine, cord and wiring."""
    book = rule("start-dip")
    limits = [(signal, exact(figure)) for signal, figure in rungs(book, "share")]
    motors = [(feed, load) for feed in scene.feeds for load in feed.loads if starts_hard(load)]
    if not motors:
        missing = Text("no motor is entered on a cord or behind an inlet")
        yield Unjudged(book.id, (), missing, not_drawn=True)
        return
    yield from gathered(
        outcome
        for feed, load in motors
        for outcome in judged(
            Case(book, label(load), (load.id, feed.cord.id), way(feed)),
            dip(scene, feed, load),
            limits,
            _DIPS,
        )
    )


def starts_hard(load: Load) -> bool:
    """Whether a load draws more while it starts, or may."""
    demand = start_w(load)
    return demand.most > load.running_w


def dip(scene: Scene, feed: Feed, load: Load) -> Span:
    """Return the share of its voltage that a load loses while it starts."""
    demand = start_w(load)
    machine = machine_dip(demand, rated_w(scene.plan))
    state = while_starting(feed, load)
    wiring = chain_drop(scene.plan.transfer, feed, load, state, demand.least)
    return grows(lambda one, two: one + two, machine, wiring)


def machine_dip(demand_w: Span, rated: Span) -> Span:
    """Return the share of its voltage that the machine loses to a start."""
    least = most = 0.0
    if rated.most < math.inf:
        least = set_dip_fraction(min(demand_w.least, _MOST_VA), _bounded(rated.most))
    if demand_w.most < math.inf and (rated.least >= _LEAST_W or not rated.missing):
        most = set_dip_fraction(min(demand_w.most, _MOST_VA), _bounded(rated.least))
    else:
        most = math.inf
    return Span(least, most, (*demand_w.missing, *rated.missing))


def _bounded(rated_w: float) -> float:
    return min(max(rated_w, _LEAST_W), _MOST_VA)
