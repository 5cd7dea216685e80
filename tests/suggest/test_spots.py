"""The places found, confirmed by the review; the places not found, explained."""

import math

import pytest
import shapely

from siteplan.assets import sample
from siteplan.geometry.ties import place_from_tapes
from siteplan.plan import load
from siteplan.plan.around import (
    FuelStore,
    GasPoint,
    OnWall,
    Panel,
    PowerInlet,
)
from siteplan.plan.edits import changed, stand, with_fields
from siteplan.plan.lot import Accuracy
from siteplan.rules import review
from siteplan.rules.findings import severity
from siteplan.rules.review import OF_THE_PLAN
from siteplan.scene import resolve
from siteplan.scene.cords import MACHINE_RISE_M
from siteplan.suggest import compare, set_out, spots
from siteplan.suggest.inlet_places import cable_m, inlet_places
from siteplan.suggest.inlets import InletPlace, inlet_candidates
from siteplan.suggest.judged import SAME_ANYWHERE
from siteplan.suggest.say import about, binding_text, headline, tapes_text
from siteplan.suggest.side_by_side import COMPARE_TITLES, cells
from siteplan.suggest.why import inlet_text
from siteplan.suggest.zone import OF_THE_SPOT
from siteplan.words import Manner, Text
from tests.helpers import builders as b


@pytest.fixture(scope="module")
def good():
    plan = load(sample("good-placement.siteplan"))
    return plan, spots(plan)


@pytest.fixture(scope="module")
def narrow():
    plan = load(sample("narrow-lot.siteplan"))
    return plan, spots(plan)


def serious(plan):
    return [
        one
        for one in review(plan).findings
        if one.rule in OF_THE_SPOT and severity(one.signal) >= severity("WARNING")
    ]


def test_every_place_found_passes_the_review(good):
    plan, found = good
    assert found.passes
    assert len(found.places) == 5
    for one in (*found.places, found.nearest):
        assert serious(stand(plan, one.at, one.turn_deg)) == []


MACHINES = {
    "as drawn": {},
    "strong": {"rated_w": 12_000.0, "engine_cc": 680.0, "co_label_g_per_h": None},
    "stronger": {"rated_w": 15_000.0, "engine_cc": 999.0, "co_label_g_per_h": None},
    "of unknown engine": {"engine_cc": None, "co_label_g_per_h": None},
}
CORDS = {
    "as entered": {},
    "thin": {"gauge_awg": 16},
    "short": {"pieces_m": (9.0,)},
    "coiled": {"coiled": True},
}


@pytest.mark.parametrize("name", ["good-placement", "bad-placement", "narrow-lot", "quiet-hours"])
@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("cords", CORDS)
def test_the_review_never_contradicts_a_place(name, machine, cords):
    plan = load(sample(f"{name}.siteplan"))
    plan = with_fields(plan, machine=changed(plan.machine, **MACHINES[machine]))
    placements = tuple(
        changed(one, cords=tuple(changed(cord, **CORDS[cords]) for cord in one.cords))
        for one in plan.placements
    )
    plan = with_fields(plan, placements=placements)
    found = spots(plan)
    told = {(one.rule, one.subjects, one.signal) for one in found.anywhere}
    for one in filter(None, (*found.places, found.nearest)):
        grave = {
            (each.rule, each.subjects, each.signal)
            for each in review(stand(plan, one.at, one.turn_deg)).findings
            if severity(each.signal) >= severity("WARNING")
        }
        here = {(each.rule, each.subjects, each.signal) for each in one.findings}
        assert grave <= here | told
        assert one.passes == (not grave - told)
        if one.stands:
            assert {rule_id for rule_id, *_ in grave - told}.isdisjoint(OF_THE_SPOT)


def test_a_strong_engine_finds_places_farther_off(good):
    """12 kW, 680 cc: what would be enough for the drawn one draws a WARNING of the estimate."""
    plan, usual = good
    strong = with_fields(plan, machine=changed(plan.machine, **MACHINES["strong"]))
    nearer = [
        one
        for one in usual.places
        if severity(review(stand(strong, one.at, one.turn_deg)).worst) >= severity("WARNING")
    ]
    assert nearer
    found = spots(strong)
    assert all(one.stands for one in found.places)
    assert min(one.opening_m for one in found.places) > min(one.opening_m for one in usual.places)


def test_what_no_place_changes_is_told_apart(good):
    plan, usual = good
    assert usual.anywhere == ()
    hurt = with_fields(
        plan,
        placements=tuple(
            changed(one, cords=tuple(changed(cord, coiled=True) for cord in one.cords))
            for one in plan.placements
        ),
    )
    found = spots(hurt)
    assert {one.rule for one in found.anywhere} == {"cord-coiled"}
    assert found.passes
    assert [one.at for one in found.places] == [one.at for one in usual.places]


def test_a_cord_too_short_for_any_place_is_said_to_be_wrong_not_the_place(good):
    plan, _ = good
    short = with_fields(
        plan,
        placements=tuple(
            changed(one, cords=tuple(changed(cord, pieces_m=(8.0,)) for cord in one.cords))
            for one in plan.placements
        ),
    )
    found = spots(short)
    assert (found.passes, found.stands, found.nearest) == (False, True, None)
    assert "with the cords as entered" in headline(found).say()
    assert "cord-reach" in {one.rule for one in found.places[0].findings}
    assert any("Get one cord" in one.text.say() for one in found.changes)


@pytest.mark.parametrize("name", ["good-placement", "bad-placement", "quiet-hours"])
def test_rules_said_to_hold_anywhere_find_the_same_anywhere(name):
    plan = load(sample(f"{name}.siteplan"))
    low_x, low_y, high_x, high_y = shapely.Polygon(plan.lot.outline).bounds
    seen = set()
    for x, y in ((0.1, 0.1), (0.5, 0.9), (0.9, 0.5), (0.93, 0.07)):
        at = (low_x + x * (high_x - low_x), low_y + y * (high_y - low_y))
        found = review(stand(plan, at, 360.0 * x))
        seen.add(
            frozenset(
                (one.rule, one.subjects, one.signal, one.what.say())
                for one in found.findings
                if one.rule in SAME_ANYWHERE or one.rule in OF_THE_PLAN
            )
        )
    assert len(seen) == 1


def test_places_are_ranked_and_lie_apart(good):
    _, found = good
    assert [severity(one.worst) for one in found.places] == sorted(
        severity(one.worst) for one in found.places
    )
    gaps = [math.dist(p.at, q.at) for i, p in enumerate(found.places) for q in found.places[:i]]
    assert min(gaps) >= 3.0
    assert found.nearest.cord_m <= min(one.cord_m for one in found.places)


def test_nearest_legal_place_of_a_court():
    """The court of tests/published/test_geometry: 16.7616 m on foot, at (21.854, 30.709).

    The machine is a speck and the building no dwelling, so that only its openings count.
    """
    court = ((10, 10), (30, 10), (30, 30), (24, 30), (24, 14), (16, 14), (16, 30), (10, 30))
    outline = tuple((float(x), float(y)) for x, y in court)
    windows = [
        b.opening("e", wall=5, offset_m=6.0),
        b.opening("w", wall=3, offset_m=5.0),
        b.opening("n", wall=5, offset_m=14.0),
        b.opening("o", wall=7, offset_m=9.0),
        b.opening("s", wall=4, offset_m=3.0, width_m=2.0),
    ]
    plan = b.make_plan(
        b.lot(0.0, 0.0, 40.0, 50.0),
        b.building(outline, kind="shed"),
        *windows,
        b.fixture(PowerInlet, 20.0, 14.05, height_m=0.0),
        b.machine(width_m=1e-5, length_m=1e-5, height_m=0.6, exhaust_side="front"),
        b.standing(35.0, 45.0),
    )
    found = spots(plan)
    assert found.nearest.at == pytest.approx((21.854, 30.709), abs=2e-3)
    assert found.nearest.cord_m - MACHINE_RISE_M == pytest.approx(16.7616, abs=1e-3)


def test_narrow_lot_explains_itself(narrow):
    plan, found = narrow
    assert not found.passes
    assert found.nearest is None
    assert found.binding[0].rule == "separation-building"
    assert found.binding[0].share == 1.0
    assert headline(found).say().startswith("No place on this lot passes.")
    assert all(serious(stand(plan, one.at, one.turn_deg)) for one in found.places)
    worst = [severity(one.worst) for one in found.places]
    assert worst == sorted(worst)


def test_a_place_beyond_the_boundary_is_offered_with_consent(narrow):
    plan, found = narrow
    (offer,) = found.changes
    assert offer.kind == "consent"
    assert not shapely.Polygon(plan.lot.outline).contains(shapely.Point(offer.at))
    assert "consent" in offer.text.say()


def test_no_change_shortens_a_distance_or_shuts_a_window(narrow):
    _, found = narrow
    for one in found.changes:
        said = one.text.say().lower()
        assert not any(word in said for word in ("shut", "close", "shorter", "window"))


def small_yard(*more, **fields):
    """A lot whose only free ground lies 7 m and more north of the house."""
    return b.make_plan(
        b.lot(0.0, -1.0, 14.0, 22.0),
        b.building(b.box(1.0, 0.0, 13.0, 8.0)),
        b.opening(wall=2, offset_m=5.0),
        b.fixture(Panel, 12.0, 7.0),
        b.standing(7.0, 16.0),
        *more,
        **fields,
    )


def test_moving_the_fuel_is_offered_where_it_bars():
    plan = small_yard(
        b.fixture(FuelStore, 7.0, 18.0, id="cans", name="Fuel cans"),
        b.lot(2.0, -1.0, 12.0, 22.0),
    )
    assert [one.text.say() for one in spots(plan).changes if one.kind == "move"] == [
        "Move Fuel cans away: there would be places then."
    ]


def test_measuring_better_is_offered_where_it_would_help():
    plan = small_yard(
        b.Override(rule="lot-set-back", distance_m=2.0, reason="Town code"),
        accuracy=Accuracy(method="figure", figure_m=8.0),
    )
    found = spots(plan)
    assert not found.passes
    assert "measure" in {one.kind for one in found.changes}


def test_an_inlet_hangs_clear_of_openings_gas_and_things():
    scene = resolve(
        small_yard(b.fixture(GasPoint, 3.0, 8.0, id="gas", kind="gas-meter"), b.tree(10.0, 8.5))
    )
    places = [one for one in inlet_candidates(scene) if one.on.wall == 2]
    assert places
    for one in places:
        x = one.at[0]
        assert not 13.0 - 6.0 - 0.381 < x < 13.0 - 5.0 + 0.381
        assert math.dist(one.at, (3.0, 8.0)) > 0.9144
        assert abs(x - 10.0) > 0.381
        assert one.feeder_m == pytest.approx(abs(x - 12.0) + 1.0 + 1.5)


def test_inlet_and_place_are_found_together(narrow):
    _, found = narrow
    for one in found.places:
        assert one.inlet is not None
        assert one.ways[0][-1] == pytest.approx(one.inlet.at, abs=0.03)


def test_a_longer_cord_is_asked_for():
    cord = b.cord(to="inlet", pieces_m=(1.0,))
    plan = small_yard(b.fixture(PowerInlet, 2.0, 8.0, id="inlet"))
    plan = with_fields(plan, placements=(b.standing(7.0, 16.0, cords=(cord,)),))
    found = spots(plan)
    assert [one.kind for one in found.changes if one.kind == "cord"] == ["cord"]


def test_tapes_lead_back_to_the_place(good):
    plan, found = good
    tapes = set_out(resolve(plan), found.places[0].at).tapes
    fix = place_from_tapes([one.corner_xy for one in tapes], [one.length_m for one in tapes])
    assert fix.places[0] == pytest.approx(found.places[0].at, abs=1e-6)
    assert [one.check for one in tapes] == [False, False, True]


def test_what_is_said_is_whole_in_both_languages(good, narrow):
    for manner in (Manner(), Manner("es", "metres")):
        for plan, found in (good, narrow):
            texts: list[Text] = [headline(found), *(one.text for one in found.changes)]
            texts += [binding_text(plan, one) for one in found.binding]
            scene = resolve(plan)
            for one in found.places:
                texts += [*about(plan, one), tapes_text(set_out(scene, one.at))]
            assert all(text.say(manner).strip() for text in texts)


def test_placements_are_compared_side_by_side():
    plan = b.house_plan(6.0, -30.0)
    near = b.standing(6.0, -3.0, id="near", name="Near the window")
    plan = with_fields(plan, placements=(*plan.placements, near))
    far, close = compare(plan)
    # What holds of carbon monoxide at any distance is a caution.
    assert far.worst == "CAUTION"
    assert far.counts["CAUTION"] == 1
    assert close.worst == "DANGER"
    assert close.counts["DANGER"] >= 1
    aside = 6.0 - b.WIDTH_M / 2.0 - 2.0
    assert far.opening_m == pytest.approx(math.hypot(30.0 - b.LENGTH_M / 2.0, aside))
    assert close.dwelling_m == pytest.approx(3.0 - b.LENGTH_M / 2.0)
    assert len(cells(plan, far)) == len(COMPARE_TITLES)


def test_compare_judges_each_placement_as_the_review_does():
    plan = b.house_plan(6.0, -5.0)
    (row,) = compare(plan)
    assert sum(row.counts.values()) == len(review(plan).findings)
    assert row.worst == review(plan).worst


def test_inlet_places_are_found_with_the_machines_place(good):
    """As if no inlet hung yet: least cord and cable together first, each from its own place."""
    plan, _ = good
    places = inlet_places(plan)
    assert places
    assert all(one.passes and one.inlet is not None for one in places)
    totals = [cable_m(one) for one in places]
    assert totals == sorted(totals)
    hung = {(one.inlet.on.building, one.inlet.on.wall, one.inlet.on.offset_m) for one in places}
    assert len(hung) == len(places)
    assert inlet_places(load(sample("narrow-lot.siteplan"))) == ()


@pytest.mark.parametrize(
    ("outline", "wall", "north_deg", "told"),
    [
        (b.box(0.0, 0.0, 10.0, 8.0), 0, 0.0, ("south", "west")),
        (b.box(0.0, 0.0, 10.0, 8.0), 1, 0.0, ("east", "south")),
        (b.box(0.0, 0.0, 10.0, 8.0)[::-1], 0, 0.0, ("north", "west")),
        # North to the right of the drawing: who looks there has its bottom, the east, at hand.
        (b.box(0.0, 0.0, 10.0, 8.0), 0, 90.0, ("east", "south")),
        (b.box(0.0, 0.0, 10.0, 8.0), 0, 45.0, ("south-east", "south-west")),
    ],
)
def test_an_inlet_is_told_by_the_side_its_wall_faces(outline, wall, north_deg, told):
    plan = b.make_plan(b.building(outline, name="Cottage"), north_deg=north_deg)
    place = InletPlace(OnWall(building="house", wall=wall, offset_m=1.5), (0.0, 0.0), 1.0, None)
    said = inlet_text(plan, place).say(Manner(system="metres"))
    assert said == f"on the {told[0]} wall of Cottage, 1.50 m from its {told[1]} corner"
