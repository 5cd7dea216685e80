"""Colour, symbols and widths of what is printed."""

import io
import re

import pytest

from siteplan.cli import terminal


class _Terminal(io.StringIO):
    encoding = "utf-8"

    def isatty(self):
        return True


def test_colour_shows_only_where_wanted(monkeypatch):
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    assert terminal.shows_colour(_Terminal())
    assert not terminal.shows_colour(io.StringIO())
    # no-color.org: any value but an empty one.
    monkeypatch.setenv("NO_COLOR", "")
    assert terminal.shows_colour(_Terminal())
    monkeypatch.setenv("NO_COLOR", "1")
    assert not terminal.shows_colour(_Terminal())
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setenv("TERM", "dumb")
    assert not terminal.shows_colour(_Terminal())


@pytest.mark.parametrize("signal", ["DANGER", "WARNING", "CAUTION", "NOTICE"])
def test_a_signal_is_word_and_symbol_and_where_it_shows_colour(monkeypatch, signal):
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    bare = terminal.panel(signal, io.StringIO(), signal)
    assert re.fullmatch(rf" [^\w\s] {signal} *", bare)
    coloured = terminal.panel(signal, _Terminal(), signal)
    assert re.sub(r"\x1b\[[\d;]*m", "", coloured) == bare
    assert coloured.endswith("\x1b[0m")
    assert len(set(terminal.SYMBOLS.values())) == 4


@pytest.mark.parametrize("columns", ["1", "40", "79", "100", "500"])
def test_lines_keep_to_the_width_between_40_and_100(monkeypatch, columns):
    monkeypatch.setenv("COLUMNS", columns)
    width = max(40, min(100, int(columns)))
    lines = terminal.wrap("word " * 200, "   ").splitlines()
    assert max(len(line) for line in lines) <= width
    assert all(line.startswith("   word") for line in lines)
