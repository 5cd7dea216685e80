"""The figures of the siting rules against the works they are cited from.

Each row is typed from the work, in the unit it prints, with how it is known to this project.
"""

import pytest

from siteplan.rules.book import book, rule
from siteplan.sources import work

FT, IN, GAL = 0.3048, 0.0254, 3.785411784  # NIST SP 811, appendix B.8, from memory

# rule, figure, value, unit, the work, how it is known
FIGURES = [
    # CPSC press tips 2022; CDC; FEMA DR-4569-CA NR 022: 20 ft from the house and its openings.
    ("separation-opening", "warning_m", 20, FT, "cdc-generator", "read-second-hand"),
    ("separation-opening", "warning_m", 20, FT, "fema-2020", "read"),
    ("separation-opening", "warning_m", 20, FT, "nfpa-tip-sheet", "read-second-hand"),
    ("separation-building", "warning_m", 20, FT, "cpsc-2022", "read-second-hand"),
    ("separation-building", "warning_m", 20, FT, "fema-2020", "read"),
    # NIST press material 2009-10: as much as 25 ft; ASHRAE 62.1-2016 Table 5.5.1: idling, 25 ft.
    ("separation-opening", "caution_m", 25, FT, "nist-2009", "read-second-hand"),
    ("separation-opening", "caution_m", 25, FT, "ashrae-62.1-t5.5.1", "read-second-hand"),
    ("separation-building", "caution_m", 25, FT, "nist-2009", "read-second-hand"),
    ("separation-intake", "warning_m", 25, FT, "ashrae-62.1-t5.5.1", "read-second-hand"),
    # ASHRAE 62.1-2016 Table 5.5.1: Class 4 exhaust, 30 ft.
    ("separation-intake", "caution_m", 30, FT, "ashrae-62.1-class-4", "read-second-hand"),
    # The 15 ft of the trade, which NIST contradicts, is only the step to DANGER.
    ("separation-opening", "danger_m", 15, FT, "practice-15-ft", "common-practice"),
    ("separation-building", "danger_m", 15, FT, "practice-15-ft", "common-practice"),
    # OSHA 4105 (11-2020): 3 to 4 ft on all sides and above.
    ("clear-air", "warning_m", 3, FT, "osha-4105", "read"),
    ("clear-air", "caution_m", 4, FT, "osha-4105", "read"),
    ("clear-above", "warning_m", 3, FT, "osha-4105", "read"),
    ("clear-above", "caution_m", 4, FT, "osha-4105", "read"),
    ("cover", "warning_m", 3, FT, "osha-4105", "read"),
    # NFPA 37 (2010) 4.1.4: 5 ft.
    ("combustible-wall", "warning_m", 5, FT, "nfpa-37-4.1.4", "read-second-hand"),
    ("deck", "warning_m", 5, FT, "nfpa-37-4.1.4", "read-second-hand"),
    ("brush", "caution_m", 10, FT, "practice-bare-ground", "common-practice"),
    # NEC 680.22(A), from memory: 6 ft and 20 ft.
    ("pool", "warning_m", 6, FT, "nec-680.22", "memory"),
    ("pool", "caution_m", 20, FT, "nec-680.22", "memory"),
    # NFPA 54 5.8.5.1: 3 ft; strictest utility found: 10 ft.
    ("gas-regulator", "danger_m", 3, FT, "nfpa-54-5.8.5.1", "read-second-hand"),
    ("gas-regulator", "warning_m", 10, FT, "gas-utility-10-ft", "read"),
    ("gas-regulator-intake", "notice_m", 10, FT, "gas-utility-10-ft", "read"),
    # NFPA 58 (2017) 6.3.4.3 and 6.3.4.4.
    ("gas-cylinder", "warning_m", 5, FT, "nfpa-58-6.3.4", "read-second-hand"),
    ("gas-cylinder", "filled_m", 10, FT, "nfpa-58-6.3.4", "read-second-hand"),
    ("gas-cylinder-opening", "warning_m", 3, FT, "nfpa-58-6.3.4", "read-second-hand"),
    ("gas-cylinder-opening", "intake_m", 5, FT, "nfpa-58-6.3.4", "read-second-hand"),
    ("gas-cylinder-opening", "filled_m", 10, FT, "nfpa-58-6.3.4", "read-second-hand"),
    # IFC (2018) chapter 23, analogy: 20 ft; 50 ft common practice.
    ("fuel-store-distance", "warning_m", 20, FT, "ifc-2018-23", "read-second-hand"),
    ("fuel-store-distance", "caution_m", 50, FT, "practice-50-ft", "common-practice"),
    # City of San Rafael: 10 gal, cans of 5 gal, 60 gal in a listed cabinet; county: 25 gal.
    ("fuel-store-amount", "gasoline_l", 10, GAL, "san-rafael", "read"),
    ("fuel-store-amount", "cabinet_l", 60, GAL, "san-rafael", "read"),
    ("fuel-store-amount", "gasoline_most_l", 25, GAL, "palm-beach-fuel", "read-second-hand"),
    # IFC (2018) 105.6: diesel over 60 gal outside.
    ("fuel-store-amount", "diesel_l", 60, GAL, "ifc-2018-105.6", "read-second-hand"),
    ("fuel-container", "container_l", 5, GAL, "san-rafael", "read"),
    # NEC 110.26(A): 36 in deep, 30 in wide; 230.9(A): 3 ft.
    ("inlet-space", "warning_m", 36, IN, "nec-110.26", "read-second-hand"),
    ("inlet-space", "width_m", 30, IN, "nec-110.26", "read-second-hand"),
    ("service-drop-opening", "notice_m", 3, FT, "nec-230.9", "read-second-hand"),
    ("service-drop", "caution_m", 10, FT, "osha-1926.1408", "memory"),
    ("vehicle-path", "caution_m", 3, FT, "ifc-2018-312", "read-second-hand"),
    ("tent", "warning_m", 20, FT, "ifc-2018-3103", "read-second-hand"),
    ("lot-set-back", "caution_m", 5, FT, "set-back", "proposal"),
    # Borrowed definitions: ASHRAE 62.1 wells, clean-air ordinances, the Nebraska act.
    ("walled-in", "free_share", 0.75, 1, "ashrae-62.1-well", "read-second-hand"),
    ("walled-in", "danger_sides", 3, 1, "ashrae-62.1-well", "read-second-hand"),
    # Narrower than three wall heights: from the middle, one and a half to either wall.
    ("walled-in", "reach_wall_heights", 1.5, 1, "ashrae-62.1-well", "read-second-hand"),
    ("horizon-blocked", "warning_share", 0.5, 1, "clean-air-ordinance", "read-second-hand"),
    ("horizon-blocked", "danger_share", 0.8, 1, "nebraska-clean-air", "read-second-hand"),
]


@pytest.mark.parametrize("row", FIGURES, ids=lambda row: f"{row[0]}-{row[1]}-{row[4]}")
def test_a_figure_is_that_of_the_work_it_cites(row):
    name, figure, value, unit, source, known = row
    one = rule(name)
    assert one.figure(figure) == pytest.approx(value * unit, rel=1e-12)
    assert source in one.sources
    assert work(source).known == known


def test_the_superseded_and_fire_distances_are_no_limit_for_carbon_monoxide():
    # 5 ft (older tip sheet, NFPA 1) and 10 ft (older EPA advice) are fire rules or superseded.
    for name in ("separation-opening", "separation-building"):
        assert rule(name).figure("warning_m") > 10 * FT
        assert min(v for k, v in rule(name).figures.items() if k.endswith("ger_m")) > 10 * FT


def test_borrowed_definitions_say_that_they_are_borrowed():
    for source in ("ashrae-62.1-well", "clean-air-ordinance", "nebraska-clean-air",
                   "england-smoke-free", "nyc-fgc-804", "osha-1926.1408"):  # fmt: skip
        assert "orrowed" in work(source).note
    for name in ("walled-in", "horizon-blocked"):
        assert "orrowed" in rule(name).explain


def test_figures_known_only_from_memory_or_practice_are_marked_so():
    weak = {"memory", "common-practice", "proposal"}
    marked = {
        source for one in book().values() for source in one.sources if work(source).known in weak
    }
    assert marked >= {"nec-680.22", "ifc-1031", "nfpa-72", "practice-15-ft", "practice-50-ft",
                      "set-back", "walled-sides", "exhaust-half-plane"}  # fmt: skip
