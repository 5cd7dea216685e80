"""Where a portable generator may stand on a lot, how its cords run, and why."""

__version__ = "0.1.0"
