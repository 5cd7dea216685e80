"""Carbon monoxide from exhaust to blood, as plain functions of numbers.

An estimate of this package may raise a warning or its severity; it never permits a distance.
"""

from siteplan.air.bands import outdoor_ppm
from siteplan.air.blood import cohb_percent

__all__ = ["cohb_percent", "outdoor_ppm"]
