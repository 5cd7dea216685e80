"""Hourly wind from weather files, and how often an opening lies downwind.

It informs and never shortens a distance: wind turns, and still air is the worst case.
"""

import csv
import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

import numpy as np

from siteplan.air.checks import FloatArray, positive, within
from siteplan.air.dilution import WIND_FLOOR_M_S
from siteplan.errors import SiteplanError

HALF_ANGLE_DEG = 45.0
"""An opening within this angle of where the wind blows to counts as downwind (proposal, after the
45° within which ASHRAE 62.1 takes an exhaust to point at an intake, from memory)."""
SECTORS = 16

_LARGEST_BYTES = 30_000_000


class WeatherFileError(SiteplanError, ValueError):
    """A weather file that cannot be read, with the reason."""


class WindHours(NamedTuple):
    """Hourly wind.

    Attributes
    ----------
    speed_m_s : ndarray, shape (n,)
        Mean speed of each hour [m/s].
    from_deg : ndarray, shape (n,)
        Direction the wind comes from, clockwise from north [deg].
    missing : int
        Hours left out because a figure was missing.
    """

    speed_m_s: FloatArray
    from_deg: FloatArray
    missing: int


def _wind_columns(head: Sequence[Sequence[str]]) -> tuple[int, int, int]:
    """Return the first data row, and the columns of direction and speed."""
    if head and head[0] and head[0][0].strip().upper() == "LOCATION":
        return 8, 20, 21  # EPW: eight header lines; fields 21 and 22
    names = [name.strip().lower() for name in head[1]] if len(head) > 1 else []
    if "wdir (degrees)" in names and "wspd (m/s)" in names:
        return 2, names.index("wdir (degrees)"), names.index("wspd (m/s)")
    raise WeatherFileError("this is neither an EPW nor a TMY3 weather file")


def _pair(row: Sequence[str], line: int, columns: tuple[int, int]) -> tuple[float, float]:
    try:
        direction, speed = (float(row[column]) for column in columns)
    except (IndexError, ValueError):
        raise WeatherFileError(
            "line {line} of the weather file has no wind in it", line=str(line)
        ) from None
    return direction, speed


def _known(direction: float, speed: float) -> bool:
    # Both formats mark what is missing by a figure far outside: 999 or -9900.
    return 0.0 <= direction <= 360.0 and 0.0 <= speed < 100.0


def read_wind(path: str | Path) -> WindHours:
    """Read the wind of an hourly weather file.

    Parameters
    ----------
    path : str or Path
        An EPW or a TMY3 file, at most 30 MB.

    Returns
    -------
    WindHours
        All hours whose wind is known.

    Raises
    ------
    WeatherFileError
        If the file is too large, is of neither kind, has a broken line or no known wind.
    OSError
        If the file cannot be opened.

    Notes
    -----
    Sources: EnergyPlus Auxiliary Programs (EPW: fields 21 and 22, missing 999) and
    NREL/TP-581-43156 (TMY3: named columns, missing -9900), both from memory.
    """
    place = Path(path)
    if place.stat().st_size > _LARGEST_BYTES:
        raise WeatherFileError("the weather file is larger than 30 MB")
    text = place.read_text(encoding="utf-8-sig", errors="replace")
    try:
        rows = list(csv.reader(text.splitlines()))
    except csv.Error as reason:
        raise WeatherFileError(
            "the weather file is no table of figures: {why}", why=str(reason)
        ) from None
    first, *columns = _wind_columns(rows[:2])
    pairs = [
        _pair(row, line, (columns[0], columns[1]))
        for line, row in enumerate(rows[first:], start=first + 1)
        if row
    ]
    kept = [pair for pair in pairs if _known(*pair)]
    if not kept:
        raise WeatherFileError("the weather file has no hour with a known wind")
    direction, speed = np.array(kept, dtype=np.float64).T
    return WindHours(speed, direction % 360.0, len(pairs) - len(kept))


@dataclass(frozen=True, slots=True)
class WindRose:
    """Shares of time by the direction the wind comes from.

    Attributes
    ----------
    shares : tuple of float
        Share of each sector [0..1], clockwise; the first is centred on north.
    calm_share : float
        Share of still air [0..1].

    Raises
    ------
    OutOfRangeError
        If a share is outside 0 to 1, or all shares together are not 1 within 2 %.
    """

    shares: tuple[float, ...]
    calm_share: float

    def __post_init__(self) -> None:
        within("share of a sector", [*self.shares, self.calm_share], 0.0, 1.0)
        within("all shares together", math.fsum(self.shares) + self.calm_share, 0.98, 1.02)

    @property
    def sector_deg(self) -> float:
        """Width of a sector [deg]."""
        return 360.0 / len(self.shares)


def wind_rose(hours: WindHours, sectors: int = SECTORS) -> WindRose:
    """Return the wind rose of hourly wind.

    Parameters
    ----------
    hours : WindHours
        At least one hour.
    sectors : int
        Number of sectors, 4 to 36.

    Returns
    -------
    WindRose
        Hours under 0.5 m/s are calm, whatever direction the file gives them.

    Raises
    ------
    OutOfRangeError
        If the number of sectors is outside its range.
    """
    count = int(within("number of sectors", sectors, 4, 36))
    calm = hours.speed_m_s < WIND_FLOOR_M_S
    index = np.rint(hours.from_deg[~calm] / (360.0 / count)).astype(np.intp) % count
    shares = np.bincount(index, minlength=count) / calm.size
    return WindRose(tuple(shares.tolist()), float(calm.mean()))


def _overlap_deg(offset_deg: float, half_sector: float, half_angle: float) -> float:
    """Return how much of a sector, its centre offset_deg away, lies within ±half_angle."""
    low = max(offset_deg - half_sector, -half_angle)
    high = min(offset_deg + half_sector, half_angle)
    return max(high - low, 0.0)


def downwind_share(
    rose: WindRose, bearing_deg: float, half_angle_deg: float = HALF_ANGLE_DEG
) -> float:
    """Return how much of the time an opening lies downwind of the machine.

    Parameters
    ----------
    rose : WindRose
        Typed in, or from `wind_rose`.
    bearing_deg : float
        Direction from the machine to the opening, clockwise from north [deg].
    half_angle_deg : float
        Half the angle that counts as downwind [deg], above 0 to 90.

    Returns
    -------
    float
        Share [0..1]; still air counts as downwind of every opening. A sector counts by the part
        of it that lies within the angle.

    Raises
    ------
    OutOfRangeError
        If the angle is outside its range.
    """
    half_angle = positive("half angle [deg]", half_angle_deg, 90.0)
    blows_from = bearing_deg + 180.0
    total = rose.calm_share
    for index, share in enumerate(rose.shares):
        offset = (index * rose.sector_deg - blows_from + 180.0) % 360.0 - 180.0
        overlap = _overlap_deg(offset, rose.sector_deg / 2.0, half_angle)
        total += share * overlap / rose.sector_deg
    return min(total, 1.0)
