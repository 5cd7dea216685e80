"""Outdoor sound propagation, as plain functions of numbers."""

from siteplan.sound.assess import Assessment, assess, window_height_m
from siteplan.sound.contours import Contour, Grid, contour_lines, level_grid
from siteplan.sound.limits import Preset, Quiet, preset, presets, rounded_up_dba, verdict
from siteplan.sound.propagation import Conditions, Propagation, propagation
from siteplan.sound.rating import power_dba
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
    "assess",
    "contour_lines",
    "level_grid",
    "power_dba",
    "preset",
    "presets",
    "propagation",
    "rounded_up_dba",
    "verdict",
    "window_height_m",
]
