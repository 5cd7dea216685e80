"""Backfeed: the house wiring fed past every inlet."""

from collections.abc import Iterator

from siteplan.plan.around import Fixture, Meter, Panel, ServiceDrop, WallReceptacle
from siteplan.plan.labels import label
from siteplan.rules.book import Rule, rule
from siteplan.rules.findings import Evidence, Finding, Met, Outcome, Unjudged
from siteplan.rules.power.crossings import TROUBLE_TEXTS
from siteplan.rules.power.says import NO_CORD, mark, of_cord, way
from siteplan.scene import Scene
from siteplan.scene.around import fixture_xy
from siteplan.scene.feeds import Feed
from siteplan.words import Text

# Service equipment that no cord may end at: only an inlet leads there, by transfer equipment.
_SERVICE = (Panel, Meter, ServiceDrop)
NEVER_FED = (WallReceptacle, *_SERVICE)
"""What a cord would feed the house wiring by, past every inlet."""


def backfeed(scene: Scene) -> Iterator[Outcome]:
    """Refuse to feed the house wiring by one of its outlets, or by a cord to its panel or meter."""
    book = rule("backfeed")
    wrong = [*_outlets_fed(scene, book), *_service_fed(scene, book)]
    yield from wrong
    endless = [one for one in scene.feeds if one.end is None and one.cord.end is None]
    for feed in endless:
        yield Unjudged(book.id, (feed.cord.id,), of_cord(TROUBLE_TEXTS["no-end"], feed))
    if not wrong and not scene.feeds:
        yield Unjudged(book.id, (), NO_CORD, not_drawn=True)
    elif not wrong and not endless:
        well = Text("No cord entered ends at an outlet of the house wiring.")
        yield Met(book.id, (), well, book.sources, checked=len(scene.feeds))


def _outlets_fed(scene: Scene, book: Rule) -> Iterator[Finding]:
    outlets = [one for one in scene.plan.fixtures if isinstance(one, WallReceptacle)]
    fed = {feed.end.id: feed for feed in scene.feeds if isinstance(feed.end, WallReceptacle)}
    named = {load.via for load in scene.plan.loads}
    for outlet in outlets:
        if outlet.id not in fed and outlet.id not in named:
            continue
        what = Text(
            "{subject}, an outlet of the house wiring, is to be fed: that puts the utility's "
            "lines under voltage and the plug's bare pins too.",
            {"subject": label(outlet)},
        )
        evidence = way(fed[outlet.id]) if outlet.id in fed else _at(scene, outlet)
        yield _backfed(book, outlet, what, evidence)


def _service_fed(scene: Scene, book: Rule) -> Iterator[Finding]:
    ends: list[tuple[Feed, Fixture]] = [
        (feed, feed.end) for feed in scene.feeds if isinstance(feed.end, _SERVICE)
    ]
    for feed, end in ends:
        what = Text(
            "{cord} ends at {subject}, with no power inlet and transfer equipment between: that "
            "puts the utility's lines under voltage.",
            {"subject": label(end)},
        )
        yield _backfed(book, end, of_cord(what, feed), way(feed) or _at(scene, end))


def _backfed(book: Rule, end: Fixture, what: Text, evidence: tuple[Evidence, ...]) -> Finding:
    do = Text(
        "Never. It kills people who work on the lines. Use an inlet with transfer "
        "equipment, or cords to the appliances."
    )
    return Finding(book.id, "DANGER", (end.id,), what, do, book.sources, evidence=evidence)


def _at(scene: Scene, fixture: Fixture) -> tuple[Evidence, ...]:
    return mark(fixture_xy(fixture, scene.plan))
