"""What the review says of the drawing itself: its accuracy, and local figures."""

from collections.abc import Iterator

from siteplan.rules.book import Rule, rule
from siteplan.rules.book import book as rule_book
from siteplan.rules.common import accuracy_m
from siteplan.rules.findings import Finding, Met, Outcome, Unjudged
from siteplan.scene import Scene
from siteplan.units import LENGTH_TOLERANCE_M
from siteplan.words import Text, Value, length


def drawing_accuracy(scene: Scene) -> Iterator[Outcome]:
    """State the accuracy that every distance was shortened by."""
    book = rule("drawing-accuracy")
    stated = scene.plan.accuracy
    slack = length(accuracy_m(scene.plan), "up")
    if stated is None or (stated.method == "figure" and stated.figure_m is None):
        yield Unjudged(
            book.id,
            (),
            Text(
                "how the lot was measured; {slack}, the figure for a paced sketch, is "
                "subtracted from every distance",
                {"slack": slack},
            ),
        )
        return
    what = Text(
        "{slack} is subtracted from every distance for the drawing's accuracy.", {"slack": slack}
    )
    yield Met(book.id, (), what, book.sources, measured=slack)


def local_figures(scene: Scene) -> Iterator[Outcome]:
    """Say of each local figure whether it is followed; one that is shorter never is."""
    book = rule("local-figure")
    for override in scene.plan.overrides:
        target = rule_book().get(override.rule)
        figure = None if target is None else fail_line_m(target)
        if target is None or figure is None:
            yield _notice(
                book,
                Text(
                    "A local figure is given for '{rule}', which has no distance.",
                    {"rule": override.rule},
                ),
                Text("Name a rule with a distance; the list of rules shows them."),
            )
            continue
        shorter = override.distance_m <= figure - LENGTH_TOLERANCE_M
        values: dict[str, Value] = {
            "rule": Text(target.title),
            "distance": length(override.distance_m, "down" if shorter else "up"),
            "figure": length(figure, "up"),
            "reason": override.reason,
        }
        if shorter:
            yield _notice(
                book,
                Text(
                    "The local figure of {distance} for '{rule}' is shorter than {figure} and is "
                    "not followed.",
                    values,
                ),
                Text("Keep the longer figure; the stricter one always governs."),
            )
        else:
            what = Text("'{rule}' is judged at {distance} here, for this reason: {reason}.", values)
            yield Met(book.id, (), what, book.sources, limit=length(override.distance_m, "up"))


def fail_line_m(target: Rule) -> float | None:
    """Return the distance that a local figure must exceed [m], or None if it has none.

    That is the WARNING line, or the worst of a rule that only advises; the DANGER line stands
    as it is.
    """
    names = ("warning_m", "caution_m", "notice_m")
    return next((target.figures[name] for name in names if name in target.figures), None)


def _notice(book: Rule, what: Text, do: Text) -> Finding:
    return Finding(
        rule=book.id, signal="NOTICE", subjects=(), what=what, do=do, sources=book.sources
    )
