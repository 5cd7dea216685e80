"""Whether the generator can start each motor, one plain sentence for each."""

import math
from collections.abc import Iterator, Sequence

from siteplan.plan.labels import label
from siteplan.plan.needs import Load
from siteplan.power.receptacles import LINE_TO_NEUTRAL_V
from siteplan.rules.book import rule
from siteplan.rules.power.capacity import rated_w, starting_w
from siteplan.rules.power.currents import start_w
from siteplan.rules.power.gauge import dip, starts_hard
from siteplan.rules.power.loads import leg_start_w, spells
from siteplan.rules.power.says import exceeds, joined
from siteplan.rules.power.sockets import kind_of
from siteplan.rules.power.span import Span, grows, highest, missing_of
from siteplan.scene import Scene
from siteplan.scene.feeds import Feed
from siteplan.words import Quantity, Text, Value

_ALONE = Text(
    "{load} does not start with all else on: that takes {need}, and the generator gives {gives} "
    "for a start. Alone, before all else, it takes {alone}."
)
_NEVER = Text(
    "{load} does not start: even alone it takes {alone}, and the generator gives {gives} for a "
    "start."
)
_LEG = Text(
    "{load} does not start with all else on: its leg then needs {leg}, and the generator gives "
    "{half} on one. Move loads to the other leg, or start it first."
)
_DIPS = Text(
    "{load} does not start reliably: its voltage dips by {dip}, and over {limit} a motor stalls. "
    "Use a thicker or shorter cord, or a larger generator."
)
_VOLTS = Text("{load} does not start: it needs 240 V, and its cord brings 120 V.")
_LOW = Text("{load} does not start: it needs 240 V, and the generator gives 120 V.")
_STARTS = Text(
    "{load} starts by the figures entered: with all else on it takes {need} of the {gives} the "
    "generator gives for a start, and its voltage dips by {dip}."
)
_HARD = Text(
    "{load} starts hard by the figures entered: its voltage dips by {dip}, and {well} is well. "
    "Start it first and alone."
)
_NOT_JUDGED = Text("{load}: whether it starts is not judged, because this is missing: {missing}.")
_NO_FEED = Text(
    "{load}: the generator gives enough ({need} of {gives}, with all else on); whether the cord "
    "lets it start is not judged, because this is missing: which cord or inlet feeds it."
)


def motors(scene: Scene) -> tuple[Load, ...]:
    """Return the loads that draw more while they start, or may."""
    return tuple(one for one in scene.plan.loads if starts_hard(one))


def motor_lines(scene: Scene) -> Iterator[Text]:
    """Yield for each motor whether it starts, does not, or is not judged and what is missing."""
    for load in motors(scene):
        feed = next((one for one in scene.feeds if load in one.loads), None)
        yield _line(scene, load, feed)


def _line(scene: Scene, load: Load, feed: Feed | None) -> Text:
    values: dict[str, Value] = {"load": label(load)}
    gives, alone = starting_w(scene.plan), start_w(load)
    spans = [spell for spell in spells(scene.plan.loads) if load in spell]
    need = highest(_need_w(spell, load) for spell in spans)
    values["alone"], values["need"] = _up(alone.least), _up(need.least)
    if math.isfinite(gives.most):
        # Where it is not known, no sentence names it.
        values["gives"] = Quantity(gives.most, "power", "down")
    kind = None if feed is None else kind_of(feed)
    machine = scene.plan.machine
    if machine is not None and machine.voltage == "120" and load.volts > LINE_TO_NEUTRAL_V:
        return Text(_LOW.template, values)
    if kind is not None and kind.legs == 1 and load.volts > LINE_TO_NEUTRAL_V:
        return Text(_VOLTS.template, values)
    if exceeds(alone.least, gives.most):
        return Text(_NEVER.template, values)
    if exceeds(need.least, gives.most):
        return Text(_ALONE.template, values)
    return _on_its_way(scene, load, feed, (need, gives), values)


def _on_its_way(
    scene: Scene,
    load: Load,
    feed: Feed | None,
    power: tuple[Span, Span],
    values: dict[str, Value],
) -> Text:
    """Return what legs and cord let it do, the generator as a whole being strong enough."""
    leg, half = _leg_w(scene, load), grows(lambda watts: watts / 2.0, power[1])
    book = rule("start-dip")
    if leg is not None and exceeds(leg.least, half.most):
        values |= {"leg": _up(leg.least), "half": Quantity(half.most, "power", "down")}
        return Text(_LEG.template, values)
    lost = None if feed is None else dip(scene, feed, load)
    stalls, well = book.figure("warning_share"), book.figure("caution_share")
    if lost is not None:
        values["dip"] = Quantity(100.0 * lost.least, "percent", "up")
        values |= {"limit": Quantity(stalls, "share", "down"), "well": Quantity(well, "share")}
        if exceeds(lost.least, stalls):
            return Text(_DIPS.template, values)
    doubts = [one for one in (*power, leg, lost) if one is not None and one.most > one.least]
    if gaps := missing_of(doubts):
        values["missing"] = joined(gaps)
        return Text(_NOT_JUDGED.template, values)
    if lost is None:
        return Text(_NO_FEED.template, values)
    hard = exceeds(lost.most, well)
    return Text((_HARD if hard else _STARTS).template, values)


def _need_w(spell: Sequence[Load], load: Load) -> Span:
    """Return the power while the load starts last, all else of its time running [W]."""
    rest = sum(one.running_w for one in spell if one is not load)
    return grows(lambda watts: watts + rest, start_w(load))


def _leg_w(scene: Scene, load: Load) -> Span | None:
    """Return the power of the heavier leg while the load starts [W]; None with one leg."""
    machine = scene.plan.machine
    if machine is None or machine.voltage == "120":
        return None
    return highest(leg_start_w(one, load) for one in spells(scene.plan.loads) if load in one)


def _up(watts: float) -> Quantity:
    return Quantity(watts, "power", "up")


def gives_lines(scene: Scene) -> Iterator[Text]:
    """Yield what the loads take and the generator gives, or which data are missing for it."""
    plan = scene.plan
    running = sum(one.running_w for one in plan.loads)
    gives, gives_start = rated_w(plan), starting_w(plan)
    yield from _takes(plan.loads, running)
    if gaps := missing_of(one for one in (gives, gives_start) if one.missing):
        missing: dict[str, Value] = {"missing": joined(gaps)}
        yield Text(
            "What the generator gives here is not judged, because this is missing: {missing}.",
            missing,
        )
        return
    values: dict[str, Value] = {
        "limit": Quantity(gives.most, "power", "down"),
        "start_limit": Quantity(gives_start.most, "power", "down"),
    }
    yield Text("The generator gives {limit} for hours and {start_limit} for a start.", values)


def _takes(loads: Sequence[Load], running: float) -> Iterator[Text]:
    values: dict[str, Value] = {"run": _up(running)}
    hardest = highest(_need_w(loads, one) for one in loads)
    if hardest.missing:
        values["missing"] = joined(hardest.missing)
        yield Text(
            "All together run at {run}; the hardest start is not judged, because this is missing: "
            "{missing}.",
            values,
        )
        return
    values["start"] = _up(max(running, hardest.most))
    yield Text("All together run at {run}, and take {start} at the hardest start.", values)
