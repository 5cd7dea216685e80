"""Refuses numbers outside the range in which a formula of this package holds."""

from collections.abc import Collection

from siteplan.errors import OutOfRangeError


def within(quantity: str, value: float, low: float, high: float) -> float:
    """Return the value if it lies in [low, high]; a number that is no number never does.

    Raises
    ------
    OutOfRangeError
        If it does not.
    """
    if not low <= value <= high:
        raise OutOfRangeError(quantity, value, low, high)
    return value


def listed(quantity: str, value: int, choices: Collection[int]) -> int:
    """Return the value if a table has a row for it.

    Raises
    ------
    OutOfRangeError
        If it has none; the text names the rows there are.
    """
    if value not in choices:
        rows = ", ".join(str(choice) for choice in choices)
        raise OutOfRangeError(f"{quantity} (listed: {rows})", value, min(choices), max(choices))
    return value
