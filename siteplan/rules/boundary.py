"""The boundary, the neighbours, and the ways that people and vehicles take."""

from collections.abc import Iterator

import shapely
from shapely import Polygon

from siteplan.geometry.clearance import witness_lines
from siteplan.rules.book import rule
from siteplan.rules.common import certain_m, falls_short, line_evidence, local_m, three
from siteplan.rules.findings import Evidence, Finding, Met, Outcome, Unjudged
from siteplan.rules.ladder import STANDS_ON, Says, highest_m, ladder, rung
from siteplan.scene import Scene, Standing
from siteplan.scene.around import shapes
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Text, length

# Rules that judge neighbours' buildings too; a longer local figure asks for them farther off.
_AT_NEIGHBOURS = ("separation-opening", "separation-building", "separation-intake")
_NO_LOT = Text("the lot's boundary is not drawn")
_VEHICLES = Says(
    Text("Stand it out of the vehicles' way, or behind posts."),
    Text("no driveway is drawn"),
    on=STANDS_ON,
)
_WALK = Says(
    Text("Keep the walk free: people must get out and in, in the dark."),
    Text("no walk is drawn"),
    on=STANDS_ON,
    on_signal="CAUTION",
)
_EXIT = Says(
    Text("Move it: a door is a way out."),
    Text("no door is drawn"),
)
_TENT = Says(
    Text("Keep generator and tent at least {limit} apart."),
    Text("no tent is drawn"),
)


def on_the_lot(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge whether the whole machine stands on the lot."""
    book = rule("on-the-lot")
    lot = scene.setting.lot
    if lot is None or scene.plan.lot is None:
        yield Unjudged(book.id, (), _NO_LOT)
    elif _within(lot, standing.frame):
        yield Met(book.id, (), Text("The generator stands on the lot."), book.sources)
    else:
        what = Text("The generator stands off the lot, or partly so.")
        do = Text("Bring it back onto the lot.")
        area = Evidence("area", scene.plan.lot.outline)
        yield Finding(book.id, "WARNING", (), what, do, book.sources, evidence=(area,))


def lot_set_back(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the distance to the boundary, from within."""
    book = rule("lot-set-back")
    if scene.setting.lot is None:
        yield Unjudged(book.id, (), _NO_LOT)
        return
    certain = _boundary_m(scene, standing)
    values = {"distance": length(certain)}
    found = rung(scene.plan, book, certain)
    if found is None:
        what = Text("The boundary is {distance} away.", values)
        limits = three(certain, highest_m(scene.plan, book))
        yield Met(book.id, (), what, book.sources, **limits)
        return
    signal, limit = found
    line = witness_lines(standing.frame, shapes([scene.setting.lot.boundary]))[0]
    yield Finding(
        rule=book.id,
        signal=signal,
        subjects=(),
        what=Text(
            "The generator is {distance} from the boundary, counting the drawing's accuracy; "
            "{limit} is advised.",
            values | {"limit": length(limit, "up")},
        ),
        do=Text("Move it inward, and ask what set-back the local code has."),
        sources=book.sources,
        evidence=line_evidence(line),
        **three(certain, limit),
    )


def _boundary_m(scene: Scene, standing: Standing) -> float:
    """Return what is left of the distance to the boundary [m]; 0 off the lot."""
    lot = scene.setting.lot
    assert lot is not None  # noqa: S101 - the callers looked
    if not _within(lot, standing.frame):
        return 0.0
    return certain_m(scene.plan, float(shapely.distance(standing.frame, lot.boundary)))


def _within(lot: Polygon, frame: Polygon) -> bool:
    """Whether the frame lies in the lot, a sliver of rounding along its edge aside."""
    if lot.covers(frame):
        return True
    return bool(frame.difference(lot).area <= LENGTH_TOLERANCE_M * frame.length)


def neighbours_drawn(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Ask for the neighbours' buildings where the boundary is near."""
    book = rule("neighbours-drawn")
    count = sum(one.owner == "neighbour" for one in scene.plan.buildings)
    usual = book.figure("reach_m")
    reach = max(local_m(scene.plan, one, usual) for one in _AT_NEIGHBOURS)
    if scene.setting.lot is not None:
        certain = _boundary_m(scene, standing)
        if not falls_short(certain, reach):
            what = Text(
                "No neighbour's building can be nearer than the boundary, {distance} away.",
                {"distance": length(certain)},
            )
            yield Met(book.id, (), what, book.sources, **three(certain, reach))
            return
    if not count:
        yield Unjudged(book.id, (), Text("no neighbour's building is drawn"))
    elif scene.setting.lot is None:
        yield Unjudged(book.id, (), _NO_LOT)
    elif bare := _sides_without(scene, standing, reach):
        what = Text(
            "a neighbour's building beyond the boundary {distance} away: none is drawn on that "
            "side",
            {"distance": length(bare[0])},
        )
        yield Unjudged(book.id, (), what)
    else:
        what = Text("{count} buildings of neighbours are drawn and judged.", {"count": count})
        yield Met(book.id, (), what, book.sources, checked=count)


def _sides_without(scene: Scene, standing: Standing, reach_m: float) -> list[float]:
    """Return how far off each side within reach is beyond which no neighbour is drawn, sorted."""
    gaps = shapely.distance(scene.setting.bare_sides, standing.frame)
    bare = [certain_m(scene.plan, gap) for gap in gaps.tolist()]
    return sorted(gap for gap in bare if falls_short(gap, reach_m))


def vehicle_path(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the distance to driveways."""
    yield from ladder(scene, standing, rule("vehicle-path"), scene.near("driveway"), _VEHICLES)


def walk_kept_free(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Advise against standing on a walk."""
    yield from ladder(scene, standing, rule("walk-kept-free"), scene.near("walk"), _WALK)


def exit_kept_free(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Refuse a machine that blocks a door of a dwelling or of what is attached to one."""
    near = scene.near_openings.only(scene.setting.exits)
    yield from ladder(scene, standing, rule("exit-kept-free"), near, _EXIT)


def tent(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the distance to tents."""
    yield from ladder(scene, standing, rule("tent"), scene.near("tent"), _TENT)
