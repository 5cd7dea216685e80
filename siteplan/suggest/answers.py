"""The eight questions of whoever must run a generator tonight, each answered in plain words."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal, NamedTuple

from siteplan.plan.around import PowerInlet
from siteplan.power.ways import WayKind
from siteplan.rules import power_report
from siteplan.rules.book import rule, titled
from siteplan.rules.common import local_m
from siteplan.rules.findings import Finding, Met, Review, Unjudged, serious, severity
from siteplan.rules.missing import not_judged
from siteplan.rules.night import night_plan
from siteplan.rules.night_words import medical_lines, refuel_line
from siteplan.rules.power.buy import JOIN_TEXT, lines_of
from siteplan.rules.power.report import PowerReport
from siteplan.rules.sound_words import heard_line
from siteplan.scene import Scene
from siteplan.suggest.compass import compass_text
from siteplan.words import Text, length

Question = Literal["where", "exhaust", "cord", "join", "house", "motors", "refuel", "sound"]
QUESTION_TEXTS: Mapping[Question, str] = {
    "where": "Where may it stand?",
    "exhaust": "Which way must the exhaust point?",
    "cord": "Which cord?",
    "join": "May two cords be joined?",
    "house": "How does the power get into the house?",
    "motors": "Can it start the motors?",
    "refuel": "When may it be refuelled?",
    "sound": "Will the neighbours hear it?",
}
_NO_PLACE = Text("where the generator stands")
_NO_CORD = Text("a cord")
_NO_FEED = Text("Never feed a wall outlet: it kills people at work on the lines.")
_LOOK = Text("The search for places says where on this lot it can stand.")
_WAY_TEXTS: Mapping[WayKind, Text] = {
    "single-cords": Text("By cords alone, one to each appliance, never into a wall outlet."),
    "locking-cord-box": Text("By one cord to a box of outlets, never into a wall outlet."),
    "through-wall": Text("By one cord to the through-wall outlet, apart from the house wiring, "
                         "never into a wall outlet."),
    "inlet-transfer": Text("By one cord to the power inlet, and on through transfer equipment that "
                           "keeps the utility off, never into a wall outlet."),
}  # fmt: skip
# Chapters of the rule book that judge a place; how the exhaust points has its own question.
_PLACE_GROUPS = frozenset(
    {"Carbon monoxide", "Heat and fire", "Gas and fuel", "Service equipment", "Boundary and ways"}
)
# How it is turned there, and what is opened for it.
_TURNED = frozenset({"exhaust-direction", "cord-opening-ajar"})
_HOUSE_RULES = (
    "backfeed",
    "transfer-equipment",
    "neutral-bond",
    "plug-match",
    "cord-pinched",
    "cord-opening-ajar",
)


class Answer(NamedTuple):
    """A question with its answer, one sentence after the other."""

    question: Question
    lines: tuple[Text, ...]

    @property
    def title(self) -> Text:
        """The question in words."""
        return Text(QUESTION_TEXTS[self.question])


def answers(scene: Scene, review: Review) -> tuple[Answer, ...]:
    """Return the answers for the placement under review, in the order of the job.

    Parameters
    ----------
    scene : Scene
    review : Review
        What the rules say of it.

    Notes
    -----
    Each is put together from what the rules, the power report, the night's plan and the
    levels say; what data are missing for is not judged.
    """
    power = power_report(scene)
    return (
        Answer("where", tuple(_where(scene, review))),
        Answer("exhaust", tuple(_exhaust(scene, review))),
        Answer("cord", tuple(_cord(power))),
        Answer("join", (JOIN_TEXT,)),
        Answer("house", tuple(_house(scene, review, power))),
        Answer("motors", tuple(_motors(power))),
        Answer("refuel", tuple(_refuel(scene))),
        Answer("sound", (heard_line(scene),)),
    )


def _of_the_place(rule_id: str) -> bool:
    return rule(rule_id).group in _PLACE_GROUPS or rule_id in _TURNED


def _where(scene: Scene, review: Review) -> Iterator[Text]:
    found = [one for one in review.findings if _of_the_place(one.rule)]
    # Where it stands goes before how it is turned there.
    wrong = sorted(serious(found), key=lambda one: (-severity(one.signal), one.rule in _TURNED))
    if scene.standing is not None and wrong:
        # Whoever stands in the dark with it must read this first.
        yield Text("Not as it stands on the plan. {what}", {"what": wrong[0].what})
        if len(wrong) > 1:
            yield Text("That is the worst of {count} reasons.", {"count": len(wrong)})
    needed = max(
        local_m(scene.plan, one, rule(one).figure("warning_m"))
        for one in ("separation-opening", "separation-building")
    )
    yield Text(
        "In the open, at least {limit} from every opening and every building people may be in, "
        "farther where the lot allows; never in a garage, on a porch or under a roof.",
        {"limit": length(needed, "up")},
    )
    if scene.standing is None:
        yield not_judged(_NO_PLACE)
    if scene.standing is None or wrong:
        yield _LOOK
        return
    yield from _passing(review, found)


def _passing(review: Review, found: Sequence[Finding]) -> Iterator[Text]:
    """Yield what is known of a place with nothing of WARNING or worse against it."""
    yield Text(
        "Nothing judged speaks against the place on the plan; that is no leave to run it there."
    )
    for rule_id in ("separation-opening", "separation-building"):
        yield from (titled(rule_id, one.what) for one in review.met if one.rule == rule_id)
    yield from (Text("Still to be heeded: {what}", {"what": one.what}) for one in found[:1])
    open_ = [one for one in review.unjudged if _of_the_place(one.rule) and not one.not_drawn]
    if open_:
        yield Text("Of the place itself {count} things are not judged.", {"count": len(open_)})


def _exhaust(scene: Scene, review: Review) -> Iterator[Text]:
    if scene.standing is None:
        yield not_judged(_NO_PLACE)
        return
    if scene.standing.machine.exhaust_side is None:
        yield Text("Away from every opening and building.")
    else:
        point = compass_text(scene.plan, scene.standing.exhaust_deg)
        text = "Away from every opening and building; on the plan it blows {point}."
        yield Text(text, {"point": point})
    for one in _of("exhaust-direction", review):
        if isinstance(one, Unjudged):
            yield not_judged(one.missing)
        else:
            yield one.what
        if isinstance(one, Finding):
            yield one.do
        return


def _of(rule_id: str, review: Review) -> Iterator[Finding | Unjudged | Met]:
    """Yield what is said of a rule, what is wrong first."""
    yield from (one for one in review.findings if one.rule == rule_id)
    yield from (one for one in review.unjudged if one.rule == rule_id)
    yield from (one for one in review.met if one.rule == rule_id)


def _cord(power: PowerReport) -> Iterator[Text]:
    if not power.cords:
        yield not_judged(_NO_CORD)
    for one in power.buys:
        yield from lines_of(one)


def _house(scene: Scene, review: Review, power: PowerReport) -> Iterator[Text]:
    if power.chosen is None:
        yield not_judged(_NO_CORD)
        yield _NO_FEED
        return
    wrong = [one for one in serious(review.findings) if one.rule in _HOUSE_RULES]
    for one in wrong[:1]:
        yield one.what
        yield one.do
    yield _WAY_TEXTS[power.chosen]
    if power.chosen == "inlet-transfer":
        inlets = [one for one in scene.plan.fixtures if isinstance(one, PowerInlet)]
        ids = {one.id for one in inlets}
        gaps = [
            one
            for one in review.unjudged
            if one.rule in _HOUSE_RULES and (ids & set(one.subjects) or not one.subjects)
        ]
        yield from (not_judged(one.missing) for one in gaps[:1])


def _refuel(scene: Scene) -> Iterator[Text]:
    night = night_plan(scene)
    yield refuel_line(night, scene.plan.outage.quiet_from)
    yield from medical_lines(night, scene.plan)


def _motors(power: PowerReport) -> Iterator[Text]:
    if power.motors:
        yield from power.motors
        return
    if power.loads:
        yield Text("No appliance entered has a motor that is known of.")
    else:
        yield not_judged(Text("the appliances that will run"))
