"""The machine's outlets: what is plugged into them, and what they carry."""

import math
from collections.abc import Iterator, Sequence

from siteplan.plan.around import PowerInlet, ThroughWallOutlet
from siteplan.plan.labels import label, outlet_label
from siteplan.plan.needs import Load
from siteplan.power.receptacles import LINE_TO_NEUTRAL_V, Receptacle, fits, max_plugged_a
from siteplan.rules.book import Rule, rule
from siteplan.rules.findings import Finding, Met, Outcome, Unjudged
from siteplan.rules.power.currents import loading, outlet_a
from siteplan.rules.power.says import Case, Says, each_cord, gathered, judged, of_cord, warning, way
from siteplan.rules.power.sockets import configuration, kind_of
from siteplan.rules.power.span import Span, exact, grows
from siteplan.scene import Scene, Standing
from siteplan.scene.feeds import Feed
from siteplan.words import Text, Value

_NO_OUTLET = Text("which outlet of the generator {cord} is plugged into")
_NO_USE = Text("no cord is plugged into an outlet that is known")
_FEWER = Text("Take loads off it, or spread them over more outlets.")
_CARRIES = Says(
    Text("Outlet {subject} would carry {measured}; it gives {limit}."),
    Text("Outlet {subject} carries {measured} of the {limit} it gives."),
    _FEWER,
    "current",
)
_CARRIES_LONG = Says(
    Text("Counting loads of three hours or more at 125 %, outlet {subject} would carry "
         "{measured}; it gives {limit}."),
    Text("Counting loads of three hours or more at 125 %, outlet {subject} carries {measured} of "
         "the {limit} it gives."),
    _FEWER,
    "current",
)  # fmt: skip
_PLUGGED = Says(
    Text("{subject} draws {measured} by a plug; its outlet allows one load of {limit}."),
    Text("{subject} draws {measured} by a plug; its outlet allows one load of {limit}."),
    Text("Plug it into an outlet of a higher rating, or leave it off."),
    "current",
)


def plug_match(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Judge whether the inlet's plug is the one that enters the machine's outlet."""
    book = rule("plug-match")

    def judge(feed: Feed) -> Iterator[Outcome]:
        name, kind = (feed.cord.id,), kind_of(feed)
        if feed.outlet is None or kind is None:
            yield Unjudged(book.id, name, of_cord(_NO_OUTLET, feed))
        elif not kind.ground:
            what = Text("The outlet {outlet} of the generator has no equipment ground.",
                        {"outlet": feed.outlet.configuration})  # fmt: skip
            do = Text("Use no outlet of this old kind on a generator.")
            yield Finding(book.id, "WARNING", name, what, do, book.sources, evidence=way(feed))
        elif isinstance(feed.end, PowerInlet | ThroughWallOutlet):
            yield _at_inlet(book, feed, kind, feed.end)
        else:
            well = of_cord(Text("{cord} ends at no inlet that its plug would have to match."), feed)
            yield Met(book.id, name, well, book.sources)

    yield from each_cord(scene, book, judge)


def _at_inlet(
    book: Rule, feed: Feed, kind: Receptacle, inlet: PowerInlet | ThroughWallOutlet
) -> Outcome:
    names = (feed.cord.id, inlet.id)
    plug = configuration(inlet.receptacle)
    values: dict[str, Value] = {
        "outlet": kind.config,
        "inlet": label(inlet),
        "plug": inlet.receptacle,
    }
    if plug is None:
        missing = Text("what inlet '{plug}' is", values)
        return Unjudged(book.id, names, missing)
    if fits(plug.config, kind.config):
        well = Text("The plug of {inlet} ({plug}) enters the outlet {outlet}.", values)
        return Met(book.id, names, well, book.sources)
    what = Text("The outlet {outlet} of the generator does not match {inlet} ({plug}): the cord "
                "would need an adapter.", values)  # fmt: skip
    do = Text("Use outlet, cord and inlet of one configuration; an adapter drops a wire or lets "
              "through more current than the cord carries.")  # fmt: skip
    return Finding(book.id, "WARNING", names, what, do, book.sources, evidence=way(feed))


def voltage_path(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a 240 V load on a path with one leg, and a 120 V load on one without neutral."""
    book = rule("voltage-path")
    loads = [(feed, load) for feed in scene.feeds for load in feed.loads]
    if not loads:
        yield Unjudged(book.id, (), Text("no load is entered on a cord or inlet"), not_drawn=True)
        return
    machine = scene.plan.machine
    single = machine is not None and machine.voltage == "120"
    yield from gathered(_voltage(book, feed, load, single=single) for feed, load in loads)


def _voltage(book: Rule, feed: Feed, load: Load, *, single: bool) -> Outcome:
    """Judge one load's way; `single` says that the machine itself gives 120 V only."""
    names = (load.id, feed.cord.id)
    values = {"load": label(load), "cord": label(feed.cord)}
    both_legs = load.volts > LINE_TO_NEUTRAL_V
    if both_legs and (single or _one_leg(feed)):
        what = Text("{load} needs 240 V; {cord} brings 120 V.", values)
        do = Text("Feed it by an outlet with both legs and an inlet of the same kind, or leave it "
                  "off: half its voltage burns a motor out.")  # fmt: skip
        return Finding(book.id, "WARNING", names, what, do, book.sources, evidence=way(feed))
    kind = kind_of(feed)
    if kind is None:
        return Unjudged(book.id, names, of_cord(_NO_OUTLET, feed))
    if not both_legs and not kind.supplies_120_v:
        what = Text("{load} needs 120 V; the outlet of {cord} has no neutral.", values)
        do = Text("Feed it by an outlet with a neutral.")
        return Finding(book.id, "WARNING", names, what, do, book.sources, evidence=way(feed))
    well = Text("{load} gets its voltage by {cord}.", values)
    return Met(book.id, names, well, book.sources)


def shared_neutral(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Warn of one leg brought into a panel of two: neutrals shared by two circuits add up."""
    book = rule("shared-neutral")
    machine = scene.plan.machine
    single = machine is not None and machine.voltage == "120"
    fed = [(feed, feed.inlet) for feed in scene.feeds if feed.inlet is not None]
    if not fed and not any(isinstance(one, PowerInlet) for one in scene.plan.fixtures):
        yield Unjudged(book.id, (), Text("no power inlet is drawn"), not_drawn=True)
        return
    if not fed:
        yield Unjudged(book.id, (), Text("no cord is entered to a power inlet"))
        return
    yield from gathered(_neutrals(book, feed, inlet, single=single) for feed, inlet in fed)


def _neutrals(book: Rule, feed: Feed, inlet: PowerInlet, *, single: bool) -> Outcome:
    names, values = (feed.cord.id, inlet.id), {"inlet": label(inlet)}
    if single or _one_leg(feed):
        what = Text(
            "One leg of 120 V comes in by {inlet}: where two circuits of the panel share a "
            "neutral, it carries what both draw, and no breaker sees that.",
            values,
        )
        do = Text(
            "Have a licensed electrician feed only circuits with a neutral of their own, and none "
            "of 240 V, by transfer equipment made for it."
        )
        return Finding(book.id, "WARNING", names, what, do, book.sources, evidence=way(feed))
    if kind_of(feed) is None or configuration(inlet.receptacle) is None:
        missing = Text("whether one leg or both come in by {inlet}", values)
        return Unjudged(book.id, names, missing)
    well = Text("Both legs come in by {inlet}: a neutral carries their difference only.", values)
    return Met(book.id, names, well, book.sources)


def _one_leg(feed: Feed) -> bool:
    """Whether a path has one leg for sure: by its outlet, its inlet or its box."""
    plug = None
    if isinstance(feed.end, PowerInlet | ThroughWallOutlet):
        plug = configuration(feed.end.receptacle)
    kinds = [one for one in (kind_of(feed), plug) if one is not None]
    boxed = feed.cord.end_fitting != "connector"
    return boxed or any(not one.supplies_240_v for one in kinds)


def outlet_load(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Judge what each outlet of the machine carries by its rating and breaker."""
    yield from _each_outlet(scene, rule("outlet-load"), 1.0, _CARRIES)


def continuous_load(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Judge what each outlet carries, loads of three hours or more counted at 125 %."""
    book = rule("continuous-load")
    yield from _each_outlet(scene, book, 1.0 / book.figure("limit_share"), _CARRIES_LONG)


def _each_outlet(scene: Scene, book: Rule, factor: float, says: Says) -> Iterator[Outcome]:
    """Judge the cords of each outlet together."""
    outlets = {feed.outlet.id: feed.outlet for feed in scene.feeds if feed.outlet and kind_of(feed)}
    if not outlets:
        yield Unjudged(book.id, (), _NO_USE, not_drawn=not scene.feeds)
        return
    outcomes: list[Outcome] = []
    for outlet in outlets.values():
        together = [feed for feed in scene.feeds if feed.outlet is outlet]
        names = tuple(feed.cord.id for feed in together)
        case = Case(book, outlet_label(outlet), names, way(together[0]))
        limit = warning(outlet_a(together[0]))
        outcomes += judged(case, carried_a(together, factor), limit, says)
    yield from gathered(outcomes)


def carried_a(together: Sequence[Feed], factor: float) -> Span:
    """Return the current that one outlet's cords draw in its heavier leg [A].

    Loads that run three hours or more count `factor` times; those of which it is not known
    count so at most.
    """
    loads = [load for feed in together for load in feed.loads]
    least = [one.running_w * (factor if one.continuous else 1.0) for one in loads]
    most = [one.running_w * (1.0 if one.continuous is False else factor) for one in loads]
    low = loading(loads, least, kind_of(together[0])).wire_a
    high = loading(loads, most, kind_of(together[0])).wire_a
    missing = [
        Text("whether {load} runs three hours or more", {"load": label(one)})
        for one in loads
        if one.continuous is None and factor > 1.0
    ]
    bare = [of_cord(Text("what {cord} feeds"), feed) for feed in together if not feed.loads]
    most_a = math.inf if bare else high.most
    return Span(low.least, most_a, (*bare, *missing, *high.missing))


def plugged_load(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Judge each load with a plug by the most that an outlet allows to one."""
    book = rule("plugged-load")
    plugged = [
        (feed, load)
        for feed in scene.feeds
        if feed.inlet is None and kind_of(feed) is not None
        for load in feed.loads
    ]
    if not plugged:
        missing = Text("no load is entered on a cord to an outlet that is known")
        yield Unjudged(book.id, (), missing, not_drawn=True)
        return
    yield from gathered(
        outcome
        for feed, load in plugged
        for outcome in judged(
            Case(book, label(load), (load.id, feed.cord.id), way(feed)),
            exact(load.running_w / load.volts),
            warning(grows(max_plugged_a, socket_a(feed))),
            _PLUGGED,
        )
    )


def socket_a(feed: Feed) -> Span:
    """Return the rating of the outlet that a load's own plug enters [A].

    Behind a box or a through-wall outlet that is a household outlet, whatever feeds it.
    """
    outlet = outlet_a(feed)
    rating_a = rule("plugged-load").figure("household_a")
    if isinstance(feed.end, ThroughWallOutlet):
        rating_a = feed.end.rating_a
    elif feed.cord.end_fitting == "connector":
        return Span(max(outlet.least, 1.0), max(outlet.most, 1.0), outlet.missing)
    most = min(outlet.most, rating_a)
    return Span(max(1.0, min(outlet.least, rating_a)), max(1.0, most), outlet.missing)


def box_breakers(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a box of household outlets without breakers behind a larger outlet."""
    book = rule("box-breakers")
    limit_a = book.figure("household_a")
    says = Says(
        Text("The outlet box on {subject} has no breakers of its own, and up to {measured} reach "
             "its outlets; {limit} is what they bear."),
        Text("At most {measured} reach the outlets of the box on {subject}, which bear {limit}."),
        Text("Use a box with a breaker of 20 A or less for its outlets."),
        "current",
    )  # fmt: skip

    def judge(feed: Feed) -> Iterator[Outcome]:
        name = (feed.cord.id,)
        if feed.cord.end_fitting == "outlet-box":
            case = Case(book, label(feed.cord), name, way(feed))
            yield from judged(case, outlet_a(feed), warning(exact(limit_a)), says)
        else:
            well = Text("{cord} ends in no outlet box without breakers.")
            yield Met(book.id, name, of_cord(well, feed), book.sources)

    yield from each_cord(scene, book, judge)
