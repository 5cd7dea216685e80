"""Which cord to buy for each cord of a placement: the one reckoning that everything shows.

Window, command line, places found and papers all take it from here, so that no two of them
can name different cords.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from siteplan.plan.around import PowerInlet, ThroughWallOutlet
from siteplan.plan.labels import label
from siteplan.plan.machine import Cord
from siteplan.plan.needs import Load
from siteplan.power.buying import Bought, Demand, Reason, cord_to_buy, suits
from siteplan.power.cords import (
    RUN_DROP_FRACTION,
    START_CORD_DROP_FRACTION,
    CordKind,
)
from siteplan.power.legs import assign_legs, leg_sums
from siteplan.power.receptacles import Receptacle, fits
from siteplan.power.ways import Part
from siteplan.rules.common import once
from siteplan.rules.power.backfeed import NEVER_FED
from siteplan.rules.power.cord import needed_m
from siteplan.rules.power.crossings import TROUBLE_TEXTS
from siteplan.rules.power.currents import Loading, outlet_a, running, starting
from siteplan.rules.power.gauge import needed_a
from siteplan.rules.power.says import exceeds, gauge_text, joined, of_cord
from siteplan.rules.power.sockets import configuration, kind_of
from siteplan.rules.power.span import Span, missing_of
from siteplan.rules.power.ways import drawn
from siteplan.scene import Scene
from siteplan.scene.cords import CordRun
from siteplan.scene.feeds import Feed
from siteplan.words import Quantity, Text, Value, length

JOIN_TEXT = Text(
    "Two cords may not be joined to reach: each joint heats, and lets water in. One whole cord "
    "has to reach."
)
_LONGEST_M = 1000.0
_LARGEST_A = 1e6
_USUAL_C = 30.0
# More than this is not spread over the legs.
_HIGHEST_W = 200_000.0
_GROUNDED_WIRES = 3
_CORD_TEXT = (
    "{cord}: one whole cord of {long}, {gauge} or thicker (a smaller number), {wires} wires, "
    "marked W for outdoors, plug {outlet} at the generator, {end} at the other end. {why}"
)
_NOT_SOLD_TEXT = (
    "{cord}: no cord is sold whole for its {needed} of way; {gauge} or thicker would be needed. "
    "Do not join two, and never bring the generator nearer to reach: have a licensed electrician "
    "make up one cord or hang an inlet on the way."
)
_TOO_MUCH_TEXT = (
    "{cord}: no cord that is sold is thick enough for its {needed} of way. Feed fewer appliances "
    "by it, or have a licensed electrician hang an inlet on the way."
)
_WHY_TEXTS: Mapping[Reason, Text] = {
    "ampacity": Text("A thinner one may not carry the {amps} that can flow in it: it would burn."),
    "drop": Text("Over that length a thinner one loses more than {run} of the voltage."),
    "start": Text("Over that length a thinner one loses more than {start} of the voltage while a "
                  "motor starts."),
    "general-use": Text("Thinner ones are not made for general use."),
}  # fmt: skip
_OVER_TEXT = (
    "{cord}: {amps} hang on it, more than the {limit} that its outlet {outlet} gives; no cord "
    "mends that. Take some off it, or feed them another way."
)
_BOX_TEXT = Text("outlet box with breakers")


@dataclass(frozen=True, slots=True)
class CordToBuy:
    """The cord to buy for one way.

    Attributes
    ----------
    cord : str
        Id of the cord as entered; empty for a way on which none is entered.
    title : Text
        What to call it.
    needed_m : float or None
        With rises, slack and the drawing's accuracy [m]; None without a way.
    bought : Bought or None
        Length, gauge and reason; None if data are missing.
    current_a : float
        What can flow in its most loaded wire [A].
    wires : int
        Wires it must have, the equipment ground among them.
    outlet, end : str
        Configuration at the generator, and at the other end.
    boxed : bool
        Whether it ends in a box of outlets.
    over_a : float or None
        What its outlet gives [A], if more hangs on the cord: no cord mends that.
    uncounted : tuple of Text
        Starts that are not entered and not counted; they may ask for a thicker one.
    missing : tuple of Text
        The data for want of which it cannot be told.
    entered_suits : bool or None
        Whether the cord that is entered will do; None if its data are missing.
    forbidden : bool
        Whether no cord may feed that end as the plan stands: none is on any list then.
    """

    cord: str
    title: Text
    needed_m: float | None
    bought: Bought | None
    current_a: float = 0.0
    wires: int = _GROUNDED_WIRES
    outlet: str = ""
    end: str = ""
    boxed: bool = False
    over_a: float | None = None
    uncounted: tuple[Text, ...] = ()
    missing: tuple[Text, ...] = ()
    entered_suits: bool | None = None
    forbidden: bool = False

    @property
    def gauge_awg(self) -> int | None:
        """Its gauge [AWG], if it can be told and is sold."""
        return None if self.bought is None else self.bought.gauge_awg

    @property
    def stock_m(self) -> float | None:
        """The length to buy [m], if one so long is sold."""
        return None if self.bought is None else self.bought.length_m

    @property
    def part(self) -> Part:
        """It as a part on the list."""
        return Part("cord", 1, self.gauge_awg, self.stock_m, self.outlet or None)


def cords_to_buy(scene: Scene) -> tuple[CordToBuy, ...]:
    """Return the cord to buy for each cord of the placement, in its order."""
    return tuple(cord_for(scene, feed) for feed in scene.feeds)


def cord_for(scene: Scene, feed: Feed) -> CordToBuy:
    """Return the cord to buy for one cord as entered, and whether that one will do."""
    needed = None if feed.run.trouble else min(_LONGEST_M, needed_m(scene, feed))
    forbidden = _forbidden(scene, feed)
    if forbidden is not None:
        blank = CordToBuy(feed.cord.id, label(feed.cord), needed, None)
        return replace(blank, missing=(forbidden,), forbidden=True)
    return _reckoned(scene, feed, needed)


def _forbidden(scene: Scene, feed: Feed) -> Text | None:
    """Return what must be there before any cord may feed this end, or None.

    To name a cord for it would be to tell people how to kill someone.
    """
    end, transfer, kind = feed.end, scene.plan.transfer, kind_of(feed)
    if isinstance(end, NEVER_FED):
        missing = "a power inlet with transfer equipment: no cord may ever feed {subject}"
        return Text(missing, {"subject": label(end)})
    if isinstance(end, PowerInlet) and transfer is not None and transfer.kind == "none":
        return Text("transfer equipment: nothing may feed {subject} before it is fitted",
                    {"subject": label(end)})  # fmt: skip
    if kind is None or not isinstance(end, PowerInlet | ThroughWallOutlet):
        return None
    plug = configuration(end.receptacle)
    if plug is None or fits(plug.config, kind.config):
        return None
    return Text("an outlet and an inlet of one configuration: {outlet} is not {plug}",
                {"outlet": kind.config, "plug": plug.config})  # fmt: skip


def _reckoned(scene: Scene, feed: Feed, needed: float | None) -> CordToBuy:
    kind, cord = kind_of(feed), feed.cord
    spans = (needed_a(feed), _loop(feed, running(feed)), _loop(feed, starting(feed)))
    gaps = missing_of(one for one in spans[:2] if not math.isfinite(one.most))
    blank = CordToBuy(cord.id, label(cord), needed, None)
    if kind is None or needed is None or gaps:
        trouble = feed.run.trouble
        lost = (of_cord(TROUBLE_TEXTS[trouble], feed),) if trouble else ()
        unplugged = () if kind else outlet_a(feed).missing
        return replace(blank, missing=tuple(once((*lost, *unplugged, *gaps))))
    gives = outlet_a(feed).most
    if exceeds(spans[0].least, gives):
        return replace(blank, current_a=spans[0].least, outlet=kind.config, over_a=gives)
    wire_a, loop_a = (min(_LARGEST_A, one.most) for one in spans[:2])
    known_start = math.isfinite(spans[2].most)
    start_a = min(_LARGEST_A, spans[2].most if known_start else spans[2].least)
    demand = Demand(wire_a, loop_a, start_a, _neutral_a(feed, kind))
    ambient_c = scene.plan.outage.temperature_c
    air_c = _USUAL_C if ambient_c is None else ambient_c
    stock: CordKind = "locking-30a" if kind.locking else "household"
    return replace(
        blank,
        bought=cord_to_buy(needed, demand, stock, air_c),
        current_a=wire_a,
        wires=max(_GROUNDED_WIRES, kind.wires),
        outlet=kind.config,
        end=_end(feed, kind),
        boxed=cord.end_fitting != "connector",
        uncounted=() if known_start else spans[2].missing,
        entered_suits=_entered_suits(cord, needed, kind, demand, air_c) if known_start else None,
    )


def _neutral_a(feed: Feed, kind: Receptacle) -> float:
    """Return what flows in a neutral that counts as loaded [A]; 0 where it does not count."""
    if kind.legs < 2 or not feed.loads:
        return 0.0
    loads = [drawn(one) for one in feed.loads]
    if sum(one.run_w for one in loads) > _HIGHEST_W:
        return kind.amps
    fixed = {place: one.leg for place, one in enumerate(loads) if one.leg is not None}
    sums = leg_sums(loads, assign_legs(loads, fixed))
    return min(kind.amps, max(sums.a_a, sums.b_a)) if sums.count_neutral else 0.0


def _loop(feed: Feed, state: Loading) -> Span:
    """Return the current there and back; where no load is entered, all that the outlet gives."""
    if feed.loads:
        return state.loop_a
    outlet = outlet_a(feed)
    return Span(0.0, 2.0 * outlet.most, outlet.missing)


def _end(feed: Feed, kind: Receptacle) -> str:
    if isinstance(feed.end, PowerInlet | ThroughWallOutlet):
        known = configuration(feed.end.receptacle)
        return feed.end.receptacle if known is None else known.config
    return kind.config


def _entered_suits(
    cord: Cord, needed: float, kind: Receptacle, demand: Demand, air_c: float
) -> bool | None:
    if not cord.pieces_m or cord.gauge_awg is None or cord.outdoor_jacket is None:
        return None
    whole = len(cord.pieces_m) == 1 and cord.pieces_m[0] >= needed - 1e-6
    wired = cord.wires >= max(_GROUNDED_WIRES, kind.wires) and cord.outdoor_jacket
    return whole and wired and suits(cord.gauge_awg, cord.pieces_m[0], demand, air_c)


def cord_to_house(scene: Scene, needed: float) -> CordToBuy | None:
    """Return the cord to buy for a way to the house on which no cord is entered.

    It is for the generator's outlet that would feed the house, with every load entered on it,
    on the legs suggested; None where no such outlet is known.

    Parameters
    ----------
    scene : Scene
    needed : float
        Length of the way with rises, the drawing's accuracy and slack [m].
    """
    machine = scene.plan.machine
    outlets = () if machine is None else machine.receptacles
    known = [(kind, one) for one in outlets if (kind := configuration(one.configuration))]
    best = max(known, key=_worth, default=None)
    if best is None:
        return None
    kind, outlet = best
    # What hangs behind an inlet is switched on at will: its breaker bounds it, as a box's does.
    cord = Cord(id="way", wires=kind.wires, end_fitting="outlet-box-with-breakers")
    run = CordRun(cord, (), (), needed, 0.0, ())
    there = [one for one in scene.plan.loads if kind.legs == 2 or one.volts == 120]
    feed = Feed(run, outlet, None, tuple(_with_legs(there) if kind.legs == 2 else there))
    found = _reckoned(scene, feed, min(_LONGEST_M, needed))
    return replace(found, cord="", title=Text("Cord to the house"), boxed=False)


def _with_legs(loads: Sequence[Load]) -> Iterator[Load]:
    taken = [drawn(one) for one in loads]
    if sum(one.run_w for one in taken) > _HIGHEST_W:
        yield from loads
        return
    fixed = {place: one.leg for place, one in enumerate(taken) if one.leg is not None}
    for load, leg in zip(loads, assign_legs(taken, fixed), strict=True):
        yield load if leg is None else load.model_copy(update={"leg": leg.lower()})


def _worth(pair: tuple[Receptacle, object]) -> tuple[bool, bool, float]:
    kind = pair[0]
    return kind.can_feed_house, kind.supplies_120_v and kind.ground, kind.amps


def cord_sentence(one: CordToBuy) -> Text:
    """Return in one sentence which cord to buy, and why that gauge; or what is missing."""
    values: dict[str, Value] = {"cord": one.title}
    if one.bought is None or one.needed_m is None:
        if one.over_a is not None:
            return _over(one)
        gaps = {"missing": joined(one.missing)}
        return Text("{cord}: not judged, because this is missing: {missing}.", values | gaps)
    values["needed"] = length(one.needed_m, "up")
    if one.bought.gauge_awg is None or one.bought.reason is None:
        return Text(_TOO_MUCH_TEXT, values)
    values["gauge"] = gauge_text(one.bought.gauge_awg)
    if one.bought.length_m is None:
        return Text(_NOT_SOLD_TEXT, values)
    return Text(
        _CORD_TEXT,
        values
        | {
            "long": length(one.bought.length_m, "up"),
            "wires": one.wires,
            "outlet": one.outlet,
            "end": _BOX_TEXT if one.boxed else Text("connector {config}", {"config": one.end}),
            "why": _why(one, one.bought.reason),
        },
    )


def _over(one: CordToBuy) -> Text:
    values: dict[str, Value] = {
        "cord": one.title,
        "amps": Quantity(one.current_a, "current", "up"),
        "limit": Quantity(one.over_a or 0.0, "current", "down"),
        "outlet": one.outlet,
    }
    return Text(_OVER_TEXT, values)


def short_sentence(one: CordToBuy) -> Text:
    """Return in few words which cord to buy, or that none is sold."""
    values: dict[str, Value] = {"cord": one.title}
    if one.over_a is not None:
        return _over(one)
    if one.gauge_awg is None or one.stock_m is None:
        return Text("{cord}: none that is sold is long and thick enough.", values)
    values |= {
        "long": length(one.stock_m, "up"),
        "gauge": gauge_text(one.gauge_awg),
        "outlet": one.outlet,
    }
    return Text("{cord}: one whole cord of {long}, {gauge}, for outlet {outlet}.", values)


def _why(one: CordToBuy, reason: Reason) -> Text:
    values: dict[str, Value] = {
        "amps": Quantity(one.current_a, "current", "up"),
        "run": Quantity(RUN_DROP_FRACTION, "share", "down"),
        "start": Quantity(START_CORD_DROP_FRACTION, "share", "down"),
    }
    return Text(_WHY_TEXTS[reason].template, values)


def uncounted_sentence(one: CordToBuy) -> Text:
    """Return what was not counted for want of data."""
    return Text(
        "That may have to be thicker; not entered, and so not counted: {missing}.",
        {"missing": joined(one.uncounted)},
    )


def entered_sentence(one: CordToBuy) -> Text | None:
    """Return whether the cord that is entered comes up to that; None if nothing tells."""
    if one.entered_suits is None:
        return None
    if one.entered_suits:
        return Text("{cord}, as entered, comes up to that.", {"cord": one.title})
    return Text("{cord}, as entered, does not come up to that.", {"cord": one.title})


def lines_of(one: CordToBuy) -> Iterator[Text]:
    """Yield which cord to buy, what was not counted, and whether the one entered will do."""
    yield cord_sentence(one)
    if one.uncounted:
        yield uncounted_sentence(one)
    entered = entered_sentence(one)
    if entered is not None:
        yield entered


def cord_lines(buys: Sequence[CordToBuy]) -> Iterator[Text]:
    """Yield the answer to which cord, one after the other, and whether two may be joined."""
    for one in buys:
        yield from lines_of(one)
    if buys:
        yield JOIN_TEXT
