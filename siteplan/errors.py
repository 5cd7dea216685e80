"""The base of every error this project raises on purpose."""

from collections.abc import Mapping
from typing import NamedTuple


class Said(NamedTuple):
    """A message as an English template with {named} places and the values for them.

    As a `str` it is English; `siteplan.words.complaint` says it in other languages.
    """

    template: str
    values: Mapping[str, "Said | str"] = {}

    def __str__(self) -> str:
        if not self.values:
            return self.template
        return self.template.format(**{key: str(value) for key, value in self.values.items()})


class SiteplanError(Exception):
    """A mistake a person can mend; its text is one clear sentence for that person.

    Attributes
    ----------
    said : Said
        The sentence, to be said in the reader's language where the error is caught.
    """

    def __init__(self, template: str | Said, **values: Said | str) -> None:
        self.said = template if isinstance(template, Said) else Said(template, values)
        super().__init__(str(self.said))


class UnitTextError(SiteplanError):
    """A text that was to be a length or another quantity and is not.

    Attributes
    ----------
    text : str
        What was typed.
    """

    def __init__(self, text: str, wanted: str | Said) -> None:
        self.text = text
        shown = "".join(sign for sign in text[:60] if sign.isprintable())
        wanted = wanted if isinstance(wanted, Said) else Said(wanted)
        super().__init__("'{text}' is not {wanted}", text=shown, wanted=wanted)


class OutOfRangeError(SiteplanError, ValueError):
    """A number outside the range in which a formula or field is valid.

    Attributes
    ----------
    quantity : str
        What the number stands for, with its unit in brackets.
    value, low, high : float
        The number and the range allowed.
    """

    def __init__(self, quantity: str, value: float, low: float, high: float) -> None:
        self.quantity, self.value, self.low, self.high = quantity, value, low, high
        super().__init__(
            "{quantity} is {value}; allowed is {low} to {high}",
            quantity=Said(quantity),
            value=f"{value:g}",
            low=f"{low:g}",
            high=f"{high:g}",
        )


class OwnFilesError(SiteplanError):
    """The program's own files are at fault, not what the user gave it."""


class MissingAssetError(OwnFilesError):
    """A file that belongs to the program is not where it should be."""
