"""Starts the window."""

from pathlib import Path


def run(plan_path: Path | None, *, language: str, units: str) -> int:
    """Open the window on a plan and return its exit code."""
    raise NotImplementedError(plan_path, language, units)
