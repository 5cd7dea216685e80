"""The one place through which every visible string passes."""

from siteplan.errors import SiteplanError
from siteplan.words import Manner, Quantity, Text, complaint

Shown = Quantity | Text | str | int


class _Voice:
    """How the window speaks; like Qt's own translators there is one per program."""

    manner = Manner()


def speak(manner: Manner) -> None:
    """Choose the language and units of everything that is said from now on."""
    _Voice.manner = manner


def manner() -> Manner:
    """Return how the window speaks now."""
    return _Voice.manner


def tr(text: str, **values: Shown) -> str:
    """Return an English literal in the reader's language, its {named} places filled."""
    return Text(text, values).say(_Voice.manner)


def say(text: Text) -> str:
    """Return a sentence of the core in the reader's language and units."""
    return text.say(_Voice.manner)


def why(error: Exception) -> str:
    """Return what an error says, in the reader's language as far as it is one of our own."""
    return say(complaint(error)) if isinstance(error, SiteplanError) else str(error)


def size(value_m: float) -> str:
    """Return a size that was drawn or typed [m], rounded to the nearest, for it is no limit."""
    return _Voice.manner.show(Quantity(value_m, "length", "near"))


def length(value_m: float) -> str:
    """Return a length [m], rounded down, in the reader's units."""
    return _Voice.manner.show(Quantity(value_m, "length", "down"))
