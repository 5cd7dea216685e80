import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.sound.levels import (
    a_weighted_dba,
    a_weighting_db,
    energy_sum_db,
    leq_db,
    remove_background_db,
)

LEVELS = st.lists(st.floats(0, 120), min_size=1, max_size=8)


@settings(max_examples=40, deadline=None)
@given(LEVELS, st.randoms(use_true_random=False))
def test_the_order_of_sounds_does_not_matter(levels, random):
    shuffled = list(levels)
    random.shuffle(shuffled)
    assert float(energy_sum_db(shuffled)) == pytest.approx(float(energy_sum_db(levels)))


@settings(max_examples=40, deadline=None)
@given(LEVELS)
def test_a_sum_lies_between_the_loudest_and_all_equally_loud(levels):
    total = float(energy_sum_db(levels))
    assert max(levels) - 1e-9 <= total <= max(levels) + 10 * np.log10(len(levels)) + 1e-9


def test_silence_adds_nothing():
    assert float(energy_sum_db([60.0, -np.inf])) == pytest.approx(60.0)
    assert float(energy_sum_db([-np.inf])) == -np.inf


def test_one_band_carries_its_own_weight():
    bands = np.full(8, -np.inf)
    bands[0] = 80.0
    assert float(a_weighted_dba(bands)) == pytest.approx(53.8)


@pytest.mark.parametrize("frequency", [0.0, -1.0, 2e5, np.nan, np.inf])
def test_a_weighting_refuses_other_frequencies(frequency):
    with pytest.raises(OutOfRangeError):
        a_weighting_db(frequency)


def test_background_is_removed_only_from_a_clear_rise():
    assert remove_background_db(60.0, 50.0) == pytest.approx(59.54, abs=0.005)
    assert remove_background_db(63.01, 60.0) == pytest.approx(60.0, abs=0.01)
    assert remove_background_db(63.0, 60.0) is not None
    assert remove_background_db(62.99, 60.0) is None
    assert remove_background_db(50.0, 60.0) is None


def test_average_of_halves():
    # Half the time at 60 and half silent is 3.01 dB less, by arithmetic.
    assert leq_db([60, -np.inf], [5, 5]) == pytest.approx(60 - 3.0103, abs=1e-4)
    assert leq_db([60], [5], 10) == pytest.approx(60 - 3.0103, abs=1e-4)


@pytest.mark.parametrize(
    ("durations", "period"), [([-1], None), ([0], None), ([5], 4.99), ([5], 0.0), ([5], np.nan)]
)
def test_average_refuses_impossible_times(durations, period):
    with pytest.raises(OutOfRangeError):
        leq_db([60], durations, period)
