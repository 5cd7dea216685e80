"""The list of cited works: whole, readable, and every figure's work is on it."""

import dataclasses
import tomllib
import typing

import pytest

from siteplan import sources
from siteplan.assets import resource
from siteplan.rules.book import book
from siteplan.sources import KNOWN_TEXT, Known, Source, UnknownSourceError, work, works


def _rows():
    for path in sorted(resource("rules").glob("*.toml")):
        for row in tomllib.loads(path.read_text(encoding="utf-8"))["rule"]:
            yield pytest.param(row, id=row["id"])


ROWS = list(_rows())


@pytest.mark.parametrize("row", ROWS)
def test_every_work_that_a_rule_cites_is_on_the_list(row):
    assert row["sources"]
    assert set(row["sources"]) <= set(works())
    assert len(row["sources"]) == len(set(row["sources"]))


@pytest.mark.parametrize("row", ROWS)
def test_a_rule_says_what_it_asks_and_its_figures_are_lengths_in_si_or_name_their_unit(row):
    assert row["title"]
    assert row["explain"].endswith(".")
    for name, value in row.get("figures", {}).items():
        assert isinstance(value, int | float)
        assert "_" in name


def test_the_book_holds_every_row_once():
    assert len(ROWS) > 5
    assert list(book()) == [row.values[0]["id"] for row in ROWS]


@pytest.mark.parametrize("one", [pytest.param(one, id=one.id) for one in works().values()])
def test_a_work_says_how_it_is_known(one):
    assert one.title
    assert KNOWN_TEXT[one.known] in one.line()
    assert one.line().isprintable()


def test_each_way_of_knowing_has_its_words():
    assert set(KNOWN_TEXT) == set(typing.get_args(Known))
    assert len(set(KNOWN_TEXT.values())) == len(KNOWN_TEXT)


def test_the_fifteen_foot_habit_is_marked_as_common_practice():
    # CPSC, CDC, FEMA and NFPA all publish 20 ft; 15 ft stands nowhere in their guidance.
    assert work("practice-15-ft").known == "common-practice"


def test_a_line_leaves_out_what_is_not_given():
    one = sources.Source(id="a", title="T", known="memory")
    assert one.line() == "T (from memory)"
    assert dataclasses.replace(one, clause="C", edition="E").line() == "T, C, E (from memory)"


def test_each_work_is_found_alone_as_in_the_whole_list():
    for source_id, listed in works().items():
        assert work(source_id) == listed


def test_a_work_that_is_not_listed_is_an_error():
    with pytest.raises(UnknownSourceError, match="'no-such-work'"):
        work("no-such-work")


@pytest.fixture
def listing(tmp_path, monkeypatch):
    """Let the list of works be read from a folder of the test's own."""
    monkeypatch.setattr(sources, "resource", lambda _name: tmp_path)
    works.cache_clear()
    yield tmp_path
    works.cache_clear()


ROW = '[[source]]\nid = "a"\ntitle = "{}"\nknown = "read"\n'


def test_the_same_work_may_be_listed_twice_but_not_two_under_one_id(listing):
    (listing / "1.toml").write_text(ROW.format("One"))
    (listing / "2.toml").write_text(ROW.format("One"))
    assert list(works()) == ["a"]
    works.cache_clear()
    (listing / "2.toml").write_text(ROW.format("Two"))
    with pytest.raises(UnknownSourceError, match=r"'a' \(second one in 2\.toml\)"):
        works()


@pytest.mark.parametrize(
    "row",
    [
        '[[source]]\nid = "a"\nknown = "read"\n',
        '[[source]]\nid = "a"\ntitle = "x"\n',
        '[[source]]\nid = "a"\ntitle = "x"\nknown = "hearsay"\n',
        ROW.format("x") + 'extra = "b"\n',
    ],
)
def test_a_row_that_is_not_whole_is_an_error(listing, row):
    (listing / "1.toml").write_text(row)
    with pytest.raises(UnknownSourceError, match=r"^1\.toml: "):
        works()


@pytest.mark.parametrize("one", [pytest.param(one, id=one.id) for one in works().values()])
def test_a_work_asked_for_alone_is_the_one_on_the_list(one):
    assert work(one.id) == one


def test_what_has_no_publication_is_named_in_the_readers_language_and_a_work_by_its_own_name():
    own = Source("a", "Guard band of 3 dB", "proposal", clause="x", note="No source was found.")
    assert own.line("es").startswith("Margen de reserva de 3 dB, x (cifra propia")
    assert own.remark("es") == "No se encontró fuente."
    assert own.line().startswith("Guard band of 3 dB, x (a figure of this program's own")
    cited = Source("a", "Guard band of 3 dB", "read", note="No source was found.")
    assert cited.line("es").startswith("Guard band of 3 dB (leído en el documento")
    assert cited.remark("es") == "No source was found."
