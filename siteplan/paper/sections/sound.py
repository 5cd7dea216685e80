"""Sound at the boundary and before the neighbours' windows."""

from collections.abc import Iterator

from siteplan.drawing.sound import level
from siteplan.paper.blocks import Block, Cell, Heading, Para, Table, Word
from siteplan.paper.subject import Subject
from siteplan.plan.labels import label
from siteplan.rules.sound import Heard, SoundReport
from siteplan.rules.sound_words import heard_line
from siteplan.words import Quantity, length

_HEAD_WORDS = ("Place", "Distance", "Level", "Day limit", "Night limit", "By day", "By night")
_VERDICT_WORDS = {
    "within": "within",
    "close": "too close to tell",
    "above": "above",
}


def sound(subject: Subject, report: SoundReport) -> Iterator[Block]:
    """Yield the levels place by place with the limits that hold there."""
    yield Heading(subject.say("Sound at the boundary and the neighbours' windows"))
    yield Para(heard_line(subject.scene).say(subject.manner), "strong")
    if report.power_dba is None:
        yield Para(subject.say("No generator stands on the plan yet."))
        return
    power = Quantity(report.power_dba, "level", "up")
    yield Para(
        subject.say("Sound power reckoned with: {power}.", power=power)
        if not report.rating_assumed
        else subject.say(
            "No sound rating is entered: that of an unknown machine is assumed, {power} sound "
            "power.",
            power=power,
        )
    )
    heard = (*report.sides, *report.windows, *(() if report.ring is None else (report.ring,)))
    if not heard:
        yield Para(subject.say("Neither boundary nor neighbour is drawn: not judged."))
        return
    head = tuple(subject.say(one) for one in _HEAD_WORDS)
    rows = tuple(_row(subject, one) for one in heard)
    yield Table(head, rows, (3.2, 1.1, 1.1, 1.1, 1.15, 1.8, 1.65), (1, 2, 3, 4))
    yield Para(
        subject.say(
            "Each level may be off by {db} dB. It counts as within a limit only if it stays 3 dB "
            "under it. A quieter place never outweighs carbon monoxide.",
            db=round(report.uncertainty_db),
        ),
        "small",
    )
    if report.uncredited:
        yield Para(_uncredited(subject, report), "small")


def _row(subject: Subject, one: Heard) -> tuple[Cell, ...]:
    return (
        one.name.say(subject.manner),
        subject.show(length(one.distance_m)),
        level(one, subject.manner),
        _limit(subject, one.limits.day_dba),
        _limit(subject, one.limits.night_dba),
        _verdict(subject, one, night=False),
        _verdict(subject, one, night=True),
    )


def _limit(subject: Subject, value_dba: float | None) -> str:
    return "–" if value_dba is None else subject.show(Quantity(value_dba, "level", "down"))


def _verdict(subject: Subject, one: Heard, *, night: bool) -> Cell:
    if (one.limits.night_dba if night else one.limits.day_dba) is None:
        return subject.say("no limit entered")
    found = one.verdict(night=night)
    if found is None:
        return Word("UNJUDGED", subject.say("not judged"))
    return Word("MET" if found == "within" else "NOTICE", subject.say(_VERDICT_WORDS[found]))


def _uncredited(subject: Subject, report: SoundReport) -> str:
    things = {one.id: one for one in (*subject.plan.surroundings, *subject.plan.buildings)}
    names = ", ".join(
        label(things[one]).say(subject.manner) for one in report.uncredited if one in things
    )
    return subject.say(
        "These screen nothing here, as height or solidity is not entered: {things}.", things=names
    )
