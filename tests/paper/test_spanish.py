"""Papers and drawings in Spanish: nothing left in English, and room for longer words."""

import ast
import json
from pathlib import Path

import pytest

from siteplan.assets import resource, sample
from siteplan.paper.documents import KINDS
from tests.helpers.papers import full_paper, page_texts, sample_paper
from tests.helpers.strings import ROOT, in_tree, sentences

SAMPLES = sorted(path.stem for path in sample(".").glob("*.siteplan"))


def own_sentences():
    wanted = sentences()
    for folder in ("paper", "drawing"):
        for path in (ROOT / "siteplan" / folder).rglob("*.py"):
            found = in_tree(ast.parse(Path(path).read_text(encoding="utf-8")))
            yield from (one for one in found if one in wanted)


def test_every_sentence_of_papers_and_drawings_is_in_the_catalogue():
    known = json.loads(resource("translations/es.json").read_text(encoding="utf-8"))
    assert sorted(one for one in set(own_sentences()) if one not in known) == []


@pytest.mark.parametrize("kind", KINDS)
def test_spanish_papers_hold_no_english_of_their_own(kind):
    text = " ".join(page_texts(full_paper(kind, "es", "metres")))
    assert "PRECAUCIÓN" in text
    for english in ("Where it stands", "not entered", "What is wrong", "Page 1 of", "Sources"):
        assert english not in text.replace("\n", " ")


@pytest.mark.parametrize("name", SAMPLES)
def test_the_household_gets_two_pages_in_spanish_too(name):
    assert len(page_texts(sample_paper(name, "household", "es", "metres"))) == 2
