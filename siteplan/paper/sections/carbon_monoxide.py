"""The carbon monoxide estimate on paper: what it stands on, openings in order, plots, caution."""

from collections.abc import Iterator

from siteplan.air.blood import Activity
from siteplan.paper import air_plots
from siteplan.paper.blocks import (
    Block,
    Card,
    Cell,
    Heading,
    NewPage,
    Panel,
    Para,
    Picture,
    Steps,
    Table,
)
from siteplan.paper.made import CARD_INSET_MM
from siteplan.paper.subject import Subject
from siteplan.rules import carbon_monoxide_words as words
from siteplan.rules.carbon_monoxide import COEstimate, OpeningEstimate
from siteplan.words import Text, Value, length

MOST_ROWS = 6
_HEAD_WORDS = (
    "Opening",
    "Way of the exhaust",
    "Outdoors",
    "Blood after the run",
    "10 % is reached",
    "Signs",
    "Downwind",
)


def carbon_monoxide(
    subject: Subject, found: COEstimate | None, wide_mm: float, pictures: dict[str, str]
) -> Iterator[Block]:
    """Yield the estimate; its drawings go into `pictures`."""
    if found is None:
        yield Heading(subject.say("Carbon monoxide estimate"))
        yield Para(subject.say("No generator stands on the plan yet: nothing was estimated."))
        return
    yield NewPage()
    # A card keeps the caution and the figures it belongs to on one page.
    yield Card(subject.say("Carbon monoxide estimate"), tuple(_figures(subject, found)))
    if found.openings:
        title = subject.say("Behind {subject}, the worst opening", subject=found.openings[0].label)
        inside = tuple(_plots(subject, found, wide_mm - CARD_INSET_MM, pictures))
        yield Card(title, inside)


def _figures(subject: Subject, found: COEstimate) -> Iterator[Block]:
    yield caution(subject)
    yield Steps(tuple(one.say(subject.manner) for one in words.basis(found)), "bullet")
    if not found.openings:
        yield Para(words.nothing_within(found).say(subject.manner))
        return
    rows = tuple(_row(subject, one, found.person) for one in found.openings[:MOST_ROWS])
    head = tuple(subject.say(one) for one in _HEAD_WORDS)
    yield Table(head, rows, (2.5, 1.0, 1.5, 1.7, 1.8, 2.6, 1.1), (1, 2, 3))
    left = found.within_reach - len(rows)
    if left > 0:
        yield Para(subject.say("Openings within reach not listed: {count}.", count=left), "small")


def caution(subject: Subject) -> Panel:
    """Return the caution that stands with every figure of the estimate."""
    return Panel("CAUTION", subject.say("CAUTION"), subject.say(words.CAUTION_TEXT))


def _row(subject: Subject, one: OpeningEstimate, person: Activity) -> tuple[Cell, ...]:
    usual, worst = one.indicative, one.worst

    state = Text(words.STATE_WORDS[one.state])
    return (
        subject.say("{subject}, {state}", subject=one.label, state=state),
        subject.show(length(one.path_m)),
        _both(subject, words.ppm(usual.outdoor_ppm), words.ppm(worst.outdoor_ppm)),
        _both(
            subject,
            words.percent(usual.peak_percent[person]),
            words.percent(worst.peak_percent[person]),
        ),
        _both(
            subject,
            words.when(usual.minutes_to_severe[person]),
            words.when(worst.minutes_to_severe[person]),
        ),
        _both(subject, words.symptoms(usual), words.symptoms(worst)),
        "–" if one.downwind_share is None else subject.show(words.share(one.downwind_share)),
    )


def _both(subject: Subject, usual: Value, worst: Value) -> str:
    first, second = subject.show(usual), subject.show(worst)
    return first if first == second else f"{first} – {second}"


def _plots(
    subject: Subject, found: COEstimate, wide_mm: float, pictures: dict[str, str]
) -> Iterator[Block]:
    worst = found.openings[0]
    pictures["air-time"] = air_plots.over_time(subject, worst, wide_mm)
    pictures["air-distance"] = air_plots.by_distance(subject, found, wide_mm)
    yield caution(subject)
    told = tuple(one.say(subject.manner) for one in words.details(worst))
    yield Steps(told, "bullet")
    yield Picture("air-time", wide_mm, air_plots.TIME_MM, " ".join(told))
    spoken = subject.say("Carbon monoxide outdoors falls with distance; the methods differ widely.")
    yield Picture("air-distance", wide_mm, air_plots.DISTANCE_MM, spoken)
    alarms = " ".join(words.alarm(one).say(subject.manner) for one in found.alarm_points)
    yield Para(alarms, "small")
    methods = Text(air_plots.method_names(subject, found))
    yield Para(subject.say("Methods drawn: {methods}.", methods=methods), "small")
