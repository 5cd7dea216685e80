"""What is missing, in few lines: the most life-critical first, one line for each reason.

The review itself stays complete; this is only how it is read.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal, NamedTuple

from siteplan.rules.book import book
from siteplan.rules.common import listed, once
from siteplan.rules.findings import Review, Unjudged
from siteplan.words import Text, Value

# Things of which there may be none: what a plan without them says, and what to call them.
_AROUND_TEXTS: Mapping[str, str] = {
    "no window well is drawn; a building with a basement may have one": "window well",
    "no air intake, room air conditioner or evaporative cooler is drawn; the building may have "
    "one": "air intake or air conditioner",
    "no gas regulator or meter is drawn; a house with gas has one": "gas regulator or meter",
    "no gas cylinder is drawn": "gas cylinder",
    "no fuel store is drawn; fuel for an outage is kept somewhere": "fuel store",
    "no overhead service conductors are drawn; the house may have them":
        "overhead service conductors",
    "no brush or hedge is drawn": "brush or hedge",
    "no tree is drawn": "tree",
    "no deck is drawn": "deck",
    "no air-conditioner outdoor unit is drawn": "air-conditioner outdoor unit",
    "no pool is drawn": "pool",
    "no standing water is drawn": "standing water",
    "no driveway is drawn": "driveway",
    "no walk is drawn": "walk",
    "no tent is drawn": "tent",
    "no panel is drawn": "electric panel",
}  # fmt: skip
_POWER_TEXTS: Mapping[str, str] = {
    "no cord is entered": "cord",
    "no load is entered": "appliance",
    "no power inlet is drawn": "power inlet",
    "no through-wall outlet is drawn": "through-wall outlet",
}
# Said of a part of the power path; told by the cord or the appliance where there is none at all.
_PARTLY_TEXTS: Mapping[str, str] = {
    "no load is entered behind an inlet": "appliance behind an inlet",
    "no motor is entered on a cord or behind an inlet": "motor on a cord or behind an inlet",
    "no load is entered on a cord or inlet": "appliance on a cord or inlet",
    "no cord is plugged into an outlet that is known": "cord in an outlet that is known",
    "no load is entered on a cord to an outlet that is known":
        "appliance on a cord to an outlet that is known",
}  # fmt: skip
_NOISE = "the local noise limit; {day} by day and {night} at night would be assumed"
_OF_SUBJECT = "{subject}: {missing}"
_FIRST: Mapping[str, int] = {
    "separation-opening": 0,
    "opening-left-open": 0,
    "separation-building": 0,
    "neighbours-drawn": 0,
    "indoors": 0,
    "under-roof": 0,
    "walled-in": 0,
    "co-alarms": 1,
    "exhaust-direction": 2,
    "backfeed": 4,
    "transfer-equipment": 4,
    "neutral-bond": 4,
    "shared-neutral": 4,
}
_CARBON_MONOXIDE, _REST, _POWER_LAST, _AROUND_LAST = 3, 5, 6, 7
Kind = Literal["around", "power", "noise", "alike", "one"]


class Missing(NamedTuple):
    """One line of what is missing.

    Attributes
    ----------
    text : Text
        What, in words.
    outcomes : tuple of Unjudged
        All that wait for it.
    things : int
        How many things it names.
    """

    text: Text
    outcomes: tuple[Unjudged, ...]
    things: int = 1

    @property
    def rules(self) -> tuple[str, ...]:
        """The rules that wait for it, each once."""
        return tuple(dict.fromkeys(one.rule for one in self.outcomes))


def not_judged(missing: Text) -> Text:
    """Return the sentence for what is not judged for want of data."""
    return Text("Not judged, because this is missing: {missing}.", {"missing": missing})


def grouped(unjudged: Sequence[Unjudged]) -> tuple[Missing, ...]:
    """Return what is missing, one line for each reason, the most life-critical first."""
    groups: dict[tuple[Kind, str], list[Unjudged]] = {}
    of_subjects = {said for one in unjudged if (said := _of_a_subject(one)) is not None}
    for one in unjudged:
        said = _of_a_subject(one) or one.missing.say()
        key: tuple[Kind, str] = ("one", said) if said in of_subjects else _key(one)
        groups.setdefault(key, []).append(one)
    lines = [(_rank(key[0], group), _line(key[0], group)) for key, group in groups.items()]
    return tuple(line for _, line in sorted(lines, key=lambda each: each[0]))


def open_count(review: Review) -> int:
    """Return how many things are missing, as the lines name them."""
    return sum(one.things for one in grouped(review.unjudged))


def _of_a_subject(one: Unjudged) -> str | None:
    """Return what is missing without the thing it is missing for; None if none is named."""
    missing = one.missing.values.get("missing")
    named = one.missing.template == _OF_SUBJECT and isinstance(missing, Text)
    return missing.say() if named and isinstance(missing, Text) else None


def _key(one: Unjudged) -> tuple[Kind, str]:
    template = one.missing.template
    if template in _AROUND_TEXTS:
        return "around", ""
    if template in _POWER_TEXTS or template in _PARTLY_TEXTS:
        return "power", ""
    if template == _NOISE:
        return "noise", ""
    if len(one.missing.values) == 1:
        return "alike", template
    return "one", one.missing.say()


def _rank(kind: Kind, group: Sequence[Unjudged]) -> int:
    if kind in {"around", "power"}:
        return _AROUND_LAST if kind == "around" else _POWER_LAST
    return min(_urgency(one.rule) for one in group)


def _urgency(rule_id: str) -> int:
    if rule_id in _FIRST:
        return _FIRST[rule_id]
    found = book().get(rule_id)
    return _CARBON_MONOXIDE if found and found.group == "Carbon monoxide" else _REST


def _line(kind: Kind, group: Sequence[Unjudged]) -> Missing:
    outcomes = tuple(group)
    if kind == "around":
        return _absent(
            outcomes,
            [_AROUND_TEXTS[name] for name in _AROUND_TEXTS if name in _templates(group)],
            Text("not drawn, so nothing about them is judged ({count}): {things}"),
        )
    if kind == "power":
        return _absent(
            outcomes,
            list(_power(_templates(group))),
            Text("not drawn or entered, so nothing about them is judged ({count}): {things}"),
        )
    if kind == "noise":
        return Missing(Text("the local noise limit"), outcomes)
    if kind == "alike":
        return _alike(outcomes)
    return Missing(_for_all(group), outcomes)


def _templates(group: Sequence[Unjudged]) -> set[str]:
    return {one.missing.template for one in group}


def _power(said: set[str]) -> Iterator[str]:
    yield from (noun for template, noun in _POWER_TEXTS.items() if template in said)
    if not said & {"no cord is entered", "no load is entered"}:
        yield from (noun for template, noun in _PARTLY_TEXTS.items() if template in said)


def _absent(outcomes: tuple[Unjudged, ...], nouns: Sequence[str], says: Text) -> Missing:
    if len({one.missing.template for one in outcomes}) == 1:
        return Missing(outcomes[0].missing, outcomes)
    values: dict[str, Value] = {
        "count": len(nouns),
        "things": listed([Text(one) for one in nouns]),
    }
    return Missing(Text(says.template, values), outcomes, len(nouns))


def _alike(outcomes: tuple[Unjudged, ...]) -> Missing:
    """Return one line for the same question about several things."""
    template, values = outcomes[0].missing.template, outcomes[0].missing.values
    (name,) = values
    asked = once(one.missing.values[name] for one in outcomes)
    if len(asked) == 1:
        return Missing(outcomes[0].missing, outcomes)
    return Missing(Text(template, {name: listed(asked)}), outcomes, len(asked))


def _for_all(group: Sequence[Unjudged]) -> Text:
    """Return what is missing with all the things it is missing for."""
    first = group[0].missing
    bare = [one.missing for one in group if one.missing.template != _OF_SUBJECT]
    if bare:
        # It is missing for its own sake too, whatever else waits for it.
        return bare[0]
    subjects = once(one.missing.values["subject"] for one in group)
    if len(subjects) == 1:
        return first
    values: dict[str, Value] = {
        "missing": first.values["missing"],
        "subjects": listed(subjects),
    }
    return Text("{missing} (for {subjects})", values)
