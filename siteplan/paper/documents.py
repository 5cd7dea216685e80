"""The three sets of papers: for the household, for records, for the installer."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache
from typing import Literal

from siteplan.drawing.marks import Mark
from siteplan.paper import identity, typeset
from siteplan.paper.blocks import Block, Columns, NewPage, Picture, tree
from siteplan.paper.night import Night, night
from siteplan.paper.sections import (
    cards,
    cautions,
    cords,
    inlet,
    needs,
    outlets,
    parts,
    place,
    sign,
    tapes,
    verdict,
    wiring,
)
from siteplan.paper.sections import night as nights
from siteplan.paper.setout import set_out, tape_marks
from siteplan.paper.sheet import Sheet, Wish, plan_sheet
from siteplan.paper.subject import Subject
from siteplan.paper.timeline import timeline
from siteplan.plan.document import Plan
from siteplan.rules import review_scene
from siteplan.scene import resolve
from siteplan.words import Manner, plain

Kind = Literal["household", "records", "installer"]
KINDS: tuple[Kind, ...] = ("household", "records", "installer")
LETTER_MM, A4_MM = (215.9, 279.4), (210.0, 297.0)
_MARGIN_MM = {"household": 13.0, "records": 14.0, "installer": 14.0}
# Type [pt] and height of the drawing [mm]: large first, smaller where two pages would not do.
_HOUSEHOLD_SIZES = (
    (12.0, 138.0),
    (11.0, 138.0),
    (11.0, 112.0),
    (10.0, 138.0),
    (10.0, 112.0),
    (9.0, 112.0),
    (9.0, 84.0),
)
# Frame and inset of a card on both sides.
_CARD_INSET_MM = 6.5
_HOUSEHOLD_PAGES = 2
_HOUSEHOLD_FINDINGS = 3
_HEAD_TEXTS = {
    "household": "For the household",
    "records": "For records",
    "installer": "For the installer",
}
_TITLE_TEXTS = {
    "household": "For the household: where the generator stands, and how to run it",
    "records": "For records: what was checked, measured and cited",
    "installer": "For the installer: power path, inlet and loads",
}


@dataclass(frozen=True, slots=True)
class Made:
    """Blocks of a set and the drawings they name."""

    blocks: tuple[Block, ...]
    pictures: dict[str, str]


def make(
    plan: Plan,
    kind: Kind,
    manner: Manner | None = None,
    *,
    printed: dt.date | None = None,
    archive: bool = False,
) -> bytes:
    """Return one set of papers as a PDF.

    Parameters
    ----------
    plan : Plan
        Of several placements, the one under review is shown.
    kind : str
        "household", "records" or "installer".
    manner : Manner
        Language and units; feet also choose US Letter, metres A4.
    printed : date or None
        The day on the paper; None is today.
    archive : bool
        Whether to keep to PDF/A-2a too; the papers keep to PDF/UA-1 in any case.

    Raises
    ------
    ScaleError
        If the lot fits no scale.
    SettingError
        If a page cannot be set.
    """
    subject = about(plan, manner, printed)
    paper_mm = LETTER_MM if subject.manner.system == "feet" else A4_MM
    standards: tuple[typeset.Standard, ...] = ("ua-1", "a-2a") if archive else ("ua-1",)
    when = dt.datetime.combine(subject.printed, dt.time(12), dt.UTC)

    def pages(made: Made, text_pt: float) -> bytes:
        data = _frame(subject, kind, paper_mm) | {"blocks": tree(made.blocks), "text_pt": text_pt}
        return typeset.pdf(kind, data, made.pictures, standards, when)

    if kind == "records":
        return pages(_records(subject, paper_mm), 9.0)
    if kind == "installer":
        return pages(_installer(subject, paper_mm), 9.5)
    content = b""
    drawn = cache(lambda height_mm: _household(subject, paper_mm, height_mm))
    for text_pt, height_mm in _HOUSEHOLD_SIZES:
        content = pages(drawn(height_mm), text_pt)
        if typeset.page_count(content) <= _HOUSEHOLD_PAGES:
            break
    return content


def _frame(subject: Subject, kind: Kind, paper_mm: tuple[float, float]) -> dict[str, object]:
    plan = subject.plan
    return {
        "lang": subject.manner.language,
        "title": f"{_name(subject)}. {subject.say(_TITLE_TEXTS[kind])}",
        "author": [plain(plan.prepared_by)] if plan.prepared_by.strip() else [],
        "keywords": ["siteplan", identity.fingerprint(plan)],
        "page": {"width_mm": paper_mm[0], "height_mm": paper_mm[1]},
        "head": {"left": _name(subject), "right": subject.say(_HEAD_TEXTS[kind])},
        "foot": {
            "caution": cautions.foot(subject),
            "left": _foot(subject),
            "page": [subject.say("Page"), subject.say("of")],
        },
    }


def about(plan: Plan, manner: Manner | None = None, printed: dt.date | None = None) -> Subject:
    """Return a plan with its scene and review, ready to be written about."""
    scene = resolve(plan)
    subject = Subject(plan, scene, review_scene(scene), manner or Manner())
    return subject if printed is None else replace(subject, printed=printed)


def _name(subject: Subject) -> str:
    title = plain(subject.plan.title) or subject.say("Site plan")
    placement = subject.placement
    if placement is None or not placement.name.strip():
        return title
    return f"{title} · {plain(placement.name)}"


def _foot(subject: Subject) -> str:
    parts = [
        subject.say("Plan {print}", print=identity.fingerprint(subject.plan)),
        identity.accuracy(subject.plan).say(subject.manner),
    ]
    if subject.plan.date:
        parts.append(subject.say("Drawn {date}", date=subject.plan.date))
    parts.append(subject.say("Printed {date}", date=subject.printed.isoformat()))
    return " · ".join(parts)


def _sheet(
    subject: Subject, wish: Wish, name: str, extra: Iterable[Mark] = ()
) -> tuple[Picture, dict[str, str]]:
    sheet: Sheet = plan_sheet(
        subject.plan,
        subject.review,
        subject.manner,
        replace(wish, titled=False, framed=False),
        extra,
    )
    width, height = sheet.size_mm
    return Picture(name, width, height, sheet.spoken), {name: sheet.svg}


def _household(subject: Subject, paper_mm: tuple[float, float], height_mm: float) -> Made:
    found = set_out(subject) if subject.review.worst != "DANGER" else None
    wide = paper_mm[0] - 2 * _MARGIN_MM["household"]
    wish = Wish(size_mm=(wide, height_mm), around="machine", governing=found is None)
    picture, pictures = _sheet(subject, wish, "around", tape_marks(found, subject))
    played = night(subject.plan)
    bar_mm = wide - _CARD_INSET_MM
    if isinstance(played, Night):
        pictures["timeline"] = timeline(subject, played, bar_mm)
    blocks: list[Block] = [
        verdict.verdict(subject),
        *verdict.worst(subject, _HOUSEHOLD_FINDINGS),
        picture,
        *tapes.tapes(subject, found),
        *cords.cords(subject),
        NewPage(),
        cards.carbon_monoxide(subject),
        nights.night(subject, played, bar_mm),
        Columns(
            (
                (cards.before(subject), cards.start(subject)),
                (cards.refuel(subject), cards.stop(subject), cards.no_power(subject)),
            )
        ),
    ]
    return Made(tuple(blocks), pictures)


def _records(subject: Subject, paper_mm: tuple[float, float]) -> Made:
    wide = paper_mm[0] - 2 * _MARGIN_MM["records"]
    lot, pictures = _sheet(subject, Wish(size_mm=(wide, paper_mm[1] - 53.0)), "lot")
    blocks: list[Block] = [
        verdict.verdict(subject),
        *place.place(subject),
        *place.overrides(subject),
        replace(lot, floats=True),
        *verdict.findings(subject),
        *verdict.met(subject),
        *verdict.unjudged(subject),
        *verdict.cited(subject),
        sign.signature(subject),
    ]
    return Made(tuple(blocks), pictures)


def _installer(subject: Subject, paper_mm: tuple[float, float]) -> Made:
    wide = paper_mm[0] - 2 * _MARGIN_MM["installer"]
    lot, pictures = _sheet(subject, Wish(size_mm=(wide, paper_mm[1] - 53.0)), "lot")
    blocks: list[Block] = [
        verdict.verdict(subject),
        *place.place(subject),
        *inlet.inlets(subject),
        *wiring.transfer(subject),
        *wiring.panels(subject),
        replace(lot, floats=True),
        *outlets.outlets(subject),
        *cords.cords(subject),
        *needs.loads(subject),
        *needs.start_order(subject),
        *parts.parts(subject),
        *wiring.permit(subject),
        *verdict.about_power(subject),
    ]
    return Made(tuple(blocks), pictures)
