"""For the household: two pages in large type to hang by the door, and one of answers."""

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
_BACK_PT = (12.5, 11.5, 10.7, 10.0, 9.5, 9.0, 8.5, 8.0)
_MOST_FINDINGS = 3


def household(subject: Subject, paper_mm: tuple[float, float]) -> Made:
    """Return where it stands and how to find it; how to run it; and the questions answered."""
    wide = paper_mm[0] - 2 * MARGIN_MM
    pictures: dict[str, str] = {}
    front = _front(subject, wide, pictures)
    back = _back(subject, wide, pictures)
    told = tuple(answers.answered(subject))
    rest = (tuple(Way(size, page) for size in _BACK_PT) for page in (back, told))
    return Made((front, *rest), pictures)


def _front(subject: Subject, wide_mm: float, pictures: dict[str, str]) -> tuple[Way, ...]:
    # Whoever must not stand it there is not told how to find the place, but where to look.
    barred = subject.review.worst == "DANGER"
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
    return zone_marks(zone.allowed, "standing-zone")


def _back(subject: Subject, wide_mm: float, pictures: dict[str, str]) -> tuple[Block, ...]:
    played = night_plan(subject.scene)
    bar_mm = wide_mm - CARD_INSET_MM
    if not played.missing:
        pictures["timeline"] = timeline(subject, played, bar_mm)
    columns = tuple(
        tuple(cards.card(subject, one) for one in side) for side in (cards.LEFT, cards.RIGHT)
    )
    return (
        cards.card(subject, cards.CARBON_MONOXIDE),
        nights.night(subject, played, bar_mm),
        Columns(columns),
        cards.card(subject, cards.BELOW),
        cards.governs(subject),
    )
