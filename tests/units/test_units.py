"""Lengths as people write them. The foot is 0.3048 m and the inch 25.4 mm exactly (NIST SP 811)."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from siteplan.errors import SiteplanError, UnitTextError
from siteplan.units import (
    L_PER_GAL,
    fahrenheit,
    feet,
    format_length,
    inches,
    parse_length,
    round_to,
)

# Values worked out by hand from 304.8 mm to the foot and 25.4 mm to the inch.
FORMS = {
    "24' 6\"": 7.4676,
    "24'6\"": 7.4676,
    "24'-6\"": 7.4676,
    "24' 6": 7.4676,
    "24.5 ft": 7.4676,
    "24.5ft": 7.4676,
    "24.5 ft.": 7.4676,
    "24.5 feet": 7.4676,
    "24 1/2 ft": 7.4676,
    "24½ ft": 7.4676,
    "24,5 ft": 7.4676,
    "24.5'": 7.4676,
    "24.5 pies": 7.4676,
    "294 in": 7.4676,
    "294 in.": 7.4676,
    '294"': 7.4676,
    "294''": 7.4676,
    "294 inches": 7.4676,
    "294 pulgadas": 7.4676,
    "24′ 6″": 7.4676,
    "24’ 6”": 7.4676,
    "24 ft 6 in": 7.4676,
    "24 FT 6 IN": 7.4676,
    "24ft6in": 7.4676,
    "  24'\t6\"  ": 7.4676,
    "24'\u00a06\"": 7.4676,
    "7' 3 1/2\"": 2.2225,
    "7' 3½\"": 2.2225,
    "7' 3 ½\"": 2.2225,
    "7' 3-1/2\"": 2.2225,
    "7' 3.5\"": 2.2225,
    "7' 1/2\"": 2.1463,
    "1 foot": 0.3048,
    "1 inch": 0.0254,
    "7.47 m": 7.47,
    "7.47m": 7.47,
    "7,47 m": 7.47,
    "2,5 m": 2.5,
    ".5 m": 0.5,
    "7.47 metres": 7.47,
    "7.47 meters": 7.47,
    "7.47 metros": 7.47,
    "747 cm": 7.47,
    "7470 mm": 7.47,
    "0,125 m": 0.125,
    "20": 6.096,
    "20.5": 6.2484,
    "20 1/2": 6.2484,
    "-3' 6\"": -1.0668,
    "-1.5 m": -1.5,
    "\u22121.5 m": -1.5,
    "+1.5 m": 1.5,
    "0": 0.0,
}


@pytest.mark.parametrize(("text", "metres"), FORMS.items())
def test_reads_every_usual_form(text, metres):
    assert parse_length(text) == pytest.approx(metres, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "metres"), {"7.47": 7.47, "7,5": 7.5, "20'": 6.096, '6"': 0.1524, "50 cm": 0.5}.items()
)
def test_a_bare_number_is_metres_where_metres_are_chosen(text, metres):
    assert parse_length(text, "metres") == pytest.approx(metres, abs=1e-12)


NONSENSE = [
    "",
    "   ",
    "abc",
    "ft",
    "'",
    '"',
    "m",
    "-",
    "6 parsecs",
    "6' 7' 8\"",
    "6\" 7'",
    "1/0 ft",
    "3 1/0",
    "1.2.3",
    "1e5",
    "nan",
    "inf",
    "0x10",
    '--3"',
    "5 m 20 cm",
    "3 4 5",
    "12 ft 3 m",
    "6 ft;",
    "²",
    "9" * 61,
    pytest.param("1" * 500_000, id="half a million digits"),
]


@pytest.mark.parametrize("text", NONSENSE)
def test_refuses_what_is_no_length(text):
    with pytest.raises(UnitTextError) as caught:
        parse_length(text)
    assert len(str(caught.value)) < 250
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("text", ["1,250 ft", "2,500 m", "12,000 mm", "1,250", "120,000 in"])
def test_refuses_a_comma_that_may_mean_thousands(text):
    with pytest.raises(UnitTextError, match="comma"):
        parse_length(text)


def test_an_error_shows_no_control_signs():
    with pytest.raises(UnitTextError) as caught:
        parse_length("\x1b[31m\u202e6 ft\x07")
    assert str(caught.value).isprintable()
    assert caught.value.text == "\x1b[31m\u202e6 ft\x07"


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused_and_nothing_else(text):
    try:
        value = parse_length(text)
    except SiteplanError as error:
        said, value = str(error), 0.0
        assert said.isprintable()
    assert math.isfinite(value)


@given(
    st.integers(0, 60_000),
    st.integers(0, 11),
    st.integers(0, 15),
    st.tuples(
        st.sampled_from(["'", "′", "’", " ft", " feet", " FT"]),
        st.sampled_from(["", " ", "-", "  "]),
        st.sampled_from(['"', "″", "”", "''", " in", " inches"]),
    ),
)
def test_feet_inches_and_sixteenths_add_up(foot, inch, sixteenth, signs):
    foot_sign, between, inch_sign = signs
    text = f"{foot}{foot_sign}{between}{inch} {sixteenth}/16{inch_sign}"
    sixteenths = (foot * 12 + inch) * 16 + sixteenth
    assert parse_length(text) == pytest.approx(sixteenths * 1.5875e-3, rel=1e-12, abs=1e-12)


LENGTHS = st.floats(0.0, 20_000.0)


@given(LENGTHS, st.sampled_from(["feet", "metres"]))
def test_a_distance_written_is_never_longer_than_the_distance(value, system):
    step = 0.0254 if system == "feet" else 0.01
    read = parse_length(format_length(value, system), system)
    assert read <= value + 1e-6 * step + 1e-9 * value
    assert read > value - step * 1.000001


@given(LENGTHS, st.sampled_from(["feet", "metres"]))
def test_a_limit_written_upwards_is_never_shorter_than_the_limit(value, system):
    step = 0.0254 if system == "feet" else 0.01
    read = parse_length(format_length(value, system, "up"), system)
    assert value - 1e-6 * step - 1e-9 * value <= read < value + step * 1.000001


@given(st.integers(-700_000, 700_000))
def test_whole_inches_come_back_as_they_went(count):
    value = count * 0.0254
    for side in ("down", "up", "near"):
        assert parse_length(format_length(value, "feet", side)) == pytest.approx(value, abs=1e-9)


@given(st.integers(-2_000_000, 2_000_000))
def test_whole_centimetres_come_back_as_they_went(count):
    for side in ("down", "up", "near"):
        text = format_length(count / 100.0, "metres", side)
        assert re.fullmatch(r"-?\d+\.\d\d m", text)
        assert round(parse_length(text) * 100) == count


@pytest.mark.parametrize(
    ("value_m", "shown"),
    [
        (6.0959, "19' 11\""),
        (6.096, "20'"),
        (6.0961, "20'"),
        (6.1214, "20' 1\""),
        (4.571, "14' 11\""),
        (4.572, "15'"),
        (7.619, "24' 11\""),
        (7.62, "25'"),
        (0.0253, '0"'),
        (0.0254, '1"'),
        (0.3047, '11"'),
        (0.3048, "1'"),
        (0.0, '0"'),
        (-0.01, '-1"'),
        (-0.3048, "-1'"),
        (-0.34, "-1' 2\""),
    ],
)
def test_feet_round_down_at_each_line(value_m, shown):
    assert format_length(value_m) == shown


@pytest.mark.parametrize(
    ("value_m", "side", "shown"),
    [
        (6.0959, "down", "6.09 m"),
        (6.096, "up", "6.10 m"),
        (6.0, "down", "6.00 m"),
        (6.0, "up", "6.00 m"),
        (6.001, "up", "6.01 m"),
        (6.009, "down", "6.00 m"),
        (6.006, "near", "6.01 m"),
        (0.29, "down", "0.29 m"),
        (-0.001, "near", "0.00 m"),
        (-0.001, "up", "0.00 m"),
        (-0.001, "down", "-0.01 m"),
        (-0.0, "down", "0.00 m"),
    ],
)
def test_metres_have_two_decimals_rounded_to_the_side_asked(value_m, side, shown):
    assert format_length(value_m, "metres", side) == shown


@pytest.mark.parametrize(("side", "shown"), [("down", "19' 11\""), ("near", "20'"), ("up", "20'")])
def test_each_side_rounds_its_own_way(side, shown):
    assert format_length(6.09, "feet", side) == shown


@pytest.mark.parametrize(
    ("value", "step", "side", "expected"),
    [
        (2.94, 0.1, "down", 2.9),
        (2.94, 0.1, "up", 3.0),
        (2.96, 0.1, "near", 3.0),
        (0.1 + 0.2, 0.1, "down", 0.3),
        (0.1 + 0.2, 0.1, "up", 0.3),
        (-2.94, 0.1, "down", -3.0),
        (-2.94, 0.1, "up", -2.9),
        (61.0, 60.0, "up", 120.0),
        (60.0, 60.0, "up", 60.0),
        (59.0, 60.0, "down", 0.0),
    ],
)
def test_rounding_to_steps(value, step, side, expected):
    assert round_to(value, step, side) == pytest.approx(expected, abs=1e-12)


@given(st.floats(-1e6, 1e6), st.sampled_from([0.01, 0.1, 1.0, 60.0, 0.0254]))
def test_down_is_never_above_and_up_never_below(value, step):
    slack = 1e-6 * step + 1e-9 * abs(value)
    assert round_to(value, step, "down") <= value + slack
    assert round_to(value, step, "up") >= value - slack
    assert round_to(value, step, "up") - round_to(value, step, "down") <= step * 1.0000011


def test_conversions_of_the_trade():
    # NIST SP 811 appendix B (from memory): 1 ft = 0.3048 m, 1 in = 25.4 mm exactly; a US gallon
    # is 231 cubic inches; water freezes at 32 °F and boils at 212 °F.
    assert feet(20) == pytest.approx(6.096, abs=1e-12)
    assert inches(12) == pytest.approx(0.3048, abs=1e-12)
    assert pytest.approx(231 * 2.54**3 / 1000.0, rel=1e-12) == L_PER_GAL
    assert fahrenheit(0.0) == 32.0
    assert fahrenheit(100.0) == pytest.approx(212.0)
    assert fahrenheit(-40.0) == pytest.approx(-40.0)
