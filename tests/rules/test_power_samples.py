"""The samples: a cord through the kitchen door, an inlet, a well pump of 240 V."""

from siteplan.assets import sample as sample_path
from siteplan.plan.store import load
from siteplan.rules.power import OF_THE_PLACE, OF_THE_PLAN
from tests.helpers.judging import findings, outcomes, verdict

POWER = (*OF_THE_PLACE, *OF_THE_PLAN)


def sample(name):
    return load(sample_path(f"{name}.siteplan"))


def test_cord_through_the_kitchen_door_is_found_for_all_that_is_wrong_with_it():
    plan = sample("bad-placement")
    for rule in ("cord-opening-ajar", "cord-exit", "cord-pieces", "cord-coiled", "cord-jacket",
                 "cord-gauge", "cord-drop", "outlet-load"):  # fmt: skip
        assert verdict(plan, rule, "kitchen-cord") == "WARNING", rule
    (found,) = findings(plan, "voltage-path")
    assert "well-pump" in found.subjects


def test_inlet_with_a_transfer_switch_passes_whole():
    plan = sample("good-placement")
    assert not [rule for rule in POWER if findings(plan, rule)]
    # Only what the lot does not have is left open.
    open_ = {rule for rule in POWER if verdict(plan, rule) == "unjudged"}
    assert open_ == {"wall-outlet-gfci", "plugged-load"}


def test_well_pump_gets_its_240_v_by_the_inlet():
    plan = sample("good-placement")
    assert any("well-pump" in one.subjects for one in outcomes(plan, "start-dip"))
    assert verdict(plan, "voltage-path") == "met"
