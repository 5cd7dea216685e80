"""Gas equipment, beyond the machine's distances."""

import pytest

from siteplan.plan.around import GasCylinder, GasPoint, ServiceDrop
from siteplan.plan.lot import Accuracy, Override
from siteplan.rules import review
from tests.helpers.builders import FT, building, fixture, make_plan, on_wall, opening, standing
from tests.helpers.judging import findings, met, outcomes, sentences, unjudged, verdict

HAIR = 0.001


def south_wall(kind, **fields):
    """Return a house whose south wall lies on y = 0 with an opening from x = 5 to 6 in it."""
    return building(), opening("it", kind=kind, offset_m=5.0, **fields)


def below(gap):
    """Return the place this far [m] south of that opening."""
    return 5.5, -gap


@pytest.mark.parametrize("model_kind", ["gas-regulator", "gas-meter"])
@pytest.mark.parametrize("kind", ["air-intake", "room-air-conditioner", "evaporative-cooler"])
@pytest.mark.parametrize(
    ("gap", "expected"), [(10 * FT - HAIR, "NOTICE"), (10 * FT, "met"), (10 * FT + HAIR, "met")]
)
def test_regulator_and_intake(model_kind, kind, gap, expected):
    gas = fixture(GasPoint, *below(gap), kind=model_kind)
    plan = make_plan(*south_wall(kind), gas)
    assert verdict(plan, "gas-regulator-intake") == expected


@pytest.mark.parametrize("kind", ["window", "combustion-intake", "door"])
def test_only_openings_with_a_fan_count_for_a_regulator(kind):
    plan = make_plan(*south_wall(kind), fixture(GasPoint, *below(1.0), kind="gas-regulator"))
    assert verdict(plan, "gas-regulator-intake") == "met"


def test_pairs_take_the_drawings_accuracy_off_once():
    rough = Accuracy(method="figure", figure_m=0.4)
    for gap, expected in ((10 * FT + 0.4 - HAIR, "NOTICE"), (10 * FT + 0.4 + HAIR, "met")):
        gas = fixture(GasPoint, *below(gap), kind="gas-meter")
        plan = make_plan(*south_wall("air-intake"), gas, rough)
        assert verdict(plan, "gas-regulator-intake") == expected


def test_a_pair_is_told_with_its_figures():
    gas = fixture(GasPoint, *below(2.0), id="gas", kind="gas-meter")
    plan = make_plan(*south_wall("air-intake"), gas)
    (found,) = findings(plan, "gas-regulator-intake")
    assert found.subjects == ("gas", "it")
    assert found.measured.value == pytest.approx(2.0)
    assert found.limit.value == pytest.approx(10 * FT)
    assert found.margin.value == pytest.approx(2.0 - 10 * FT)
    assert found.evidence[0].points == ((5.5, -2.0), (5.5, 0.0))
    assert "10'" in found.what.say()


def test_pairs_that_keep_apart_name_the_fixtures():
    gas = [fixture(GasPoint, 5.0, -20.0 - k, id=f"g{k}", kind="gas-meter") for k in range(2)]
    (said,) = met(make_plan(*south_wall("air-intake"), *gas), "gas-regulator-intake")
    assert said.subjects == ("g0", "g1")
    assert said.checked == 2
    assert said.limit.value == pytest.approx(10 * FT)


def test_a_local_figure_lengthens_a_pairs_distance():
    longer = Override(rule="gas-regulator-intake", distance_m=5.0, reason="Utility")
    gas = fixture(GasPoint, *below(4.9), kind="gas-meter")
    assert (
        verdict(make_plan(*south_wall("air-intake"), gas, longer), "gas-regulator-intake")
        == "NOTICE"
    )


def test_a_local_figure_lengthens_a_cylinders_distances():
    longer = Override(rule="gas-cylinder-opening", distance_m=5.0, reason="Utility")
    for kind in ("window", "air-intake"):
        cylinder = fixture(GasCylinder, *below(4.9), filled_on_site=False)
        plan = make_plan(*south_wall(kind), cylinder, longer)
        assert verdict(plan, "gas-cylinder-opening") == "WARNING"
        assert findings(plan, "gas-cylinder-opening")[0].limit.value == 5.0


def test_a_local_figure_lengthens_the_conductors_distance():
    longer = Override(rule="service-drop-opening", distance_m=5.0, reason="Utility")
    drop = fixture(ServiceDrop, -9.0, -4.9, id="drop", to=(20.0, -4.9))
    plan = make_plan(*south_wall("window"), drop, longer)
    assert verdict(plan, "service-drop-opening") == "NOTICE"


@pytest.mark.parametrize(
    "rule", ["gas-regulator-intake", "gas-cylinder-opening", "service-drop-opening"]
)
def test_pairs_without_one_half_are_not_judged(rule):
    fixtures = [
        fixture(GasPoint, 5.0, -1.0, id="g", kind="gas-meter"),
        fixture(GasCylinder, 5.0, -1.0, id="c"),
        fixture(ServiceDrop, 5.0, -1.0, id="d", to=(9.0, -9.0)),
    ]
    assert verdict(make_plan(*south_wall("air-intake")), rule) == "unjudged"
    assert verdict(make_plan(building(), *fixtures), rule) == "unjudged"


# NFPA 58 (2017) 6.3.4.3 and .4: 3 ft to openings below; 5 ft to intakes, 10 ft filled on site.
@pytest.mark.parametrize(
    ("kind", "filled", "gap", "expected"),
    [
        ("window", False, 3 * FT - HAIR, "WARNING"),
        ("window", False, 3 * FT, "met"),
        ("window", False, 3 * FT + HAIR, "met"),
        ("window", True, 3 * FT + HAIR, "met"),
        ("fixed-window", False, 0.1, "met"),
        ("air-intake", False, 5 * FT - HAIR, "WARNING"),
        ("air-intake", False, 5 * FT, "met"),
        ("combustion-intake", False, 5 * FT - HAIR, "WARNING"),
        ("room-air-conditioner", True, 10 * FT - HAIR, "WARNING"),
        ("room-air-conditioner", True, 10 * FT, "met"),
        ("air-intake", None, 5 * FT - HAIR, "WARNING"),
        ("air-intake", None, 5 * FT, "unjudged"),
        ("air-intake", None, 10 * FT - HAIR, "unjudged"),
        ("air-intake", None, 10 * FT, "met"),
    ],
)
def test_cylinder_and_openings(kind, filled, gap, expected):
    cylinder = fixture(GasCylinder, *below(gap), filled_on_site=filled)
    plan = make_plan(*south_wall(kind), cylinder)
    assert verdict(plan, "gas-cylinder-opening") == expected
    assert len(outcomes(plan, "gas-cylinder-opening")) == 1


@pytest.mark.parametrize(
    ("sill", "valve", "expected"),
    [
        (0.99, 1.0, "WARNING"),
        (1.0, 1.0, "met"),
        (1.01, 1.0, "met"),
        (None, 1.0, "WARNING"),
        (1.5, None, "WARNING"),
    ],
)
def test_openings_above_the_valve_do_not_count(sill, valve, expected):
    cylinder = fixture(GasCylinder, *below(0.5), height_m=valve)
    plan = make_plan(*south_wall("window", sill_m=sill), cylinder)
    assert verdict(plan, "gas-cylinder-opening") == expected


def test_an_intake_above_the_valve_counts():
    cylinder = fixture(GasCylinder, *below(0.5), height_m=0.5)
    plan = make_plan(*south_wall("air-intake", sill_m=2.0), cylinder)
    assert verdict(plan, "gas-cylinder-opening") == "WARNING"


@pytest.mark.parametrize(
    ("gap", "expected"),
    [
        (5 * FT - HAIR, "WARNING"),
        (5 * FT, "unjudged"),
        (10 * FT - HAIR, "unjudged"),
        (10 * FT, "met"),
    ],
)
def test_a_cylinder_not_told_how_it_is_filled(gap, expected):
    cylinder = fixture(GasCylinder, 0.0, 0.4 + gap)
    assert verdict(make_plan(cylinder, standing()), "gas-cylinder") == expected


def test_each_cylinder_has_its_own_outcome():
    cylinders = [
        fixture(GasCylinder, 0.0, y, id=name, filled_on_site=filled)
        for name, y, filled in (("a", 1.0, False), ("b", 4.0, None), ("c", 3.0, None))
    ]
    plan = make_plan(*cylinders, standing())
    assert [one.subjects for one in findings(plan, "gas-cylinder")] == [("a",)]
    assert [one.subjects for one in met(plan, "gas-cylinder")] == [("b",)]
    assert [one.subjects for one in unjudged(plan, "gas-cylinder")] == [("c",)]
    assert "c" in sentences(unjudged(plan, "gas-cylinder"))


PAIRS = ("gas-regulator-intake", "gas-cylinder-opening", "service-drop-opening")
AT_HOUSE = (
    fixture(GasPoint, 5.0, -1.0, id="g", kind="gas-meter"),
    fixture(GasCylinder, 5.0, -1.0, id="c", filled_on_site=False),
    fixture(ServiceDrop, 5.0, -0.5, id="d", to=(9.0, -0.5)),
)


@pytest.mark.parametrize("rule", PAIRS)
def test_stating_that_there_is_no_fixture_states_no_opening_away(rule):
    said = review(make_plan(building(), *AT_HOUSE, none_here=(rule,)))
    assert [one.rule for one in said.met if one.rule == rule] == []
    (gap,) = [one for one in said.unjudged if one.rule == rule]
    assert gap.not_drawn is False


@pytest.mark.parametrize("rule", PAIRS)
def test_openings_that_may_be_undrawn_near_a_fixture_are_not_judged(rule):
    far = opening("far", kind="air-intake", wall=2, offset_m=1.0)
    unsure = building(openings_complete=False)
    assert verdict(make_plan(building(), far, *AT_HOUSE), rule) == "met"
    plan = make_plan(unsure, far, *AT_HOUSE)
    assert verdict(plan, rule) == "unjudged"
    assert [one.subjects for one in unjudged(plan, rule)] == [("house",)]


# The longest of each rule's distances: 10 ft, 10 ft where filled on site, 3 ft.
@pytest.mark.parametrize(("off_m", "expected"), [(10 * FT - HAIR, "unjudged"), (10 * FT, "met")])
def test_a_building_out_of_a_fixtures_reach_may_have_undrawn_openings(off_m, expected):
    unsure = building(openings_complete=False)
    far = opening("far", kind="air-intake", wall=2, offset_m=1.0)
    gas = fixture(GasPoint, 5.0, -off_m, kind="gas-meter")
    assert verdict(make_plan(unsure, far, gas), "gas-regulator-intake") == expected


def test_a_fixture_on_a_wall_is_judged_where_it_hangs_not_where_it_was_put_first():
    # On the south wall, 5.5 m from its first corner; `at` is left from before it was hung.
    meter = fixture(GasPoint, 500.0, 500.0, kind="gas-meter", on=on_wall(0, 5.5))
    plan = make_plan(building(), meter, standing(5.5, -0.4 - 2 * FT))
    (found,) = findings(plan, "gas-regulator")
    assert found.signal == "DANGER"
    assert found.measured.value == pytest.approx(2 * FT)
