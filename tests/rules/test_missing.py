"""What is missing, in few lines: the most life-critical first, nothing lost."""

import pytest

from siteplan.plan import load as load_plan
from siteplan.plan.machine import Machine
from siteplan.rules import review
from siteplan.rules.findings import Review, Unjudged
from siteplan.rules.missing import grouped, open_count
from siteplan.words import Manner, Text
from tests.helpers.builders import (
    alarm_spot,
    box,
    building,
    household,
    lot,
    make_plan,
    standing,
)

SAMPLES = ("bad-placement", "good-placement", "narrow-lot", "quiet-hours")


def lines(plan, manner=None):
    return [one.text.say(manner) for one in grouped(review(plan).unjudged)]


def sample(name):
    return load_plan(f"samples/{name}.siteplan")


@pytest.mark.parametrize("name", SAMPLES)
def test_no_outcome_is_lost_and_none_is_told_twice(name):
    found = review(sample(name)).unjudged
    held = [one for group in grouped(found) for one in group.outcomes]
    assert sorted(map(id, held)) == sorted(map(id, found))
    assert {name for group in grouped(found) for name in group.rules} == {one.rule for one in found}


@pytest.mark.parametrize("name", SAMPLES)
def test_few_lines_tell_it(name):
    assert len(lines(sample(name))) <= 11


def places(plan):
    """At which line each rule stands."""
    groups = grouped(review(plan).unjudged)
    return {name: place for place, group in enumerate(groups) for name in reversed(group.rules)}


def test_openings_then_alarms_then_exhaust_then_the_rest():
    hall = household(alarm_spot("hall", alarm=None))
    house = building(box(-20, 12, 20, 20))
    at = places(make_plan(lot(), house, hall, standing()))
    assert at["separation-opening"] < at["co-alarms"] < at["extinguisher"]
    assert at["extinguisher"] < at["running-load"] < at["pool"]
    assert at["pool"] == max(at.values())
    bare = places(make_plan(lot(), standing()))
    for vital in ("separation-building", "co-alarms", "exhaust-direction"):
        assert bare[vital] < bare["extinguisher"]


def test_what_is_not_drawn_is_one_line_with_its_count():
    told = lines(sample("bad-placement"))
    assert told[-1] == (
        "not drawn, so nothing about them is judged (9): window well, gas cylinder, fuel store, "
        "overhead service conductors, brush or hedge, deck, pool, standing water, tent"
    )
    spanish = lines(sample("bad-placement"), Manner("es", "metres"))[-1]
    assert spanish.startswith("sin dibujar, y por eso nada de ello está evaluado (9): ")


def test_one_thing_not_drawn_keeps_its_own_words():
    alone = Unjudged("pool", (), Text("no pool is drawn"), not_drawn=True)
    (line,) = grouped((alone,))
    assert (line.text.say(), line.things) == ("no pool is drawn", 1)


def test_a_power_path_without_cords_is_one_line():
    told = " ".join(lines(sample("narrow-lot")))
    assert "cord, appliance, power inlet, through-wall outlet" in told
    assert "motor on a cord" not in told


def test_one_question_about_several_things_is_one_line():
    spots = [alarm_spot(name, alarm=None) for name in ("hall", "attic")]
    told = lines(make_plan(household(*spots)))
    assert "whether there is a working carbon monoxide alarm at storey hall, storey attic" in told


def test_one_datum_missing_for_several_things_is_one_line():
    def of(subject):
        values = {"subject": Text(subject), "missing": Text("the leg of Lamp")}
        return Unjudged("leg-load", (), Text("{subject}: {missing}", values))

    (line,) = grouped((of("All loads together"), of("Pump"), of("Pump")))
    assert line.text.say() == "the leg of Lamp (for All loads together, Pump)"
    (alone,) = grouped((of("Pump"), of("Pump")))
    assert alone.text.say() == "Pump: the leg of Lamp"
    bare = Unjudged("loads-together", (), Text("the leg of Lamp"))
    (whole,) = grouped((of("Pump"), bare))
    assert whole.text.say() == "the leg of Lamp"


def test_the_noise_limit_is_one_line():
    told = lines(sample("good-placement"))
    assert told.count("the local noise limit") == 1


def test_the_count_is_that_of_the_things_named():
    found = review(sample("bad-placement"))
    assert open_count(found) == sum(one.things for one in grouped(found.unjudged))
    # Nine things around, three of the power path, six single lines.
    assert open_count(found) == 9 + 3 + len(grouped(found.unjudged)) - 2
    assert open_count(Review()) == 0


def test_a_rule_that_is_not_in_the_book_comes_among_the_rest():
    (line,) = grouped((Unjudged("no-such-rule", (), Text("a")),))
    assert line.text.say() == "a"


def test_nothing_drawn_hides_nothing_vital_in_a_list():
    plan = make_plan(Machine(), standing())
    for one in grouped(review(plan).unjudged):
        if one.things > 1:
            vital = {"separation-opening", "separation-building", "indoors", "under-roof",
                     "co-alarms", "exhaust-direction", "walled-in"}  # fmt: skip
            assert not vital & set(one.rules)
