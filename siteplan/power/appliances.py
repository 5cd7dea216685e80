"""The book of appliances: running and starting watts, with the figures found and where."""

from functools import cache
from types import MappingProxyType
from typing import Any, Literal, NamedTuple

from siteplan.assets import data_book

ApplianceKind = Literal["motor", "heat", "electronic"]


class Published(NamedTuple):
    """A figure found: the watts [W] and the id of the work that has it."""

    watts: float
    source: str


class Appliance(NamedTuple):
    """An appliance as proposed to the user; its own nameplate governs.

    Attributes
    ----------
    id, name : str
        Key, and English name.
    run_w, start_w : float
        Running, and the total while starting [W].
    volts : float
        120 or 240 [V].
    kind : str
        "motor" starts hard, "electronic" loads the neutral with harmonics, "heat" does neither.
    known : str
        "read" or "common-practice".
    found_run, found_start : tuple of Published
        Figures found; they scatter by two to one.
    note : str
        English remark, or empty.
    hardwired : bool
        Usually joined to the house wiring without a plug (common practice, no source).
    """

    id: str
    name: str
    run_w: float
    start_w: float
    volts: float
    kind: ApplianceKind
    known: str
    found_run: tuple[Published, ...]
    found_start: tuple[Published, ...]
    note: str
    hardwired: bool = False


@cache
def appliances() -> MappingProxyType[str, Appliance]:
    """Return every appliance of the book by its id; each row names its sources."""
    rows = data_book("appliances.toml")["appliance"]
    return MappingProxyType({row["id"]: _appliance(row) for row in rows})


def _appliance(row: dict[str, Any]) -> Appliance:
    found = {
        key: tuple(Published(each["w"], each["by"]) for each in row[key])
        for key in ("found_run", "found_start")
    }
    return Appliance(**{**row, **found})
