"""Outdoor sound propagation, as plain functions of numbers."""

from siteplan.sound.propagation import Conditions, Propagation, propagation
from siteplan.sound.screens import NO_SCREENS, Screens

__all__ = ["NO_SCREENS", "Conditions", "Propagation", "Screens", "propagation"]
