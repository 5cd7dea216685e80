"""The steps in the order of the job: title, count, what is missing, and the panel of each."""

from collections.abc import Callable
from dataclasses import dataclass

from siteplan.desk.making import PATH_FIXTURES
from siteplan.desk.text import tr
from siteplan.plan import Plan
from siteplan.rules.findings import Review
from siteplan.rules.missing import open_count


@dataclass(frozen=True, slots=True)
class State:
    """How far a step is: its count, what is still missing, and whether nothing is."""

    count: str
    missing: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the job."""

    name: str
    title: str
    symbol: str
    state: Callable[[Plan, Review], State]


def steps() -> tuple[Step, ...]:
    """Return the steps, their titles in the reader's language."""
    return (
        Step("lot", tr("Lot"), "lot", _lot),
        Step("buildings", tr("Buildings"), "buildings", _buildings),
        Step("openings", tr("Openings"), "openings", _openings),
        Step("around", tr("Around the house"), "around", _around),
        Step("generator", tr("Generator"), "generator", _generator),
        Step("path", tr("Power path"), "path", _path),
        Step("needs", tr("Needs of the house"), "needs", _needs),
        Step("check", tr("Check"), "check", _check),
        Step("paper", tr("Paper"), "paper", _paper),
    )


def _lot(plan: Plan, _review: Review) -> State:
    if plan.lot is None:
        return State("", tr("no boundary yet"))
    if plan.accuracy is None:
        return State("1", tr("how it was measured"))
    return State("1")


def _buildings(plan: Plan, _review: Review) -> State:
    if not any(one.kind == "dwelling" for one in plan.buildings):
        return State(_count(plan.buildings), tr("no dwelling yet"))
    return State(_count(plan.buildings))


def _openings(plan: Plan, _review: Review) -> State:
    open_ended = [one for one in plan.buildings if not one.openings_complete and one.kind != "shed"]
    if open_ended:
        missing = tr("{count} not marked complete", count=len(open_ended))
        return State(_count(plan.openings), missing)
    return State(_count(plan.openings), "" if plan.buildings else tr("draw a building first"))


def _around(plan: Plan, _review: Review) -> State:
    fixtures = [one for one in plan.fixtures if one.kind not in PATH_FIXTURES]
    return State(_count((*plan.surroundings, *fixtures)))


def _generator(plan: Plan, _review: Review) -> State:
    if plan.machine is None or not plan.placements:
        return State("", tr("not standing yet"))
    if plan.machine.rated_w is None:
        return State(_count(plan.placements), tr("running watts"))
    return State(_count(plan.placements))


def _path(plan: Plan, _review: Review) -> State:
    cords = plan.placement.cords if plan.placement else ()
    if not cords:
        return State("", tr("no cord yet"))
    return State(_count(cords), "" if plan.transfer else tr("transfer equipment"))


def _needs(plan: Plan, _review: Review) -> State:
    if not plan.loads:
        return State("", tr("nothing listed yet"))
    missing = "" if plan.outage.hours is not None else tr("length of the outage")
    return State(_count(plan.loads), missing)


def _check(_plan: Plan, review: Review) -> State:
    open_questions = open_count(review)
    told = tr("{count} not judged", count=open_questions) if open_questions else ""
    return State(_count(review.findings), told)


def _paper(plan: Plan, _review: Review) -> State:
    return State("", "" if plan.title else tr("no title yet"))


def _count(things: tuple[object, ...]) -> str:
    return str(len(things)) if things else ""
