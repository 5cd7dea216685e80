import math
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.power import legs as book
from siteplan.power.loads import Load

few = settings(max_examples=50, deadline=None)


def load(watts, volts=120.0, electronic=False):
    return Load("x", watts, watts, volts, electronic)


def difference(watts, legs):
    return abs(sum(w if leg == "A" else -w for w, leg in zip(watts, legs, strict=True)))


@few
@given(st.lists(st.integers(0, 20_000), max_size=9))
def test_assignment_is_as_good_as_trying_everything(tenths):
    watts = [t / 10 for t in tenths]
    legs = book.assign_legs([load(w) for w in watts])
    best = min((difference(watts, way) for way in product("AB", repeat=len(watts))), default=0)
    assert difference(watts, legs) == pytest.approx(best, abs=1e-6)


@few
@given(
    st.lists(st.integers(1, 2000), min_size=2, max_size=8),
    st.lists(st.sampled_from("AB"), min_size=1, max_size=2),
)
def test_assignment_with_given_legs_is_as_good_as_trying_everything(watts, given_legs):
    fixed = dict(enumerate(given_legs))
    legs = book.assign_legs([load(w) for w in watts], fixed)
    ways = (w for w in product("AB", repeat=len(watts)) if list(w[: len(fixed)]) == given_legs)
    assert list(legs[: len(fixed)]) == given_legs
    assert difference(watts, legs) == min(difference(watts, way) for way in ways)


def test_twenty_loads_that_balance_are_balanced():
    # Every load is there twice, so that a difference of zero exists.
    watts = [700, 500, 800, 1050, 1100, 1200, 1400, 150, 270, 50] * 2
    assert difference(watts, book.assign_legs([load(w) for w in watts])) == 0


def test_two_hundred_loads_are_still_split_evenly():
    watts = [10.0 + place for place in range(200)]
    assert difference(watts, book.assign_legs([load(w) for w in watts])) == 0


def test_240_volt_loads_get_no_leg_and_do_not_matter():
    loads = [load(1500), load(5000, 240), load(1500)]
    legs = book.assign_legs(loads)
    assert legs[1] is None
    assert {legs[0], legs[2]} == {"A", "B"}


def test_a_leg_already_heavy_gets_nothing_more():
    loads = [load(1000), load(10), load(20)]
    assert book.assign_legs(loads, {0: "A"}) == ("A", "B", "B")
    assert book.assign_legs(loads, {0: "B"}) == ("B", "A", "A")


def test_nothing_to_assign():
    assert book.assign_legs([]) == ()
    assert book.assign_legs([load(5000, 240)]) == (None,)


def test_sums_by_hand():
    # A: fridge 700 + half of the pump 500 = 1200 W, 10 A; B: 150 + 270 + 500 = 920 W
    loads = [
        Load("fridge", 700, 2200),
        Load("pump", 1000, 3100, 240),
        load(150, electronic=True),
        load(270, electronic=True),
        load(9999),
    ]
    sums = book.leg_sums(loads, ["A", None, "B", "B", None])
    assert (sums.a_w, sums.b_w) == (1200, 920)
    assert (sums.start_a_w, sums.start_b_w) == (2700, 1970)
    assert sums.a_a == 10
    assert sums.b_a == pytest.approx(7.6667, abs=1e-4)
    assert sums.neutral_a == pytest.approx(280 / 120)
    assert sums.electronic_share == pytest.approx(420 / 1120)
    assert sums.imbalance(5000) == pytest.approx(280 / 2500)
    assert not sums.count_neutral


@pytest.mark.parametrize(("electronic_w", "counts"), [(499, False), (500, False), (501, True)])
def test_the_neutral_counts_once_electronics_are_more_than_half(electronic_w, counts):
    loads = [load(electronic_w, electronic=True), load(1000 - electronic_w)]
    assert book.leg_sums(loads, ["A", "B"]).count_neutral is counts


def test_swapping_the_legs_swaps_the_sums():
    loads = [Load("a", 700, 2200), Load("b", 150, 150), Load("c", 1000, 3100, 240)]
    one = book.leg_sums(loads, ["A", "B", None])
    other = book.leg_sums(loads, ["B", "A", None])
    assert (one.a_w, one.start_a_w) == (other.b_w, other.start_b_w)
    assert (one.b_w, one.start_b_w) == (other.a_w, other.start_a_w)
    assert one.neutral_a == other.neutral_a


def test_no_loads_sum_to_nothing():
    sums = book.leg_sums([], [])
    assert (sums.a_w, sums.b_w, sums.neutral_a, sums.electronic_share) == (0, 0, 0, 0)


def test_loads_and_legs_must_be_as_many():
    with pytest.raises(ValueError, match="zip"):
        book.leg_sums([load(1)], [])


def test_too_many_or_too_large_loads_are_refused():
    with pytest.raises(OutOfRangeError, match="number of loads"):
        book.assign_legs([load(1)] * 201)
    with pytest.raises(OutOfRangeError, match="all loads"):
        book.assign_legs([load(150_000), load(50_001)])
    with pytest.raises(OutOfRangeError, match="rated"):
        book.leg_sums([], []).imbalance(0)


@pytest.mark.parametrize("bad", [0.0, -5.0, math.nan])
def test_a_lost_neutral_needs_loads_on_both_legs(bad):
    for call in (
        lambda: book.open_neutral_v(bad, 100),
        lambda: book.open_neutral_v(100, bad),
        lambda: book.open_neutral_v(100, 100, bad),
    ):
        with pytest.raises(OutOfRangeError):
            call()


@few
@given(st.floats(1, 5000), st.floats(1, 5000))
def test_lost_neutral_voltages_sum_to_both_legs_and_swap(a, b):
    one, other = book.open_neutral_v(a, b), book.open_neutral_v(b, a)
    assert sum(one) == pytest.approx(240)
    assert one == pytest.approx(other[::-1])
    assert (one[0] >= one[1]) == (a <= b) or math.isclose(a, b)
