"""Ways to bring the power in, compared for one plan: what each can do, and what it lacks."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from siteplan.plan.around import PowerInlet, ThroughWallOutlet
from siteplan.plan.labels import label
from siteplan.plan.needs import Load
from siteplan.power.appliances import appliances
from siteplan.power.connection import compare
from siteplan.power.legs import Leg
from siteplan.power.loads import Load as Drawn
from siteplan.power.receptacles import LINE_TO_NEUTRAL_V
from siteplan.power.ways import Lengths, Machine, Part, PartKind, Refusal, Way, WayKind
from siteplan.rules.book import rule
from siteplan.rules.findings import Signal
from siteplan.rules.power.capacity import rated_w, starting_w
from siteplan.rules.power.currents import start_w
from siteplan.rules.power.distances import distances
from siteplan.rules.power.says import gauge_text, joined
from siteplan.rules.power.span import missing_of
from siteplan.scene import Scene
from siteplan.words import Quantity, Text, Value, length

WAY_TITLES: Mapping[WayKind, str] = {
    "single-cords": "Single cords",
    "locking-cord-box": "Locking cord to a box of outlets",
    "through-wall": "Through-wall outlet",
    "inlet-transfer": "Inlet with transfer equipment",
}
PART_LABELS: Mapping[PartKind, str] = {
    "cord": "cord",
    "inside-cord": "cord indoors",
    "distribution-box": "box of outlets with breakers",
    "through-wall-outlet": "through-wall outlet",
    "inlet-box": "inlet",
    "weather-cover": "rain cover",
    "transfer-switch-or-interlock": "transfer switch or interlock",
    "breaker": "breaker",
    "feeder-cable": "feeder cable",
    "ground-conductor": "ground conductor",
    "inlet-label": "sign at the inlet",
}
REFUSAL_TEXTS: Mapping[Refusal, Text] = {
    "needs-240-v": Text("Needs 240 V, which does not get there: {loads}."),
    "hardwired": Text("Has no plug: {loads}."),
    "no-outlet": Text("The generator has no outlet for: {loads}."),
    "over-outlet": Text("Draws more than an outlet allows: {loads}."),
    "no-outlet-left": Text("No outlet is left for: {loads}."),
}
_HIGHEST_W = 200_000.0


@dataclass(frozen=True, slots=True)
class Remark:
    """Something that speaks against a way, or must be known of it."""

    signal: Signal
    text: Text


@dataclass(frozen=True, slots=True)
class Compared:
    """One way for this plan.

    Attributes
    ----------
    way : Way
        Its figures; places in `serves` and `refuses` are places in the plan's loads.
    remarks : tuple of Remark
        Worst first.
    """

    way: Way
    remarks: tuple[Remark, ...]

    @property
    def title(self) -> Text:
        """What to call it."""
        return Text(WAY_TITLES[self.way.kind])


@dataclass(frozen=True, slots=True)
class Comparison:
    """All ways side by side, the lengths they rest on, and what was assumed or is missing."""

    ways: tuple[Compared, ...]
    lengths: Lengths | None
    assumed: tuple[Text, ...]


def compared(scene: Scene) -> Comparison:
    """Return the ways to bring the power in, for this plan's machine, loads and distances."""
    found = distances(scene)
    machine, gaps = _machine(scene)
    loads = scene.plan.loads
    if found.lengths is None or machine is None:
        return Comparison((), found.lengths, (*found.assumed, *gaps))
    taken = [drawn(one) for one in loads]
    if sum(one.run_w for one in taken) > _HIGHEST_W:
        return Comparison((), found.lengths, (Text("So many watts are not compared."),))
    ways = compare(machine, taken, found.lengths)
    return Comparison(
        tuple(Compared(way, tuple(_sorted(_remarks(way, loads)))) for way in ways),
        found.lengths,
        (*found.assumed, *gaps),
    )


def drawn(load: Load) -> Drawn:
    """Return a load as the formulas take it; unknown starting watts are left at running."""
    known = appliances().get(load.appliance)
    run_w = min(load.running_w, _HIGHEST_W)
    return Drawn(
        name=load.id,
        run_w=run_w,
        start_w=max(run_w, min(start_w(load).least, _HIGHEST_W)),
        volts=float(load.volts),
        electronic=known is not None and known.kind == "electronic",
        hardwired=known is not None and known.hardwired,
        leg=leg_of(load),
    )


def leg_of(load: Load) -> Leg | None:
    """Return the leg that a load is said to hang on; None for 240 V, which hangs on both."""
    if load.leg is None or load.volts > LINE_TO_NEUTRAL_V:
        return None
    return "A" if load.leg == "a" else "B"


def _machine(scene: Scene) -> tuple[Machine | None, tuple[Text, ...]]:
    """Return the machine as the formulas take it, and what is missing for it."""
    run, start, plan = rated_w(scene.plan), starting_w(scene.plan), scene.plan
    outlets = () if plan.machine is None else plan.machine.receptacles
    if not 1.0 <= run.most < math.inf or not outlets:
        gap = Text("The generator's running watts and outlets are needed to compare ways.")
        return None, (gap,)
    missing = missing_of((run, start))
    text = Text("Not entered, so the generator is reckoned at its best: {missing}.")
    gaps = (Text(text.template, {"missing": joined(missing)}),) if missing else ()
    run_w = min(run.most, _HIGHEST_W)
    start_limit_w = start.most if start.most < math.inf else run_w
    machine = Machine(
        run_w,
        min(2.0 * _HIGHEST_W, max(run_w, start_limit_w)),
        tuple(one.configuration for one in outlets),
        30.0 if plan.outage.temperature_c is None else plan.outage.temperature_c,
    )
    return machine, gaps


def _sorted(remarks: Iterator[Remark]) -> list[Remark]:
    order = ("DANGER", "WARNING", "CAUTION", "NOTICE")
    return sorted(remarks, key=lambda one: order.index(one.signal))


def _remarks(way: Way, loads: Sequence[Load]) -> Iterator[Remark]:
    if way.outlet is None:
        yield Remark("CAUTION", Text("The generator has no outlet for this."))
        return
    yield from _refused(way, loads)
    yield from _carried(way)
    yield from _lost(way)
    if way.kind == "single-cords":
        yield Remark("WARNING", Text("Cords through a door or window keep it ajar: exhaust comes "
                                     "in by the crack."))  # fmt: skip
    if way.electrician:
        yield Remark("NOTICE", Text("A licensed electrician does it, with a permit."))


def _refused(way: Way, loads: Sequence[Load]) -> Iterator[Remark]:
    for why in dict.fromkeys(reason for _, reason in way.refuses):
        names = [label(loads[place]) for place, reason in way.refuses if reason == why]
        yield Remark("CAUTION", Text(REFUSAL_TEXTS[why].template, {"loads": joined(names)}))


def _carried(way: Way) -> Iterator[Remark]:
    pairs = (
        (way.run_w, way.limit_w, Text("Running it takes {needed}; {limit} is there.")),
        (way.start_w, way.start_limit_w, Text("Its hardest start takes {needed}; {limit} is "
                                              "there.")),
        (way.leg_run_w, way.leg_limit_w, Text("Its heavier leg takes {needed}; {limit} is "
                                              "there.")),
        (way.leg_start_w, way.leg_start_limit_w, Text("The hardest start on its heavier leg takes "
                                                      "{needed}; {limit} is there.")),
    )  # fmt: skip
    said = set()
    for needed, limit, text in pairs:
        # Where everything hangs on one leg, its sums are those of the whole.
        if needed > limit * (1.0 + 1e-9) and (needed, limit) not in said:
            said.add((needed, limit))
            values: dict[str, Value] = {
                "needed": Quantity(needed, "power", "up"),
                "limit": Quantity(limit, "power", "down"),
            }
            yield Remark("CAUTION", Text(text.template, values))


def _lost(way: Way) -> Iterator[Remark]:
    if way.cord_missing:
        yield Remark("CAUTION", Text("No cord that is sold is long and thick enough."))
    limit = rule("chain-drop").figure("caution_share")
    if way.drop_total > limit * (1.0 + 1e-9):
        values: dict[str, Value] = {
            "lost": Quantity(100.0 * way.drop_total, "percent", "up"),
            "limit": Quantity(100.0 * limit, "percent", "down"),
        }
        yield Remark("CAUTION", Text("It loses {lost} of the voltage; {limit} is advised.", values))


def chosen_kind(scene: Scene) -> WayKind | None:
    """Return which of the ways the plan's cords take, or None without a cord."""
    if not scene.feeds:
        return None
    ends = [feed.end for feed in scene.feeds]
    if any(isinstance(one, PowerInlet) for one in ends):
        return "inlet-transfer"
    if any(isinstance(one, ThroughWallOutlet) for one in ends):
        return "through-wall"
    boxed = any(feed.cord.end_fitting != "connector" for feed in scene.feeds)
    return "locking-cord-box" if boxed else "single-cords"


def part_text(part: Part) -> Text:
    """Return a part as it is bought: how many, of what size, how long."""
    values: dict[str, Value] = {"count": part.count, "part": Text(PART_LABELS[part.kind])}
    text = Text("{count} × {part}", values)
    if part.gauge_awg is not None:
        text = Text("{part}, {gauge}", {"part": text, "gauge": gauge_text(part.gauge_awg)})
    if part.length_m is not None:
        text = Text("{part}, {long}", {"part": text, "long": length(part.length_m, "up")})
    if part.config is not None:
        text = Text("{part}, {config}", {"part": text, "config": part.config})
    return text
