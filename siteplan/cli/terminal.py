"""How findings look in a terminal: word, symbol and colour, the last only where it shows."""

import codecs
import io
import os
import shutil
import textwrap
import unicodedata
from typing import TYPE_CHECKING, TextIO

from siteplan.words import HELD, held_together, translate

if TYPE_CHECKING:
    from siteplan.rules.findings import Signal
    from siteplan.words import Language

SYMBOLS: "dict[Signal, str]" = {"DANGER": "⬢", "WARNING": "▲", "CAUTION": "△", "NOTICE": "●"}
# ANSI Z535 panels as near as a terminal comes: white on red, black on orange and yellow,
# white on blue.
_PANEL: "dict[Signal, str]" = {
    "DANGER": "1;97;48;5;160",
    "WARNING": "1;30;48;5;208",
    "CAUTION": "1;30;48;5;220",
    "NOTICE": "1;97;48;5;26",
}
# What stands for a sign that the terminal's encoding lacks.
_STAND_INS = dict.fromkeys(SYMBOLS.values(), "!") | {
    "✓": "+",
    "·": "-",
    "–": "-",
    "…": "...",
    "°": " deg",
    "’": "'",
}
_NARROWEST, _WIDEST = 40, 100


def use_stand_ins(*streams: TextIO | None) -> None:
    """Let a stream show a plainer sign for one that its encoding lacks, instead of failing."""
    codecs.register_error("siteplan", _stand_in)
    for stream in streams:
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="siteplan")


def _stand_in(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lacking = error.object[error.start : error.end]
    return "".join(_STAND_INS.get(sign) or _ascii(sign) or "?" for sign in lacking), error.end


def _ascii(sign: str) -> str:
    return unicodedata.normalize("NFKD", sign).encode("ascii", "ignore").decode()


def shows_colour(stream: TextIO) -> bool:
    """Whether the stream is a terminal that shows colour and the user wants it."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    return stream.isatty()


def signal_width(language: "Language") -> int:
    """Return the length of the longest signal word."""
    return max(len(translate(one, language)) for one in SYMBOLS)


def panel(signal: "Signal", stream: TextIO, shown: str, width: int = 0) -> str:
    """Return a signal word, filled up to a width, with its symbol; in colour if that shows."""
    text = f"{SYMBOLS[signal]} {shown:<{width}}"
    return f"\x1b[{_PANEL[signal]}m {text}\x1b[0m" if shows_colour(stream) else f" {text}"


def wrap(text: str, indent: str, first: str | None = None) -> str:
    """Return text broken to the terminal's width."""
    width = min(_WIDEST, max(_NARROWEST, shutil.get_terminal_size().columns))
    filled = textwrap.fill(
        held_together(text),
        width,
        initial_indent=indent if first is None else first,
        subsequent_indent=indent,
        break_on_hyphens=False,
    )
    return filled.replace(HELD, " ")
