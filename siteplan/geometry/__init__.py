"""Shapes and numbers: clearances, routes, openness, traverses.

The public names load on first use, so that a program that measures a distance does not
also load the rest.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from siteplan.geometry.openness import blocked_share as blocked_share
    from siteplan.geometry.routes import Route as Route
    from siteplan.geometry.routes import shortest_route as shortest_route
    from siteplan.geometry.survey import Traverse as Traverse
    from siteplan.geometry.survey import traverse as traverse

_HOME = {
    "Route": "routes",
    "Traverse": "survey",
    "blocked_share": "openness",
    "shortest_route": "routes",
    "traverse": "survey",
}
__all__ = ["Route", "Traverse", "blocked_share", "shortest_route", "traverse"]


def __getattr__(name: str) -> object:
    """Load a public name from the module it lives in."""
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
