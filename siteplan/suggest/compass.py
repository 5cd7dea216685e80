"""Directions in words."""

from siteplan.plan.document import Plan
from siteplan.words import Text

_POINT_WORDS = (
    "north",
    "north-east",
    "east",
    "south-east",
    "south",
    "south-west",
    "west",
    "north-west",
)


def compass_text(plan: Plan, turn_deg: float) -> Text:
    """Return the nearest of eight points of the compass to a turn from the drawing's top [°]."""
    true_deg = (turn_deg - plan.north_deg) % 360.0
    return Text(_POINT_WORDS[round(true_deg / 45.0) % 8])
