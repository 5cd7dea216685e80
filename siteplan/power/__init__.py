"""Copper, cords, receptacles, loads, legs and fuel, as plain functions of numbers.

The names here are stable. Everything else lies in the module of its subject: `copper`,
`ampacity`, `cords`, `receptacles`, `loads`, `legs`, `motors`, `appliances`, `derating`, `fuel`,
`outage`, `wiring`, `ways` and `connection`.
"""

from siteplan.power.ampacity import cord_ampacity_a
from siteplan.power.copper import resistance_ohm_per_m
from siteplan.power.cords import smallest_gauge_awg, voltage_drop_v

__all__ = ["cord_ampacity_a", "resistance_ohm_per_m", "smallest_gauge_awg", "voltage_drop_v"]
