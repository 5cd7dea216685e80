"""What was typed into a field of a form, and what the field shows."""

import datetime as dt
from typing import Any

from siteplan.desk.forms import quantities
from siteplan.desk.forms.schema import Spec
from siteplan.desk.labels import UNITS
from siteplan.errors import Said, UnitTextError
from siteplan.units import System

_DATE_TEXT = "a date such as 2026-11-20"
_CLOCK_TEXT = "a time of day such as 18:00"


def read(spec: Spec, words: str, system: System) -> object:
    """Return the value [SI] that was typed into a field.

    Raises
    ------
    UnitTextError
        If it is not what the field holds, or out of its range.
    """
    if spec.sort == "text" or spec.quantity == "clock":
        return _text(spec, words.strip())
    if spec.sort == "lengths":
        return tuple(
            quantities.read(one, "length", system) for one in words.split(";") if one.strip()
        )
    value = quantities.read(words.removesuffix(UNITS.get(spec.name, "")), spec.quantity, system)
    _check_range(spec, value, words, system)
    if spec.sort == "whole" or spec.quantity == "gauge":
        if value != int(value):
            raise UnitTextError(words, "a whole number")
        return int(value)
    return value


def _text(spec: Spec, words: str) -> str:
    if spec.name == "date" and words:
        _check_form(words, "%Y-%m-%d", _DATE_TEXT)
    if spec.quantity == "clock":
        _check_form(words, "%H:%M", _CLOCK_TEXT)
        return words.zfill(5)
    return words


def _check_form(words: str, form: str, wanted: str) -> None:
    try:
        dt.datetime.strptime(words, form)  # noqa: DTZ007 - only the form is looked at
    except ValueError as error:
        raise UnitTextError(words[:40], wanted) from error


def _check_range(spec: Spec, value: float, words: str, system: System) -> None:
    low, high = spec.low, spec.high
    over_high = high is not None and (value >= high if spec.below_high else value > high)
    under_low = low is not None and (value <= low if spec.above_low else value < low)
    if not (over_high or under_low) or low is None or high is None:
        return
    ends = {
        name: f"{quantities.show(end, spec.quantity, system)} {UNITS.get(spec.name, '')}".strip()
        for name, end in (("low", low), ("high", high))
    }
    raise UnitTextError(words[:40], Said("between {low} and {high}", ends))


def show(spec: Spec, value: Any, system: System) -> str:  # noqa: ANN401 - any value
    """Return a value of the document as the text of its field."""
    if spec.sort == "lengths":
        return "; ".join(quantities.exact_length(one, system) for one in value)
    if spec.sort == "text":
        return str(value)
    unit = UNITS.get(spec.name, "")
    return f"{quantities.show(value, spec.quantity, system)} {unit}".strip()
