import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.power import derating

few = settings(max_examples=50, deadline=None)
rules = st.sampled_from([derating.SMALL_ENGINE, derating.CONTRACTOR, derating.ARMY_2_KW])


@few
@given(rules, st.floats(-450, 4900), st.floats(0, 100), st.floats(-50, 55), st.floats(0, 5))
def test_higher_or_hotter_never_leaves_more(rule, altitude, rise, air, warmer):
    here = derating.derating_factor(altitude, air, rule)
    there = derating.derating_factor(altitude + rise, air + warmer, rule)
    assert 0 <= there <= here <= 1


@pytest.mark.parametrize(("altitude", "air"), [(-450, 25), (0, -50), (0, 25)])
def test_low_or_cold_places_gain_nothing(altitude, air):
    assert derating.derating_factor(altitude, air) == 1


def test_heat_by_hand():
    # 97 °F is 20 °F above 77 °F: 2 %; 36.11 °C
    assert derating.derating_factor(0, (97 - 32) / 1.8) == pytest.approx(0.98)
    # With 2000 ft, 7 %: 0.98 x 0.93 = 0.9114
    assert derating.derating_factor(609.6, (97 - 32) / 1.8) == pytest.approx(0.9114)


def test_a_label_in_gasoline_watts_gives_less_on_gas():
    gasoline, propane, gas = (
        derating.derated_w(5000, fuel=fuel) for fuel in ("gasoline", "propane", "natural-gas")
    )
    assert gasoline == 5000
    assert propane < gasoline
    assert gas < gasoline


@pytest.mark.parametrize("altitude", [-450.1, 5000.1, math.nan])
def test_altitudes_beyond_are_refused(altitude):
    with pytest.raises(OutOfRangeError, match="altitude"):
        derating.derating_factor(altitude, 25)


@pytest.mark.parametrize("air", [-50.1, 60.1, math.nan])
def test_temperatures_beyond_are_refused(air):
    with pytest.raises(OutOfRangeError, match="temperature"):
        derating.derating_factor(0, air)


@pytest.mark.parametrize("rated", [0.0, -1.0, 2e6, math.nan])
def test_ratings_that_are_none_are_refused(rated):
    with pytest.raises(OutOfRangeError, match="rated"):
        derating.derated_w(rated)
