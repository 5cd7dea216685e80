"""The carbon monoxide estimate: a warning with its two bands, never a permission."""

from collections.abc import Iterator

from siteplan.paper.blocks import Block, Card, Heading, NewPage, Panel, Para, Picture, Steps, Table
from siteplan.paper.subject import Subject
from siteplan.rules import carbon_monoxide_words as words
from siteplan.rules.carbon_monoxide import COEstimate, OpeningEstimate
from siteplan.words import Quantity, Text

MOST_ROWS = 4
_HEAD_WORDS = (
    "Opening",
    "Outside it",
    "Room at 70 ppm",
    "Room at 400 ppm",
    "Blood at the end",
    "Blood of a small child",
    "What is felt",
)


def air(subject: Subject, found: COEstimate | None, picture: Picture | None) -> Iterator[Block]:
    """Yield the estimate on one page with its caution, or that there is none."""
    if found is None:
        yield Heading(subject.say("Carbon monoxide estimate"))
        yield Para(subject.say("No generator stands on the plan yet: nothing was estimated."))
        return
    yield NewPage()
    yield Card(subject.say("Carbon monoxide estimate"), tuple(_inside(subject, found, picture)))


def _inside(subject: Subject, found: COEstimate, picture: Picture | None) -> Iterator[Block]:
    yield Panel("CAUTION", subject.say("CAUTION"), subject.say(words.CAUTION_TEXT))
    if not found.openings:
        yield Para(words.nothing_within(found).say(subject.manner))
    else:
        head = tuple(subject.say(one) for one in _HEAD_WORDS)
        rows = tuple(_row(subject, one) for one in found.openings[:MOST_ROWS])
        yield Table(head, rows, (2.6, 1.6, 1.5, 1.5, 1.4, 1.4, 2.2))
        if found.within_reach > MOST_ROWS:
            more = found.within_reach - MOST_ROWS
            yield Para(
                subject.say("Openings within reach not listed: {count}.", count=more), "small"
            )
    if picture is not None:
        yield picture
    notes = [one.say(subject.manner) for one in words.basis(found)]
    notes.append(" ".join(words.alarm(one).say(subject.manner) for one in found.alarm_points))
    yield Steps(tuple(notes), "bullet")


def _row(subject: Subject, one: OpeningEstimate) -> tuple[str, ...]:
    usual, worst = one.indicative, one.worst

    def both(first: Quantity | Text, second: Quantity | Text) -> str:
        return subject.say("{usual}; worst {worst}", usual=first, worst=second)

    return (
        words.headline(one).say(subject.manner),
        both(words.ppm(usual.outdoor_ppm), words.ppm(worst.outdoor_ppm)),
        both(words.when(usual.minutes_to_ppm[70.0]), words.when(worst.minutes_to_ppm[70.0])),
        both(words.when(usual.minutes_to_ppm[400.0]), words.when(worst.minutes_to_ppm[400.0])),
        both(
            words.percent(usual.peak_percent["public"]),
            words.percent(worst.peak_percent["public"]),
        ),
        both(
            words.percent(usual.peak_percent["child"]), words.percent(worst.peak_percent["child"])
        ),
        both(words.symptoms(usual), words.symptoms(worst)),
    )
