"""Outlets and plugs of the plan, by the book of receptacles."""

from siteplan.power.receptacles import Receptacle, receptacles
from siteplan.scene.feeds import Feed


def configuration(text: str) -> Receptacle | None:
    """Return the receptacle of a configuration such as "L14-30", or None if it is not known."""
    return receptacles().get(text.strip().upper().removesuffix("R").removesuffix("P"))


def kind_of(feed: Feed) -> Receptacle | None:
    """Return what the cord's outlet is, if it is known."""
    return None if feed.outlet is None else configuration(feed.outlet.configuration)
