"""Everything the program says is said in Spanish too, and the catalogue holds nothing else."""

import ast
import json
import string
from pathlib import Path

import pytest

from tests.helpers.strings import BOOKS, ROOT, in_books, in_tree, sentences

CATALOGUE = ROOT / "resources" / "translations" / "es.json"
# The words of ANSI Z535.6 as labels on machines in Mexico and the United States print them
# in Spanish (common practice, no source).
SIGNALS = {
    "DANGER": "PELIGRO",
    "WARNING": "ADVERTENCIA",
    "CAUTION": "PRECAUCIÓN",
    "NOTICE": "AVISO",
}


@pytest.fixture(scope="module")
def spanish() -> dict[str, str]:
    return json.loads(CATALOGUE.read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def english() -> set[str]:
    return sentences()


def places(template: str) -> list[str]:
    parsed = string.Formatter().parse(template)
    return sorted({name for _, name, _, _ in parsed if name is not None})


def signals(text: str, words) -> list[int]:
    """How often each signal word stands in the text."""
    found = "".join(sign if sign.isalpha() else " " for sign in text).split()
    return [found.count(one) for one in words]


def unsaid(english, spanish) -> list[str]:
    """What the program says and the catalogue lacks."""
    return sorted(set(english) - set(spanish))


def unused(english, spanish) -> list[str]:
    """What the catalogue holds and the program does not say."""
    return sorted(set(spanish) - set(english))


def displaced(spanish) -> list[str]:
    """The sentences whose Spanish has other named places than their English."""
    return [one for one, said in spanish.items() if places(one) != places(said)]


def missignalled(spanish) -> list[str]:
    """The sentences with a signal word translated other than by the table, or left English."""
    return [
        one
        for one, said in spanish.items()
        if signals(one, SIGNALS) != signals(said, SIGNALS.values())
        or sum(signals(said, SIGNALS)) > 0
    ]


def test_every_sentence_has_its_spanish(english, spanish):
    assert unsaid(english, spanish) == []


def test_the_catalogue_holds_only_what_is_said(english, spanish):
    assert unused(english, spanish) == []


def test_translations_keep_their_places(spanish):
    assert displaced(spanish) == []


def test_signal_words_are_those_of_the_table(spanish):
    assert {one: spanish[one] for one in SIGNALS} == SIGNALS
    assert missignalled(spanish) == []


def test_a_sentence_without_spanish_is_found():
    said = in_tree(ast.parse('say("A new word")\nsay("Met")'))
    assert unsaid(said, {"Met": "Se cumple"}) == ["A new word"]


def test_spanish_that_nobody_says_any_more_is_found():
    said = in_tree(ast.parse('say("Met")'))
    assert unused(said, {"Met": "Se cumple", "Gone": "Ya no"}) == ["Gone"]


@pytest.mark.parametrize(
    ("said", "wrong"),
    [
        ("{subject} está a {distance}", False),
        ("A {distance} está {subject}", False),
        ("{subject} está a {distancia}", True),
        ("{subject} está cerca", True),
        ("{subject} está a {distance} de {subject}, {limit}", True),
    ],
)
def test_a_lost_or_foreign_place_is_found(said, wrong):
    template = "{subject} is {distance} away"
    assert displaced({template: said}) == [template] * wrong


@pytest.mark.parametrize(
    ("said", "wrong"),
    [
        ("PELIGRO: muy cerca", False),
        ("ADVERTENCIA: muy cerca", True),
        ("Peligro: muy cerca", True),
        ("DANGER: muy cerca", True),
        ("Muy cerca", True),
    ],
)
def test_a_signal_word_said_in_another_way_is_found(said, wrong):
    assert missignalled({"DANGER: too near": said}) == ["DANGER: too near"] * wrong


def test_no_sentence_is_in_the_catalogue_twice():
    pairs = json.loads(CATALOGUE.read_text(encoding="utf-8"), object_pairs_hook=list)
    keys = [key for key, _ in pairs]
    assert len(keys) == len(set(keys))


def test_translations_are_not_empty(spanish):
    assert [one for one, said in spanish.items() if not said.strip()] == []


def test_a_sentence_ends_in_spanish_as_it_does_in_english(spanish):
    ends = ".:;!…"
    wrong = [
        one
        for one, said in spanish.items()
        if (one[-1] in ends or said[-1] in ends) and one[-1] != said[-1]
    ]
    assert wrong == []


def test_questions_are_opened_and_closed(spanish):
    assert [one for one, said in spanish.items() if said.count("?") != said.count("¿")] == []


@pytest.mark.parametrize("book", BOOKS)
def test_the_finder_reads_every_book(book):
    assert list((ROOT / "resources").glob(book.rstrip("#")))
    assert {"Freezer", "Before starting", "Maryland, residential"} <= set(in_books())


@pytest.mark.parametrize(
    ("code", "found"),
    [
        ('tr("A word")', {"A word"}),
        ('tr("One" if x else "Other")', {"One", "Other"}),
        ('A_TITLES = {1: "One", 2: ("Two", "Three")}', {"One", "Two", "Three"}),
        ('A = {1: "One"}\ndef f(k):\n    return Text(A[k])', {"One"}),
        ('def f(self, what):\n    return tr(what)\nf("Said for me")', {"Said for me"}),
        ('MORE = "{n} more"', {"{n} more"}),
        ('x: str = Field(title="Its name")', {"Its name"}),
        ('raise EditError("One", {"k": 1})', {"One"}),
        ('def f():\n    msg = "One"\n    raise EditError(msg)', {"One"}),
        ('raise ValueError("told to programmers")', set()),
        ('"""Of {module}."""\nx = "key"\nSTYLE = "a {b}\\n c"', set()),
    ],
)
def test_the_finder_sees_a_sentence_wherever_it_stands(code, found):
    assert set(in_tree(ast.parse(code))) == found


def test_the_finder_finds_nothing_in_docstrings_of_the_program():
    said = sentences()
    for path in (ROOT / "siteplan").rglob("*.py"):
        tree = ast.parse(Path(path).read_text(encoding="utf-8"))
        assert ast.get_docstring(tree) not in said
