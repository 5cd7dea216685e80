"""Places without a roof that still hold exhaust: alcoves, courtyards, corners, wells."""

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from siteplan.geometry.arrays import BoolArray, FloatArray
from siteplan.geometry.openness import SidesWalled, blocked_share, sides_walled
from siteplan.plan.labels import label
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import Three, accuracy_m, at_most
from siteplan.rules.findings import Evidence, Finding, Met, Outcome, Signal, Unjudged
from siteplan.rules.ladder import Says, ladder
from siteplan.scene import Scene, Standing
from siteplan.scene.uprights import Uprights
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Text, length

_OUT = Text("Do not run it here. Move it into the open, where walls do not surround it.")
_WIDER = Text("Move it where at most one side is walled; walls hold the exhaust.")
_PLACES = {
    4: Text("a courtyard, walled on four sides"),
    3: Text("an alcove, walled on three sides"),
    2: Text("an inside corner, walled on two adjoining sides"),
}
_PASSAGE = Text("a passage, walled on two opposite sides")
_SHARE_TOLERANCE = 1e-9
_NO_WALLS = Text("no building, fence or wall is drawn")
_WELL = Says(
    Text("Do not run it here. Move it to at least {limit} from the window well, and much farther."),
    Text("no window well is drawn; a building with a basement may have one"),
)


class _Walls(NamedTuple):
    """The pieces of wall that count, how far off each does, and their owners' ids."""

    segments: FloatArray
    reach_m: FloatArray
    subjects: tuple[str, ...]

    @property
    def evidence(self) -> tuple[Evidence, ...]:
        """The pieces as lines to draw."""
        return tuple(
            Evidence("line", ((ax, ay), (bx, by))) for (ax, ay), (bx, by) in self.segments.tolist()
        )


def walled_in(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Count the walled sides of the place where the machine stands."""
    book = rule("walled-in")
    uprights = scene.setting.uprights
    if not len(uprights.segments):
        yield Unjudged(book.id, (), _NO_WALLS)
        return
    walls = _counting(scene, standing, book)
    found = _sides_of(standing, walls)
    signal = _signal(book, found)
    unsure = () if signal == "DANGER" else _maybe_tall(scene, standing, book)
    for name in unsure:
        yield _height_unknown(scene, book, name)
    if signal is None and unsure:
        return
    if signal is None:
        what = Text("Near or high walls stand on {count} of its four sides.",
                    {"count": found.count})  # fmt: skip
        yield Met(book.id, walls.subjects, what, book.sources, **_sides(book, found))
        return
    place = _PASSAGE if found.count == 2 and not found.adjoining else _PLACES[found.count]
    yield Finding(
        rule=book.id,
        signal=signal,
        subjects=walls.subjects,
        what=Text("The generator stands in {place}.", {"place": place}),
        do=_OUT if signal == "DANGER" else _WIDER,
        sources=book.sources,
        evidence=walls.evidence,
        **_sides(book, found),
    )


def _maybe_tall(scene: Scene, standing: Standing, book: Rule) -> tuple[str, ...]:
    """Return the buildings that would enclose the place if they were as tall as houses may be."""
    uprights = scene.setting.uprights
    unknown = uprights.built & np.isnan(uprights.height_m) & np.isnan(uprights.storeys)
    if not unknown.any():
        return ()
    tallest = np.where(unknown, book.figure("tallest_unknown_m"), uprights.height_m)
    tall = uprights._replace(height_m=tallest)
    walls = _counting(scene, standing, book, tall)
    owners = {uprights.things[place].id for place in np.unique(uprights.owner[unknown]).tolist()}
    names = tuple(name for name in walls.subjects if name in owners)
    if not names:
        return ()
    found = _sides_of(standing, walls)
    return names if _signal(book, found) == "DANGER" else ()


def _sides_of(standing: Standing, walls: _Walls) -> SidesWalled:
    """Return on how many sides walls stand round the machine."""
    machine, placement = standing.machine, standing.placement
    size = max(machine.width_m, machine.length_m)
    return sides_walled(placement.at, size, walls.segments, walls.reach_m, placement.turn_deg)


def _height_unknown(scene: Scene, book: Rule, name: str) -> Unjudged:
    building = scene.plan.building(name)
    assert building is not None  # noqa: S101 - a building of this plan
    missing = Text(
        "how high {subject} is: tall walls on three sides hold exhaust from farther off",
        {"subject": label(building)},
    )
    return Unjudged(book.id, (name,), missing)


def _sides(book: Rule, found: SidesWalled) -> Three:
    return at_most(found.count, book.figure("danger_sides"), "count")


def _signal(book: Rule, found: SidesWalled) -> Signal | None:
    if found.count >= book.figure("danger_sides"):
        return "DANGER"
    if found.count >= book.figure("shelter_sides"):
        return "WARNING" if found.adjoining else "CAUTION"
    return None


def _reach_m(book: Rule, uprights: Uprights) -> FloatArray:
    """Return how far off each piece of wall still counts [m]: tall ones farther, if asked for."""
    reach = np.full(len(uprights.segments), book.figure("reach_m"))
    if "reach_wall_heights" not in book.figures:
        return reach
    storeys = np.where(np.isnan(uprights.storeys), 1.0, uprights.storeys)
    height = np.where(
        np.isnan(uprights.height_m), storeys * book.figure("storey_height_m"), uprights.height_m
    )
    return np.maximum(reach, height * book.figure("reach_wall_heights"))


def counting_walls(
    scene: Scene, standing: Standing, book: Rule, uprights: Uprights | None = None
) -> tuple[BoolArray, FloatArray]:
    """Tell which pieces of wall are high and solid enough, and how far off each counts [m].

    Reach runs from the machine's middle, so its half length and the drawing's accuracy are
    added.
    """
    uprights, machine = uprights or scene.setting.uprights, standing.machine
    extra = max(machine.width_m, machine.length_m) / 2.0 + accuracy_m(scene.plan)
    counts = uprights.counting(machine.height_m, book.figure("free_share"))
    return counts, _reach_m(book, uprights) + extra + LENGTH_TOLERANCE_M


def _counting(
    scene: Scene, standing: Standing, book: Rule, uprights: Uprights | None = None
) -> _Walls:
    """Return those walls that come within reach of the machine where it stands.

    The far walls of a house stand behind its near ones and do not count, unless the machine
    stands in it.
    """
    uprights, at = uprights or scene.setting.uprights, standing.placement.at
    counts, reach = counting_walls(scene, standing, book, uprights)
    counts = counts & (scene.upright_m <= reach)
    outside = np.full(len(uprights.things), True)
    outside[: len(scene.wall_m)] = scene.wall_m > 0.0
    counts &= ~(uprights.turned_away(at) & outside[uprights.owner])
    owners = np.unique(uprights.owner[counts]).tolist()
    subjects = tuple(uprights.things[place].id for place in owners)
    return _Walls(uprights.segments[counts], reach[counts], subjects)


def horizon_blocked(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the share of all directions that meet a wall, by borrowed definitions."""
    book = rule("horizon-blocked")
    uprights = scene.setting.uprights
    if not len(uprights.segments):
        yield Unjudged(book.id, (), _NO_WALLS)
        return
    walls = _counting(scene, standing, book)
    reach = float(walls.reach_m.max(initial=book.figure("reach_m")))
    share = blocked_share(standing.placement.at, walls.segments, reach)
    limit = book.figure("warning_share")
    figures = at_most(share, limit, "share")
    what = Text(
        "{share} of all directions meet a wall within {reach}.",
        {"share": figures["measured"], "reach": length(book.figure("reach_m"))},
    )
    if share <= limit + _SHARE_TOLERANCE:
        yield Met(book.id, walls.subjects, what, book.sources, **figures)
        return
    enclosed = share >= book.figure("danger_share") - _SHARE_TOLERANCE
    yield Finding(
        rule=book.id,
        signal="DANGER" if enclosed else "WARNING",
        subjects=walls.subjects,
        what=what,
        do=_OUT if enclosed else _WIDER,
        sources=book.sources,
        evidence=walls.evidence,
        **figures,
    )


def window_well(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Refuse a machine over a window well or at its rim."""
    wells = scene.near_openings.pick(np.flatnonzero(scene.setting.wells))
    yield from ladder(scene, standing, rule("window-well"), wells, _WELL)
