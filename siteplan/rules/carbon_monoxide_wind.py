"""The wind of a plan: typed in or read from hourly weather, and how often it blows where.

It tells how often and never shortens a distance: wind turns, and still air is the worst.
"""

import math
from pathlib import Path

import numpy as np

from siteplan.air.dilution import WIND_FLOOR_M_S
from siteplan.air.wind import SECTORS, WindHours, WindRose, downwind_share, read_wind, wind_rose
from siteplan.plan.needs import Wind, WindSector
from siteplan.words import plain

_COUNTS = (4, 8, 16, 36)
_SAME_DEG = 1e-6
_MOST_TOGETHER = 1.02
_LONGEST_NAME = 120


def wind_from_file(path: str | Path) -> Wind:
    """Return the wind of an hourly weather file (EPW or TMY3) as a plan holds it.

    Raises
    ------
    WeatherFileError
        If it is no such file.
    OSError
        If it cannot be opened.
    """
    return wind_of(read_wind(path), Path(path).name)


def wind_of(hours: WindHours, origin: str) -> Wind:
    """Return hourly wind as a rose of 16 sectors, with the name of where it comes from."""
    rose = wind_rose(hours, SECTORS)
    width = 360.0 / SECTORS
    blowing = hours.speed_m_s >= WIND_FLOOR_M_S
    index = np.rint(hours.from_deg / width).astype(np.intp) % SECTORS
    sectors = []
    for place, share in enumerate(rose.shares):
        speeds = hours.speed_m_s[blowing & (index == place)]
        mean = min(float(speeds.mean()), 60.0) if speeds.size else 0.0
        sectors.append(WindSector(from_deg=place * width, share=share, speed_m_s=round(mean, 2)))
    return Wind(
        sectors=tuple(sectors),
        calm_share=rose.calm_share,
        origin=plain(origin, _LONGEST_NAME),
    )


def rose_of(wind: Wind) -> WindRose | None:
    """Return a plan's wind as a rose of equal sectors; None if its shares are over the whole.

    Hours the rose leaves out count as still, which is downwind of every opening.
    """
    together = math.fsum([wind.calm_share, *(one.share for one in wind.sectors)])
    if together > _MOST_TOGETHER:
        return None
    count = next((one for one in _COUNTS if _fits(wind, one)), _COUNTS[-1])
    shares = [0.0] * count
    calm = wind.calm_share + max(1.0 - together, 0.0)
    for one in wind.sectors:
        if one.speed_m_s < WIND_FLOOR_M_S:
            calm += one.share
        else:
            shares[round(one.from_deg / (360.0 / count)) % count] += one.share
    return WindRose(tuple(min(one, 1.0) for one in shares), min(calm, 1.0))


def _fits(wind: Wind, count: int) -> bool:
    width = 360.0 / count
    return all(
        abs(one.from_deg / width - round(one.from_deg / width)) * width < _SAME_DEG
        for one in wind.sectors
    )


def share_toward(rose: WindRose, bearing_deg: float) -> float:
    """Return the share of hours [0..1] in which a bearing from true north [°] lies downwind."""
    return downwind_share(rose, bearing_deg)
