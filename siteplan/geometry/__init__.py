"""Shapes and numbers: clearances, routes, openness, traverses.

The public names load on first use, so that a program that measures a distance does not
also pay for the graph search of the routes.
"""
