"""Finding the place in the yard with a tape."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Heading, Para, Table
from siteplan.paper.setout import tape_length
from siteplan.paper.subject import Subject
from siteplan.rules.findings import Review
from siteplan.suggest.say import HOUSE_FIRST
from siteplan.suggest.tapes import SetOut
from siteplan.suggest.zone import against_spot
from siteplan.words import length

_HEAD_WORDS = ("Tape", "From", "To the middle of the generator")


def barred(review: Review) -> bool:
    """Whether the machine must not stand, or not as it is turned, where the plan has it."""
    return review.worst == "DANGER" or bool(against_spot(review.findings))


def tapes(subject: Subject, found: SetOut | None, *, shown_zone: bool = False) -> Iterator[Block]:
    """Yield the tapes as a table, or say that there are none."""
    yield Heading(subject.say("Find the place with a tape"))
    if subject.scene.standing is None:
        yield Para(subject.say("No generator stands on the plan yet."))
        return
    if barred(subject.review):
        yield Para(
            subject.say(
                "No tapes are given: it must not stand here, or not turned so. Choose a place."
            ),
            "strong",
        )
        if not subject.plan.has_home:
            yield Para(HOUSE_FIRST.say(subject.manner))
            return
        yield Para(
            subject.say(
                "Within the tinted ground no rule that was checked forbids it, turned as it is. "
                "Draw it there, and print again."
                if shown_zone
                else "Turned as it is, no ground on this lot passes the rules that were checked."
            )
        )
        return
    if found is None:
        yield Para(
            subject.say(
                "No two corners of your own buildings within reach of a tape fix this place. "
                "Measure it from the plan at its scale, and check every distance on the ground."
            )
        )
        return
    rows = tuple(
        (
            tape.letter,
            tape.corner.say(subject.manner),
            tape_length(subject, tape)
            if not tape.check
            else subject.say("{away}, to check", away=tape_length(subject, tape)),
        )
        for tape in found.tapes
    )
    yield Table(tuple(subject.say(one) for one in _HEAD_WORDS), rows, (0.8, 3.4, 2.6))
    error = length(found.error_m, "up")
    told = subject.say(
        "Where tapes A and B meet, on the side shown, is the middle of the generator, within "
        "{error}.",
        error=error,
    )
    if any(tape.check for tape in found.tapes):
        told += " " + subject.say("If the third tape does not agree, measure again.")
    yield Para(told, "small")
