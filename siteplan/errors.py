"""The base of every error this project raises on purpose."""


class SiteplanError(Exception):
    """A mistake a person can mend; its text is one clear sentence for that person."""


class UnitTextError(SiteplanError):
    """A text that was to be a length or another quantity and is not.

    Attributes
    ----------
    text : str
        What was typed.
    """

    def __init__(self, text: str, wanted: str) -> None:
        self.text = text
        shown = "".join(sign for sign in text[:60] if sign.isprintable())
        super().__init__(f"'{shown}' is not {wanted}")


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
        super().__init__(f"{quantity} is {value:g}; allowed is {low:g} to {high:g}")


class OwnFilesError(SiteplanError):
    """The program's own files are at fault, not what the user gave it."""


class MissingAssetError(OwnFilesError):
    """A file that belongs to the program is not where it should be."""
