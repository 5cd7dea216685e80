"""Copper, cords, receptacles, loads, legs and fuel, as plain functions of numbers."""
