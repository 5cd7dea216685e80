"""Shapes and numbers: clearances, routes, openness, traverses."""
