"""No place passes because what would bar it is not drawn."""

import math

import pytest

from siteplan.cli.main import main
from siteplan.plan import save
from siteplan.plan.around import GasCylinder, PowerInlet
from siteplan.scene import resolve
from siteplan.suggest import spots
from siteplan.suggest.inlets import inlet_candidates
from siteplan.suggest.say import about, headline
from siteplan.suggest.zone import standing_zone
from tests.helpers import builders as b

YARD = b.lot(-40.0, -40.0, 40.0, 40.0)


def test_without_a_dwelling_no_place_passes(tmp_path, capsys):
    theirs = b.building(b.box(-6.0, 50.0, 6.0, 58.0), owner="neighbour")
    shed = b.building(b.box(20.0, 20.0, 23.0, 23.0), id="shed", kind="shed")
    for parts in ((), (theirs,), (shed,)):
        found = spots(b.make_plan(YARD, *parts, b.standing()), 1)
        assert found.passes is False
        assert "No dwelling of your own is drawn" in headline(found).say()
    path = tmp_path / "lot.siteplan"
    save(b.make_plan(YARD, b.standing()), path)
    assert main(["spots", str(path), "--count", "1"]) == 1
    assert "all pass" not in capsys.readouterr().out


def test_without_a_dwelling_no_ground_is_tinted(tmp_path):
    theirs = b.building(b.box(-6.0, 50.0, 6.0, 58.0), owner="neighbour")
    for parts in ((), (theirs,)):
        zone = standing_zone(b.make_plan(YARD, *parts, b.standing()))
        assert not zone.allowed.is_empty
        assert [ground.is_empty for ground in (zone.tint, zone.strong_tint)] == [True, True]
    known = standing_zone(b.make_plan(YARD, b.building(), b.standing()))
    assert (known.tint, known.strong_tint) == (known.allowed, known.preferred)
    assert not known.allowed.is_empty


def test_what_stands_before_an_inlet_bars_no_place():
    before = b.fence((5.0, 8.6), (7.0, 8.6))
    inlet = b.fixture(PowerInlet, 6.0, 8.0, "inlet", on=b.on_wall(2, 6.0))
    found = spots(b.make_plan(YARD, b.building(), inlet, before, b.standing()), 1)
    assert found.stands is True
    assert "inlet-space" in {one.rule for one in found.places[0].anywhere}


def test_with_a_dwelling_a_place_passes():
    found = spots(b.make_plan(YARD, b.building(), b.standing()), 1)
    assert found.passes is True


def test_a_place_tells_what_was_not_judged_there():
    # The lot is so narrow that the boundary is near everywhere, and no neighbour is drawn.
    strip = b.lot(-5.0, -40.0, 5.0, 40.0)
    home = b.building(b.box(-4.0, -38.0, 4.0, -30.0))
    plan = b.make_plan(strip, home, b.standing(0.0, 20.0))
    (place,) = spots(plan, 1).places
    assert {one.rule for one in place.missing} == {"neighbours-drawn"}
    said = " ".join(text.say() for text in about(plan, place))
    assert "Not judged there, because this is missing: no neighbour's building is drawn" in said


@pytest.mark.parametrize(("filled", "keep_ft"), [(False, 5.0), (True, 10.0), (None, 10.0)])
def test_an_inlet_hangs_clear_of_a_cylinder_by_how_it_is_filled(filled, keep_ft):
    # NFPA 58 (2017) 6.3.4.3 and .4, read second-hand: an inlet is a source of ignition.
    tank = b.fixture(GasCylinder, 6.0, -0.2, filled_on_site=filled)
    plan = b.make_plan(YARD, b.building(), b.standing(0.0, -20.0), tank)
    gaps = [math.dist(one.at, (6.0, -0.2)) for one in inlet_candidates(resolve(plan))]
    assert keep_ft * b.FT < min(gaps) < keep_ft * b.FT + 0.6
