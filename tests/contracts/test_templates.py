"""Sentences and their values fit: every named place is filled, and every value has a place.

What a set of sentences (`Says`) leaves open is filled in later, for each subject; so is the
cord in the sentences of the power path.
"""

import ast
import string
from pathlib import Path

import pytest

FILLED_LATER = {"power": {"cord"}}
ROOT = Path(__file__).resolve().parents[2]


def places(template):
    return {name for _, name, _, _ in string.Formatter().parse(template) if name is not None}


def _templates(node):
    """The texts that a template's expression can be, or none if they are not written there."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return [node.value]
    if isinstance(node, ast.IfExp):
        return _templates(node.body) + _templates(node.orelse)
    return []


def _keys(node):
    """The keys of a mapping written out, or None if they cannot be read from the source."""
    if isinstance(node, ast.Dict) and all(isinstance(key, ast.Constant) for key in node.keys):
        return {key.value for key in node.keys}
    return None


def _calls(tree, name):
    return [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == name
    ]


def sentences(tree):
    """Yield line, template and keys of each sentence whose values are written beside it."""
    left_open = {id(text) for says in _calls(tree, "Says") for text in _calls(says, "Text")}
    for node in _calls(tree, "Text"):
        given = node.args[1] if len(node.args) > 1 else None
        given = next((one.value for one in node.keywords if one.arg == "values"), given)
        keys = _keys(given)
        if node.args and keys is not None:
            for template in _templates(node.args[0]):
                open_places = places(template) - keys if id(node) in left_open else set()
                yield node.lineno, template, keys | open_places


FILES = sorted((ROOT / "siteplan").rglob("*.py"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(ROOT / "siteplan")))
def test_each_place_in_a_sentence_has_its_value(path):
    for line, template, keys in sentences(ast.parse(path.read_text(encoding="utf-8"))):
        later = FILLED_LATER.get(path.parent.name, set()) & places(template)
        assert places(template) == keys | later, f"{path.name}:{line}: {template}"


def test_the_check_finds_what_does_not_fit():
    tree = ast.parse('Text("{a} of {b}" if c else "{a}", {"a": 1})\nText("{a}", values={"b": 2})')
    wrong = [template for _, template, keys in sentences(tree) if places(template) != keys]
    assert wrong == ["{a} of {b}", "{a}"]


def test_it_sees_most_sentences_of_the_rules():
    count = sum(
        len(list(sentences(ast.parse(path.read_text(encoding="utf-8")))))
        for path in (ROOT / "siteplan" / "rules").glob("*.py")
    )
    assert count > 30
