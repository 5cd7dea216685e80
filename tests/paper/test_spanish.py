"""Papers and drawings in Spanish: nothing left in English, and room for longer words."""

import json

import pytest

from siteplan.assets import resource, sample
from siteplan.paper.documents import KINDS
from tests.helpers.papers import full_paper, page_texts, sample_paper

CATALOGUE = json.loads(resource("translations/es.json").read_text(encoding="utf-8"))
# Whole sentences and headings; shorter ones may stand in names that users gave or in titles of
# the works cited, which stay as they are.
TRANSLATED = [
    one for one, said in CATALOGUE.items() if len(one) > 14 and one[0].isupper() and one not in said
]
SAMPLES = sorted(path.stem for path in sample(".").glob("*.siteplan"))


@pytest.mark.parametrize("kind", KINDS)
def test_spanish_papers_hold_no_english_of_their_own(kind):
    text = " ".join(" ".join(page_texts(full_paper(kind, "es", "metres"))).split())
    assert "PRECAUCIÓN" in text
    assert [one for one in TRANSLATED if one in text] == []


def test_what_would_be_left_in_english_is_found():
    text = " ".join(" ".join(page_texts(full_paper("records", "en", "metres"))).split())
    assert len([one for one in TRANSLATED if one in text]) > 20


@pytest.mark.parametrize("name", SAMPLES)
def test_the_household_gets_two_pages_in_spanish_too(name):
    assert len(page_texts(sample_paper(name, "household", "es", "metres"))) == 2
