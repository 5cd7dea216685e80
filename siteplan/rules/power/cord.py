"""The cord itself: its pieces, its length, its jacket and its wires."""

from collections.abc import Iterator

from siteplan.plan.labels import label
from siteplan.rules.book import Rule, rule
from siteplan.rules.common import Three, accuracy_m, local_m
from siteplan.rules.findings import Finding, Met, Outcome, Unjudged
from siteplan.rules.power.crossings import TROUBLE_TEXTS
from siteplan.rules.power.says import Case, Question, answered, each_cord, of_cord, way
from siteplan.rules.power.sockets import kind_of
from siteplan.scene import Scene, Standing
from siteplan.scene.feeds import Feed
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Text, length

_PIECES = Text("how long the pieces of {cord} are")
_REACHES = Text("{cord} is {long} long; its way, with rises and slack, takes {needed}.")
_FALLS_SHORT = Text(
    "{cord} is {long} long and does not reach: its way, with rises and slack, takes {needed}."
)
_ONE_PIECE = Text("Use one cord that is long enough. Each joint heats, and lets water in.")


def cord_pieces(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse cords joined of pieces."""
    book = rule("cord-pieces")

    def judge(feed: Feed) -> Iterator[Outcome]:
        name, count = (feed.cord.id,), len(feed.cord.pieces_m)
        if count == 0:
            yield Unjudged(book.id, name, of_cord(_PIECES, feed))
        elif count == 1:
            yield Met(book.id, name, of_cord(Text("{cord} is of one piece."), feed), book.sources)
        else:
            what = of_cord(Text("{cord} is joined of {count} pieces.", {"count": count}), feed)
            yield Finding(
                book.id, "WARNING", name, what, _ONE_PIECE, book.sources, evidence=way(feed)
            )

    yield from each_cord(scene, book, judge)


def cord_coiled(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a cord left coiled."""
    book = rule("cord-coiled")
    question = Question(
        Text("whether {subject} is unwound whole"),
        Text("{subject} is unwound whole."),
        Text("{subject} is left coiled or on a reel: it cannot give off its heat."),
        Text("Unwind it whole and lay it out without loops on top of each other."),
    )

    def judge(feed: Feed) -> Iterator[Outcome]:
        coiled = feed.cord.coiled
        straight = None if coiled is None else not coiled
        yield answered(_case(book, feed), straight, question)

    yield from each_cord(scene, book, judge)


def cord_jacket(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a cord that is not made for outdoors."""
    book = rule("cord-jacket")
    question = Question(
        Text("whether {subject} is marked for outdoor use, with a W"),
        Text("{subject} is marked for outdoor use."),
        Text("{subject} is not marked for outdoor use: sun and wet crack its jacket."),
        Text("Use a cord of hard or junior hard usage with a W in its mark, such as SJTW or STW."),
    )

    def judge(feed: Feed) -> Iterator[Outcome]:
        yield answered(_case(book, feed), feed.cord.outdoor_jacket, question)

    yield from each_cord(scene, book, judge)


def _case(book: Rule, feed: Feed) -> Case:
    return Case(book, label(feed.cord), (feed.cord.id,), way(feed))


def cord_wires(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a cord with fewer wires than its outlet, or without a ground wire."""
    book = rule("cord-wires")
    grounded = int(book.figure("least_count"))

    def judge(feed: Feed) -> Iterator[Outcome]:
        name, wires = (feed.cord.id,), feed.cord.wires
        kind = kind_of(feed)
        if kind is None and wires >= grounded:
            missing = of_cord(Text("which outlet of the generator {cord} is plugged into"), feed)
            yield Unjudged(book.id, name, missing)
            return
        needed = grounded if kind is None else max(grounded, kind.wires)
        values = {"wires": wires, "needed": needed}
        if wires >= needed:
            well = of_cord(Text("{cord} has {wires} wires; {needed} are needed.", values), feed)
            yield Met(book.id, name, well, book.sources)
            return
        what = Text("{cord} has {wires} wires where {needed} are needed: the ground or the "
                    "neutral is missing.", values)  # fmt: skip
        do = Text("Use a cord with {needed} wires, the equipment ground among them.", values)
        yield Finding(
            book.id, "WARNING", name, of_cord(what, feed), do, book.sources, evidence=way(feed)
        )

    yield from each_cord(scene, book, judge)


def cord_reach(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Judge whether each cord reaches its end with some slack."""
    book = rule("cord-reach")

    def judge(feed: Feed) -> Iterator[Outcome]:
        name = (feed.cord.id,)
        gap = feed.run.trouble and TROUBLE_TEXTS[feed.run.trouble]
        if gap or feed.pieces_m is None:
            yield Unjudged(book.id, name, of_cord(gap or _PIECES, feed))
            return
        needed = needed_m(scene, feed)
        reaches = feed.pieces_m >= needed - LENGTH_TOLERANCE_M
        template = _REACHES if reaches else _FALLS_SHORT
        values = {"long": length(feed.pieces_m), "needed": length(needed, "up")}
        what = of_cord(Text(template.template, values), feed)
        figures: Three = {
            "measured": length(feed.pieces_m),
            "limit": length(needed, "up"),
            "margin": length(feed.pieces_m - needed),
        }
        if reaches:
            yield Met(book.id, name, what, book.sources, **figures)
            return
        do = Text("Get one cord of at least {needed}. Never bring the generator nearer instead.",
                  {"needed": length(needed, "up")})  # fmt: skip
        yield Finding(book.id, "WARNING", name, what, do, book.sources, **figures,
                      evidence=way(feed))  # fmt: skip

    yield from each_cord(scene, book, judge)


def needed_m(scene: Scene, feed: Feed) -> float:
    """Return the length a cord needs: its way and rises, the drawing's accuracy, and slack [m]."""
    return with_slack_m(scene, feed.run.laid_m)


def with_slack_m(scene: Scene, laid_m: float) -> float:
    """Return what a cord needs for a way of this length: the drawing's accuracy, and slack [m]."""
    slack = rule("cord-reach").figure("slack_share")
    return (laid_m + accuracy_m(scene.plan)) * (1.0 + slack)


def cord_20_ft(scene: Scene, _standing: Standing) -> Iterator[Outcome]:
    """Refuse a cord too short for the generator ever to stand 20 ft away."""
    book = rule("cord-20-ft")
    limit_m = local_m(scene.plan, book.id, book.figure("warning_m"))

    def judge(feed: Feed) -> Iterator[Outcome]:
        name, pieces_m = (feed.cord.id,), feed.pieces_m
        if pieces_m is None:
            yield Unjudged(book.id, name, of_cord(_PIECES, feed))
            return
        values = {"long": length(pieces_m), "limit": length(limit_m, "up")}
        figures: Three = {
            "measured": length(pieces_m),
            "limit": length(limit_m, "up"),
            "margin": length(pieces_m - limit_m),
        }
        if pieces_m >= limit_m - LENGTH_TOLERANCE_M:
            well = Text("{cord} is {long} long, not under {limit}.", values)
            yield Met(book.id, name, of_cord(well, feed), book.sources, **figures)
            return
        what = Text("{cord} is {long} long: the generator cannot stand {limit} away.", values)
        do = Text("Get a cord longer than {limit}, so that the generator can stand far enough.",
                  values)  # fmt: skip
        yield Finding(book.id, "WARNING", name, of_cord(what, feed), do, book.sources, **figures,
                      evidence=way(feed))  # fmt: skip

    yield from each_cord(scene, book, judge)
