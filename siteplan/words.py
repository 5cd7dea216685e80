"""Sentences with quantities in them, kept apart from language and unit system.

A rule states a template and its values in SI; the sentence is made at the edge, in the
reader's language and units. English is the key of the catalogue, so a missing translation
shows English and is found by a test.
"""

import json
import re
import unicodedata
from collections.abc import Callable, Mapping
from functools import cache
from typing import Literal, NamedTuple

from siteplan.assets import resource
from siteplan.errors import Said, SiteplanError
from siteplan.units import L_PER_GAL, Side, System, fahrenheit, format_length, round_to

Language = Literal["en", "es"]
Kind = Literal[
    "length",
    "angle",
    "share",
    "current",
    "power",
    "voltage",
    "volume",
    "level",
    "time",
    "concentration",
    "percent",
    "count",
    "rate",
    "temperature",
]


HELD = "\u00a0"
"""The space that holds a figure and its unit in one line."""
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=%|[^\W\d_]{1,3}\b)|(?<=\d') (?=\d)")


class Quantity(NamedTuple):
    """A number with what it measures and the side it is rounded to.

    Attributes
    ----------
    value : float
        In SI but for angles: length [m], angle [°], share [0..1], current [A], power [W],
        voltage [V], volume [L], level [dB], time [s], concentration [ppm], percent [%],
        rate [L/h], temperature [°C].
    kind : str
        Which of these it is.
    side : str
        "down" for distances, "up" for drops and levels.
    """

    value: float
    kind: Kind
    side: Side = "near"


def held_together(text: str) -> str:
    """Return a text whose figures keep their units in the same line, to be shown in lines."""
    return _BEFORE_UNIT.sub(HELD, text)


def length(value_m: float, side: Side = "down") -> Quantity:
    """Return a length [m] that rounds down unless told otherwise."""
    return Quantity(value_m, "length", side)


class Text(NamedTuple):
    """A sentence: an English template with {named} places, and the values for them."""

    template: str
    values: Mapping[str, "Value"] = {}

    def say(self, manner: "Manner | None" = None) -> str:
        """Return the sentence in the reader's language and units."""
        manner = manner or Manner()
        template = translate(self.template, manner.language)
        if not self.values:
            return template
        return template.format(**{key: manner.show(value) for key, value in self.values.items()})


Value = Quantity | Text | str | int
"""What may stand in a template's named place."""


def complaint(error: SiteplanError) -> Text:
    """Return what an error says as a sentence, to be said where the error is caught."""
    return _text(error.said)


def _text(said: Said) -> Text:
    values = said.values.items()
    return Text(
        said.template,
        {key: _text(one) if isinstance(one, Said) else one for key, one in values},
    )


class Manner(NamedTuple):
    """How to speak to the reader: language and unit system."""

    language: Language = "en"
    system: System = "feet"

    def show(self, value: Value) -> str:
        """Return one value as text. User text is stripped of control and direction signs."""
        if isinstance(value, Text):
            return value.say(self)
        if isinstance(value, str):
            return plain(value)
        if isinstance(value, int):
            return str(value)
        if value.kind == "length":
            return format_length(value.value, self.system, value.side)
        return _SHOW[value.kind](value, self)


def _steps(quantity: Quantity, step: float, decimals: int) -> str:
    # Adding zero turns a negative zero into a plain one.
    return f"{round_to(quantity.value, step, quantity.side) + 0.0:.{decimals}f}"


def _show_power(quantity: Quantity, _manner: "Manner") -> str:
    return f"{_steps(quantity, 1, 0)} W"


def _show_volume(quantity: Quantity, manner: "Manner") -> str:
    if manner.system == "metres":
        return f"{_steps(quantity, 0.1, 1)} L"
    gallons = Quantity(quantity.value / L_PER_GAL, quantity.kind, quantity.side)
    return f"{_steps(gallons, 0.1, 1)} gal"


def _show_rate(quantity: Quantity, manner: "Manner") -> str:
    return _show_volume(quantity, manner) + "/h"


def _show_time(quantity: Quantity, _manner: "Manner") -> str:
    minutes = round(round_to(quantity.value, 60, quantity.side) / 60)
    hours, rest = divmod(minutes, 60)
    if hours == 0:
        return f"{rest} min"
    return f"{hours} h {rest:02d} min" if rest else f"{hours} h"


def _show_temperature(quantity: Quantity, manner: "Manner") -> str:
    if manner.system == "metres":
        return f"{_steps(quantity, 1, 0)} °C"
    warmth = Quantity(fahrenheit(quantity.value), quantity.kind, quantity.side)
    return f"{_steps(warmth, 1, 0)} °F"


_SHOW: dict[str, Callable[[Quantity, Manner], str]] = {
    "angle": lambda q, _m: f"{_steps(q, 1, 0)}°",
    "share": lambda q, _m: f"{_steps(Quantity(q.value * 100, q.kind, q.side), 1, 0)} %",
    "percent": lambda q, _m: f"{_steps(q, 0.1, 1)} %",
    "current": lambda q, _m: f"{_steps(q, 0.1, 1)} A",
    "power": _show_power,
    "voltage": lambda q, _m: f"{_steps(q, 0.1, 1)} V",
    "volume": _show_volume,
    "rate": _show_rate,
    "level": lambda q, _m: f"{_steps(q, 1, 0)} dB(A)",
    "time": _show_time,
    "concentration": lambda q, _m: f"{_steps(q, 1, 0)} ppm",
    "count": lambda q, _m: f"{q.value:.0f}",
    "temperature": _show_temperature,
}


@cache
def _catalogue(language: Language) -> Mapping[str, str]:
    if language == "en":
        return {}
    found: dict[str, str] = json.loads(
        resource(f"translations/{language}.json").read_text(encoding="utf-8")
    )
    return found


def translate(text: str, language: Language) -> str:
    """Return the text in the language, or the English itself if the catalogue lacks it."""
    if language == "en":
        return text
    return _catalogue(language).get(text, text)


_DROP = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
_SPACES = re.compile(r"\s+")
_LONGEST = 200


def plain(text: str, longest: int = _LONGEST) -> str:
    """Return user text as one harmless line: no control or direction signs, cut to a length."""
    # What lies far beyond the cut is not even looked at: a text may have megabytes.
    near = text[: 4 * longest]
    inert = (one for one in near if one.isspace() or unicodedata.category(one) not in _DROP)
    kept = _SPACES.sub(" ", "".join(inert))
    return kept if len(kept) <= longest else kept[: longest - 1] + "…"
