"""What is above the machine: covers, free-standing canopies, and branches."""

from collections.abc import Iterator

import numpy as np

from siteplan.plan.around import Shelter
from siteplan.plan.labels import label
from siteplan.plan.machine import Cover
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import accuracy_m, three
from siteplan.rules.findings import Finding, Met, Outcome, Unjudged
from siteplan.rules.ladder import STANDS_UNDER, Says, highest_m, ladder, rung
from siteplan.scene import Near, Scene, Standing
from siteplan.words import Text, length

_BARE = Text(
    "Take it off. Only a cover open on all four sides may stand over a running generator; "
    "without one, do not run it in rain."
)
_HIGHER = Text("Raise the cover to at least {limit} above the generator.")
_TREE = Says(
    Text("Stand it clear of the tree's crown."), Text("no tree is drawn"), on=STANDS_UNDER,
    on_signal="CAUTION",
)  # fmt: skip
_WRAPS = {
    "tarp": Text("A tarp lies over the running generator."),
    "box": Text("A box stands over the running generator."),
    "tent": Text("A tent stands over the running generator."),
}


def cover(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the cover entered with the placement."""
    book = rule("cover")
    over = standing.placement.cover
    if over is None:
        yield Met(book.id, (), Text("No cover is entered for the running generator."), book.sources)
    elif (closed := _closed(book, over)) is not None:
        yield Finding(book.id, "DANGER", (), closed, _BARE, book.sources)
    elif over.open_sides is None:
        yield Unjudged(book.id, (), Text("on how many sides the cover is open"))
    elif over.gap_above_m is None:
        yield Unjudged(book.id, (), Text("how much air there is between generator and cover"))
    else:
        yield _gap(scene, book, (), over.gap_above_m)


def _closed(book: Rule, over: Cover) -> Text | None:
    """Return what is wrong with a cover that is no open canopy, or None."""
    if over.kind in _WRAPS:
        return _WRAPS[over.kind]
    if over.open_sides is not None and over.open_sides < book.figure("open_sides"):
        return Text(
            "The cover is open on {sides} sides; four are needed.", {"sides": over.open_sides}
        )
    return None


def _gap(scene: Scene, book: Rule, subjects: tuple[str, ...], gap_m: float) -> Finding | Met:
    """Judge a height of air; heights are stated, so the drawing's accuracy is not taken off."""
    values = {"gap": length(gap_m)}
    found = rung(scene.plan, book, gap_m)
    if found is None:
        what = Text("There is {gap} of air above the generator.", values)
        limits = three(gap_m, highest_m(scene.plan, book))
        return Met(book.id, subjects, what, book.sources, **limits)
    signal, limit = found
    return Finding(
        rule=book.id,
        signal=signal,
        subjects=subjects,
        what=Text("There is only {gap} of air above the generator.", values),
        do=Text(_HIGHER.template, {"limit": length(limit, "up")}),
        sources=book.sources,
        **three(gap_m, limit),
    )


def clear_above(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Judge the air below whatever roof without a house stands over the machine.

    That such a roof is refused elsewhere, unless it is a free canopy, changes nothing here.
    """
    book = rule("clear-above")
    if not scene.plan.surroundings:
        yield Unjudged(book.id, (), Text("nothing around the house is drawn, canopies included"))
        return
    over = np.flatnonzero(scene.shelter_m <= accuracy_m(scene.plan)).tolist()
    for place in over:
        yield _under(scene, standing, book, scene.setting.shelters[place])
    if not over:
        yield Met(book.id, (), Text("No canopy drawn stands over the generator."), book.sources)


def _under(scene: Scene, standing: Standing, book: Rule, canopy: Shelter) -> Outcome:
    if canopy.clear_height_m is None:
        missing = Text("the clear height below {subject}", {"subject": label(canopy)})
        return Unjudged(book.id, (canopy.id,), missing)
    gap = max(0.0, canopy.clear_height_m - standing.machine.height_m)
    return _gap(scene, book, (canopy.id,), gap)


def tree_overhead(scene: Scene, standing: Standing) -> Iterator[Outcome]:
    """Advise against standing under a tree's crown."""
    trees = scene.near("tree")
    under = np.maximum(trees.distance_m - scene.setting.crowns_m, 0.0)
    near = Near(trees.things, trees.shapes, under)
    yield from ladder(scene, standing, rule("tree-overhead"), near, _TREE)
