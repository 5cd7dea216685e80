"""The distance each rung of the estimate asks for is the one at which the rule itself turns."""

import numpy as np
import pytest

from siteplan.air.bands import outdoor_ppm
from siteplan.plan.lot import Accuracy
from siteplan.rules.carbon_monoxide_case import reference_doses_ppm
from siteplan.rules.carbon_monoxide_reach import rungs_by_distance
from siteplan.rules.carbon_monoxide_rule import holds_anywhere
from siteplan.scene import resolve
from tests.helpers import builders as b
from tests.helpers.judging import findings

ORDER = ["anywhere", "CAUTION", "WARNING", "DANGER"]


FT = 0.3048


def plan_at(gap_m, label=1500.0):
    """A window north of an exhaust outlet that points north, `gap_m` away through the air."""
    y = b.north_of_machine(gap_m)
    return b.make_plan(
        b.building(b.box(-30.0, y, 30.0, y + 10.0), eave_height_m=3.0),
        b.opening(offset_m=29.5, width_m=1.0),
        b.machine(exhaust_side="front", co_label_g_per_h=label),
        b.standing(),
        accuracy=b.EXACT,
    )


def said(plan):
    (found,) = findings(plan, "co-estimate")
    return "anywhere" if holds_anywhere(found) else found.signal


@pytest.mark.parametrize("label", [300.0, 1500.0, 2600.0, 4000.0])
@pytest.mark.parametrize("signal", ["DANGER", "WARNING", "CAUTION"])
def test_the_rule_turns_at_the_distance_told(label, signal):
    scene = resolve(plan_at(5.0, label))
    rung = next(one for one in rungs_by_distance(scene, scene.standing) if one.signal == signal)
    keep = float(rung.outlet_m[0])
    for hair, reached in ((-0.002, True), (0.002, False)):
        step = ORDER.index(said(plan_at(keep + hair, label)))
        assert (step >= ORDER.index(signal)) == reached


def test_the_reference_engine_gets_the_reference_distances():
    scene = resolve(plan_at(10.0))
    kept = {one.signal: float(one.outlet_m[0]) for one in rungs_by_distance(scene, scene.standing)}
    expected = {"DANGER": 15 * FT, "WARNING": 20 * FT, "CAUTION": 25 * FT}
    assert kept == pytest.approx(expected, abs=1e-4)


def test_the_accuracy_of_the_drawing_is_added():
    plan = plan_at(10.0).model_copy(update={"accuracy": Accuracy(method="figure", figure_m=0.4)})
    scene = resolve(plan)
    rung = next(iter(rungs_by_distance(scene, scene.standing)))
    assert rung.outlet_m[0] == pytest.approx(15 * FT + 0.4, abs=1e-4)


@pytest.mark.parametrize("rate", [10.0, 800.0, 1500.0, 9000.0, 60_000.0])
def test_carbon_monoxide_falls_with_distance(rate):
    # The whole of it rests on this.
    outside = outdoor_ppm(rate, np.linspace(0.0, 60.0, 4001)).indicative.ppm
    assert (np.diff(outside) <= 0.0).all()


def test_rungs_are_those_of_the_rule():
    scene = resolve(plan_at(10.0))
    told = [one.signal for one in rungs_by_distance(scene, scene.standing)]
    assert told == [signal for signal, _, _ in reference_doses_ppm(8.0)]
