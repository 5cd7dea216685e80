"""Plots of the window."""
