"""What is wrong with the values of a plan, in one line for the person who gave them."""

import reprlib

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from siteplan.errors import Said
from siteplan.words import plain

_LONGEST_LINE = 500

# What is said of the mistakes people make; of others pydantic's own English.
_MISTAKE_TEXTS = {
    "missing": "is missing",
    "extra_forbidden": "is no field of a plan",
    "greater_than": "input should be greater than {gt}",
    "greater_than_equal": "input should be greater than or equal to {ge}",
    "less_than": "input should be less than {lt}",
    "less_than_equal": "input should be less than or equal to {le}",
    "literal_error": "input should be {expected}",
    "union_tag_invalid": "'{tag}' is none of {expected_tags}",
    "string_too_long": "string should have at most {max_length} characters",
    "string_too_short": "string should have at least {min_length} characters",
    "string_type": "input should be a valid string",
    "int_type": "input should be a valid integer",
    "float_type": "input should be a valid number",
    "bool_type": "input should be a valid boolean",
    "finite_number": "input should be a finite number",
    "string_pattern_mismatch": "string should match pattern '{pattern}'",
}
_TAGGED = ("surroundings", "fixtures")
_short = reprlib.Repr()
_short.maxstring = _short.maxother = 60
_short.maxlevel = 2


def explain(error: ValidationError) -> Said:
    """Return the first mistake as one line: the field, what is allowed, the value found."""
    first = error.errors(include_url=False)[0]
    found = _mistake(first)
    if error.error_count() == 1:
        return found
    more = str(error.error_count() - 1)
    return Said("{mistake} (and {count} more)", {"mistake": found, "count": more})


def _mistake(first: ErrorDetails) -> Said:
    kind, message = first["type"], plain(first["msg"], _LONGEST_LINE)
    if kind == "value_error":
        return said_in(first["ctx"]["error"], _place(first["loc"]))
    if kind == "json_invalid":
        return Said("is not JSON: {why}", {"why": message.removeprefix("Invalid JSON: ")})
    if not first["loc"]:
        return Said(message)
    allowed = {name: _figure(name, one) for name, one in first.get("ctx", {}).items()}
    known = kind in _MISTAKE_TEXTS
    told = Said(_MISTAKE_TEXTS[kind], allowed) if known else Said(message[0].lower() + message[1:])
    values: dict[str, Said | str] = {"field": _place(first["loc"]), "problem": told}
    if kind == "missing":
        return Said("{field}: {problem}", values)
    shown = plain(_short.repr(first["input"]))
    return Said("{field}: {problem}; found {found}", values | {"found": shown})


def _figure(name: str, allowed: object) -> Said | str:
    if name.startswith("expected"):
        # A list of names may be long, so it goes in as a text, which is not cut as values are.
        return Said(plain(str(allowed), _LONGEST_LINE))
    return f"{allowed:g}" if isinstance(allowed, float) else plain(str(allowed), 60)


def said_in(error: Exception, place: str = "") -> Said:
    """Return the message that one of our own checks gave, with its place if it tells none."""
    said = error.args[0] if error.args and isinstance(error.args[0], Said) else Said(str(error))
    return Said("{field}: {problem}", {"field": place, "problem": said}) if place else said


def _place(location: tuple[int | str, ...]) -> str:
    # Of a thing that comes in several kinds, the kind stands in the location and not in the file.
    if location and location[0] in _TAGGED:
        location = location[:2] + location[3:]
    return plain(".".join(str(part) for part in location), 100)
