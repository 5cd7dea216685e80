"""What is said of the places found: for the window and the command line alike."""

from collections.abc import Iterator

from siteplan.plan.document import Plan
from siteplan.plan.edits import find
from siteplan.plan.labels import label
from siteplan.rules.book import rule
from siteplan.rules.power.buy import short_sentence
from siteplan.suggest.compass import compass_text
from siteplan.suggest.ranked import Spots
from siteplan.suggest.spot import Spot
from siteplan.suggest.tapes import SetOut
from siteplan.suggest.why import Binding, inlet_text
from siteplan.words import Quantity, Text, Value, length

NOT_ALL_TEXT = Text(
    "Each place listed was judged by the same review as the plan, with the cords as entered. What "
    "the ground is like there must be looked at on site."
)
ANYWHERE_TEXT = Text("Wrong wherever it stands: no place on the lot changes this")
NO_ENGINE_TEXT = Text(
    "As the lot is drawn, run no engine on it. A battery power station gives off no exhaust."
)
_MOST_MISSING = 2
_BY_RULE_TEXT = "{rule}: bars {share} of the lot"
_BY_RULE_AND_THINGS_TEXT = "{rule}: bars {share} of the lot, most of it by {things}"


HOUSE_FIRST = Text(
    "No dwelling of your own is drawn, so nothing tells a place to run a generator from a "
    "deadly one. Draw the house first."
)


def headline(found: Spots) -> Text:
    """Return in one sentence whether there is a place."""
    if not found.places:
        return Text("There is no ground on the lot where the generator finds room.")
    if not found.known:
        return HOUSE_FIRST
    if found.stands and not found.passes:
        return Text(
            "No place was found that passes with the cords as entered. At the places below only "
            "the cords are wrong: see what they need before anything is plugged in."
        )
    if not found.passes:
        return Text(
            "No place on this lot passes. The places below are the least bad, and none of them "
            "is a place to run a generator."
        )
    if len(found.places) == 1:
        return Text("One place passes the rules about it.")
    values = {"count": len(found.places)}
    return Text("The best {count} places, best first; all pass the rules about them.", values)


def about(plan: Plan, spot: Spot) -> Iterator[Text]:
    """Yield what is known of a place, one short sentence each."""
    yield Text("Exhaust blows toward the {point}.", {"point": compass_text(plan, spot.exhaust_deg)})
    if spot.opening_m is not None:
        yield Text("Nearest opening {distance} away.", {"distance": length(spot.opening_m)})
    if spot.cord_m is not None:
        yield Text("{length} of way for cords.", {"length": length(spot.cord_m, "up")})
    for one in spot.buys:
        if not one.missing and one.over_a is None:
            yield short_sentence(one)
    if spot.inlet is not None:
        values: dict[str, Value] = {"place": inlet_text(plan, spot.inlet)}
        if spot.inlet.feeder_m is None:
            yield Text("Best place for an inlet: {place}.", values)
        else:
            values["feeder"] = length(spot.inlet.feeder_m, "up")
            yield Text("Best place for an inlet: {place}; {feeder} of cable to the panel.", values)
    if spot.boundary_dba is not None:
        values = {"level": Quantity(spot.boundary_dba, "level", "up")}
        yield Text("At most {level} at the boundary.", values)
    if spot.room_m is not None:
        yield Text("{room} of free ground about it.", {"room": length(spot.room_m)})
    for gap in spot.missing[:_MOST_MISSING]:
        yield Text(
            "Not judged there, because this is missing: {missing}.", {"missing": gap.missing}
        )


def tapes_text(found: SetOut | None) -> Text:
    """Return how to find a place with a tape, in one sentence."""
    if found is None:
        return Text("No two corners within reach of a tape fix this place.")
    values: dict[str, Value] = {}
    for tape in found.tapes:
        values |= {
            tape.letter: tape.corner,
            f"{tape.letter}_m": Quantity(tape.length_m, "length", "near"),
        }
    if len(found.tapes) == 2:
        return Text("Tape {A_m} from the {A} and {B_m} from the {B}.", values)
    return Text(
        "Tape {A_m} from the {A} and {B_m} from the {B}; check with {C_m} from the {C}.", values
    )


def binding_text(plan: Plan, one: Binding) -> Text:
    """Return how much of the lot a rule bars, and by what."""
    values: dict[str, Value] = {
        "rule": Text(rule(one.rule).title),
        "share": Quantity(one.share, "share", "down"),
    }
    things = [thing for name in one.subjects[:1] if (thing := find(plan, name)) is not None]
    if not things:
        return Text(_BY_RULE_TEXT, values)
    return Text(_BY_RULE_AND_THINGS_TEXT, values | {"things": label(things[0])})
