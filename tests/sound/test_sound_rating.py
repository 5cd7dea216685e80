import numpy as np
import pytest

from siteplan.errors import OutOfRangeError
from siteplan.sound.levels import a_weighted_dba
from siteplan.sound.rating import (
    assumed_spectrum_db,
    hemisphere_db,
    power_dba,
    power_from_rating_dba,
)


@pytest.mark.parametrize(
    ("full_load", "mean_of_sides", "allowance"),
    [(True, True, 0.0), (True, False, 3.0), (False, True, 3.0), (False, False, 3.0)],
)
def test_what_a_rating_leaves_unsaid_costs_three_decibels(full_load, mean_of_sides, allowance):
    power = power_from_rating_dba(60, 7, full_load=full_load, mean_of_sides=mean_of_sides)
    assert power == pytest.approx(60 + 10 * np.log10(2 * np.pi * 49) + allowance)


def test_a_guaranteed_power_goes_first_and_stays_as_it_is():
    assert power_dba(97.0, 58.0, 7.0) == (97.0, False)


def test_a_rating_without_distance_is_unknown():
    assert power_dba(None, 58.0, None) == (100.0, True)
    assert power_dba() == (100.0, True)
    assert power_dba(rated_dba=58.0, distance_m=7.0)[1] is False


def test_the_unknown_set_is_seventy_five_at_seven_metres():
    assert power_dba()[0] - hemisphere_db(7) == pytest.approx(75.1, abs=0.05)


@pytest.mark.parametrize("shape", ["mid", "low"])
def test_an_assumed_spectrum_adds_up_to_its_total(shape):
    assert float(a_weighted_dba(assumed_spectrum_db(98.9, shape))) == pytest.approx(98.9)


def test_the_cautious_shape_has_more_bass():
    low, mid = assumed_spectrum_db(90, "low"), assumed_spectrum_db(90, "mid")
    assert np.all(low[:3] > mid[:3])
    assert np.all(low[4:] < mid[4:])


@pytest.mark.parametrize("distance", [0.0, -7.0, 0.09, 1001.0, np.nan])
def test_impossible_rating_distances_are_refused(distance):
    with pytest.raises(OutOfRangeError, match="rating distance"):
        hemisphere_db(distance)


@pytest.mark.parametrize("level", [19.9, 130.1, np.inf])
def test_impossible_ratings_are_refused(level):
    with pytest.raises(OutOfRangeError, match="sound rating"):
        power_from_rating_dba(level, 7)
