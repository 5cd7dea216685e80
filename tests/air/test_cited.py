"""Every work the data of this package name is in the list of works."""

import tomllib
from pathlib import Path

import pytest

from siteplan.air.thresholds import LIMITS, SYMPTOMS

ROWS = tomllib.loads(
    (Path(__file__).parents[2] / "resources/sources/air.toml").read_text(encoding="utf-8")
)["source"]
KNOWN = {"read", "read-second-hand", "memory", "common-practice", "derived", "proposal"}


@pytest.mark.parametrize("row", [*LIMITS, *SYMPTOMS], ids=lambda row: row.source)
def test_each_figure_names_a_listed_work(row):
    assert row.source in {work["id"] for work in ROWS}


def test_each_work_says_how_it_is_known_and_stands_once():
    assert {work["known"] for work in ROWS} <= KNOWN
    assert len({work["id"] for work in ROWS}) == len(ROWS)
    allowed = {"id", "title", "clause", "edition", "known", "note"}
    assert all({"id", "title", "known"} <= set(work) <= allowed for work in ROWS)
