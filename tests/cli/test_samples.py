"""The samples show what they are there to show."""

import math

import pytest
from shapely import Point, Polygon

from siteplan.assets import sample
from siteplan.plan import edits, load
from siteplan.rules import review
from siteplan.rules.carbon_monoxide_rule import holds_anywhere

NAMES = ("bad-placement", "good-placement", "narrow-lot", "quiet-hours")


def plan_of(name):
    return load(sample(f"{name}.siteplan"))


def test_there_are_these_samples_and_no_others():
    found = {path.stem for path in sample("bad-placement.siteplan").parent.glob("*.siteplan")}
    assert found == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_a_sample_is_whole(name):
    plan = plan_of(name)
    assert plan.title
    assert plan.lot is not None
    assert plan.machine is not None
    assert plan.placement is not None
    own = [one for one in plan.buildings if one.owner == "own" and one.kind == "dwelling"]
    assert own
    assert all(one.openings_complete for one in own)


def test_bad_and_good_differ_in_nothing_that_stands_still():
    bad, good = plan_of("bad-placement"), plan_of("good-placement")
    assert (bad.lot, bad.buildings, bad.openings) == (good.lot, good.buildings, good.openings)
    assert bad.placement.at != good.placement.at


def _nearest_m(plan):
    """Distance from the machine's middle to the nearest corner-to-corner wall, by hand."""
    at = Point(plan.placement.at)
    return min(at.distance(Polygon(one.outline)) for one in plan.buildings)


def test_the_bad_one_stands_too_near_and_the_good_one_well_away():
    # 20 ft and 25 ft; half the machine's diagonal is under half a metre.
    assert _nearest_m(plan_of("bad-placement")) < 6.096 - 0.5
    assert _nearest_m(plan_of("good-placement")) > 7.62 + 0.5


def test_their_reviews_say_so():
    bad = review(plan_of("bad-placement"))
    assert bad.worst == "DANGER"
    assert {"separation-opening", "separation-building", "exhaust-direction"} <= {
        one.rule for one in bad.findings if one.signal == "DANGER"
    }
    good = review(plan_of("good-placement"))
    # Nothing but what holds at any distance, and a notice of the stop to refuel at night.
    assert [one.rule for one in good.findings] == ["co-estimate", "refuel-asleep"]
    assert holds_anywhere(good.findings[0])
    assert good.findings[1].signal == "NOTICE"
    assert {"separation-opening", "separation-building", "indoors", "under-roof"} <= {
        one.rule for one in good.met
    }


def test_the_quiet_one_stands_well_and_is_too_loud_at_one_window_at_night():
    found = review(plan_of("quiet-hours"))
    # A breathing aid needs a second back-up, whatever the generator.
    assert found.worst == "CAUTION"
    cautions = [one for one in found.findings if one.signal == "CAUTION"]
    assert {one.rule for one in cautions} == {"medical-load", "co-estimate"}
    # Of carbon monoxide only what holds at any distance.
    assert [holds_anywhere(one) for one in cautions if one.rule == "co-estimate"] == [True]
    assert [
        subject for one in found.findings if one.rule == "sound-window" for subject in one.subjects
    ] == ["north-bedroom"]
    assert "sound-boundary" in {one.rule for one in found.met}
    assert {"separation-opening", "separation-building"} <= {one.rule for one in found.met}


def test_nowhere_on_the_narrow_lot_passes():
    plan = plan_of("narrow-lot")
    lot = Polygon(plan.lot.outline)
    west, south, east, north = lot.bounds
    tried = 0
    for x in range(math.floor(west), math.ceil(east) + 1):
        for y in range(math.floor(south), math.ceil(north) + 1):
            if not lot.covers(Point(x, y)):
                continue
            tried += 1
            for turn in (0.0, 90.0, 180.0, 270.0):
                found = review(edits.stand(plan, (float(x), float(y)), turn))
                assert found.worst in {"DANGER", "WARNING"}, (x, y, turn)
    assert tried > 100
