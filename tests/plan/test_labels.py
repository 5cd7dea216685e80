"""What things are called in sentences."""

import typing

from siteplan.plan import around, lot, needs
from siteplan.plan.labels import KIND_WORDS, label
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
    assert label(small_plan().placements[0]).say() == "yard"
