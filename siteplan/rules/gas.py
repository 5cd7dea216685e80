"""Gas equipment: regulators and meters, and cylinders of liquefied gas."""

from collections.abc import Iterator

from siteplan.geometry.clearance import witness_lines
from siteplan.plan.around import GasCylinder
from siteplan.plan.labels import label
from siteplan.plan.lot import Opening
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import certain_m, falls_short, local_m, three
from siteplan.rules.findings import Met, Outcome, Unjudged
from siteplan.rules.ladder import Measured, Says, distance_finding, ladder
from siteplan.rules.pairs import (
    Pair,
    apart,
    nothing_to_pair,
    openings_near,
    pair_finding,
    undrawn_near,
)
from siteplan.scene import Scene, Standing
from siteplan.scene.setting import INTAKE_KINDS, lets_in
from siteplan.words import Text, length

# A burner's own intake is no opening that the rule on regulators names.
_FAN_KINDS = INTAKE_KINDS - {"combustion-intake"}
_NO_GAS = Text("no gas regulator or meter is drawn; a house with gas has one")
_NO_CYLINDER = Text("no gas cylinder is drawn")
_REGULATOR = Says(
    Text("Move the generator to at least {limit} from it."),
    _NO_GAS,
    danger=Text("Do not run it here: a regulator may vent gas. Move it to at least {limit}."),
)
_ASK = Text("Ask the gas utility to look at it; it is so whether or not a generator runs.")
_MOVE_IT = Text("Move the cylinder; gas sinks and finds openings and flames.")
_AWAY = Text("Keep cylinder and generator at least {limit} apart.")


def gas_regulator(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the machine's distance to gas regulators and meters."""
    near = scene.near("gas-regulator", "gas-meter")
    yield from ladder(scene, standing, rule("gas-regulator"), near, _REGULATOR)


def gas_regulator_intake(scene: Scene) -> Iterator[Outcome]:
    """Tell of air intakes too near a regulator or meter."""
    book = rule("gas-regulator-intake")
    missing = nothing_to_pair(scene, book, "gas-regulator", "gas-meter", absent=_NO_GAS)
    if missing is not None:
        yield missing
        return
    limit = local_m(scene.plan, book.id, book.figure("notice_m"))
    places = scene.setting.around.places("gas-regulator", "gas-meter").tolist()
    found = [
        pair
        for place in places
        for pair in openings_near(scene, place, limit)
        if pair.opening.kind in _FAN_KINDS
    ]
    for pair in found:
        yield pair_finding(scene, book, pair, ("NOTICE", limit), _ASK)
    gaps = undrawn_near(scene, book, places, limit)
    yield from gaps
    if not found and not gaps:
        subjects = tuple(scene.setting.around.things[place].id for place in places)
        yield apart(book, subjects, limit)


def gas_cylinder(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the machine's distance to gas cylinders, one that is filled on site from farther."""
    book = rule("gas-cylinder")
    near = scene.near("gas-cylinder")
    if not near.things:
        yield Unjudged(book.id, (), _NO_CYLINDER, not_drawn=True)
        return
    lines = witness_lines(standing.reach, near.shapes)
    for thing, measured, line in zip(near.things, near.distance_m.tolist(), lines, strict=True):
        assert isinstance(thing, GasCylinder)  # noqa: S101 - asked for by kind
        certain = certain_m(scene.plan, measured)
        sure, most = limits_m(scene, book, thing, "warning_m")
        if falls_short(certain, sure):
            found = Measured(thing, certain, line)
            yield distance_finding(scene.plan, book, found, ("WARNING", sure), _AWAY)
        elif falls_short(certain, most):
            yield _filled_unknown(book, thing)
        else:
            yield Met(
                book.id,
                (thing.id,),
                Text(
                    "{subject} is {distance} away.",
                    {"subject": label(thing), "distance": length(certain)},
                ),
                book.sources,
                **three(certain, sure),
            )


def limits_m(scene: Scene, book: Rule, cylinder: GasCylinder, figure: str) -> tuple[float, float]:
    """Return the distance a cylinder needs for certain, and at most [m]."""
    usual = local_m(scene.plan, book.id, book.figure(figure))
    filled = local_m(scene.plan, book.id, book.figure("filled_m"))
    if cylinder.filled_on_site is None:
        return usual, filled
    return (filled, filled) if cylinder.filled_on_site else (usual, usual)


def _filled_unknown(book: Rule, cylinder: GasCylinder) -> Unjudged:
    missing = Text("whether {subject} is filled on site", {"subject": label(cylinder)})
    return Unjudged(book.id, (cylinder.id,), missing)


def gas_cylinder_opening(scene: Scene) -> Iterator[Outcome]:
    """Judge the distance of gas cylinders to openings below them and to air intakes."""
    book = rule("gas-cylinder-opening")
    missing = nothing_to_pair(scene, book, "gas-cylinder", absent=_NO_CYLINDER)
    if missing is not None:
        yield missing
        return
    for place in scene.setting.around.places("gas-cylinder").tolist():
        yield from _openings_of(scene, book, place)


def _openings_of(scene: Scene, book: Rule, place: int) -> Iterator[Outcome]:
    cylinder = scene.setting.around.things[place]
    assert isinstance(cylinder, GasCylinder)  # noqa: S101 - asked for by kind
    usual = local_m(scene.plan, book.id, book.figure("warning_m"))
    sure, most = limits_m(scene, book, cylinder, "intake_m")
    quiet = True
    for pair in openings_near(scene, place, max(usual, most)):
        intake = pair.opening.kind in INTAKE_KINDS
        limit = sure if intake else usual
        if falls_short(pair.certain_m, limit) and (intake or _below(pair, cylinder)):
            quiet = False
            yield pair_finding(scene, book, pair, ("WARNING", limit), _MOVE_IT)
        elif intake and falls_short(pair.certain_m, most):
            quiet = False
            yield _filled_unknown(book, cylinder)
    gaps = undrawn_near(scene, book, [place], max(usual, most))
    yield from gaps
    if quiet and not gaps:
        yield apart(book, (cylinder.id,), usual)


def _below(pair: Pair, cylinder: GasCylinder) -> bool:
    """Whether an opening may lie below the cylinder's valve; what is not stated may."""
    opening: Opening = pair.opening
    if not lets_in(opening):
        return False
    if opening.sill_m is None or cylinder.height_m is None:
        return True
    return opening.sill_m < cylinder.height_m
