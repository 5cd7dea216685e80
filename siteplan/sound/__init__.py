"""Outdoor sound propagation, as plain functions of numbers."""

from siteplan.sound.assess import Assessment, assess, open_distance_m
from siteplan.sound.contours import Contour, Grid, contour_lines, level_grid
from siteplan.sound.limits import Preset, Quiet, preset, presets, rounded_up_dba, verdict
from siteplan.sound.propagation import Conditions, Propagation, propagation
from siteplan.sound.rating import power_dba
from siteplan.sound.receivers import along_boundary, before_windows
from siteplan.sound.screens import NO_SCREENS, Screens

__all__ = [
    "NO_SCREENS",
    "Assessment",
    "Conditions",
    "Contour",
    "Grid",
    "Preset",
    "Propagation",
    "Quiet",
    "Screens",
    "along_boundary",
    "assess",
    "before_windows",
    "contour_lines",
    "level_grid",
    "open_distance_m",
    "power_dba",
    "preset",
    "presets",
    "propagation",
    "rounded_up_dba",
    "verdict",
]
