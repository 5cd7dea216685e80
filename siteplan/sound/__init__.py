"""Outdoor sound propagation, as plain functions of numbers."""
