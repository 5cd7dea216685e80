"""Where people sign."""

from siteplan.paper.blocks import Signature
from siteplan.paper.subject import Subject

_LINE_TEXTS = ("Prepared by", "Date", "Seen by", "Date")


def signature(subject: Subject) -> Signature:
    """Return the lines to sign on, and what signing does not say."""
    note = subject.say(
        "Signing says that the plan was seen. It is no certificate: distances hold for the lot as "
        "drawn, with its accuracy, on the day of the drawing."
    )
    lines = tuple(subject.say(one) for one in _LINE_TEXTS)
    return Signature(subject.say("Signatures"), note, lines)
