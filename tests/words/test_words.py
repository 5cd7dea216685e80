"""Sentences with quantities, and user text made harmless."""

import typing
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from siteplan import words
from siteplan.words import Kind, Manner, Quantity, Text, length, plain, translate

FEET = Manner("en", "feet")
METRES = Manner("en", "metres")


@pytest.mark.parametrize(
    ("value", "kind", "side", "feet", "metres"),
    [
        (6.0959, "length", "down", "19' 11\"", "6.09 m"),
        (6.096, "length", "up", "20'", "6.10 m"),
        (45.4, "angle", "near", "45°", "45°"),
        (-0.2, "angle", "near", "0°", "0°"),
        (0.305, "share", "up", "31 %", "31 %"),
        (0.305, "share", "down", "30 %", "30 %"),
        (12.34, "percent", "up", "12.4 %", "12.4 %"),
        (12.34, "current", "up", "12.4 A", "12.4 A"),
        (1499.2, "power", "down", "1499 W", "1499 W"),
        (117.77, "voltage", "down", "117.7 V", "117.7 V"),
        # 3.785411784 L to the US gallon.
        (18.92, "volume", "down", "4.9 gal", "18.9 L"),
        (18.93, "volume", "up", "5.1 gal", "19.0 L"),
        (3.785411784, "rate", "up", "1.0 gal/h", "3.8 L/h"),
        (64.2, "level", "up", "65 dB(A)", "65 dB(A)"),
        (59, "time", "down", "0 min", "0 min"),
        (61, "time", "up", "2 min", "2 min"),
        (3600, "time", "near", "1 h", "1 h"),
        (3660, "time", "near", "1 h 01 min", "1 h 01 min"),
        (90_000, "time", "near", "25 h", "25 h"),
        (199.2, "concentration", "up", "200 ppm", "200 ppm"),
        (3, "count", "near", "3", "3"),
        (21.0, "temperature", "near", "70 °F", "21 °C"),
        (-17.9, "temperature", "near", "0 °F", "-18 °C"),
        (-0.2, "temperature", "near", "32 °F", "0 °C"),
    ],
)
def test_each_kind_is_shown_in_the_readers_units(value, kind, side, feet, metres):
    quantity = Quantity(value, kind, side)
    assert FEET.show(quantity) == feet
    assert METRES.show(quantity) == metres


def test_every_kind_can_be_shown():
    for kind in typing.get_args(Kind):
        assert any(sign.isdigit() for sign in FEET.show(Quantity(1.0, kind)))


def test_a_length_rounds_down_unless_told():
    assert FEET.show(length(6.09)) == "19' 11\""
    assert FEET.show(length(6.09, "up")) == "20'"


def test_a_sentence_takes_its_values():
    text = Text(
        "{thing} is {distance} away, {count} times.",
        {"thing": Text("the {what}", {"what": "door"}), "distance": length(6.096), "count": 3},
    )
    assert text.say() == "the door is 20' away, 3 times."
    assert text.say(METRES) == "the door is 6.09 m away, 3 times."


def test_a_sentence_without_values_is_said_as_it_stands():
    assert Text("Nothing {here} is filled in.").say() == "Nothing {here} is filled in."


@given(st.text(max_size=60))
def test_user_text_cannot_break_a_template(name):
    said = Text("[{name}|{again}]", {"name": name, "again": Text("{x}", {"x": name})}).say()
    assert said == f"[{plain(name)}|{plain(name)}]"


@pytest.mark.parametrize("name", ["{", "}", "{0}", "{name}", "{name.__class__}", "{{}}", "%s"])
def test_braces_in_user_text_stay_braces(name):
    assert Text("<{name}>", {"name": name}).say() == f"<{name}>"


HARMLESS = {
    "plain": "plain",
    "": "",
    "two\nlines\r\n": "two lines ",
    "tab\tand\u00a0hard space": "tab and hard space",
    "\x1b[31mred\x1b[0m": "[31mred[0m",
    "bell\x07": "bell",
    "c1\x9b31m": "c131m",
    "back\x08space\x7f": "backspace",
    "\u202egnp.exe": "gnp.exe",
    "\u2066isolated\u2069": "isolated",
    "zero\u200bwidth\ufeff": "zerowidth",
    "soft\u00adhyphen": "softhyphen",
    "line\u2028separator\u2029": "line separator ",
    "half \ud800 pair": "half pair",
    "private \ue000": "private ",
    "tag \U000e0041": "tag ",
    "Niño’s casa 家": "Niño’s casa 家",
    "🏠": "🏠",
}


@pytest.mark.parametrize(("text", "shown"), HARMLESS.items())
def test_user_text_is_made_one_harmless_line(text, shown):
    assert plain(text) == shown


@given(st.text(st.characters(), max_size=400))
def test_plain_text_has_no_sign_that_acts_and_is_short(text):
    shown = plain(text)
    assert len(shown) <= 200
    assert not {unicodedata.category(sign)[0] for sign in shown} & {"C"}
    assert plain(shown) == shown


@pytest.mark.parametrize(("count", "shown"), [(199, 199), (200, 200), (201, 200)])
def test_long_text_is_cut_and_says_so(count, shown):
    cut = plain("a" * count)
    assert len(cut) == shown
    assert cut.endswith("…") == (count > 200)


def test_a_cut_of_another_length_can_be_asked_for():
    assert plain("a" * 50, 10) == "a" * 9 + "…"
    assert plain("b" * 50_000_000, 10) == "b" * 9 + "…"


def test_a_missing_translation_shows_english():
    assert translate("A sentence that no catalogue has.", "es") == (
        "A sentence that no catalogue has."
    )


def test_a_translation_is_used_with_its_values(monkeypatch):
    monkeypatch.setattr(
        words, "_catalogue", lambda _language: {"{n} m to {what}": "a {what} hay {n} m"}
    )
    text = Text("{n} m to {what}", {"n": 3, "what": "casa"})
    assert text.say(Manner("es", "metres")) == "a casa hay 3 m"
    assert text.say(Manner("en", "metres")) == "3 m to casa"


@pytest.mark.parametrize(
    ("loose", "held"),
    [
        ("10.3 % in 12 h", "10.3\u00a0% in 12\u00a0h"),
        ("a 3 m way, 1575 W", "a 3\u00a0m way, 1575\u00a0W"),
        ("4 doors", "4 doors"),
        ("24' 6\" of it", "24'\u00a06\" of it"),
    ],
)
def test_a_figure_keeps_its_unit_in_its_line(loose, held):
    assert words.held_together(loose) == held
