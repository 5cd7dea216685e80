"""For the household: two pages in large type, fit to hang by the door."""

from siteplan.drawing import Marks, zone_marks
from siteplan.paper.blocks import Block, Columns
from siteplan.paper.furniture import Around
from siteplan.paper.made import CARD_INSET_MM, Made, Way, drawn
from siteplan.paper.sections import answers, cards, cords, tapes, verdict
from siteplan.paper.sections import night as nights
from siteplan.paper.setout import tape_marks
from siteplan.paper.sheet import Wish
from siteplan.paper.subject import Subject
from siteplan.paper.timeline import timeline
from siteplan.rules.night import night_plan
from siteplan.suggest.tapes import set_out
from siteplan.suggest.zone import standing_zone

MARGIN_MM = 13.0
# Type [pt] and height of the drawing [mm]: large first, smaller where one page would not do.
_FRONT_WAYS = (
    (12.5, 138.0), (11.5, 138.0), (12.0, 116.0), (11.5, 116.0), (11.0, 116.0), (10.5, 116.0),
    (10.0, 116.0), (11.0, 104.0), (10.5, 104.0), (10.0, 104.0), (10.5, 84.0), (10.0, 84.0),
    (9.5, 84.0), (9.0, 84.0), (8.5, 84.0),
)  # fmt: skip
# Type [pt] and how much of what was not judged is told in words.
_BACK_WAYS = (
    (12.5, 3), (11.5, 3), (10.7, 3), (10.0, 3), (9.5, 3), (9.0, 3), (9.0, 1), (8.5, 3), (8.5, 1),
    (8.0, 1), (8.0, 0),
)  # fmt: skip
_MOST_FINDINGS = 3


def household(subject: Subject, paper_mm: tuple[float, float]) -> Made:
    """Return both pages: where it stands and how to find it; and how to run it."""
    wide = paper_mm[0] - 2 * MARGIN_MM
    pictures: dict[str, str] = {}
    front = _front(subject, wide, pictures)
    above, governs = _back(subject, wide, pictures)
    back = tuple(
        Way(size, (*above, *answers.missing(subject, most), governs)) for size, most in _BACK_WAYS
    )
    return Made((front, back), pictures)


def _front(subject: Subject, wide_mm: float, pictures: dict[str, str]) -> tuple[Way, ...]:
    # Whoever must not stand it there is not told how to find the place, but where to look.
    barred = tapes.barred(subject.review)
    found = None if barred else set_out(subject.scene)
    zone = _zone(subject) if barred else ()
    shown = {}
    for height in dict.fromkeys(height for _, height in _FRONT_WAYS):
        around: Around = "lot" if zone else "machine"
        wish = Wish(
            size_mm=(wide_mm, height),
            around=around,
            short_legend=True,
            governing=found is None,
        )
        name = f"around-{height:g}"
        shown[height], svg = drawn(subject, wish, name, tape_marks(found, subject), zone)
        pictures.update(svg)
    above = (verdict.verdict(subject), *verdict.worst(subject, _MOST_FINDINGS))
    below = (*tapes.tapes(subject, found, shown_zone=bool(zone)), *cords.cords(subject))
    return tuple(Way(size, (*above, shown[height], *below)) for size, height in _FRONT_WAYS)


def _zone(subject: Subject) -> Marks:
    if subject.scene.standing is None:
        return ()
    zone = standing_zone(subject.plan, scene=subject.scene)
    return zone_marks(zone.tint, "standing-zone")


def _back(
    subject: Subject, wide_mm: float, pictures: dict[str, str]
) -> tuple[tuple[Block, ...], Block]:
    """Return the cards, and what stands above them all."""
    played = night_plan(subject.scene)
    bar_mm = wide_mm - CARD_INSET_MM
    if not played.missing:
        pictures["timeline"] = timeline(subject, played, bar_mm)
    columns = tuple(
        tuple(cards.card(subject, one) for one in side) for side in (cards.LEFT, cards.RIGHT)
    )
    shown = (
        cards.card(subject, cards.CARBON_MONOXIDE),
        nights.night(subject, played, bar_mm),
        Columns(columns),
        cards.card(subject, cards.BELOW),
    )
    return shown, cards.governs(subject)
