import math
from itertools import combinations, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.power import loads as book
from siteplan.power.appliances import appliances
from siteplan.power.loads import Load

few = settings(max_examples=50, deadline=None)
a_load = st.builds(
    lambda run, extra: Load("x", run, run + extra), st.integers(0, 2000), st.integers(0, 3000)
)


def test_every_appliance_is_sound():
    assert len(appliances()) == 38
    for key, row in appliances().items():
        assert row.id == key
        assert row.name
        assert row.volts in {120, 240}
        assert 0 < row.run_w <= row.start_w
        assert row.kind in {"motor", "heat", "electronic"}
        assert row.kind == "motor" or row.start_w == row.run_w or row.id == "dishwasher"
        assert row.known in {"read", "common-practice"}
        assert row.found_run
        assert all(found.source and found.watts > 0 for found in row.found_run + row.found_start)


def test_the_figures_proposed_lie_near_the_figures_found():
    for row in appliances().values():
        found = [each.watts for each in row.found_run]
        assert 0.75 * min(found) <= row.run_w <= 1.5 * max(found)


@few
@given(st.lists(a_load, min_size=1, max_size=5))
def test_the_start_order_is_the_best_of_all_orders(loads):
    def peak(order):
        running, highest = 0, 0
        for load in order:
            highest = max(highest, running + load.start_w)
            running += load.run_w
        return highest

    assert book.ordered_peak_w(loads) == min(peak(order) for order in permutations(loads))


@few
@given(st.lists(a_load, max_size=8))
def test_ordered_is_at_most_any_order_is_at_most_all_at_once(loads):
    ordered, needed = book.ordered_peak_w(loads), book.needed_start_w(loads)
    assert book.running_w(loads) <= ordered <= needed <= book.all_at_once_w(loads)


def test_a_start_order_by_hand():
    # 100 + 2900 first: 2900; TV 1200 + 750 = 1950; the rest has no extra
    kitchen = [Load("lamp", 100, 100), Load("fridge", 1200, 2900), Load("tv", 750, 750)]
    steps = book.start_order(kitchen)
    assert [(step.load.name, step.peak_w, step.running_w) for step in steps] == [
        ("fridge", 2900, 1200),
        ("tv", 1950, 1950),
        ("lamp", 2050, 2050),
    ]


def test_no_loads_need_nothing():
    assert book.running_w([]) == book.needed_start_w([]) == book.all_at_once_w([]) == 0
    assert book.ordered_peak_w([]) == 0
    assert book.clashes([], 1000, 1000) == ()
    assert book.worst_start_dip([], 5000) is None


def test_adding_a_load_never_needs_less():
    loads = [Load("a", 300, 900), Load("b", 500, 500)]
    for extra in (Load("c", 0, 0), Load("c", 10, 10), Load("c", 100, 4000)):
        assert book.needed_start_w([*loads, extra]) >= book.needed_start_w(loads)


@pytest.mark.parametrize(("limit", "groups"), [(2999, ((0, 1),)), (3000, ()), (3001, ())])
def test_a_pair_clashes_just_over_the_running_limit(limit, groups):
    loads = [Load("heater", 1500, 1500), Load("kettle", 1500, 1500)]
    assert book.clashes(loads, limit, 10_000) == groups


@pytest.mark.parametrize(("limit", "groups"), [(3699, ((0, 1),)), (3700, ()), (3701, ())])
def test_a_pair_clashes_just_over_the_starting_limit(limit, groups):
    # By hand: 700 + 1500 + (2200 - 700) = 3700 W
    loads = [Load("fridge", 700, 2200), Load("heater", 1500, 1500)]
    assert book.clashes(loads, 10_000, limit) == groups


@few
@given(st.lists(a_load, max_size=7), st.integers(500, 6000), st.integers(500, 8000))
def test_clashes_are_exactly_the_smallest_groups_over_a_limit(loads, run_limit, start_limit):
    def over(group):
        chosen = [loads[place] for place in group]
        start = sum(x.run_w for x in chosen) + max(x.start_w - x.run_w for x in chosen)
        return sum(x.run_w for x in chosen) > run_limit or start > start_limit

    places = range(len(loads))
    every = [g for size in (1, 2, 3) for g in combinations(places, size) if over(g)]
    smallest = [g for g in every if not any(set(h) < set(g) for h in every)]
    assert sorted(book.clashes(loads, run_limit, start_limit)) == sorted(smallest)


@few
@given(st.lists(a_load, max_size=8), st.integers(0, 6000), st.integers(0, 8000))
def test_what_is_kept_fits_and_what_is_left_out_does_not_beside_it(loads, run, start):
    kept = book.keep_within(loads, run, start)
    chosen = [loads[place] for place in kept]
    assert book.running_w(chosen) <= run
    assert book.needed_start_w(chosen) <= start or not chosen
    for place in set(range(len(loads))) - set(kept):
        before = [loads[each] for each in kept if each < place]
        more = [*before, loads[place]]
        assert book.running_w(more) > run or book.needed_start_w(more) > start


def test_what_is_needed_does_not_give_way():
    loads = [Load("pump", 1000, 3000), Load("heater", 1500, 1500), Load("lamp", 10, 10)]
    assert book.keep_within(loads, 2000, 3500) == (0, 2)


def test_a_set_dip_by_hand():
    # s = 7200/6000 = 1.2; 1.2 x 0.25 = 0.3; 0.3/1.3 = 0.2308
    assert book.set_dip_fraction(7200, 6000) == pytest.approx(0.230769, abs=1e-6)
    assert book.set_dip_fraction(0, 6000) == 0


def test_the_dip_grows_with_demand_and_reactance_and_shrinks_with_the_machine():
    assert book.set_dip_fraction(4000, 5000) < book.set_dip_fraction(4001, 5000)
    assert book.set_dip_fraction(4000, 5000) > book.set_dip_fraction(4000, 5001)
    assert book.set_dip_fraction(4000, 5000, 0.2) < book.set_dip_fraction(4000, 5000, 0.21)


def test_the_worst_start_may_be_the_one_on_the_long_cord():
    # By hand: 5000/5000 x 0.25 -> 0.2 + 0.02; 3000/5000 x 0.25 = 0.15 -> 0.1304 + 0.10
    place, dip = book.worst_start_dip([(5000, 0.02), (3000, 0.10)], 5000)
    assert (place, dip) == (1, pytest.approx(0.23043, abs=1e-5))


@pytest.mark.parametrize(
    ("run_w", "start_w", "volts"),
    [(-1, 5, 120), (100, 99, 120), (200_001, 200_001, 120), (math.nan, 5, 120), (5, 5, 12)],
)
def test_loads_that_are_none_are_refused(run_w, start_w, volts):
    with pytest.raises(OutOfRangeError):
        Load("x", run_w, start_w, volts)


@pytest.mark.parametrize("bad", [-1.0, 2e6, math.nan])
def test_figures_that_are_none_are_refused(bad):
    for call in (
        lambda: book.continuous_limit_w(bad),
        lambda: book.clashes([], bad, 1),
        lambda: book.clashes([], 1, bad),
        lambda: book.clashes([], 1, 1, largest_group=bad),
        lambda: book.clashes([Load("x", 1, 1)] * 201, 1, 1),
        lambda: book.keep_within([], bad, 1),
        lambda: book.keep_within([], 1, bad),
        lambda: book.set_dip_fraction(bad, 5000),
        lambda: book.set_dip_fraction(10, bad),
        lambda: book.set_dip_fraction(10, 10, bad),
        lambda: book.worst_start_dip([(10, bad)], 5000),
        lambda: book.energy_kwh(bad, 1),
        lambda: book.energy_kwh(1, bad),
        lambda: book.energy_kwh(1, 1, bad),
        lambda: book.full_power_hours(bad),
    ):
        with pytest.raises(OutOfRangeError):
            call()


def test_a_load_is_of_120_volts_unless_told_otherwise():
    assert Load("x", 1200, 1200).run_a == 10
    assert not Load("x", 1200, 1200).both_legs


@pytest.mark.parametrize(("volts", "both"), [(125, False), (200, False), (208, True), (240, True)])
def test_a_load_over_200_volts_hangs_on_both_legs(volts, both):
    assert Load("x", 100, 100, volts).both_legs is both


def test_continuous_load_is_four_fifths():
    assert book.continuous_limit_w(5000) == pytest.approx(4000)
