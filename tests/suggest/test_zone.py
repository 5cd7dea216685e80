"""The standing zone against closed forms, and what it tells of single places."""

import math

import pytest
import shapely

from siteplan.plan.around import FuelStore
from siteplan.suggest.bars import BY_DISTANCE
from siteplan.suggest.zone import NoMachineError, standing_zone
from tests.helpers import builders as b

D_OPENING, D_CLEAR = 6.096, 0.9144
W, L = b.WIDTH_M, b.LENGTH_M


def rounded_box_m2(width, depth, distance):
    """Derived: area of a rectangle grown by a distance all round."""
    return width * depth + 2.0 * distance * (width + depth) + math.pi * distance**2


def shed(**fields):
    return b.building(b.box(20.0, 20.0, 28.0, 26.0), id="shed", kind="shed", **fields)


@pytest.mark.parametrize("accuracy_m", [0.0, 0.1])
@pytest.mark.parametrize("turn", [0.0, 90.0])
def test_ground_round_a_shed_is_within_a_thousandth_and_never_more(accuracy_m, turn):
    exact = b.Accuracy(method="figure", figure_m=accuracy_m)
    plan = b.make_plan(b.lot(), shed(), b.standing(50.0, 50.0), accuracy=exact)
    across, along = (W, L) if turn == 0.0 else (L, W)
    true = (60.0 - across) * (60.0 - along) - rounded_box_m2(
        8.0 + across, 6.0 + along, D_CLEAR + accuracy_m
    )
    found = standing_zone(plan, turn).spaced.area
    assert true * 0.999 <= found <= true


def test_ground_round_one_opening_of_a_shed():
    """Derived: the opening swept by the machine, grown by 20 ft, beside the shed's own zone."""
    plan = b.make_plan(
        b.lot(), shed(), b.opening(building="shed", wall=0, offset_m=3.5), b.standing(50.0, 50.0)
    )
    zone = next(one for one in standing_zone(plan).layers if one.rule == "separation-opening"
                and one.signal == "WARNING")  # fmt: skip
    true = rounded_box_m2(1.0 + W, L, D_OPENING)
    assert true <= zone.shape.area <= true * 1.002
    assert zone.subjects == ("window",)


def test_the_machine_finds_room_on_its_lot_only():
    plan = b.make_plan(b.lot(0.0, 0.0, 10.0, 20.0), b.standing(5.0, 5.0))
    zone = standing_zone(plan)
    assert zone.allowed.bounds == pytest.approx((W / 2, L / 2, 10 - W / 2, 20 - L / 2), abs=1e-3)
    assert zone.preferred.bounds == pytest.approx(
        (1.524 + W / 2, 1.524 + L / 2, 10 - 1.524 - W / 2, 20 - 1.524 - L / 2), abs=2e-3
    )


@pytest.mark.parametrize(
    ("gap_m", "signal"),
    [(6.096 - 1e-4, "WARNING"), (6.096 + 1e-4, None), (4.572 - 1e-4, "DANGER")],
)
def test_a_place_tells_what_bars_it(gap_m, signal):
    """20 ft and 15 ft to a window, a hair under and over; the signal is the rule's own."""
    plan = b.make_plan(
        b.lot(), shed(), b.opening(building="shed", wall=2, offset_m=3.5), b.standing(50.0, 50.0)
    )
    zone = standing_zone(plan, 0.0)
    at = (24.0, 26.0 + gap_m + L / 2.0)
    found = [one for one in zone.barring(at) if one.rule == "separation-opening"]
    hard = [one.signal for one in found if one.signal in {"DANGER", "WARNING"}]
    assert hard == ([] if signal is None else [signal])
    beside = shapely.Point(at[0], at[1] + (0.01 if signal is None else 0.0))
    assert zone.spaced.contains(beside) == (signal is None)


def test_a_longer_local_figure_bars_more_and_a_shorter_one_no_less():
    parts = (b.lot(), shed(), b.opening(building="shed", wall=2, offset_m=3.5))
    usual, longer, shorter = (
        standing_zone(b.make_plan(*parts, *more, b.standing(50.0, 50.0))).spaced.area
        for more in ([], [local(10.0)], [local(1.0)])
    )
    assert longer < usual == shorter


def local(distance_m):
    return b.Override(rule="separation-opening", distance_m=distance_m, reason="Town code")


def test_what_is_not_known_to_burn_is_left_to_the_preferred_ground():
    """A wall of unknown material is not judged: no WARNING, and no place to prefer."""
    plan = b.make_plan(b.lot(), shed(wall_material=None), b.standing(50.0, 50.0))
    zone = standing_zone(plan, 0.0)
    beside = shapely.Point(24.0, 26.0 + 1.4 + L / 2.0)
    assert zone.allowed.contains(beside)
    assert not zone.preferred.contains(beside)


def test_a_courtyard_is_barred_and_the_ground_outside_is_not():
    court = ((10, 10), (30, 10), (30, 30), (24, 30), (24, 14), (16, 14), (16, 30), (10, 30))
    outline = tuple((float(x), float(y)) for x, y in court)
    plan = b.make_plan(
        b.lot(0.0, 0.0, 40.0, 50.0),
        b.building(outline, kind="shed"),
        b.standing(35.0, 45.0),
    )
    zone = standing_zone(plan, 0.0)
    assert not zone.allowed.contains(shapely.Point(20.0, 20.0))
    assert zone.allowed.contains(shapely.Point(20.0, 45.0))
    assert {one.rule for one in zone.barring((20.0, 20.0))} >= {"walled-in"}


def test_without_a_lot_the_ground_round_the_buildings_is_looked_at():
    plan = b.make_plan(shed(), b.standing(50.0, 50.0))
    assert standing_zone(plan).ground.bounds == (-10.0, -10.0, 58.0, 56.0)


def test_without_a_machine_no_zone_is_drawn():
    with pytest.raises(NoMachineError, match="no generator"):
        standing_zone(b.make_plan(b.lot()))


def test_fuel_is_kept_far():
    cans = b.fixture(FuelStore, 30.0, 30.0)
    zone = standing_zone(b.make_plan(b.lot(), cans, b.standing(50.0, 50.0)), 0.0)
    true = (60.0 - W) * (60.0 - L) - rounded_box_m2(W, L, D_OPENING)
    assert true * 0.999 <= zone.allowed.area <= true
    assert "fuel-store-distance" in BY_DISTANCE
