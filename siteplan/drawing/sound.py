"""Sound on the plan: lines of equal level, and the loudest places with their figures."""

from collections.abc import Iterable, Iterator

from siteplan.drawing.marks import Label, Mark, Marks, Stroke, Symbol
from siteplan.rules.sound import Heard, SoundReport
from siteplan.sound.contours import Contour
from siteplan.words import Manner, Quantity

_SHORTEST_LABELLED_POINTS = 8


def contour_marks(contours: Iterable[Contour], manner: Manner | None = None) -> Marks:
    """Return lines of equal level, each with its figure once.

    Parameters
    ----------
    contours : iterable of Contour
        As `siteplan.rules.sound_contours.contours`.
    manner : Manner
        Language of the figures.
    """
    return tuple(_contours(contours, manner or Manner()))


def _contours(contours: Iterable[Contour], manner: Manner) -> Iterator[Mark]:
    for one in contours:
        points = tuple((float(x), float(y)) for x, y in one.points)
        if len(points) < 2:
            continue
        yield Stroke(points, "sound-contour")
        if len(points) >= _SHORTEST_LABELLED_POINTS:
            text = manner.show(Quantity(one.level_dba, "level"))
            at = points[len(points) // 3]
            yield Label(at, text, "sound-contour", height_mm=1.7, boxed=True)


def level_marks(report: SoundReport, manner: Manner | None = None) -> Marks:
    """Return a sign and the level at the loudest place of each side and window."""
    return tuple(_levels(report, manner or Manner()))


def _levels(report: SoundReport, manner: Manner) -> Iterator[Mark]:
    for one in (*report.sides, *report.windows):
        yield Symbol("corner", one.at, "sound-level", size_mm=2.6)
        yield Label(
            one.at,
            level(one, manner),
            "sound-level",
            height_mm=2.0,
            boxed=True,
            shift_mm=(0.0, 3.2),
        )


def level(one: Heard, manner: Manner) -> str:
    """Return a level as it is shown; nearer than is modelled it is the least it can be."""
    shown = manner.show(Quantity(one.level_dba, "level", "up"))
    return f"≥ {shown}" if one.too_near else shown
