"""Carbon monoxide from exhaust to blood, as plain functions of numbers.

An estimate of this package may raise a warning or its severity; it never permits a distance.
"""

from siteplan.air.bands import outdoor_ppm
from siteplan.air.blood import cohb_percent
from siteplan.air.chain import follow
from siteplan.air.entry import exchange, room_ppm
from siteplan.air.source import source_rate
from siteplan.air.thresholds import CAUTION

__all__ = [
    "CAUTION",
    "cohb_percent",
    "exchange",
    "follow",
    "outdoor_ppm",
    "room_ppm",
    "source_rate",
]
