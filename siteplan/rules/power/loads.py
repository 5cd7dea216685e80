"""Whether the machine carries the loads: running, starting, on each leg, and together."""

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache

from siteplan.plan.labels import label
from siteplan.plan.needs import Load
from siteplan.power.loads import Load as Drawn
from siteplan.power.loads import clashes, needed_start_w, running_w
from siteplan.power.receptacles import LINE_TO_NEUTRAL_V
from siteplan.rules.book import rule
from siteplan.rules.findings import Finding, Met, Outcome, Unjudged
from siteplan.rules.power.capacity import rated_w, starting_w
from siteplan.rules.power.currents import heavier_leg_a, start_w
from siteplan.rules.power.says import Case, Says, gathered, joined, judged, rungs, warning
from siteplan.rules.power.span import Span, exact, grows, highest, missing_of
from siteplan.scene import Scene
from siteplan.words import Text

_NO_LOADS = Text("no load is entered")
_NO_MACHINE = Text("no generator is entered")
_ALL = Text("All loads together")
_HIGHEST_W = 200_000.0
_LARGEST_GROUP, _MANY = 3, 24
_RUN = Says(
    Text("All loads together draw {measured}; the generator should carry {limit}, reckoned for "
         "altitude, heat and fuel."),
    Text("All loads together draw {measured}; the generator carries {limit} for hours, reckoned "
         "for altitude, heat and fuel."),
    Text("Run fewer loads at a time, or use a larger generator."),
    "power",
)  # fmt: skip
_START = Says(
    Text("With everything on, the hardest start needs {measured}; the generator gives {limit} "
         "for a start."),
    Text("With everything on, the hardest start needs {measured}; the generator gives {limit} "
         "for a start."),
    Text("Start the hardest motor first and alone, or run fewer loads."),
    "power",
)  # fmt: skip
_LEG = Says(
    Text("The heavier leg carries {measured}; half the generator's power is {limit}."),
    Text("The heavier leg carries {measured}; half the generator's power is {limit}."),
    Text("Move loads to the other leg, or run fewer."),
    "power",
)
_LEG_START = Says(
    Text("On the heavier leg the hardest start needs {measured}; half of what the generator gives "
         "for a start is {limit}."),
    Text("On the heavier leg the hardest start needs {measured}; half of what the generator gives "
         "for a start is {limit}."),
    Text("Move a motor to the other leg, or start it while less is on."),
    "power",
)  # fmt: skip
_BALANCE = Says(
    Text("The legs differ by {measured} of what one gives; {limit} is advised."),
    Text("The legs differ by {measured} of what one gives; up to {limit} is well."),
    Text("Spread the loads evenly over both legs."),
    "share",
)


def running_load(scene: Scene) -> Iterator[Outcome]:
    """Judge all loads together by what the machine carries for hours."""
    book = rule("running-load")
    loads = scene.plan.loads
    if not loads:
        yield Unjudged(book.id, (), _NO_LOADS, not_drawn=True)
        return
    rated = rated_w(scene.plan)
    limits = [
        (signal, grows(lambda watts, part: watts * part, rated, exact(figure)))
        for signal, figure in rungs(book, "share")
    ]
    drawn = exact(max(sum(one.running_w for one in spell) for spell in spells(loads)))
    yield from judged(Case(book, _ALL, _ids(loads)), drawn, limits, _RUN)


def starting_load(scene: Scene) -> Iterator[Outcome]:
    """Judge the hardest start, everything else running, by what the machine gives for one."""
    book = rule("starting-load")
    loads = scene.plan.loads
    if not loads:
        yield Unjudged(book.id, (), _NO_LOADS, not_drawn=True)
        return
    case, limit = Case(book, _ALL, _ids(loads)), warning(starting_w(scene.plan))
    yield from judged(case, highest(map(hardest_start_w, spells(loads))), limit, _START)


def spells(loads: Sequence[Load]) -> tuple[tuple[Load, ...], ...]:
    """Return the loads of the day and those of the night; all in one where none is of either."""
    by_time = {
        time: tuple(one for one in loads if one.when in {"always", time})
        for time in ("day", "night")
    }
    return tuple(dict.fromkeys(by_time.values()))


def hardest_start_w(loads: Sequence[Load]) -> Span:
    """Return the power needed when all run and the hardest of them starts last [W]."""
    run_w = sum(one.running_w for one in loads)
    extra = [grows(lambda watts, own=one: watts - own.running_w, start_w(one)) for one in loads]
    least = max((one.least for one in extra), default=0.0)
    most = max((one.most for one in extra), default=0.0)
    return Span(run_w + least, run_w + most, missing_of(one for one in extra if one.missing))


def leg_load(scene: Scene) -> Iterator[Outcome]:
    """Judge the heavier leg by half of what the machine gives."""
    book = rule("leg-load")
    gap = _no_legs(scene)
    if gap is not None:
        yield Unjudged(book.id, (), gap, not_drawn=True)
        return
    loads = scene.plan.loads
    heavier = highest(map(_heavier_w, spells(loads)))
    half = grows(lambda watts: watts / 2.0, rated_w(scene.plan))
    yield from judged(Case(book, _ALL, _ids(loads)), heavier, warning(half), _LEG)


def leg_start(scene: Scene) -> Iterator[Outcome]:
    """Judge the hardest start on the heavier leg by half of what the machine gives for one."""
    book = rule("leg-start")
    gap = _no_legs(scene)
    if gap is not None:
        yield Unjudged(book.id, (), gap, not_drawn=True)
        return
    loads = scene.plan.loads
    hardest = highest(leg_start_w(spell, one) for spell in spells(loads) for one in spell)
    half = grows(lambda watts: watts / 2.0, starting_w(scene.plan))
    yield from judged(Case(book, _ALL, _ids(loads)), hardest, warning(half), _LEG_START)


def leg_start_w(loads: Sequence[Load], starting: Load) -> Span:
    """Return the power of the heavier leg while one load starts, the others running [W]."""
    demand = start_w(starting)
    watts = [demand.least if one is starting else one.running_w for one in loads]
    amps = heavier_leg_a(loads, watts)
    known = grows(lambda value: value * LINE_TO_NEUTRAL_V, amps)
    if not demand.missing:
        return known
    return Span(known.least, math.inf, (*known.missing, *demand.missing))


def leg_balance(scene: Scene) -> Iterator[Outcome]:
    """Judge how evenly the legs are loaded."""
    book = rule("leg-balance")
    gap = _no_legs(scene)
    if gap is not None:
        yield Unjudged(book.id, (), gap, not_drawn=True)
        return
    rated, loads = rated_w(scene.plan), scene.plan.loads
    uneven = highest(_uneven(spell, rated) for spell in spells(loads))
    limits = [(signal, exact(figure)) for signal, figure in rungs(book, "share")]
    yield from judged(Case(book, _ALL, _ids(loads)), uneven, limits, _BALANCE)


def _uneven(loads: Sequence[Load], rated: Span) -> Span:
    """Return the difference of the legs over what one leg gives."""
    heavier = _heavier_w(loads)
    whole_w = sum(one.running_w for one in loads)

    def share(watts: float, rated_watts: float) -> float:
        apart = 2.0 * watts - whole_w
        return 2.0 * apart / rated_watts if rated_watts else math.inf

    missing = missing_of((heavier, rated))
    return Span(share(heavier.least, rated.most), share(heavier.most, rated.least), missing)


def _no_legs(scene: Scene) -> Text | None:
    """Return why there are no two legs to judge, or None."""
    if not scene.plan.loads:
        return _NO_LOADS
    machine = scene.plan.machine
    if machine is None:
        return _NO_MACHINE
    return Text("the generator gives 120 V on one leg") if machine.voltage == "120" else None


def _heavier_w(loads: Sequence[Load]) -> Span:
    """Return the power of the heavier leg [W]."""
    amps = heavier_leg_a(loads, [one.running_w for one in loads])
    return grows(lambda value: value * LINE_TO_NEUTRAL_V, amps)


def loads_together(scene: Scene) -> Iterator[Outcome]:
    """Tell which loads cannot run together."""
    book = rule("loads-together")
    loads = scene.plan.loads
    run, start = rated_w(scene.plan), starting_w(scene.plan)
    if not loads:
        yield Unjudged(book.id, (), _NO_LOADS, not_drawn=True)
        return
    found = [
        [spell[place] for place in group]
        for spell in spells(loads)
        for group in clash_groups(spell, run.most, start.most)
    ]
    if found:
        yield _together(found)
    elif gaps := missing_of([run, start, *map(hardest_start_w, spells(loads))]):
        yield Unjudged(book.id, _ids(loads), joined(gaps))
    else:
        well = Text("Any {count} of the loads can run together.",
                    {"count": min(len(loads), _LARGEST_GROUP)})  # fmt: skip
        yield Met(book.id, _ids(loads), well, book.sources)


def clash_groups(
    loads: Sequence[Load], run_limit_w: float, start_limit_w: float
) -> tuple[tuple[int, ...], ...]:
    """Return the places of the loads of each smallest group that cannot run together."""
    drawn = tuple(_drawn(one) for one in loads)
    start = min(start_limit_w, 2.0 * _HIGHEST_W)
    if running_w(drawn) <= run_limit_w and needed_start_w(drawn) <= start:
        return ()
    return _clashes(drawn, min(run_limit_w, _HIGHEST_W), min(start, _HIGHEST_W))


@lru_cache(maxsize=8)
def _clashes(
    drawn: tuple[Drawn, ...], run_limit_w: float, start_limit_w: float
) -> tuple[tuple[int, ...], ...]:
    # Threes of many loads take long to look through and longer to read.
    largest = _LARGEST_GROUP if len(drawn) <= _MANY else 2
    return clashes(drawn, run_limit_w, start_limit_w, largest)


def _drawn(load: Load) -> Drawn:
    run_w = min(load.running_w, _HIGHEST_W)
    return Drawn(load.id, run_w, max(run_w, min(start_w(load).least, _HIGHEST_W)), load.volts)


def _together(groups: Sequence[Sequence[Load]]) -> Finding:
    book = rule("loads-together")
    sets = list(dict.fromkeys(tuple(one.id for one in group) for group in groups))
    labels = {one.id: label(one) for group in groups for one in group}
    named = [_plus([labels[load_id] for load_id in one]) for one in sets]
    what = Text("More than the generator gives, running or starting: {groups}.",
                {"groups": joined(named)})  # fmt: skip
    do = Text("Of each of these sets, keep one load off while the others run or start.")
    return Finding(book.id, "CAUTION", tuple(labels), what, do, book.sources)


def _plus(names: Sequence[Text]) -> Text:
    whole = names[0]
    for name in names[1:]:
        whole = Text("{first} + {second}", {"first": whole, "second": name})
    return whole


def load_fed(scene: Scene) -> Iterator[Outcome]:
    """Tell which loads nothing feeds."""
    book = rule("load-fed")
    loads = scene.plan.loads
    if not loads:
        yield Unjudged(book.id, (), _NO_LOADS, not_drawn=True)
        return
    fed = {load.id for feed in scene.feeds for load in feed.loads}
    yield from gathered(_fed(load, fed=load.id in fed) for load in loads)


def _fed(load: Load, *, fed: bool) -> Outcome:
    book, values = rule("load-fed"), {"load": label(load)}
    if fed:
        well = Text("Every load entered hangs on a cord or behind an inlet.")
        return Met(book.id, (load.id,), well, book.sources)
    if load.via is None:
        missing = Text("which cord or inlet feeds {load}", values)
        return Unjudged(book.id, (load.id,), missing)
    what = Text("{load} is to be fed by something that no cord of this placement reaches.", values)
    do = Text("Run a cord there, or feed the load by another way.")
    return Finding(book.id, "CAUTION", (load.id,), what, do, book.sources)


def medical_load(scene: Scene) -> Iterator[Outcome]:
    """Ask for a second back-up for whatever a life may hang on."""
    book = rule("medical-load")
    loads = scene.plan.loads
    medical = [one for one in loads if one.medical]
    if not loads:
        yield Unjudged(book.id, (), _NO_LOADS, not_drawn=True)
    elif not medical:
        well = Text("No load entered is a medical device.")
        yield Met(book.id, (), well, book.sources, checked=len(loads))
    for load in medical:
        what = Text("{load} must not stop when the generator does: to refuel, or for good.",
                    {"load": label(load)})  # fmt: skip
        do = Text("Have a second back-up at hand, such as batteries or oxygen cylinders, take the "
                  "watts from its label, and tell the utility.")  # fmt: skip
        yield Finding(book.id, "CAUTION", (load.id,), what, do, book.sources)


def _ids(loads: Sequence[Load]) -> tuple[str, ...]:
    return tuple(one.id for one in loads)
