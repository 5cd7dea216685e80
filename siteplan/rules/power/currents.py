"""Currents and losses along a cord, from what is known of its loads, legs and length."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from siteplan.plan.labels import label
from siteplan.plan.needs import Load
from siteplan.power.appliances import appliances
from siteplan.power.cords import voltage_drop_v
from siteplan.power.receptacles import LINE_TO_NEUTRAL_V, Receptacle
from siteplan.rules.power.says import gauge_text
from siteplan.rules.power.sockets import kind_of
from siteplan.rules.power.span import Span, exact, grows, highest, unknown
from siteplan.scene.feeds import Feed
from siteplan.words import Text

_BOTH_LEGS_V = 240
_NO_OUTLET = Text("which outlet of the generator it is plugged into")
_NO_BREAKER = Text("the breaker of that outlet")
_NO_GAUGE = Text("its wire gauge")
_NO_PIECES = Text("the length of its pieces")
_NO_LOADS = Text("what it feeds")


class Loading(NamedTuple):
    """Currents in one cord.

    Attributes
    ----------
    wire_a : Span
        In its most loaded wire [A].
    loop_a : Span
        In the wire there and the wire back together [A]: what the loss is reckoned from.
    """

    wire_a: Span
    loop_a: Span


def start_w(load: Load) -> Span:
    """Return what a load draws while it starts [W]; heaters and electronics start at no more."""
    if load.starting_w is not None:
        return exact(max(load.starting_w, load.running_w))
    known = appliances().get(load.appliance)
    if known is not None and known.kind != "motor":
        return exact(load.running_w)
    missing = Text("what {load} draws while it starts", {"load": label(load)})
    return unknown(load.running_w, math.inf, missing)


def running(feed: Feed) -> Loading:
    """Return the currents of a cord with all its loads running; any, if none is entered."""
    if not feed.loads:
        bare = unknown(0.0, math.inf, _NO_LOADS)
        return Loading(bare, bare)
    return loading(feed.loads, [one.running_w for one in feed.loads], kind_of(feed))


def starting(feed: Feed) -> Loading:
    """Return the currents of a cord while its hardest load starts, the others running."""
    states = [running(feed), *(while_starting(feed, load) for load in feed.loads)]
    return Loading(highest(one.wire_a for one in states), highest(one.loop_a for one in states))


def while_starting(feed: Feed, load: Load) -> Loading:
    """Return the currents of a cord while one of its loads starts, the others running."""
    demand = start_w(load)
    watts = [demand.least if one is load else one.running_w for one in feed.loads]
    state = loading(feed.loads, watts, kind_of(feed))
    if not demand.missing:
        return state
    missing = (*state.wire_a.missing, *demand.missing)
    return Loading(
        Span(state.wire_a.least, math.inf, missing), Span(state.loop_a.least, math.inf, missing)
    )


def loading(loads: Sequence[Load], watts: Sequence[float], kind: Receptacle | None) -> Loading:
    """Return the currents of these loads at these watts on an outlet of this kind."""
    whole_a = sum(watts) / LINE_TO_NEUTRAL_V
    if kind is not None and kind.legs == 1:
        return Loading(exact(whole_a), exact(2.0 * whole_a))
    wire = heavier_leg_a(loads, watts)
    loop = grows(lambda amps: 3.0 * amps - whole_a, wire)
    if kind is not None:
        return Loading(wire, loop)
    # On an outlet with one leg all of it would flow in one wire.
    gap = (*wire.missing, _NO_OUTLET)
    return Loading(Span(wire.least, whole_a, gap), Span(loop.least, 2.0 * whole_a, gap))


def heavier_leg_a(loads: Sequence[Load], watts: Sequence[float]) -> Span:
    """Return the current in the heavier of two legs [A].

    Loads without a leg may balance the legs, or all hang on the heavier one.
    """
    on = {"a": 0.0, "b": 0.0, "both": 0.0, "unknown": 0.0}
    for load, power in zip(loads, watts, strict=True):
        on[_leg(load)] += power / LINE_TO_NEUTRAL_V
    heavier = max(on["a"], on["b"]) + on["both"] / 2.0
    unassigned = [one for one in loads if _leg(one) == "unknown"]
    missing = tuple(Text("the leg of {load}", {"load": label(one)}) for one in unassigned)
    whole_a = sum(watts) / LINE_TO_NEUTRAL_V
    return Span(max(heavier, whole_a / 2.0), heavier + on["unknown"], missing)


def _leg(load: Load) -> str:
    if load.volts == _BOTH_LEGS_V:
        return "both"
    return load.leg or "unknown"


def outlet_a(feed: Feed) -> Span:
    """Return what the cord's outlet gives [A]: its rating, or its breaker if that is less."""
    if feed.outlet is None:
        return unknown(0.0, math.inf, _NO_OUTLET)
    kind = kind_of(feed)
    if kind is None:
        missing = Text("what outlet '{name}' is", {"name": feed.outlet.configuration})
        return unknown(0.0, feed.outlet.breaker_a or math.inf, missing)
    if feed.outlet.breaker_a is None:
        return unknown(0.0, kind.amps, _NO_BREAKER)
    return exact(min(kind.amps, feed.outlet.breaker_a))


def length_m(feed: Feed) -> Span:
    """Return the length of cord that the current flows through [m], one way.

    All pieces together; without them, at least the way it lies.
    """
    if feed.pieces_m is not None:
        return exact(feed.pieces_m)
    laid_m = 0.0 if feed.run.trouble else feed.run.laid_m
    return unknown(laid_m, math.inf, _NO_PIECES)


def drop_share(gauge_awg: int | None, length: Span, loop_a: Span) -> Span:
    """Return the share of 120 V lost in wires of this gauge."""
    if gauge_awg is None:
        missing = (*length.missing, *loop_a.missing, _NO_GAUGE)
        return Span(0.0, math.inf, missing)
    per_m_and_a = voltage_drop_v(gauge_awg, 1.0, 1.0) / 2.0 / LINE_TO_NEUTRAL_V
    return grows(lambda metres, amps: per_m_and_a * metres * amps, length, loop_a)


def cord_drop(feed: Feed, loop_a: Span) -> Span:
    """Return the share of 120 V lost in a cord."""
    return drop_share(feed.cord.gauge_awg, length_m(feed), loop_a)


def described(feed: Feed) -> Text:
    """Return a cord by its name and gauge."""
    gauge = feed.cord.gauge_awg
    if gauge is None:
        return label(feed.cord)
    return Text("{cord} ({gauge})", {"cord": label(feed.cord), "gauge": gauge_text(gauge)})
