"""The three sets of papers: for the household, for records, for the installer."""

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Literal

from siteplan.paper import identity, typeset
from siteplan.paper.blocks import tree
from siteplan.paper.household import household
from siteplan.paper.installer import installer
from siteplan.paper.made import Made
from siteplan.paper.records import records
from siteplan.paper.sections import cautions
from siteplan.paper.subject import Subject
from siteplan.plan.document import Plan
from siteplan.rules import review_scene
from siteplan.scene import resolve
from siteplan.words import Manner, plain

Kind = Literal["household", "records", "installer"]
KINDS: tuple[Kind, ...] = ("household", "records", "installer")
LETTER_MM, A4_MM = (215.9, 279.4), (210.0, 297.0)
_SETS: Mapping[Kind, Callable[[Subject, tuple[float, float]], Made]] = {
    "household": household,
    "records": records,
    "installer": installer,
}
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
    made = _SETS[kind](subject, paper_mm)
    data = _frame(subject, kind, paper_mm) | {"pages": tree(made.pages)}
    return typeset.pdf(kind, data, made.pictures, standards, when)


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
