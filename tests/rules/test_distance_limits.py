"""Every rule that judges a distance, just under, at and just over each of its limits.

The limits are typed here in feet, as their sources print them; each source stands beside.
"""

import math
from pathlib import Path

import pytest

from siteplan.plan.around import (
    FuelStore,
    GasCylinder,
    GasPoint,
    Meter,
    OutdoorUnit,
    Panel,
    PowerInlet,
    ServiceDrop,
    ThroughWallOutlet,
)
from siteplan.plan.lot import Accuracy, Lot, Override
from siteplan.rules.book import book, rule
from siteplan.rules.findings import SIGNALS
from tests.helpers.builders import (
    FT,
    box,
    building,
    fence,
    fixture,
    ground_area,
    make_plan,
    north_of_machine,
    opening,
    roof,
    standing,
    tree,
)
from tests.helpers.judging import findings, met, unjudged, verdict

HAIR = 0.001


def house(gap, kind="dwelling", **fields):
    y = north_of_machine(gap)
    return building(box(-20.0, y, 20.0, y + 8.0), kind=kind, **fields)


def house_with(kind):
    """Return what puts a house with an opening of this kind north of the machine."""
    return lambda gap: [house(gap), opening("thing", kind=kind, offset_m=19.5)]


def point(model, **fields):
    return lambda gap: [fixture(model, 0.0, north_of_machine(gap), id="thing", **fields)]


def area(kind, **fields):
    return lambda gap: [ground_area(kind, strip(gap), id="thing", **fields)]


def strip(gap):
    return box(-20.0, north_of_machine(gap), 20.0, north_of_machine(gap) + 3.0)


def line(**fields):
    def put(gap):
        y = north_of_machine(gap)
        return [fence((-9.0, y), (9.0, y), id="thing", **fields)]

    return put


def boundary(gap):
    y = north_of_machine(gap)
    return [Lot(outline=box(-99.0, y - 150.0, 99.0, y))]


def wires(gap):
    y = north_of_machine(gap)
    return [fixture(ServiceDrop, -9.0, y, id="thing", to=(9.0, y))]


def unit(gap):
    # Which way the unit is turned is not stated: its corner is measured to.
    return [fixture(OutdoorUnit, 0.0, north_of_machine(gap) + math.sqrt(0.5), id="thing",
                    width_m=1.0)]  # fmt: skip


SEPARATION = [(15, "DANGER"), (20, "WARNING"), (25, "CAUTION")]
OSHA = [(3, "WARNING"), (4, "CAUTION")]
COMBUSTIBLE = [(5, "WARNING")]
ENTRY_KINDS = ["door", "window", "garage-door", "pet-door", "exhaust-hood", "soffit-vent",
               "gable-vent", "foundation-vent", "air-intake", "combustion-intake",
               "room-air-conditioner", "evaporative-cooler", "window-well"]  # fmt: skip
INTAKE_KINDS = ["air-intake", "combustion-intake", "room-air-conditioner", "evaporative-cooler"]


def garage_of_a_far_house(gap):
    home = building(box(-9.0, 500.0, 9.0, 510.0), id="home")
    return [house(gap, "attached-garage", id="thing"), home]


LADDERS = [
    # 20 ft: CPSC, CDC, FEMA, tip sheet; 25 ft: NIST press; 15 ft: trade habit.
    *(("separation-opening", house_with(kind), SEPARATION) for kind in ENTRY_KINDS),
    ("separation-building", lambda gap: [house(gap, id="thing")], SEPARATION),
    ("separation-building", garage_of_a_far_house, SEPARATION),
    # ASHRAE 62.1-2016 Table 5.5.1: idling engines 25 ft, Class 4 exhaust 30 ft.
    *(
        ("separation-intake", house_with(kind), [(25, "WARNING"), (30, "CAUTION")])
        for kind in INTAKE_KINDS
    ),
    ("window-well", house_with("window-well"), [(4, "DANGER")]),  # own proposal
    # OSHA 4105: 3 to 4 ft on all sides.
    ("clear-air", lambda gap: [house(gap, "shed", id="thing")], OSHA),
    ("clear-air", line(), OSHA),
    ("clear-air", line(kind="hedge", height_m=None), OSHA),
    ("clear-air", line(kind="wall"), OSHA),
    ("clear-air", lambda gap: [tree(0.0, north_of_machine(gap), id="thing")], OSHA),
    # NFPA 37 (2010) 4.1.4: 5 ft.
    ("combustible-wall", line(combustible=True), COMBUSTIBLE),
    ("combustible-wall", line(kind="wall", combustible=True), COMBUSTIBLE),
    (
        "combustible-wall",
        lambda gap: [house(gap, "shed", id="thing", wall_material="combustible")],
        COMBUSTIBLE,
    ),
    ("deck", area("deck", combustible=True), COMBUSTIBLE),
    # Common practice: bare ground 10 ft around.
    ("brush", area("brush"), [(10, "CAUTION")]),
    ("brush", line(kind="hedge"), [(10, "CAUTION")]),
    ("outdoor-unit", unit, [(3, "WARNING"), (5, "CAUTION")]),  # OSHA 4105; own proposal
    # NEC 680.22(A), from memory: 6 ft, and ground-fault protection within 20 ft.
    ("pool", area("pool"), [(6, "WARNING"), (20, "CAUTION")]),
    # NFPA 54 5.8.5.1: 3 ft to ignition; strictest utility found: 10 ft to a generator.
    ("gas-regulator", point(GasPoint, kind="gas-regulator"), [(3, "DANGER"), (10, "WARNING")]),
    ("gas-regulator", point(GasPoint, kind="gas-meter"), [(3, "DANGER"), (10, "WARNING")]),
    # NFPA 58 (2017) 6.3.4.3 and 6.3.4.4: 5 ft to ignition, 10 ft if filled on site.
    ("gas-cylinder", point(GasCylinder, filled_on_site=False), [(5, "WARNING")]),
    ("gas-cylinder", point(GasCylinder, filled_on_site=True), [(10, "WARNING")]),
    # IFC (2018) ch. 23 by analogy: 20 ft; 50 ft common practice.
    ("fuel-store-distance", point(FuelStore), [(20, "WARNING"), (50, "CAUTION")]),
    # NEC 110.26(A): 36 in.
    *(
        ("inlet-space", point(model), [(3, "WARNING")])
        for model in (Panel, PowerInlet, Meter, ThroughWallOutlet)
    ),
    ("service-drop", wires, [(10, "CAUTION")]),  # OSHA 1926.1408 Table A, from memory
    ("vehicle-path", area("driveway"), [(3, "CAUTION")]),  # IFC (2018) 312
    ("exit-kept-free", house_with("door"), [(3, "DANGER")]),  # IFC 1031, from memory; 36 in
    ("exit-kept-free", house_with("garage-door"), [(3, "DANGER")]),
    # IFC (2018) 3103.8.2: 20 ft.
    ("tent", lambda gap: [roof("tent", strip(gap), id="thing")], [(20, "WARNING")]),
]
BOUNDARY = ("lot-set-back", boundary, [(5, "CAUTION")])  # own proposal


def steps(ladders):
    return list(each_step(ladders))


def each_step(ladders):
    for name, put, rungs in ladders:
        for index, (limit_ft, below) in enumerate(rungs):
            after = rungs[index + 1][1] if index + 1 < len(rungs) else "met"
            yield pytest.param(name, put, limit_ft * FT, below, after, id=f"{name}-{limit_ft}ft")


@pytest.mark.parametrize(("name", "put", "limit", "below", "after"), steps([*LADDERS, BOUNDARY]))
def test_each_limit_under_at_and_over(name, put, limit, below, after):
    for gap, expected in ((limit - HAIR, below), (limit, after), (limit + HAIR, after)):
        assert verdict(make_plan(*put(gap), standing()), name) == expected


@pytest.mark.parametrize(("name", "put", "limit", "below", "after"), steps([*LADDERS, BOUNDARY]))
def test_accuracy_of_the_drawing_is_taken_off_first(name, put, limit, below, after):
    rough = Accuracy(method="figure", figure_m=0.25)
    for gap, expected in ((limit + 0.25 - HAIR, below), (limit + 0.25 + HAIR, after)):
        assert verdict(make_plan(*put(gap), standing(), rough), name) == expected


def once(ladders):
    return [pytest.param(*ladder, id=f"{ladder[0]}-{n}") for n, ladder in enumerate(ladders)]


@pytest.mark.parametrize(("name", "put", "rungs"), once(LADDERS))
def test_a_finding_holds_its_figures_and_its_line(name, put, rungs):
    limit = rungs[-1][0] * FT
    rough = Accuracy(method="figure", figure_m=0.25)
    plan = make_plan(*put(limit), standing(), rough)
    (found,) = [one for one in findings(plan, name) if one.subjects == ("thing",)]
    assert found.measured is not None
    assert found.measured.value == pytest.approx(limit - 0.25, abs=1e-6)
    assert found.limit.value == pytest.approx(limit, abs=1e-9)
    assert found.margin.value == pytest.approx(-0.25, abs=1e-6)
    assert found.sources == rule(name).sources
    word = "is advised" if found.signal in {"CAUTION", "NOTICE"} else "is needed"
    assert word in found.what.say()
    (shown,) = found.evidence
    if name != "outdoor-unit":  # its line runs on to the middle of the unit
        assert math.dist(*shown.points) == pytest.approx(limit, abs=1e-6)


@pytest.mark.parametrize(("name", "put", "rungs"), once(LADDERS))
def test_what_keeps_its_distance_is_named_with_its_figures(name, put, rungs):
    limit = rungs[-1][0] * FT
    (said,) = met(make_plan(*put(limit + 2.0), standing()), name)
    assert said.subjects == ("thing",)
    assert said.measured.value == pytest.approx(limit + 2.0, abs=1e-6)
    assert said.limit.value == pytest.approx(limit)
    assert said.margin.value == pytest.approx(2.0, abs=1e-6)
    # A far home is checked too; what a thing hangs on is not.
    assert said.checked == len({one.id for one in put(9.0)} & {"thing", "home"})
    assert said.sources == rule(name).sources


@pytest.mark.parametrize(
    ("name", "put", "rungs"),
    once([one for one in [*LADDERS, BOUNDARY] if one[2][-1][1] != "DANGER"]),
)
def test_a_local_figure_only_lengthens(name, put, rungs):
    fails = next(word for _, word in rungs if word != "DANGER")
    longest = rungs[-1][0] * FT
    longer = Override(rule=name, distance_m=longest + 3.0, reason="Town code")
    assert verdict(make_plan(*put(longest + 3.0 - HAIR), standing(), longer), name) == fails
    assert verdict(make_plan(*put(longest + 3.0), standing(), longer), name) == "met"
    shorter = Override(rule=name, distance_m=0.01, reason="Hearsay")
    for limit_ft, word in rungs:
        plan = make_plan(*put(limit_ft * FT - HAIR), standing(), shorter)
        assert verdict(plan, name) == word


@pytest.mark.parametrize("name", ["separation-opening", "separation-building", "gas-regulator"])
def test_a_local_figure_does_not_move_the_step_to_danger(name):
    put, rungs = next((put, rungs) for one, put, rungs in LADDERS if one == name)
    longer = Override(rule=name, distance_m=40.0, reason="Town code")
    danger = rungs[0][0] * FT
    assert verdict(make_plan(*put(danger - HAIR), standing(), longer), name) == "DANGER"
    assert verdict(make_plan(*put(danger + HAIR), standing(), longer), name) == "WARNING"


def test_under_danger_the_distance_to_make_for_is_the_warning_line():
    (found,) = findings(make_plan(*house_with("window")(1.0), standing()), "separation-opening")
    assert found.signal == "DANGER"
    assert found.limit.value == pytest.approx(20 * FT)
    assert "20'" in found.do.say()
    assert "Do not run it here" in found.do.say()


def test_a_local_figure_for_another_rule_changes_nothing():
    other = Override(rule="pool", distance_m=40.0, reason="Town code")
    plan = make_plan(*area("driveway")(2.0), standing(), other)
    assert verdict(plan, "vehicle-path") == "met"


def test_the_longest_of_several_local_figures_governs():
    several = [
        Override(rule="tent", distance_m=distance, reason="Town code")
        for distance in (8.0, 12.0, 9.0)
    ]
    put = next(put for name, put, _ in LADDERS if name == "tent")
    assert verdict(make_plan(*put(11.9), standing(), *several), "tent") == "WARNING"
    assert verdict(make_plan(*put(12.0), standing(), *several), "tent") == "met"


@pytest.mark.parametrize(
    ("gap_ft", "says", "limit"),
    [
        (10.0, "Do not run it here. Move it to at least 20'", 20),
        (17.0, "Move it to at least 20'", 20),
        (23.0, "Move it out to 25'", 25),
    ],
)
def test_each_rung_has_its_own_advice(gap_ft, says, limit):
    (found,) = findings(
        make_plan(*house_with("window")(gap_ft * FT), standing()), "separation-opening"
    )
    assert found.do.say().startswith(says)
    assert found.limit.value == pytest.approx(limit * FT)


ABSENT = ["separation-opening", "separation-intake", "indoors", "under-roof", "window-well",
          "clear-air", "combustible-wall", "deck", "brush", "outdoor-unit", "pool", "gas-regulator",
          "gas-cylinder", "fuel-store-distance", "inlet-space", "service-drop", "vehicle-path",
          "walk-kept-free", "tent", "standing-water", "tree-overhead", "gas-regulator-intake",
          "gas-cylinder-opening", "service-drop-opening"]  # fmt: skip


@pytest.mark.parametrize("name", ABSENT)
def test_what_is_not_drawn_at_all_is_marked_so(name):
    (said,) = unjudged(make_plan(standing()), name)
    assert said.not_drawn is True


# Rules with a distance that are tested under, at and over their limits in another file here.
ELSEWHERE = {
    "clear-above": "test_answers.py",
    "cord-20-ft": "test_power_cords.py",
    "cover": "test_answers.py",
    "exhaust-direction": "test_exhaust.py",
    "gas-regulator-intake": "test_gas.py",
    "gas-cylinder-opening": "test_gas.py",
    "service-drop-opening": "test_service.py",
}


def _rungs_ft(one):
    names = [f"{word.lower()}_m" for word in SIGNALS]
    return {round(one.figures[name] / FT, 6) for name in names if name in one.figures}


def test_every_rung_of_the_book_is_tested_at_its_limit():
    tested: dict[str, set[float]] = {}
    for name, _, limits in [*LADDERS, BOUNDARY]:
        tested.setdefault(name, set()).update(float(limit) for limit, _ in limits)
    for one in book().values():
        rungs = _rungs_ft(one)
        if one.id in tested:
            assert rungs <= tested[one.id], one.id
        elif rungs:
            text = (Path(__file__).parent / ELSEWHERE[one.id]).read_text(encoding="utf-8")
            assert f'"{one.id}"' in text
