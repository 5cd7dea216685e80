"""Every work the power package cites is on the list of works."""

import re
from pathlib import Path

import pytest

import siteplan.power
from siteplan.power.appliances import appliances
from siteplan.sources import works

FOLDER = Path(siteplan.power.__file__).parent
CITED = re.compile(
    r"\b(?:nec-2023|osha|nbs|iec|astm|ufc|nema|nist|army|genset-makers|contractor|dual-fuel-label"
    r"|generator-maker|gaseous|doe|coop|utility|public-power|eia|afdc|propane-data|cylinder-vap"
    r"|epa|cfr|fire-department|ontario)(?:[-.]?[A-Za-z0-9]+|\([A-Za-z0-9]+\))*"
)


def cited(path):
    found = CITED.findall(path.read_text(encoding="utf-8"))
    return {each for each in found if "-" in each}


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.py")), ids=lambda path: path.stem)
def test_every_work_cited_in_a_module_is_listed(path):
    assert cited(path) - set(works()) == set()


def test_the_pattern_finds_citations():
    everywhere = set().union(*(cited(path) for path in FOLDER.glob("*.py")))
    assert {
        "nec-2023-table-400.5(A)(1)",
        "epa-nonroad-bsfc",
        "osha-1926.404(b)(1)(ii)",
    } <= everywhere
    assert len(everywhere) > 45


def test_every_figure_of_an_appliance_names_a_listed_work():
    for row in appliances().values():
        for found in row.found_run + row.found_start:
            assert found.source in works()
