"""What things are called in sentences."""

import typing

import pytest

from siteplan.plan import around, lot, needs
from siteplan.plan.labels import KIND_WORDS, label, outlet_label
from siteplan.plan.machine import Cord, Placement, Receptacle
from siteplan.words import Manner
from tests.helpers.plan_makers import small_plan


def _kinds(*models):
    for model in models:
        yield from typing.get_args(model.model_fields["kind"].annotation)


def test_every_kind_has_a_word():
    fixtures = typing.get_args(typing.get_args(around.Fixture)[0])
    surroundings = typing.get_args(typing.get_args(around.Surrounding)[0])
    kinds = set(_kinds(lot.Building, lot.Opening, *fixtures, *surroundings))
    kinds |= set(typing.get_args(needs.AlarmSpot.model_fields["place"].annotation))
    assert len(kinds) > 40
    assert kinds == set(KIND_WORDS)


def test_the_users_name_comes_first_and_else_kind_and_id():
    house = small_plan().buildings[0]
    assert label(house).say() == "dwelling house"
    assert label(house.model_copy(update={"name": "Nº {3}\x1b[0m"})).say() == "Nº {3}[0m"
    # A new thing's id repeats its kind, so only its number is told.
    assert label(house.model_copy(update={"id": "dwelling-2"})).say() == "dwelling 2"
    assert label(house.model_copy(update={"id": "dwelling-east"})).say() == (
        "dwelling dwelling-east"
    )


@pytest.mark.parametrize(
    ("made", "english", "spanish"),
    [
        (Placement(id="place-1", at=(0.0, 0.0)), "Place 1", "Lugar 1"),
        (Placement(id="place-12", name="Drive", at=(0.0, 0.0)), "Drive", "Drive"),
        (Placement(id="yard", at=(0.0, 0.0)), "yard", "yard"),
        (Placement(id="east-side-2", at=(0.0, 0.0)), "east side 2", "east side 2"),
        (Cord(id="cord-3"), "Cord 3", "Cable 3"),
        (Cord(id="cord-to-well"), "cord to well", "cord to well"),
        (needs.Load(id="load-2", running_w=1.0), "Appliance 2", "Aparato 2"),
    ],
)
def test_nobody_reads_an_id(made, english, spanish):
    assert label(made).say() == english
    assert label(made).say(Manner("es", "metres")) == spanish


@pytest.mark.parametrize(
    ("key", "configuration", "told"),
    [
        ("l14-30", "L14-30", "L14-30"),
        ("duplex-a", "5-20", "duplex a (5-20)"),
        ("outlet-2", "5-20", "2 (5-20)"),
    ],
)
def test_an_outlet_is_told_by_its_configuration(key, configuration, told):
    assert outlet_label(Receptacle(id=key, configuration=configuration)).say() == told
