import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from siteplan.errors import OutOfRangeError
from siteplan.sound.limits import (
    Quiet,
    UnknownPresetError,
    preset,
    presets,
    rounded_up_dba,
    verdict,
)
from siteplan.sources import KNOWN_TEXT, work
from siteplan.words import translate


@pytest.mark.parametrize(
    ("level", "expected"),
    [
        (51.0, "within"),
        (52.0, "within"),
        (52.01, "close"),
        (53.0, "close"),
        (55.0, "close"),
        (55.01, "above"),
        (56.0, "above"),
    ],
)
def test_a_level_passes_only_with_the_guard_band(level, expected):
    assert verdict(level, 55.0) == expected


def test_no_level_is_not_judged():
    assert verdict(math.nan, 55.0) is None
    assert rounded_up_dba(math.nan) is None


@pytest.mark.parametrize(("level", "shown"), [(51.0, 51), (51.01, 52), (51.99, 52), (-0.5, 0)])
def test_levels_are_rounded_up(level, shown):
    assert rounded_up_dba(level) == shown


def test_without_a_guard_the_limit_itself_passes():
    assert verdict(55.0, 55.0, guard_db=0.0) == "within"


@pytest.mark.parametrize(("limit", "guard"), [(55.0, -0.1), (math.nan, 3.0), (55.0, math.nan)])
def test_impossible_limits_are_refused(limit, guard):
    with pytest.raises(OutOfRangeError):
        verdict(50.0, limit, guard)


@pytest.mark.parametrize(
    ("hour", "quiet"),
    [(21.99, False), (22.0, True), (23.5, True), (0.0, True), (6.99, True), (7.0, False)],
)
def test_quiet_hours_run_over_midnight(hour, quiet):
    assert Quiet().covers(hour * 60) is quiet
    assert Quiet().covers(hour * 60 + 24 * 60) is quiet


@pytest.mark.parametrize(
    ("start_h", "duration_h", "quiet_h"),
    # counted by hand, quiet 22 to 07
    [
        (18, 3, 0),
        (18, 6, 2),
        (18, 14, 9),
        (23, 2, 2),
        (6, 20, 5),
        (6, 24, 9),
        (18, 48, 18),
        (12, 72, 27),
        (3, 23, 8),
        (22, 9, 9),
        (7, 15, 0),
        (5, 0, 0),
    ],
)
def test_how_much_of_a_run_is_in_the_quiet_hours(start_h, duration_h, quiet_h):
    assert Quiet().overlap_min(start_h * 60, duration_h * 60) == pytest.approx(quiet_h * 60)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 1439), st.integers(0, 1439), st.integers(0, 1439), st.integers(0, 4000))
def test_the_overlap_counts_its_minutes(first, last, start, duration):
    quiet = Quiet(first, last)
    counted = sum(quiet.covers(minute) for minute in range(start, start + duration))
    assert quiet.overlap_min(start, duration) == pytest.approx(counted)


@pytest.mark.parametrize("minute", [-1, 1440])
def test_quiet_hours_are_minutes_of_a_day(minute):
    with pytest.raises(OutOfRangeError, match="minute of the day"):
        Quiet(start_min=minute)


def test_a_run_of_negative_length_is_refused():
    with pytest.raises(OutOfRangeError, match="duration"):
        Quiet().overlap_min(0, -1)


@pytest.mark.parametrize(
    ("name", "day", "night"),
    # COMAR 26.02.03.02, city codes of Ogden and Reading READ; N.J.A.C. 7:29 and 36 CFR 2.12 READ
    # second-hand; R.C.S.A. 22a-69-3.5 and WHO 1999 MEMORY; WHO 2009 READ
    [
        ("maryland", 65, 55),
        ("new-jersey", 65, 50),
        ("ogden-ut", 55, 50),
        ("reading-pa", 62, 55),
        ("us-national-parks", 60, 60),
        ("connecticut", 55, 45),
        ("who-night-2009", None, 40),
        ("who-community-1999", None, 45),
    ],
)
def test_published_limits(name, day, night):
    found = preset(name)
    assert (found.limit_dba(night=False), found.limit_dba(night=True)) == (day, night)


def test_a_tone_costs_five_where_the_code_says_so():
    assert preset("maryland").limit_dba(night=True, tonal=True) == 50
    assert preset("reading-pa").limit_dba(night=True, tonal=True) == 55
    assert preset("who-night-2009").limit_dba(night=False, tonal=True) is None


def test_every_preset_cites_a_listed_work_and_says_how_it_is_known():
    for found in presets().values():
        assert work(found.source).known == found.known
        assert found.known in KNOWN_TEXT
        assert found.place in {"boundary", "window", "at-distance"}
        assert (found.distance_m is not None) == (found.place == "at-distance")
        assert found.night_dba is not None


def test_every_preset_speaks_spanish():
    for found in presets().values():
        for text in filter(None, (found.name, found.note)):
            assert translate(text, "es") != text


def test_an_unknown_preset_is_refused_by_name():
    with pytest.raises(UnknownPresetError, match="atlantis"):
        preset("atlantis")
