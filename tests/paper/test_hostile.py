"""Text that a person typed, or a file brought, stays text in every output."""

import re

import pytest

from siteplan.paper.documents import KINDS, make
from siteplan.paper.typeset import shown
from siteplan.plan.edits import changed
from siteplan.words import Manner
from tests.helpers.papers import full_plan, page_texts, squeezed

HOSTILE = (
    "#read(\"/etc/passwd\") #import \"@preview/x:1.0.0\" $x^2$ *b* _i_ `c` <label> @ref",
    "= Heading // comment /* block */ \\ \\u{41} ~ -- ---",
    "]#[#panic()] }] \\\" \\\\",
    "<img src='file:///etc/passwd'> <script>alert(1)</script> &amp; ]]>",
    "=cmd|'/C calc'!A0",
)  # fmt: skip


def hostile_plan(text, other=""):
    """The full plan with hostile text wherever a person can type."""
    plan = full_plan()
    house = changed(plan.buildings[0], name=text[:120])
    door = changed(plan.openings[0], name=text[:120])
    cord = changed(plan.placements[0].cords[0], name=text[:120])
    placement = changed(
        plan.placements[0], name=(other or text)[:120], note=text, cords=(cord,), at=(5.0, 9.0)
    )
    return full_plan(
        title=text[:120],
        prepared_by=text[:120],
        buildings=(house,),
        openings=(door,),
        placements=(placement,),
    )


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("texts", [HOSTILE[:2], HOSTILE[2:4], HOSTILE[4:]])
def test_markup_is_printed_as_it_was_typed(kind, texts):
    pages = page_texts(make(hostile_plan(*texts), kind, Manner()))
    whole = squeezed("".join(pages))
    for text in texts:
        # Typographic quotes and dashes would show that the text had been read as markup.
        assert squeezed(text[:40]) in whole
    assert "root:" not in whole


@pytest.mark.parametrize("kind", KINDS)
def test_control_and_direction_signs_are_gone(kind):
    text = "abc\u202edef\u2066ghi\x00\x07\x1b[31m\u200bjkl\ud800"[:-1]
    whole = "".join(page_texts(make(hostile_plan(text), kind, Manner())))
    assert not re.search("[\x00-\x08\x0e-\x1f\u202a-\u202e\u2066-\u2069\u200b]", whole)
    assert "abcdefghi" in whole


@pytest.mark.parametrize("kind", KINDS)
def test_signs_without_a_glyph_become_boxes_and_not_an_error(kind):
    text = "漢字 \U0001f600 ไทย हिन्दी"
    whole = "".join(page_texts(make(hostile_plan(text), kind, Manner())))
    assert "□" in whole


@pytest.mark.parametrize("kind", KINDS)
def test_the_longest_names_allowed_still_fit_the_paper(kind):
    pages = page_texts(make(hostile_plan("W" * 120), kind, Manner()))
    assert 1 <= len(pages) <= 16


def test_letters_of_european_languages_are_kept():
    text = "Ñandú, Größe, Œuvre, Łódź, Ελλάδα, Київ, ½ ≤ 3′ 4″"
    assert shown(text) == text
