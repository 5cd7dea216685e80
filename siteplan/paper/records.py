"""For records: what an association or an insurer wants to see, with every figure and source."""

from collections.abc import Iterator
from dataclasses import replace

from siteplan.drawing.sound import contour_marks, level_marks
from siteplan.paper.blocks import Block
from siteplan.paper.made import Made, Way, drawn
from siteplan.paper.sections import answers, carbon_monoxide, place, places, sign, sound, verdict
from siteplan.paper.sheet import Wish
from siteplan.paper.subject import Subject
from siteplan.rules.carbon_monoxide import estimate
from siteplan.rules.sound import SoundReport
from siteplan.rules.sound import levels as sound_levels
from siteplan.rules.sound_contours import contours

MARGIN_MM = 14.0
_TEXT_PT = 9.0
_SOUND_MM = 125.0


def records(subject: Subject, paper_mm: tuple[float, float]) -> Made:
    """Return the set; it runs over as many pages as the review needs."""
    wide = paper_mm[0] - 2 * MARGIN_MM
    lot, pictures = drawn(subject, Wish(size_mm=(wide, paper_mm[1] - 53.0)), "lot")
    heard = sound_levels(subject.scene)
    blocks: list[Block] = [
        verdict.verdict(subject),
        *place.place(subject),
        *place.overrides(subject),
        *places.places(subject),
        replace(lot, floats=True),
        *answers.answered(subject),
        *verdict.findings(subject),
        *verdict.met(subject),
        *verdict.unjudged(subject),
        *sound.sound(subject, heard),
        *_sound_picture(subject, heard, wide, pictures),
        *carbon_monoxide.carbon_monoxide(subject, estimate(subject.scene), wide, pictures),
        *verdict.cited(subject),
        sign.signature(subject),
    ]
    return Made(((Way(_TEXT_PT, tuple(blocks)),),), pictures)


def _sound_picture(
    subject: Subject, heard: SoundReport, wide_mm: float, pictures: dict[str, str]
) -> Iterator[Block]:
    if heard.power_dba is None or not (heard.sides or heard.windows):
        return
    marks = (
        *contour_marks(contours(subject.scene), subject.manner),
        *level_marks(heard, subject.manner),
    )
    wish = Wish(size_mm=(wide_mm, _SOUND_MM), governing=False, findings=False)
    picture, svg = drawn(subject, wish, "sound", marks)
    pictures.update(svg)
    yield picture
