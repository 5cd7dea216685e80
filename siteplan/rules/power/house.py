"""Power into the house wiring: transfer equipment, neutral, inlet, outlets, who does the work."""

from collections.abc import Callable, Iterator

from siteplan.plan.around import Fixture, PowerInlet, ThroughWallOutlet
from siteplan.plan.labels import label, outlet_label
from siteplan.plan.machine import Machine, Receptacle
from siteplan.plan.needs import Transfer
from siteplan.power.receptacles import (
    generator_needs_gfci,
    neutral_match,
)
from siteplan.power.wiring import BUILDING_WIRE_A, building_wire_a
from siteplan.rules.book import Rule, rule
from siteplan.rules.findings import Evidence, Finding, Met, Outcome, Unjudged
from siteplan.rules.power.says import (
    Case,
    Question,
    answered,
    gathered,
    gauge_text,
    mark,
    three,
)
from siteplan.rules.power.sockets import configuration
from siteplan.scene import Scene
from siteplan.scene.around import fixture_xy
from siteplan.words import Quantity, Text, Value

_NO_INLET = Text("no power inlet is drawn")
_NO_MACHINE = Text("no generator is entered")
_HOUSEHOLD = frozenset({"5-15", "5-20"})
_ELECTRICIAN = Text(
    "Do not connect it. Have a licensed electrician fit a transfer switch or an interlock."
)


def transfer_equipment(scene: Scene) -> Iterator[Outcome]:
    """Ask for transfer equipment wherever an inlet leads into the house wiring."""
    book = rule("transfer-equipment")
    kind = None if scene.plan.transfer is None else scene.plan.transfer.kind

    def judge(inlet: PowerInlet) -> Outcome:
        values = {"subject": label(inlet)}
        if kind is None:
            missing = Text("what keeps the house apart from the utility while {subject} feeds it",
                           values)  # fmt: skip
            return Unjudged(book.id, (inlet.id,), missing)
        if kind != "none":
            well = Text("Transfer equipment keeps the house apart from the utility while "
                        "{subject} feeds it.", values)  # fmt: skip
            return Met(book.id, (inlet.id,), well, book.sources)
        what = Text("{subject} leads into the house wiring with no transfer equipment: it would "
                    "feed the utility's lines.", values)  # fmt: skip
        evidence = _at(scene, inlet)
        return Finding(
            book.id, "DANGER", (inlet.id,), what, _ELECTRICIAN, book.sources, evidence=evidence
        )

    yield from _each_inlet(scene, book, judge)


def neutral_bond(scene: Scene) -> Iterator[Outcome]:
    """Judge whether the machine's neutral suits the transfer equipment."""
    book = rule("neutral-bond")
    machine, transfer = scene.plan.machine, scene.plan.transfer
    if not _inlets(scene):
        yield Unjudged(book.id, (), _NO_INLET, not_drawn=True)
        return
    switched = _neutral_switched(transfer)
    neutral = None if machine is None else machine.neutral
    if neutral is None:
        yield Unjudged(book.id, (), Text("whether the generator's neutral is bonded to its frame"))
    if switched is None:
        yield Unjudged(book.id, (), Text("whether the transfer equipment switches the neutral"))
    if neutral is None or switched is None:
        return
    match = neutral_match(neutral, neutral_switched=switched)
    if match == "match":
        what = Text("The generator's neutral suits the transfer equipment.")
        yield Met(book.id, (), what, book.sources)
        return
    what, do = _BONDS_TEXTS[match]
    yield Finding(book.id, "WARNING", (), what, do, book.sources)


_BONDS_TEXTS = {
    "second-bond": (
        Text("The neutral would be bonded both at the generator and in the house: current flows "
             "in the ground wire, and ground-fault protection trips."),
        Text("Have the transfer equipment switch the neutral, or use a generator with a floating "
             "neutral. Do not change the generator's own bond."),
    ),
    "no-bond": (
        Text("The neutral would be bonded nowhere while the generator feeds the house: a fault to "
             "a metal case would not trip a breaker."),
        Text("Use a generator with a bonded neutral, or transfer equipment that leaves the "
             "neutral whole."),
    ),
}  # fmt: skip


def _neutral_switched(transfer: Transfer | None) -> bool | None:
    # An interlock holds two breakers apart and never opens the neutral.
    if transfer is None:
        return None
    if transfer.kind == "interlock":
        return False
    if transfer.kind is None and transfer.switches_neutral:
        # It may be an interlock all the same, and then it does not.
        return None
    return transfer.switches_neutral


def machine_gfci(scene: Scene) -> Iterator[Outcome]:
    """Judge whether the machine's household outlets have ground-fault protection."""
    book = rule("machine-gfci")
    machine = scene.plan.machine
    if machine is None:
        yield Unjudged(book.id, (), _NO_MACHINE)
        return
    outlets = [
        one
        for one in machine.receptacles
        if (kind := configuration(one.configuration)) and kind.config in _HOUSEHOLD
    ]
    needed = _gfci_needed(machine)
    if not outlets:
        yield Unjudged(book.id, (), Text("no 120 V outlet of the generator is entered"))
    elif needed is None:
        missing = Text("running watts, neutral and interlock of the generator, which tell whether "
                       "its 120 V outlets must have ground-fault protection")  # fmt: skip
        yield Unjudged(book.id, (), missing)
    elif not needed:
        well = Text("This generator's 120 V outlets need no ground-fault protection of their own.")
        yield Met(book.id, (), well, book.sources)
    else:
        yield from gathered(_protected(book, one) for one in outlets)


def _gfci_needed(machine: Machine) -> bool | None:
    kinds = [configuration(one.configuration) for one in machine.receptacles]
    both = any(kind is not None and kind.volts == "125/250" for kind in kinds)
    if machine.rated_w is None or any(kind is None for kind in kinds):
        return None
    stated = machine.receptacles_interlocked
    answers = {
        generator_needs_gfci(
            max(1.0, machine.rated_w), machine.neutral, has_125_250_v=both, interlocked=interlocked
        )
        for interlocked in ((True, False) if stated is None else (stated,))
    }
    return answers.pop() if len(answers) == 1 else None


def _protected(book: Rule, outlet: Receptacle) -> Outcome:
    question = Question(
        Text("whether outlet {subject} of the generator has ground-fault protection"),
        Text("Outlet {subject} of the generator has ground-fault protection."),
        Text("Outlet {subject} of the generator has no ground-fault protection: a wet cord can "
             "kill before a breaker trips."),
        Text("Plug a listed cord set with ground-fault protection in there, nearest to the "
             "generator, or use another outlet."),
    )  # fmt: skip
    return answered(Case(book, outlet_label(outlet), (outlet.id,)), outlet.gfci, question)


def wall_outlet_gfci(scene: Scene) -> Iterator[Outcome]:
    """Ask for ground-fault protection at a through-wall outlet."""
    book = rule("wall-outlet-gfci")
    outlets = [one for one in scene.plan.fixtures if isinstance(one, ThroughWallOutlet)]
    if not outlets:
        yield Unjudged(book.id, (), Text("no through-wall outlet is drawn"), not_drawn=True)
        return
    question = Question(
        Text("whether {subject} has ground-fault protection"),
        Text("{subject} has ground-fault protection."),
        Text("{subject} has no ground-fault protection."),
        Text("Have outlets with ground-fault protection fitted there."),
    )
    yield from gathered(
        answered(Case(book, label(one), (one.id,), _at(scene, one)), one.gfci, question)
        for one in outlets
    )


def inlet_disconnect(scene: Scene) -> Iterator[Outcome]:
    """Ask for an interlocked disconnect at a large inlet."""
    book = rule("inlet-disconnect")
    limit_a = book.figure("from_a")
    question = Question(
        Text("whether {subject} has an interlocked disconnect"),
        Text("{subject} has an interlocked disconnect."),
        Text("{subject} is of 100 A or more and has no interlocked disconnect: its plug can be "
             "pulled under load."),
        Text("Have a licensed electrician fit an inlet with an interlocked disconnect."),
    )  # fmt: skip

    def judge(inlet: PowerInlet) -> Outcome:
        if inlet.rating_a < limit_a:
            values: dict[str, Value] = {
                "subject": label(inlet),
                "limit": Quantity(limit_a, "current", "down"),
            }
            well = Text("{subject} is rated under {limit}.", values)
            return Met(book.id, (inlet.id,), well, book.sources)
        return _asked(scene, book, inlet, inlet.interlocked_disconnect, question)

    yield from _each_inlet(scene, book, judge)


def inlet_enclosure(scene: Scene) -> Iterator[Outcome]:
    """Ask for an inlet enclosure that keeps rain out."""
    book = rule("inlet-enclosure")
    question = Question(
        Text("whether the enclosure of {subject} is rated for rain"),
        Text("The enclosure of {subject} is rated for rain."),
        Text("The enclosure of {subject} is not rated for rain."),
        Text("Have one fitted of type 3R, or 4X by the sea, and keep its cover shut."),
    )
    yield from _each_inlet(
        scene,
        book,
        lambda one: _asked(scene, book, one, one.outdoor_enclosure, question),
    )


def inlet_sign(scene: Scene) -> Iterator[Outcome]:
    """Ask for the sign that tells which neutral the inlet is made for."""
    book = rule("inlet-sign")
    question = Question(
        Text("whether a sign at {subject} tells if the generator's neutral is to be bonded or "
             "floating"),
        Text("A sign at {subject} tells which neutral the generator is to have."),
        Text("No sign at {subject} tells if the generator's neutral is to be bonded or floating."),
        Text("Put up the sign, so that nobody connects the wrong generator."),
        "NOTICE",
    )  # fmt: skip
    yield from _each_inlet(
        scene, book, lambda one: _asked(scene, book, one, one.neutral_sign, question)
    )


def feeder_size(scene: Scene) -> Iterator[Outcome]:
    """Judge the feeder from inlet to panel by the inlet's rating."""
    book = rule("feeder-size")
    gauge = None if scene.plan.transfer is None else scene.plan.transfer.feeder_awg

    def judge(inlet: PowerInlet) -> Outcome:
        names = (inlet.id,)
        if gauge is None:
            missing = Text("the gauge of the feeder from {subject} to the panel",
                           {"subject": label(inlet)})  # fmt: skip
            return Unjudged(book.id, names, missing)
        thickest, rows = min(BUILDING_WIRE_A), [row for row in BUILDING_WIRE_A if row >= gauge]
        carries = building_wire_a(min(rows)) if rows else 0.0
        if gauge < thickest and _gives_a(inlet) > carries:
            missing = Text("what a feeder of {gauge} carries", {"gauge": gauge_text(gauge)})
            return Unjudged(book.id, names, missing)
        return _feeder(book, inlet, gauge, carries)

    yield from _each_inlet(scene, book, judge)


def _gives_a(inlet: PowerInlet) -> float:
    """Return what an inlet lets through [A]: its rating, or its pins' if they bear more."""
    kind = configuration(inlet.receptacle)
    return max(inlet.rating_a, 0.0 if kind is None else kind.amps)


def _feeder(book: Rule, inlet: PowerInlet, gauge: int, carries: float) -> Outcome:
    well = Text("The feeder of {gauge} carries {carries}; {subject} gives {rating}.")
    what = Text("The feeder of {gauge} carries {carries}, but {subject} gives {rating}.")
    do = Text("Have a licensed electrician lay a thicker feeder: this one can burn in the wall.")
    return _borne(book, inlet, carries, (well, what, do), gauge=gauge_text(gauge))


def transfer_size(scene: Scene) -> Iterator[Outcome]:
    """Judge the rating of the transfer equipment by what the inlet lets through."""
    book = rule("transfer-size")
    rating_a = None if scene.plan.transfer is None else scene.plan.transfer.rating_a

    def judge(inlet: PowerInlet) -> Outcome:
        if rating_a is None:
            missing = Text("the rating of the transfer equipment behind {subject}",
                           {"subject": label(inlet)})  # fmt: skip
            return Unjudged(book.id, (inlet.id,), missing)
        well = Text("The transfer equipment is rated {carries}; {subject} gives {rating}.")
        what = Text("The transfer equipment is rated {carries}, but {subject} gives {rating}.")
        do = Text("Have a licensed electrician fit transfer equipment of a higher rating, or a "
                  "smaller inlet.")  # fmt: skip
        return _borne(book, inlet, rating_a, (well, what, do))

    yield from _each_inlet(scene, book, judge)


def _borne(
    book: Rule, inlet: PowerInlet, carries_a: float, says: tuple[Text, Text, Text], **more: Value
) -> Outcome:
    """Judge what bears what an inlet gives; `says` is what is well, what is wrong, what to do."""
    figures = three(_gives_a(inlet), carries_a, "current")
    well, what, do = says
    values: dict[str, Value] = {
        **more,
        "subject": label(inlet),
        "rating": figures["measured"],
        "carries": figures["limit"],
    }
    if _gives_a(inlet) <= carries_a:
        met = Text(well.template, values)
        return Met(book.id, (inlet.id,), met, book.sources, **figures)
    wrong = Text(what.template, values)
    return Finding(book.id, "WARNING", (inlet.id,), wrong, do, book.sources, **figures)


def electrician(scene: Scene) -> Iterator[Outcome]:
    """Ask for a licensed electrician wherever the house wiring is worked on."""
    question = Question(
        Text("whether a licensed electrician fits inlet and transfer equipment"),
        Text("A licensed electrician fits inlet and transfer equipment."),
        Text("Inlet and transfer equipment are not fitted by a licensed electrician."),
        _ELECTRICIAN,
    )
    fixed = scene.plan.transfer
    answer = None if fixed is None else fixed.by_licensed_electrician
    yield _of_the_work(scene, rule("electrician"), answer, question)


def permit(scene: Scene) -> Iterator[Outcome]:
    """Ask for the permit wherever the house wiring is worked on."""
    question = Question(
        Text("whether there is a permit for inlet and transfer equipment"),
        Text("There is a permit for inlet and transfer equipment."),
        Text("There is no permit for inlet and transfer equipment."),
        Text("Ask the building department for one; an inspector then looks at the work."),
        "CAUTION",
    )
    answer = None if scene.plan.transfer is None else scene.plan.transfer.permit
    yield _of_the_work(scene, rule("permit"), answer, question)


def _of_the_work(
    scene: Scene,
    book: Rule,
    answer: bool | None,
    question: Question,
) -> Outcome:
    transfer = scene.plan.transfer
    works = transfer is not None and transfer.kind not in {None, "none"}
    if not works and not _inlets(scene):
        return Unjudged(book.id, (), _NO_INLET, not_drawn=True)
    return answered(Case(book, Text(""), ()), answer, question)


def _asked(
    scene: Scene,
    book: Rule,
    inlet: PowerInlet,
    answer: bool | None,
    question: Question,
) -> Outcome:
    return answered(Case(book, label(inlet), (inlet.id,), _at(scene, inlet)), answer, question)


def _inlets(scene: Scene) -> list[PowerInlet]:
    return [one for one in scene.plan.fixtures if isinstance(one, PowerInlet)]


def _each_inlet(
    scene: Scene, book: Rule, judge: Callable[[PowerInlet], Outcome]
) -> Iterator[Outcome]:
    inlets = _inlets(scene)
    if not inlets:
        yield Unjudged(book.id, (), _NO_INLET, not_drawn=True)
        return
    yield from gathered(judge(one) for one in inlets)


def _at(scene: Scene, fixture: Fixture) -> tuple[Evidence, ...]:
    return mark(fixture_xy(fixture, scene.plan))
