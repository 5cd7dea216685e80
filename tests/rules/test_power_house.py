"""Power into the house wiring."""

import pytest

from siteplan.plan.around import Meter, Panel, ServiceDrop, WallReceptacle
from tests.helpers.builders import building, fixture, make_plan, on_wall
from tests.helpers.judging import findings, verdict
from tests.helpers.powering import (
    generator,
    good_cord,
    household_cord,
    inlet,
    load,
    powered,
    transfer,
)

SOCKET = fixture(WallReceptacle, 0.0, 5.0, "socket", on=on_wall(3, 3.0))


def test_backfeed_by_a_cord():
    (found,) = findings(powered(household_cord(to="socket", end=None), SOCKET), "backfeed")
    assert found.signal == "DANGER"
    assert found.subjects == ("socket",)
    assert found.evidence


def test_backfeed_by_a_load_said_to_hang_on_a_house_outlet():
    plan = make_plan(building(), SOCKET, load(via="socket"))
    (found,) = findings(plan, "backfeed")
    assert found.signal == "DANGER"
    assert found.evidence[0].points[0] == (0.0, 5.0)


@pytest.mark.parametrize(
    "end",
    [
        fixture(Panel, 1.0, 4.0, "end"),
        fixture(Meter, 0.0, 4.0, "end", on=on_wall(3, 4.0)),
        fixture(ServiceDrop, -1.0, 4.0, "end", to=(0.0, 4.0)),
    ],
)
def test_backfeed_by_a_cord_to_panel_meter_or_service_drop(end):
    (found,) = findings(powered(good_cord(to="end"), end), "backfeed")
    assert found.signal == "DANGER"
    assert found.subjects == ("end",)
    assert found.evidence


def test_backfeed_by_a_cord_whose_end_is_not_entered_is_not_judged():
    assert verdict(powered(household_cord(to=None, end=None)), "backfeed") == "unjudged"


def test_no_backfeed():
    assert verdict(powered(good_cord(), SOCKET), "backfeed") == "met"
    assert verdict(make_plan(), "backfeed") == "unjudged"


@pytest.mark.parametrize(
    ("kind", "expected"),
    [
        ("none", "DANGER"),
        (None, "unjudged"),
        ("interlock", "met"),
        ("manual-switch", "met"),
        ("automatic-switch", "met"),
    ],
)
def test_transfer_equipment(kind, expected):
    assert verdict(powered(transfer=transfer(kind=kind)), "transfer-equipment") == expected


def test_transfer_equipment_not_described_is_not_judged():
    assert verdict(powered(transfer=None), "transfer-equipment") == "unjudged"


@pytest.mark.parametrize(
    ("neutral", "kind", "switched", "expected"),
    [
        # NEC 2023 250.30 informational note 1 and 250.34(C) (read second-hand).
        ("floating", "manual-switch", False, "met"),
        ("bonded", "manual-switch", True, "met"),
        ("bonded", "manual-switch", False, "WARNING"),
        ("floating", "manual-switch", True, "WARNING"),
        ("floating", "manual-switch", None, "unjudged"),
        (None, "manual-switch", False, "unjudged"),
        # An interlock of two breakers leaves the neutral whole.
        ("floating", "interlock", None, "met"),
        ("bonded", "interlock", None, "WARNING"),
    ],
)
def test_neutral_bond(neutral, kind, switched, expected):
    plan = powered(
        machine=generator(neutral=neutral), transfer=transfer(kind=kind, switches_neutral=switched)
    )
    assert verdict(plan, "neutral-bond") == expected


def test_neutral_bond_says_which_way_it_is_wrong():
    second = powered(machine=generator(neutral="bonded"))
    assert (
        "both at the generator and in the house" in findings(second, "neutral-bond")[0].what.say()
    )
    none = powered(transfer=transfer(switches_neutral=True))
    assert "bonded nowhere" in findings(none, "neutral-bond")[0].what.say()


@pytest.mark.parametrize(
    ("rating_a", "disconnect", "expected"),
    [
        # NEC 2023 702.12(C) (read second-hand): from 100 A.
        (30.0, None, "met"),
        (99.9, None, "met"),
        (100.0, None, "unjudged"),
        (100.0, False, "WARNING"),
        (100.1, False, "WARNING"),
        (100.0, True, "met"),
    ],
)
def test_inlet_disconnect(rating_a, disconnect, expected):
    plan = powered(good_cord(), inlet(rating_a=rating_a, interlocked_disconnect=disconnect))
    assert verdict(plan, "inlet-disconnect") == expected


@pytest.mark.parametrize(
    ("field", "rule", "wrong"),
    [
        ("outdoor_enclosure", "inlet-enclosure", "WARNING"),
        ("neutral_sign", "inlet-sign", "NOTICE"),
    ],
)
def test_answers_about_the_inlet(field, rule, wrong):
    for answer, expected in ((True, "met"), (False, wrong), (None, "unjudged")):
        assert verdict(powered(good_cord(), inlet(**{field: answer})), rule, "inlet") == expected


@pytest.mark.parametrize(
    ("gauge", "rating_a", "expected"),
    [
        # Copper by the 60 °C column of NEC 2023 Table 310.16 (read second-hand).
        (10, 29.9, "met"),
        (10, 30.0, "met"),
        (10, 30.1, "WARNING"),
        (12, 30.0, "WARNING"),
        (6, 50.0, "met"),
        (8, 50.0, "WARNING"),
        (6, 55.0, "met"),
        (6, 55.1, "WARNING"),
        # Thinner than any building wire listed.
        (16, 15.0, "WARNING"),
        # Thicker than those listed: enough for what 6 AWG carries, beyond that not judged.
        (4, 55.0, "met"),
        (4, 60.0, "unjudged"),
        (None, 30.0, "unjudged"),
    ],
)
def test_feeder_size(gauge, rating_a, expected):
    assert behind(inlet(rating_a=rating_a), "feeder-size", feeder_awg=gauge) == expected


def behind(it, rule, **fields):
    """Return what a rule says of the transfer equipment and feeder behind an inlet."""
    return verdict(powered(good_cord(), it, transfer=transfer(**fields)), rule)


# NEMA WD 6: the number after the dash is the amperes that the pins bear.
@pytest.mark.parametrize(
    ("pins", "rating_a", "gauge", "expected"),
    [
        ("L14-20", 20.0, 12, "met"),
        ("L14-30", 20.0, 12, "WARNING"),
        ("14-50", 30.0, 10, "WARNING"),
        ("14-50", 30.0, 6, "met"),
        ("unheard-of", 30.0, 10, "met"),
    ],
)
def test_a_feeder_carries_what_the_inlets_pins_let_through(pins, rating_a, gauge, expected):
    it = inlet(receptacle=pins, rating_a=rating_a)
    assert behind(it, "feeder-size", feeder_awg=gauge) == expected


@pytest.mark.parametrize(
    ("pins", "inlet_a", "rating_a", "expected"),
    [
        ("L14-30", 30.0, 29.9, "WARNING"),
        ("L14-30", 30.0, 30.0, "met"),
        ("L14-30", 30.0, 30.1, "met"),
        # The pins bear 50 A, whatever the label of the inlet says.
        ("14-50", 30.0, 30.0, "WARNING"),
        ("14-50", 30.0, 50.0, "met"),
        ("L14-30", 30.0, None, "unjudged"),
    ],
)
def test_transfer_size(pins, inlet_a, rating_a, expected):
    it = inlet(receptacle=pins, rating_a=inlet_a)
    assert behind(it, "transfer-size", rating_a=rating_a) == expected


def test_without_transfer_equipment_its_rating_is_not_judged():
    assert verdict(powered(transfer=None), "transfer-size") == "unjudged"


@pytest.mark.parametrize(
    ("field", "rule", "wrong"),
    [("by_licensed_electrician", "electrician", "WARNING"), ("permit", "permit", "CAUTION")],
)
def test_answers_about_the_work(field, rule, wrong):
    for answer, expected in ((True, "met"), (False, wrong), (None, "unjudged")):
        assert verdict(powered(transfer=transfer(**{field: answer})), rule) == expected
    assert verdict(powered(transfer=None), rule) == "unjudged"


@pytest.mark.parametrize(
    "rule",
    ["transfer-equipment", "neutral-bond", "inlet-disconnect", "inlet-enclosure", "inlet-sign",
     "feeder-size", "transfer-size", "electrician", "permit"],
)  # fmt: skip
def test_without_an_inlet_nothing_is_judged(rule):
    assert verdict(make_plan(), rule) == "unjudged"
