"""Rules that rest on an answer: yes, no, or not given."""

import pytest

from siteplan.plan.around import Panel
from siteplan.plan.document import Backdrop
from siteplan.plan.edits import changed
from siteplan.plan.lot import Accuracy, Override
from siteplan.words import Manner
from tests.helpers.builders import (
    FT,
    alarm_spot,
    box,
    building,
    cover,
    fixture,
    household,
    lot,
    machine,
    make_plan,
    roof,
    standing,
    tree,
)
from tests.helpers.judging import findings, met, outcomes, sentences, unjudged, verdict

HAIR = 0.001


@pytest.mark.parametrize(
    ("ground", "expected"),
    [
        ("concrete", "met"),
        ("gravel", "met"),
        ("soil", "met"),
        ("grass", "CAUTION"),
        ("deck", "WARNING"),
        (None, "unjudged"),
    ],
)
def test_ground_surface(ground, expected):
    plan = make_plan(standing(ground=ground))
    assert verdict(plan, "ground-surface") == expected
    if ground:
        assert ground in sentences(outcomes(plan, "ground-surface"))


@pytest.mark.parametrize(
    ("answer", "expected"), [(True, "met"), (False, "WARNING"), (None, "unjudged")]
)
def test_level_and_dry(answer, expected):
    assert verdict(make_plan(standing(level_and_dry=answer)), "level-and-dry") == expected


@pytest.mark.parametrize(
    ("answer", "expected"), [(True, "met"), (False, "CAUTION"), (None, "unjudged")]
)
def test_extinguisher(answer, expected):
    assert verdict(make_plan(household(extinguisher=answer)), "extinguisher") == expected


@pytest.mark.parametrize(
    ("answer", "expected"), [(True, "met"), (False, "WARNING"), (None, "unjudged")]
)
def test_working_space_at_a_panel(answer, expected):
    plan = make_plan(fixture(Panel, 1.0, 1.0, working_space_clear=answer))
    assert verdict(plan, "working-space") == expected
    assert outcomes(plan, "working-space")[0].subjects == ("fixture",)


@pytest.mark.parametrize(
    ("entered", "expected"),
    [
        (None, "met"),
        (cover("tarp"), "DANGER"),
        (cover("box"), "DANGER"),
        (cover("tent"), "DANGER"),
        (cover("tarp", open_sides=4, gap_above_m=2.0), "DANGER"),
        (cover(open_sides=3, gap_above_m=2.0), "DANGER"),
        (cover(open_sides=0), "DANGER"),
        (cover(gap_above_m=0.1), "unjudged"),
        (cover(open_sides=4), "unjudged"),
        # OSHA 4105: 3 to 4 ft above.
        (cover(open_sides=4, gap_above_m=3 * FT - HAIR), "WARNING"),
        (cover(open_sides=4, gap_above_m=3 * FT), "CAUTION"),
        (cover(open_sides=4, gap_above_m=4 * FT - HAIR), "CAUTION"),
        (cover(open_sides=4, gap_above_m=4 * FT), "met"),
        (cover(open_sides=4, gap_above_m=4 * FT + HAIR), "met"),
    ],
)
def test_cover(entered, expected):
    assert verdict(make_plan(standing(cover=entered)), "cover") == expected


def test_the_drawings_accuracy_is_not_taken_off_a_height():
    rough = Accuracy(method="figure", figure_m=0.5)
    plan = make_plan(standing(cover=cover(open_sides=4, gap_above_m=4 * FT)), rough)
    (said,) = met(plan, "cover")
    assert said.measured.value == pytest.approx(4 * FT)
    assert said.limit.value == pytest.approx(4 * FT)


def test_a_low_cover_says_how_high():
    (found,) = findings(make_plan(standing(cover=cover(open_sides=4, gap_above_m=0.5))), "cover")
    assert (found.measured.value, found.limit.value) == pytest.approx((0.5, 3 * FT))
    assert found.margin.value == pytest.approx(0.5 - 3 * FT)
    assert "1' 7\"" in found.what.say()
    assert "3'" in found.do.say()


@pytest.mark.parametrize("kind", ["tarp", "box", "tent"])
def test_each_wrap_is_named(kind):
    plan = make_plan(standing(cover=cover(kind)))
    assert kind in findings(plan, "cover")[0].what.say().lower()


def canopy(height, **fields):
    whole = {"open_sides": 4, "clear_height_m": height}
    return roof("canopy", box(-3, -3, 3, 3), **(whole | fields))


@pytest.mark.parametrize(
    ("height", "expected"),
    [
        (0.6 + 3 * FT - HAIR, "WARNING"),  # the machine is 0.6 m high
        (0.6 + 3 * FT, "CAUTION"),
        (0.6 + 4 * FT - HAIR, "CAUTION"),
        (0.6 + 4 * FT, "met"),
        (0.6 + 4 * FT + HAIR, "met"),
        (0.2, "WARNING"),
        (None, "unjudged"),
    ],
)
def test_air_below_a_canopy(height, expected):
    plan = make_plan(canopy(height), standing())
    assert verdict(plan, "clear-above") == expected
    assert outcomes(plan, "clear-above")[0].subjects == ("roof",)


def test_a_taller_machine_leaves_less_air():
    plan = make_plan(canopy(2.0), machine(height_m=1.2), standing())
    (found,) = findings(plan, "clear-above")
    assert found.measured.value == pytest.approx(0.8)


@pytest.mark.parametrize(("x", "under"), [(3.3 - HAIR, True), (3.3, True), (3.3 + HAIR, False)])
def test_a_canopy_beside_it_is_not_above(x, under):
    plan = make_plan(canopy(1.0), standing(x, 0.0))  # the machine is 0.6 m wide
    assert (verdict(plan, "clear-above") == "WARNING") is under


def test_a_canopy_within_the_drawings_accuracy_may_be_above():
    plan = make_plan(canopy(1.0), standing(3.5, 0.0), Accuracy(method="figure", figure_m=0.21))
    assert verdict(plan, "clear-above") == "WARNING"


def test_a_roof_refused_elsewhere_is_still_judged_by_height():
    plan = make_plan(canopy(1.0, open_sides=3), standing())
    assert verdict(plan, "clear-above") == "WARNING"
    assert verdict(plan, "under-roof") == "DANGER"


def test_nothing_drawn_around_leaves_canopies_unjudged():
    assert verdict(make_plan(lot(), standing(5.0, 5.0)), "clear-above") == "unjudged"


@pytest.mark.parametrize(("gap", "expected"), [(-HAIR, "CAUTION"), (0.0, "CAUTION"), (HAIR, "met")])
def test_tree_crown_overhead(gap, expected):
    # Crown 5 m wide; trunk north of the machine, whose frame reaches 0.4 m north.
    plan = make_plan(tree(0.0, 0.4 + 2.5 + gap, crown_m=5.0), standing())
    assert verdict(plan, "tree-overhead") == expected
    assert "under" in sentences(findings(plan, "tree-overhead")) or expected == "met"


def test_a_tree_out_of_reach_is_measured_to_its_crown():
    (said,) = met(make_plan(tree(0.0, 10.4, crown_m=6.0), standing()), "tree-overhead")
    assert said.measured.value == pytest.approx(7.0)


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({"co_shutoff": True}, "NOTICE"),
        ({"co_label_g_per_h": 150.0}, "NOTICE"),
        ({"co_shutoff": False, "co_label_g_per_h": 150.0}, "NOTICE"),
        ({"co_shutoff": False}, "met"),
        ({}, "unjudged"),
    ],
)
def test_low_co_label(fields, expected):
    plan = make_plan(machine(**fields))
    assert verdict(plan, "low-co-label") == expected


def test_a_label_shortens_no_distance():
    house = building(box(-20, 5.0, 20, 12.0))
    plain = make_plan(house, machine(), standing())
    labelled = make_plan(house, machine(co_shutoff=True, co_label_g_per_h=50.0), standing())
    for rule in ("separation-building", "exhaust-direction"):
        assert outcomes(plain, rule) == outcomes(labelled, rule)


HOME = building(id="home", storeys=1)
WHOLE = (
    alarm_spot("ground"),
    alarm_spot("beds", "sleeping-area"),
)


def test_alarms_everywhere_are_met():
    plan = make_plan(HOME, household(*WHOLE))
    (said,) = met(plan, "co-alarms")
    assert said.subjects == ("ground", "beds")
    assert said.checked == 2
    assert not unjudged(plan, "co-alarms")


def test_no_spot_entered_is_not_judged():
    plan = make_plan(building())
    (said,) = outcomes(plan, "co-alarms")
    assert said in unjudged(plan, "co-alarms")


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({"alarm": False}, "WARNING"),
        ({"alarm": None}, "unjudged"),
        ({"battery": False}, "WARNING"),
        ({"battery": None}, "unjudged"),
        ({"alarm": False, "battery": None}, "WARNING"),
    ],
)
@pytest.mark.parametrize("place", ["storey", "sleeping-area"])
def test_an_alarm_missing_or_not_answered(place, fields, expected):
    plan = make_plan(HOME, household(*WHOLE, alarm_spot("attic", place, **fields)))
    (said,) = outcomes(plan, "co-alarms")
    assert said.subjects == ("attic",)
    assert verdict(plan, "co-alarms") == expected


def test_none_at_all_is_a_warning_for_each_spot():
    spots = [alarm_spot(name, alarm=False) for name in ("a", "b")]
    spots += [alarm_spot("c", "sleeping-area", alarm=False)]
    found = findings(make_plan(household(*spots)), "co-alarms")
    assert [one.signal for one in found] == ["WARNING"] * 3


def test_sleeping_areas_must_be_entered():
    (said,) = outcomes(make_plan(HOME, household(alarm_spot("ground"))), "co-alarms")
    assert "sleeping area" in said.missing.say()


def test_storeys_must_be_entered():
    beds = household(alarm_spot("beds", "sleeping-area"))
    (said,) = outcomes(make_plan(HOME, beds), "co-alarms")
    assert "0 of at least 1" in said.missing.say()


@pytest.mark.parametrize(
    ("storeys", "fields", "asked"),
    [
        (1, {}, False),
        (2, {}, True),
        (3, {}, True),
        (3, {"owner": "neighbour"}, False),
        (3, {"kind": "shed"}, False),
    ],
)
def test_a_house_of_more_storeys_asks_for_more_alarms(storeys, fields, asked):
    plan = make_plan(HOME, household(*WHOLE), building(storeys=storeys, **fields))
    assert bool(unjudged(plan, "co-alarms")) is asked
    if asked:
        assert f"1 of at least {storeys}" in sentences(outcomes(plan, "co-alarms"))


def test_alarms_are_not_met_while_the_storeys_are_not_known():
    plan = make_plan(building(storeys=None), household(*WHOLE))
    (said,) = outcomes(plan, "co-alarms")
    assert said in unjudged(plan, "co-alarms")
    assert said.subjects == ("house",)
    for none in ((), (building(storeys=1, owner="neighbour"),), (building(kind="shed"),)):
        assert verdict(make_plan(*none, household(*WHOLE)), "co-alarms") == "unjudged"


@pytest.mark.parametrize(
    ("stated", "taken", "expected"),
    [
        (None, 0.60, "unjudged"),
        (Accuracy(method="paced"), 0.60, "met"),
        (Accuracy(method="taped"), 0.10, "met"),
        (Accuracy(method="surveyed"), 0.03, "met"),
        (Accuracy(method="figure", figure_m=0.25), 0.25, "met"),
        (Accuracy(method="figure", figure_m=0.0), 0.0, "met"),
        (Accuracy(method="figure"), 0.60, "unjudged"),
    ],
)
def test_accuracy_of_the_drawing(stated, taken, expected):
    plan = make_plan(building(box(-20, 10.4, 20, 20)), standing(), accuracy=stated)
    assert verdict(plan, "drawing-accuracy") == expected
    (said,) = met(plan, "separation-building")
    assert said.measured.value == pytest.approx(10.0 - taken)
    for one in met(plan, "drawing-accuracy"):
        assert one.measured.value == pytest.approx(taken)


@pytest.mark.parametrize("stated", [None, Accuracy(method="taped")])
def test_a_placed_pictures_error_is_added(stated):
    picture = Backdrop(media_type="image/png", data_base64="", check_error_m=0.3)
    house = building(box(-20, 10.4, 20, 20))
    own = {None: 0.60}.get(stated, 0.10)
    for backdrop, more in ((picture, 0.3), (changed(picture, check_error_m=None), 0.0)):
        plan = make_plan(house, standing(), accuracy=stated, backdrop=backdrop)
        (said,) = met(plan, "separation-building")
        assert said.measured.value == pytest.approx(10.0 - own - more)


@pytest.mark.parametrize(
    ("rule", "distance", "expected", "says"),
    [
        ("separation-opening", 20 * FT - HAIR, "NOTICE", "not followed"),
        ("separation-opening", 20 * FT, "met", "is judged at 20'"),
        ("separation-opening", 30 * FT, "met", "is judged at 30'"),
        ("lot-set-back", 5 * FT - HAIR, "NOTICE", "shorter than 5'"),
        ("lot-set-back", 10 * FT, "met", "is judged at 10'"),
        ("gas-regulator-intake", 20 * FT, "met", "is judged at 20'"),
        ("no-such-rule", 9.0, "NOTICE", "has no distance"),
        ("indoors", 9.0, "NOTICE", "has no distance"),
        ("drawing-accuracy", 9.0, "NOTICE", "has no distance"),
        ("exhaust-direction", 9.0, "NOTICE", "has no distance"),
        ("walled-in", 9.0, "NOTICE", "has no distance"),
    ],
)
def test_local_figures(rule, distance, expected, says):
    plan = make_plan(Override(rule=rule, distance_m=distance, reason="Because of the town"))
    assert verdict(plan, "local-figure") == expected
    said = outcomes(plan, "local-figure")
    assert says in sentences(said)
    assert expected == "NOTICE" or "Because of the town" in sentences(said)
    assert expected == "NOTICE" or said[0].limit.value == distance


def test_every_local_figure_is_told_also_after_one_for_no_rule():
    overrides = [
        Override(rule=name, distance_m=30.0, reason="Town code")
        for name in ("no-such-rule", "tent", "pool")
    ]
    said = outcomes(make_plan(*overrides), "local-figure")
    assert len(findings(make_plan(*overrides), "local-figure")) == 1
    assert len(said) == 3


def test_a_local_figure_is_told_rounded_against_the_reader():
    longer = Override(rule="tent", distance_m=20.04 * FT, reason="Town code")
    assert "20' 1\"" in sentences(outcomes(make_plan(longer), "local-figure"))
    shorter = Override(rule="tent", distance_m=19.04 * FT, reason="Hearsay")
    assert "of 19' for" in sentences(outcomes(make_plan(shorter), "local-figure"))


def test_a_book_figure_is_told_rounded_up():
    # The drip line's own rules have no such figure; the pool's 6 ft is 1.8288 m: 1.83 m.
    short = Override(rule="pool", distance_m=1.0, reason="Hearsay")
    (found,) = findings(make_plan(short), "local-figure")
    assert "1.83 m" in found.what.say(Manner("en", "metres"))


def test_no_generator_entered_leaves_its_label_unjudged():
    assert verdict(make_plan(), "low-co-label") == "unjudged"
