"""From exhaust to blood: the chain only raises, and holds to what field studies found."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.air import CAUTION, cohb_percent, exchange, follow, room_ppm, source_rate
from siteplan.air.dilution import plume_ppm
from siteplan.air.entry import AIR_CHANGES, Exchange, wind_flow_m3_s
from siteplan.air.source import SourceRate
from siteplan.errors import OutOfRangeError

STATES = st.sampled_from(sorted(AIR_CHANGES))
FEW = settings(max_examples=25, deadline=None)


def _fixed(rate):
    return SourceRate(rate, rate, "label")


def _peaks(exposure):
    found = []
    for course in (exposure.indicative, exposure.worst):
        found.append(course.room_ppm.max(axis=-1))
        found.append(course.cohb_percent["public"][..., -1])
        found.append(course.upper_percent[..., -1])
    return np.array(found)


SCENES = st.tuples(
    st.floats(50.0, 5000.0),  # g/h
    st.floats(1.0, 100.0),  # m
    STATES,
    st.floats(0.0, 10.0),  # m/s
    st.floats(60.0, 600.0),  # min
)


@FEW
@given(SCENES, st.floats(1.0, 2.0))
def test_more_source_less_path_longer_run_or_less_wind_never_lowers(scene, factor):
    rate, path, state, wind, run = scene
    opening = [exchange(state)]
    base = _peaks(follow(_fixed(rate), [path], opening, run_minutes=run, wind_m_s=wind))
    for worse in (
        follow(_fixed(rate * factor), [path], opening, run_minutes=run, wind_m_s=wind),
        follow(_fixed(rate), [path / factor], opening, run_minutes=run, wind_m_s=wind),
        follow(_fixed(rate), [path], opening, run_minutes=run * factor, wind_m_s=wind),
        follow(_fixed(rate), [path], opening, run_minutes=run, wind_m_s=wind / factor),
    ):
        assert np.all(_peaks(worse) >= base * (1.0 - 1e-9))


@FEW
@given(st.floats(50.0, 5000.0), st.floats(1.0, 100.0), st.floats(60.0, 600.0))
def test_a_wider_opening_never_lowers(rate, path, run):
    openings = [exchange(state) for state in ("shut", "cracked", "open")]
    peaks = _peaks(follow(_fixed(rate), [path] * 3, openings, run_minutes=run))
    # Near equilibrium COHb can sink by less than 0.01 % when it has been reached earlier.
    assert np.all(np.diff(peaks, axis=-1) >= -1e-2)


@FEW
@given(st.floats(50.0, 5000.0), st.floats(1.0, 100.0), STATES, st.floats(30.0, 300.0))
def test_bands_are_ordered_and_peaks_held(rate, path, state, run):
    found = follow(_fixed(rate), [path], [exchange(state)], run_minutes=run, after_minutes=200.0)
    assert np.all(found.worst.room_ppm >= found.indicative.room_ppm * (1.0 - 1e-9))
    for who, worst in found.worst.cohb_percent.items():
        indicative = found.indicative.cohb_percent[who]
        assert np.all(worst >= indicative - 1e-9)
        assert np.all(np.diff(worst) >= 0.0)
        assert np.all(np.diff(indicative) >= 0.0)
        assert np.all((worst > 0.0) & (worst < 100.0))


@FEW
@given(st.floats(100.0, 5000.0), st.floats(1.0, 30.0), STATES)
def test_a_child_is_never_below_an_adult_of_the_public(rate, path, state):
    found = follow(_fixed(rate), [path], [exchange(state)], run_minutes=240.0)
    for course in (found.indicative, found.worst):
        child, adult = course.cohb_percent["child"], course.cohb_percent["public"]
        assert np.all(child >= adult - 1e-9)
        assert np.all(course.upper_percent >= child)
        early = course.minutes_to_percent(10.0, "child") <= course.minutes_to_percent(10.0)
        assert np.all(early)


def test_openings_are_ranked_by_what_reaches_the_room():
    openings = [exchange("shut"), exchange("open"), exchange("shut"), exchange("cracked")]
    found = follow(_fixed(1500.0), [9.0, 7.0, 5.0, 50.0], openings, run_minutes=30.0)
    peaks = found.worst.room_ppm.max(axis=-1)[found.ranking]
    assert np.all(np.diff(peaks) <= 0.0)
    assert sorted(found.ranking.tolist()) == [0, 1, 2, 3]


def test_many_openings_equal_each_alone():
    paths, states = [4.0, 8.0, 15.0], ["open", "shut", "cracked"]
    together = follow(source_rate(), paths, [exchange(state) for state in states])
    for index, (path, state) in enumerate(zip(paths, states, strict=True)):
        alone = follow(source_rate(), [path], [exchange(state)])
        np.testing.assert_allclose(
            together.worst.cohb_percent["child"][index],
            alone.worst.cohb_percent["child"][0],
            atol=1e-9,
        )


def test_times_to_levels_agree_with_the_closed_form_of_the_room():
    found = follow(_fixed(1500.0), [6.1], [Exchange(0.5, 0.5)])
    outside = float(found.indicative.outdoor.ppm[0])
    # C = Cout (1 - exp(-n t)) solved for t by hand.
    for level in (70.0, 150.0):
        expected = -np.log(1.0 - level / outside) / 0.5 * 60.0
        assert float(found.indicative.minutes_to_ppm(level)[0]) == pytest.approx(expected, abs=0.01)
    assert np.isinf(found.indicative.minutes_to_ppm(400.0)[0])


def test_the_caution_goes_with_the_figures():
    assert follow(source_rate(), [6.0], [exchange("shut")]).caution == CAUTION


def test_openings_and_exchanges_must_match():
    with pytest.raises(OutOfRangeError):
        follow(source_rate(), [6.0, 7.0], [exchange("shut")])


@pytest.mark.parametrize("run", [0.0, -1.0, 14_400.1, float("nan")])
def test_a_run_out_of_range_is_refused(run):
    with pytest.raises(OutOfRangeError):
        follow(source_rate(), [6.0], [exchange("shut")], run_minutes=run)


# The same chain calculated apart from this package (Python with scipy), as printed: 0.5 air changes
# an hour; CO in the room [ppm] and COHb at rest and of the public [%] after 1, 2, 4 and 8 h.
COMPARED = [
    (1500, 4.6, 1, "D", "urban", 216.0, (85, 137, 187, 212), (1.85, 4.45, 10.83, 20.4),
     (2.63, 6.78, 15.5, 24.3)),
    (1500, 6.1, 1, "D", "urban", 129.5, (51, 82, 112, 127), (1.38, 2.91, 6.73, 12.8),
     (1.81, 4.27, 9.62, 15.7)),
    (1500, 9.1, 1, "D", "urban", 60.6, (24, 38, 52, 59), (1.00, 1.68, 3.43, 6.33),
     (1.16, 2.25, 4.74, 7.82)),
    (600, 6.1, 1, "D", "urban", 51.8, (20, 33, 45, 51), (0.95, 1.53, 3.01, 5.48),
     (1.08, 1.99, 4.10, 6.76)),
    (600, 7.6, 2, "D", "urban", 17.1, (6.7, 11, 15, 17), (0.76, 0.91, 1.33, 2.08),
     (0.75, 0.97, 1.58, 2.41)),
    (1500, 6.1, 1, "F", "rural", 1236.0, (486, 781, 1069, 1213), (7.4, 22.2, 52.4, 66.5),
     (12.2, 34.7, 61.8, 66.7)),
]  # fmt: skip


@pytest.mark.parametrize("row", COMPARED, ids=lambda row: f"{row[0]} g/h {row[1]} m {row[4]}")
def test_the_chain_agrees_with_an_independent_calculation(row):
    rate, path, wind, stability, terrain, outside, room, rest, public = row
    minutes, hours = np.arange(0.0, 481.0), [60, 120, 240, 480]
    reached = float(plume_ppm(rate, path, wind, stability, terrain))
    assert reached == pytest.approx(outside, rel=0.005)
    inside = room_ppm(minutes, reached, 0.5)
    # Printed to whole ppm.
    np.testing.assert_allclose(inside[hours], room, rtol=0.0, atol=0.51)
    held = np.append(inside[:1], (inside[1:] + inside[:-1]) / 2.0)
    for activity, expected in (("rest", rest), ("public", public)):
        found = cohb_percent(minutes, held, activity)[hours]
        np.testing.assert_allclose(found, expected, rtol=0.005, atol=0.006)


# What field and simulation studies of generators outdoors found in words (NIST, Indoor Air 2011,
# abstract and press text of 2009 read; their tables could not be read, so no figure is compared).
@pytest.mark.parametrize("rate", [500.0, 1500.0, 4000.0])
def test_direction_of_nist_slower_wind_is_worse(rate):
    slow = follow(_fixed(rate), [6.1], [exchange("open")], wind_m_s=0.5)
    light = follow(_fixed(rate), [6.1], [exchange("open")], wind_m_s=1.0)
    assert slow.indicative.outdoor.ppm[0] > light.indicative.outdoor.ppm[0]
    assert slow.indicative.upper_percent[0, -1] > light.indicative.upper_percent[0, -1]


def test_direction_of_nist_wind_square_to_the_window_is_worse():
    assert wind_flow_m3_s(0.5, 2.0, 0.0) > wind_flow_m3_s(0.5, 2.0, 30.0)


def test_direction_of_nist_fifteen_feet_may_not_be_enough():
    found = follow(source_rate(), [4.572], [exchange("open")]).indicative
    assert found.room_ppm[0, -1] > 35.0
    assert found.cohb_percent["public"][0, -1] > 10.0


def test_direction_of_nist_farther_is_better_but_no_cure():
    found = follow(source_rate(), [2.1, 4.572, 7.62], [exchange("open")] * 3).indicative
    assert np.all(np.diff(found.room_ppm[:, -1]) < 0.0)
    # At 25 ft straight downwind the estimate still passes the 8 h limit of 9 ppm.
    assert found.room_ppm[2, -1] > 9.0
