"""Where the machine can stand, the best places, and what would change the answer.

The public names load on first use, as those of the geometry do.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from siteplan.suggest.ranked import Spots as Spots
    from siteplan.suggest.ranked import spots as spots
    from siteplan.suggest.side_by_side import Compared as Compared
    from siteplan.suggest.side_by_side import compare as compare
    from siteplan.suggest.tapes import set_out as set_out
    from siteplan.suggest.zone import StandingZone as StandingZone
    from siteplan.suggest.zone import standing_zone as standing_zone

_HOME = {
    "Compared": "side_by_side",
    "Spots": "ranked",
    "StandingZone": "zone",
    "compare": "side_by_side",
    "set_out": "tapes",
    "spots": "ranked",
    "standing_zone": "zone",
}
__all__ = ["Compared", "Spots", "StandingZone", "compare", "set_out", "spots", "standing_zone"]


def __getattr__(name: str) -> object:
    """Load a public name from the module it lives in."""
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
