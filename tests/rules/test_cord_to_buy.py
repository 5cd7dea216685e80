"""The cord to buy: one reckoning, told in a sentence, and the same wherever it is shown.

Expected gauges: NEC 2023 Table 400.5(A)(1) column B (read second-hand): 14 AWG 18 A, 12 AWG
25 A, 10 AWG 30 A; lengths sold: 25, 50, 100, 200 ft, locking ones up to 100 ft (common
practice).
"""

import pytest

from siteplan.paper import documents
from siteplan.paper.sections.parts import listed
from siteplan.plan import load as load_plan
from siteplan.plan.around import Meter, Panel, ServiceDrop, WallReceptacle
from siteplan.plan.machine import Receptacle
from siteplan.rules import power_report
from siteplan.rules.power.buy import cord_lines, cord_sentence, cords_to_buy, short_sentence
from siteplan.rules.power.says import gauge_text
from siteplan.scene import resolve
from siteplan.suggest import spots
from siteplan.units import feet
from siteplan.words import Manner
from tests.helpers.builders import FT, fixture, standing
from tests.helpers.judging import verdict
from tests.helpers.powering import (
    generator,
    good_cord,
    household_cord,
    inlet,
    load,
    powered,
    transfer,
)

SPANISH = Manner("es", "metres")
FRIDGE = load("fridge", 700.0, starting_w=2200.0, leg="a", via="inlet")


def lines(plan, manner=None):
    return [one.say(manner) for one in cord_lines(cords_to_buy(resolve(plan)))]


@pytest.mark.parametrize(
    "end",
    [
        fixture(WallReceptacle, -0.1, 4.0, "end"),
        fixture(Panel, -0.1, 4.0, "end"),
        fixture(Meter, -0.1, 4.0, "end"),
        fixture(ServiceDrop, -0.1, 4.0, "end", to=(5.0, 4.0)),
    ],
)
def test_no_cord_is_named_that_would_feed_the_house_past_an_inlet(end):
    plan = powered(household_cord(to="end", end=None), end, load(via="end"))
    (one,) = cords_to_buy(resolve(plan))
    assert one.bought is None
    (told, _) = lines(plan)
    assert "no cord may ever feed" in told
    assert [part for part in listed(documents.about(plan)) if "Cord" in part[0].say()] == []
    report = power_report(resolve(plan))
    assert [part for part in report.parts if part.kind == "cord"] == []
    assert report.cords[0].stock_m is None
    assert "AWG" not in told


def test_no_cord_is_named_for_an_inlet_without_transfer_equipment():
    (one,) = cords_to_buy(resolve(powered(None, FRIDGE, transfer=transfer(kind="none"))))
    assert one.bought is None
    assert "before it is fitted" in cord_sentence(one).say()


def test_no_cord_is_named_that_would_need_an_adapter():
    (one,) = cords_to_buy(resolve(powered(None, inlet(receptacle="14-50"), FRIDGE)))
    assert one.bought is None
    assert "L14-30 is not 14-50" in cord_sentence(one).say()


def test_a_cord_to_an_inlet_is_told_whole():
    first, *rest = lines(powered(None, FRIDGE))
    # By hand: 12.16 m are 39.9 ft, sold as 50 ft; the breaker of 30 A asks for 10 AWG.
    assert first == (
        "cord: one whole cord of 50', 10 AWG or thicker (a smaller number), 4 wires, marked W "
        "for outdoors, plug L14-30 at the generator, connector L14-30 at the other end. A "
        "thinner one may not carry the 30.0 A that can flow in it: it would burn."
    )
    assert rest[0] == "cord, as entered, comes up to that."
    assert "may not be joined" in rest[1]


def test_it_is_told_in_spanish_and_metres():
    first, *rest = lines(powered(None, FRIDGE), SPANISH)
    assert "un solo cable entero de 15.24 m, 10 AWG" in first
    assert "marcado W para exteriores" in first
    assert "No se pueden unir dos cables" in rest[-1]


@pytest.mark.parametrize(
    "fields",
    [
        {"gauge_awg": 12},
        {"pieces_m": (7.62, 7.62)},
        {"pieces_m": (12.0,)},
        {"wires": 3},
        {"outdoor_jacket": False},
    ],
)
def test_a_cord_that_lacks_anything_does_not_come_up_to_it(fields):
    said = lines(powered(good_cord(**fields), FRIDGE))
    assert "cord, as entered, does not come up to that." in said


@pytest.mark.parametrize(
    "fields", [{"gauge_awg": None}, {"pieces_m": ()}, {"outdoor_jacket": None}]
)
def test_of_a_cord_that_is_not_described_nothing_is_said(fields):
    assert "as entered" not in " ".join(lines(powered(good_cord(**fields), FRIDGE)))


@pytest.mark.parametrize(
    ("cord", "missing"),
    [
        (good_cord(receptacle=None), "which outlet of the generator it is plugged into"),
        (household_cord(end=(2.0, 4.0)), "through which opening cord goes into the house"),
        (household_cord(end=None), "where cord ends"),
    ],
)
def test_what_is_missing_is_named(cord, missing):
    first = lines(powered(cord))[0]
    assert first.startswith("cord: not judged, because this is missing: ")
    assert missing in first


def test_an_overloaded_outlet_is_mended_by_no_cord():
    # By hand: 2520 W are 21 A on an outlet of 20 A.
    heavy = load("heater", 2520.0, via="cord")
    first = lines(powered(household_cord(), heavy))[0]
    assert "21.0 A hang on it, more than the 20.0 A that its outlet 5-20 gives" in first
    even = load("heater", 2400.0, via="cord")
    assert "hang on it" not in lines(powered(household_cord(), even))[0]


def test_a_start_that_is_not_entered_is_not_counted_and_said():
    pump = load("pump", 500.0, starting_w=None, via="cord", appliance="other")
    said = lines(powered(household_cord(), pump))
    assert "one whole cord of 50'" in said[0]
    assert said[1] == (
        "That may have to be thicker; not entered, and so not counted: what pump draws while "
        "it starts."
    )
    assert "as entered" not in " ".join(said)


@pytest.mark.parametrize(("away_m", "sold"), [(25.0, True), (31.0, False)])
def test_a_way_longer_than_is_sold_asks_for_no_second_cord(away_m, sold):
    # A locking cord is sold up to 100 ft, 30.48 m, slack of 5 % included.
    plan = powered(good_cord(), FRIDGE, placements=(standing(-away_m, 4.0, cords=(good_cord(),)),))
    first = lines(plan)[0]
    assert ("one whole cord" in first) is sold
    assert ("Do not join two, and never bring the generator nearer" in first) is not sold
    assert ("none that is sold" in short_sentence(cords_to_buy(resolve(plan))[0]).say()) is not sold


@pytest.mark.parametrize("watts", [100.0, 1200.0, 1800.0, 2400.0])
@pytest.mark.parametrize("far_m", [6.0, 12.0, 30.0, 55.0])
def test_the_cord_bought_keeps_every_rule_of_cords(watts, far_m):
    lamp = load("lamp", watts, via="cord")
    start = standing(-far_m, 4.0, cords=(household_cord(),))
    plan = powered(None, lamp, placements=(start,))
    (buy,) = cords_to_buy(resolve(plan))
    assert buy.stock_m is not None
    bought = household_cord(gauge_awg=buy.gauge_awg, pieces_m=(buy.stock_m,))
    there = powered(None, lamp, placements=(standing(-far_m, 4.0, cords=(bought,)),))
    for rule in ("cord-gauge", "cord-drop", "cord-start-drop", "cord-reach", "cord-thin"):
        assert verdict(there, rule) == "met"
    (again,) = cords_to_buy(resolve(there))
    assert again.entered_suits


def test_window_command_places_and_papers_name_one_cord():
    # A thin one is entered, so that it must be bought.
    plan = powered(good_cord(gauge_awg=14), FRIDGE)
    report = power_report(resolve(plan))
    (buy,) = report.buys
    assert (buy.gauge_awg, buy.stock_m) == (10, pytest.approx(50.0 * FT))
    assert report.cords[0].buy == buy
    (part,) = [one for one in report.parts if one.kind == "cord"]
    assert (part.gauge_awg, part.length_m, part.config) == (10, buy.stock_m, "L14-30")
    what, count, size, long_m = next(iter(listed(documents.about(plan))))
    assert (what.say(), count) == ("Cord marked for outdoor use: cord", 1)
    assert (size.say(), long_m) == ("10 AWG, 4 wires", buy.stock_m)
    inlet_way = next(o.way for o in report.comparison.ways if o.way.kind == "inlet-transfer")
    assert inlet_way.parts[0] == part


def test_a_place_found_names_the_cord_that_the_report_names_there():
    plan = load_plan("samples/good-placement.siteplan")
    spot = spots(plan, 1).places[0]
    (placed,) = [one for one in plan.placements if one.id == plan.placement.id]
    there = plan.model_copy(
        update={
            "placements": tuple(
                one.model_copy(update={"at": spot.at, "turn_deg": spot.turn_deg})
                if one is placed
                else one
                for one in plan.placements
            )
        }
    )
    assert spot.buys == power_report(resolve(there)).buys
    assert spot.buys[0].gauge_awg == 10


def test_without_a_cord_the_one_to_the_house_is_told():
    plan = powered(None, FRIDGE, placements=(standing(-10.0, 4.0),))
    (buy,) = power_report(resolve(plan)).buys
    assert (buy.title.say(), buy.cord) == ("Cord to the house", "")
    assert (buy.gauge_awg, buy.stock_m, buy.outlet) == (10, pytest.approx(feet(50.0)), "L14-30")
    small = generator(receptacles=(Receptacle(id="a", configuration="5-20"),))
    plan = powered(None, FRIDGE, placements=(standing(-10.0, 4.0),), machine=small)
    (buy,) = power_report(resolve(plan)).buys
    # A breaker that is not entered lets through what the outlet is rated for: 20 A, 12 AWG.
    assert (buy.gauge_awg, buy.outlet) == (12, "5-20")
    none = generator(receptacles=())
    plan = powered(None, FRIDGE, placements=(standing(-10.0, 4.0),), machine=none)
    assert power_report(resolve(plan)).buys == ()


def test_the_inlet_names_the_far_end():
    plan = powered(None, FRIDGE, inlet(receptacle="L14-30P"))
    (buy,) = cords_to_buy(resolve(plan))
    assert buy.end == "L14-30"


@pytest.mark.parametrize(
    ("legs", "gauge"), [(("a", "a"), 8), (("a", "b"), 10), ((None, None), 10), (("b", None), 10)]
)
def test_a_neutral_full_of_electronics_counts_by_the_legs_entered(legs, gauge):
    # Both on one leg: 26.7 A in the neutral, more than the 25 A of 10 AWG with three loaded
    # wires (NEC 2023 Table 400.5(A)(1) column A, read second-hand); apart: 13.3 A.
    loads = [
        load(f"computer-{place}", 1600.0, appliance="computer", leg=leg, via="inlet")
        for place, leg in enumerate(legs)
    ]
    (one,) = cords_to_buy(resolve(powered(None, *loads)))
    assert one.bought.gauge_awg == gauge


@pytest.mark.parametrize(
    ("gauge", "said"),
    [(10, "10 AWG"), (1, "1 AWG"), (0, "1/0 AWG"), (-1, "2/0 AWG"), (-3, "4/0 AWG")],
)
def test_a_gauge_under_1_is_said_in_noughts(gauge, said):
    assert gauge_text(gauge).say() == said
