"""What is wrong with the arguments, in the language that they ask for."""

import re
from collections.abc import Sequence
from functools import cache
from itertools import pairwise

from siteplan.words import Language, Manner, Text, plain, translate

# The messages of argparse, as it makes them; another one is told as it comes, in English.
_MISTAKE_TEXTS = (
    "argument {name}: {problem}",
    "the following arguments are required: {names}",
    "unrecognized arguments: {names}",
    "invalid choice: {found} (choose from {known})",
    "invalid {kind} value: {found}",
    "expected one argument",
    "expected at least one argument",
    "ambiguous option: {found} could match {known}",
    "ignored explicit argument {found}",
)


def language_asked(arguments: Sequence[str]) -> Language:
    """Return the language that arguments ask for, whatever else is wrong with them."""
    spread = [half for one in arguments for half in one.split("=", 1)]
    for option, value in pairwise(spread):
        if option.startswith("--l") and "--language".startswith(option) and value == "es":
            return "es"
    return "en"


def mistake(message: str) -> Text:
    """Return a message of argparse as a sentence that can be said in other languages."""
    for template in _MISTAKE_TEXTS:
        found = _pattern(template).fullmatch(message)
        if found:
            values = found.groupdict()
            return Text(
                template,
                {key: mistake(one) if key == "problem" else one for key, one in values.items()},
            )
    return Text("{problem}", {"problem": message})


@cache
def _pattern(template: str) -> re.Pattern[str]:
    return re.compile(re.sub(r"\\{([a-z]+)\\}", r"(?P<\1>.+?)", re.escape(template)), re.DOTALL)


def why(error: OSError, language: Language) -> str:
    """Return the operating system's reason."""
    return translate(plain(error.strerror or str(error)), language)


def internal(error: Exception, language: Language) -> str:
    """Return what is said of a fault of the program's own."""
    what = {"kind": type(error).__name__, "what": str(error)}
    return Text("internal error ({kind}: {what}); please report it", what).say(Manner(language))
