import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.power import fuel

few = settings(max_examples=50, deadline=None)


@few
@given(st.floats(0, 5500), st.floats(0, 500), st.sampled_from(["conservative", "optimistic"]))
def test_more_load_never_burns_less(load_w, more_w, model):
    here = fuel.gasoline_l_per_h(load_w, 5000, model)
    there = fuel.gasoline_l_per_h(min(5500, load_w + more_w), 5000, model)
    assert 0 < here <= there


@pytest.mark.parametrize("load_w", [0, 1250, 2500, 5000])
def test_the_optimistic_model_burns_less(load_w):
    optimistic = fuel.gasoline_l_per_h(load_w, 5000, "optimistic")
    assert optimistic < fuel.gasoline_l_per_h(load_w, 5000)


def test_throttling_down_saves_at_part_load_only():
    share = fuel.INVERTER_NO_LOAD_SHARE
    part = fuel.gasoline_l_per_h(500, 2000, no_load_share=share)
    assert part < fuel.gasoline_l_per_h(500, 2000)
    full = fuel.gasoline_l_per_h(2000, 2000, no_load_share=share)
    assert full == pytest.approx(fuel.gasoline_l_per_h(2000, 2000))


def test_a_larger_machine_burns_more_at_the_same_load():
    assert fuel.gasoline_l_per_h(1000, 8000) > fuel.gasoline_l_per_h(1000, 3000)


@pytest.mark.parametrize("model", ["conservative", "optimistic"])
def test_the_straight_line_between_its_ends(model):
    no_load, half, full = (fuel.gasoline_l_per_h(w, 5000, model) for w in (0, 2500, 5000))
    assert no_load == pytest.approx(0.36 * full)
    assert half == pytest.approx((no_load + full) / 2)


def test_vapour_falls_with_cold_and_with_an_emptier_cylinder():
    contents = [45.4, 30.0, 15.0, 5.0]
    temperatures = [-30.0, -17.0, -10.0, 0.0, 10.0, 20.0, 30.0]
    for content in contents:
        by_air = [fuel.vapour_draw_w(content, air) for air in temperatures]
        assert by_air == sorted(by_air)
    for air in temperatures:
        by_content = [fuel.vapour_draw_w(content, air) for content in contents]
        assert by_content == sorted(by_content, reverse=True)


def test_vapour_is_not_promised_below_the_table():
    assert fuel.vapour_draw_w(45.4, -17.9) == 0
    assert fuel.vapour_draw_w(45.4, -17.7) > 0
    assert fuel.vapour_draw_w(9.0, 20) == 0
    assert fuel.vapour_draw_w(9.08, 20) > 0


def test_vapour_between_two_temperatures_by_hand():
    # 100 lb at 30 °F: half way between 167 and 214 kBtu/h, 190.5 kBtu/h = 55.83 kW
    found = fuel.vapour_draw_w(100 * 0.45359237, (30 - 32) / 1.8)
    assert found == pytest.approx(190.5e3 * 1055.056 / 3600, rel=1e-6)


@pytest.mark.parametrize("model", ["conservative", "optimistic"])
@pytest.mark.parametrize("rated_w", [3000, 7000])
def test_a_load_left_off_saves_the_difference(rated_w, model):
    with_it, without = (fuel.gasoline_l_per_h(w, rated_w, model) for w in (2000, 500))
    assert fuel.gasoline_saved_l(1500, 8, model) == pytest.approx(8 * (with_it - without))


def test_the_saving_promised_is_the_smaller_one():
    assert fuel.gasoline_saved_l(1500, 8) < fuel.gasoline_saved_l(1500, 8, "conservative")


@pytest.mark.parametrize(
    ("gallons", "cans"), [(0, 0), (0.1, 1), (4.99, 1), (5, 1), (5.01, 2), (10, 2), (10.01, 3)]
)
def test_cans(gallons, cans):
    assert fuel.cans_needed(gallons * 3.785411784) == cans


@pytest.mark.parametrize("bad", [-0.1, math.nan, 1e13])
def test_figures_that_are_none_are_refused(bad):
    for call in (
        lambda: fuel.straight_line(bad, 10, 0.5),
        lambda: fuel.straight_line(1, bad, 0.5),
        lambda: fuel.straight_line(1, 10, bad),
        lambda: fuel.gasoline_l_per_h(bad, 5000),
        lambda: fuel.gasoline_l_per_h(100, bad),
        lambda: fuel.gasoline_l_per_h(100, 5000, no_load_share=bad),
        lambda: fuel.gasoline_saved_l(bad, 1),
        lambda: fuel.gasoline_saved_l(1, bad),
        lambda: fuel.gasoline_saved_l(1, 1, no_load_share=bad),
        lambda: fuel.propane_l_per_h(bad),
        lambda: fuel.natural_gas_m3_per_h(bad),
        lambda: fuel.propane_volume_l(bad),
        lambda: fuel.propane_heat_j(bad),
        lambda: fuel.propane_demand_w(bad),
        lambda: fuel.vapour_draw_w(bad, 20),
        lambda: fuel.vapour_draw_w(20, bad if bad > 0 else -51),
        lambda: fuel.cans_needed(bad),
        lambda: fuel.cans_needed(10, bad),
    ):
        with pytest.raises(OutOfRangeError):
            call()


@pytest.mark.parametrize(("load_w", "refused"), [(5499, False), (5500, False), (5501, True)])
def test_an_overload_of_a_tenth_is_the_most_that_is_judged(load_w, refused):
    if refused:
        with pytest.raises(OutOfRangeError, match="load"):
            fuel.gasoline_l_per_h(load_w, 5000)
    else:
        assert fuel.gasoline_l_per_h(load_w, 5000) > fuel.gasoline_l_per_h(5000, 5000)
