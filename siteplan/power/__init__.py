"""Copper, cords, receptacles, loads, legs and fuel, as plain functions of numbers."""

from siteplan.power.copper import resistance_ohm_per_m
from siteplan.power.cords import cord_ampacity_a, smallest_gauge_awg, voltage_drop_v

__all__ = ["cord_ampacity_a", "resistance_ohm_per_m", "smallest_gauge_awg", "voltage_drop_v"]
