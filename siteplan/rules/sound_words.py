"""Whether the neighbours will hear it, in one sentence; information, never leave to move it."""

from siteplan.rules.book import rule
from siteplan.rules.missing import not_judged
from siteplan.rules.sound import Heard, loudest
from siteplan.rules.sound_hearing import machine_power_dba
from siteplan.rules.sound_limits import Limits, Where, limits
from siteplan.scene import Scene
from siteplan.sound.limits import Verdict
from siteplan.words import Quantity, Text, Value

_ABOVE = Text(
    "Yes, and above the limit: about {level} (±{band} dB) {where}; the limit is {limit} {when}. "
    "{first}"
)
_CLOSE = Text(
    "Yes, and perhaps above the limit: about {level} (±{band} dB) {where}; the limit is {limit} "
    "{when}. {first}"
)
_WITHIN = Text(
    "Expect so: about {level} (±{band} dB) {where}, under the limit of {limit} {when}. {first}"
)
_NO_LIMIT = Text(
    "Expect so: about {level} (±{band} dB) {where}. Whether that keeps the limit is not judged, "
    "because this is missing: {missing}. {first}"
)
_FIRST = Text("The distances for carbon monoxide go first: never move it nearer for quiet.")
_WHERE_TEXTS = {
    "window": Text("at the loudest window of a neighbour ({place})"),
    "wall": Text("at the loudest wall of a neighbour ({place})"),
    "side": Text("at the loudest place of the boundary ({place})"),
    "ring": Text("at the distance of the limit ({place})"),
}
_WHERES: tuple[Where, ...] = ("window", "boundary", "at-distance")
_Period = tuple[float, Text, Verdict | None]
_RANK = {"above": 3, "close": 2, None: 1, "within": 0}


def heard_line(scene: Scene) -> Text:
    """Return how loud it is at the neighbours' against the limit, or what is missing."""
    standing, plan = scene.standing, scene.plan
    if standing is None:
        return not_judged(Text("where the generator stands"))
    if standing.machine.sound is None or machine_power_dba(standing.machine)[1]:
        return not_judged(Text("the generator's sound rating"))
    places = [one for where in _WHERES if (one := loudest(scene, where)) is not None]
    if not places:
        return not_judged(Text("the lot's boundary and the neighbours' houses"))
    held = limits(plan)
    judged = [(one, _periods(one, held)) for one in places]
    return _told(*max(judged, key=_rank))


def _periods(one: Heard, held: Limits) -> list[_Period]:
    """Return limit, time and verdict of each time in which the machine runs under a limit."""
    return [
        (limit, Text("at night") if night else Text("by day"), one.verdict(night=night))
        for night, limit, runs in (
            (False, one.limits.day_dba, held.by_day),
            (True, one.limits.night_dba, held.at_night),
        )
        if limit is not None and runs
    ]


def _rank(judged: tuple[Heard, list[_Period]]) -> tuple[int, bool, float]:
    """Order places: the worst against a limit, then windows, then the loudest."""
    one, periods = judged
    worst = max((_RANK[verdict] for *_, verdict in periods), default=-1)
    return worst, one.kind != "side", one.level_dba


def _told(one: Heard, found: list[_Period]) -> Text:
    where = Text(_WHERE_TEXTS[one.kind].template, {"place": one.name})
    values: dict[str, Value] = {
        "level": Quantity(one.level_dba, "level", "up"),
        "band": Quantity(rule("sound-boundary").figure("uncertainty_db"), "count", "up"),
        "where": where,
        "first": _FIRST,
    }
    if not found:
        values["missing"] = Text("the local noise limit")
        return Text(_NO_LIMIT.template, values)
    limit, when, verdict = max(found, key=lambda each: (_RANK[each[2]], -each[0]))
    values |= {"limit": Quantity(limit, "level", "down"), "when": when}
    if verdict is None:
        values["missing"] = Text("a level so near to it: within 3 m nothing is modelled")
        return Text(_NO_LIMIT.template, values)
    return Text({"above": _ABOVE, "close": _CLOSE, "within": _WITHIN}[verdict].template, values)
