"""Published noise limits by name, quiet hours, and the verdict on a level.

The town's own code governs; these are starting points for the user to replace.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, Final, Literal

from siteplan.assets import data_book
from siteplan.errors import OutOfRangeError, SiteplanError
from siteplan.sound.checks import numbers

Verdict = Literal["within", "close", "above"]
Place = Literal["boundary", "window", "at-distance"]

GUARD_DB: Final = 3.0
"""A level passes only if it stays this far under the limit (proposal: accuracy of ISO 9613-2)."""

TONE_DB: Final = 5.0
"""Taken off the limit for prominent tones where the code says so (COMAR 26.02.03.02, read)."""

DAY_MINUTES: Final = 24 * 60


class UnknownPresetError(SiteplanError):
    """A preset of limits is asked for that is not on the list."""


@dataclass(frozen=True)
class Quiet:
    """The quiet hours of the day, by default 22:00 to 07:00.

    Attributes
    ----------
    start_min, end_min : int
        Minutes after midnight, 0 to 1439; the start may lie before midnight. If both are the
        same there are none.
    """

    start_min: int = 22 * 60
    end_min: int = 7 * 60

    def __post_init__(self) -> None:
        for minute in (self.start_min, self.end_min):
            numbers("minute of the day", minute, 0, DAY_MINUTES - 1)

    @property
    def length_min(self) -> int:
        """How long they last [min]."""
        return (self.end_min - self.start_min) % DAY_MINUTES

    def covers(self, minute: float) -> bool:
        """Return whether a minute after some midnight lies in the quiet hours; the end does not."""
        return (minute - self.start_min) % DAY_MINUTES < self.length_min

    def overlap_min(self, start_min: float, duration_min: float) -> float:
        """Return how much of a run lies in the quiet hours [min].

        Parameters
        ----------
        start_min : float
            Start, minutes after some midnight.
        duration_min : float
            Length of the run [min], 0 to a year; it may last over several nights.

        Raises
        ------
        OutOfRangeError
            If the duration is outside its range.
        """
        left = float(numbers("duration [min]", duration_min, 0.0, 366.0 * DAY_MINUTES))
        days, rest = divmod(left, DAY_MINUTES)
        since = (start_min - self.start_min) % DAY_MINUTES
        today = max(0.0, min(since + rest, self.length_min) - since)
        tomorrow = max(0.0, min(since + rest - DAY_MINUTES, self.length_min))
        return days * self.length_min + today + tomorrow


@dataclass(frozen=True)
class Preset:
    """A published pair of limits.

    Attributes
    ----------
    id, name : str
        How it is called in files, and to people.
    place : {"boundary", "window", "at-distance"}
        Where the level counts.
    day_dba, night_dba : float or None
        Limits [dB(A)]; None where the work gives none.
    quiet : Quiet
        When the night limit holds.
    tone_db : float
        Taken off both limits for prominent tones [dB].
    distance_m : float or None
        For "at-distance": how far from the set [m].
    source, known : str
        The cited work's id and how the figures are known.
    note : str
        What to know before using it.
    """

    id: str
    name: str
    place: Place
    source: str
    known: str
    day_dba: float | None = None
    night_dba: float | None = None
    quiet: Quiet = Quiet()
    tone_db: float = 0.0
    distance_m: float | None = None
    note: str = ""

    def limit_dba(self, *, night: bool, tonal: bool = False) -> float | None:
        """Return the limit that holds [dB(A)], or None if the work gives none."""
        limit = self.night_dba if night else self.day_dba
        if limit is None:
            return None
        return limit - self.tone_db if tonal else limit


def _minute(text: str) -> int:
    hours, minutes = text.split(":")
    return 60 * int(hours) + int(minutes)


def _preset(row: Mapping[str, Any]) -> Preset:
    rest = {key: value for key, value in row.items() if key not in {"night_from", "night_to"}}
    quiet = Quiet(_minute(row.get("night_from", "22:00")), _minute(row.get("night_to", "07:00")))
    return Preset(quiet=quiet, **rest)


@cache
def presets() -> Mapping[str, Preset]:
    """Return the published limits by id, in the order of `resources/sound_limits.toml`."""
    rows = data_book("sound_limits.toml")["preset"]
    return MappingProxyType({row["id"]: _preset(row) for row in rows})


def preset(preset_id: str) -> Preset:
    """Return one preset.

    Raises
    ------
    UnknownPresetError
        If the list has no such preset.
    """
    try:
        return presets()[preset_id]
    except KeyError:
        raise UnknownPresetError(
            "no preset of noise limits is called '{id}'", id=preset_id
        ) from None


def rounded_up_dba(level_dba: float) -> int | None:
    """Return a level as it is reported: whole decibels, up; None if it was not modelled."""
    if math.isnan(level_dba):
        return None
    return math.ceil(level_dba - 1e-9)


def verdict(level_dba: float, limit_dba: float, guard_db: float = GUARD_DB) -> Verdict | None:
    """Return how a level compares with a limit.

    The level is rounded up to whole decibels first, as it is shown.

    Parameters
    ----------
    level_dba : float
        Level [dB(A)]; not a number if it was not modelled.
    limit_dba : float
        Limit [dB(A)].
    guard_db : float
        How far under the limit a level must stay to pass [dB], at least 0.

    Returns
    -------
    {"within", "close", "above"} or None
        "within" if level + guard ≤ limit, "above" if level > limit, else "close". None, not
        judged, if there is no level.

    Raises
    ------
    OutOfRangeError
        If the guard is negative or the limit not a finite number.
    """
    if not guard_db >= 0.0:
        raise OutOfRangeError("guard band [dB]", guard_db, 0.0, math.inf)
    limit = float(numbers("noise limit [dB(A)]", limit_dba, -100.0, 200.0))
    level = rounded_up_dba(level_dba)
    if level is None:
        return None
    if level > limit:
        return "above"
    return "within" if level + guard_db <= limit else "close"
