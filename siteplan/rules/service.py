"""Service equipment: working space at panels and inlets, and the overhead conductors."""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely import Polygon

from siteplan.plan.around import Panel, PowerInlet
from siteplan.plan.labels import label
from siteplan.plan.rings import wall as wall_ends
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import accuracy_m, local_m
from siteplan.rules.findings import Evidence, Finding, Met, Outcome, Unjudged
from siteplan.rules.ladder import Says, ladder
from siteplan.rules.pairs import apart, nothing_to_pair, openings_near, pair_finding, undrawn_near
from siteplan.scene import Scene, Standing
from siteplan.scene.setting import lets_in
from siteplan.scene.walls import outward_normal
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Text

_NO_PANEL = Text("no panel, inlet or meter is drawn")
_NO_DROP = Text("no overhead service conductors are drawn; the house may have them")
_CLEAR_IT = Text("Clear the space in front of it; in the dark someone must reach the breakers.")
_SPACE = Says(Text("Keep the generator at least {limit} from it, out of its space."), _NO_PANEL)
_DROP = Says(
    Text("Stand it clear of the overhead conductors, {limit} to the side."),
    _NO_DROP,
    on="The generator stands under {subject}, or may, given the drawing's accuracy.",
)
_ASK = Text("Ask an electrician to look at it; it is so whether or not a generator runs.")
# What is stored or built in front of equipment; the equipment's own wall is not.
_IN_THE_WAY = ("fence", "wall", "hedge", "tree", "outdoor-unit", "fuel-store", "gas-cylinder",
               "gas-regulator", "gas-meter")  # fmt: skip


def working_space(scene: Scene) -> Iterator[Outcome]:
    """Judge what was answered about the space in front of panels."""
    book = rule("working-space")
    panels = [one for one in scene.plan.fixtures if isinstance(one, Panel)]
    if not panels:
        yield Unjudged(book.id, (), Text("no panel is drawn"), not_drawn=True)
    for panel in panels:
        yield _answer(book, panel)


def _answer(book: Rule, panel: Panel) -> Outcome:
    values = {"subject": label(panel)}
    if panel.working_space_clear is None:
        missing = Text("whether the space in front of {subject} is kept clear", values)
        return Unjudged(book.id, (panel.id,), missing)
    if panel.working_space_clear:
        what = Text("The space in front of {subject} is kept clear.", values)
        return Met(book.id, (panel.id,), what, book.sources)
    what = Text("The space in front of {subject} is not kept clear.", values)
    return Finding(book.id, "WARNING", (panel.id,), what, _CLEAR_IT, book.sources)


def inlet_space(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the machine and other things in front of inlets, panels and meters."""
    book = rule("inlet-space")
    near = scene.near("panel", "power-inlet", "through-wall-outlet", "electric-meter")
    yield from ladder(scene, standing, book, near, _SPACE)
    for thing in near.things:
        if isinstance(thing, PowerInlet) and thing.on is not None:
            yield from _blocked(scene, book, thing)


def _blocked(scene: Scene, book: Rule, inlet: PowerInlet) -> Iterator[Outcome]:
    """Tell of what is drawn in the space in front of an inlet on a wall."""
    space = _space(scene, book, inlet)
    around = scene.setting.around
    places = around.places(*_IN_THE_WAY)
    distance = shapely.distance(space, around.shapes[places]) - around.beyond_m[places]
    in_it = distance - accuracy_m(scene.plan) < LENGTH_TOLERANCE_M
    for place in places[in_it].tolist():
        thing = around.things[place]
        what = Text(
            "{thing} stands in the space in front of {subject}, or may, given the drawing's "
            "accuracy.",
            {"thing": label(thing), "subject": label(inlet)},
        )
        yield Finding(
            rule=book.id,
            signal="WARNING",
            subjects=(inlet.id, thing.id),
            what=what,
            do=_CLEAR_IT,
            sources=book.sources,
            evidence=(Evidence("area", _corners(space)),),
        )


def _space(scene: Scene, book: Rule, inlet: PowerInlet) -> Polygon:
    """Return the ground in front of an inlet that is to stay clear."""
    assert inlet.on is not None  # noqa: S101 - the caller looked
    building = scene.plan.building(inlet.on.building)
    assert building is not None  # noqa: S101 - the document was checked
    start, end = (np.asarray(one) for one in wall_ends(building.outline, inlet.on.wall))
    along = (end - start) / np.hypot(*(end - start))
    middle = start + along * inlet.on.offset_m
    half = along * book.figure("width_m") / 2.0
    out = np.asarray(outward_normal(building, inlet.on.wall)) * book.figure("warning_m")
    return Polygon([middle - half, middle + half, middle + half + out, middle - half + out])


def _corners(space: Polygon) -> tuple[tuple[float, float], ...]:
    return tuple((x, y) for x, y in shapely.get_coordinates(space)[:-1].tolist())


def service_drop(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the machine's distance on the plan to overhead service conductors."""
    yield from ladder(scene, standing, rule("service-drop"), scene.near("service-drop"), _DROP)


def service_drop_opening(scene: Scene) -> Iterator[Outcome]:
    """Tell of overhead service conductors near openings, as far as the plan can show it."""
    book = rule("service-drop-opening")
    missing = nothing_to_pair(scene, book, "service-drop", absent=_NO_DROP)
    if missing is not None:
        yield missing
        return
    limit = local_m(scene.plan, book.id, book.figure("notice_m"))
    places = scene.setting.around.places("service-drop").tolist()
    found = [
        pair
        for place in places
        for pair in openings_near(scene, place, limit)
        if lets_in(pair.opening)
    ]
    for pair in found:
        yield pair_finding(scene, book, pair, ("NOTICE", limit), _ASK)
    gaps = undrawn_near(scene, book, places, limit)
    yield from gaps
    if not found and not gaps:
        subjects = tuple(scene.setting.around.things[place].id for place in places)
        yield apart(book, subjects, limit)
