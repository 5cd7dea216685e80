"""Papers and drawings in Spanish: nothing left in English, and room for longer words."""

import pytest

from siteplan.assets import sample
from siteplan.paper.documents import KINDS
from tests.helpers.papers import full_paper, page_texts, sample_paper

SAMPLES = sorted(path.stem for path in sample(".").glob("*.siteplan"))


@pytest.mark.parametrize("kind", KINDS)
def test_spanish_papers_hold_no_english_of_their_own(kind):
    text = " ".join(page_texts(full_paper(kind, "es", "metres")))
    assert "PRECAUCIÓN" in text
    for english in ("Where it stands", "not entered", "What is wrong", "Page 1 of", "Sources"):
        assert english not in text.replace("\n", " ")


@pytest.mark.parametrize("name", SAMPLES)
def test_the_household_gets_two_pages_in_spanish_too(name):
    assert len(page_texts(sample_paper(name, "household", "es", "metres"))) == 2
