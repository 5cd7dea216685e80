"""A plan resolved once into shapes."""

from siteplan.scene.around import Near
from siteplan.scene.feeds import Feed
from siteplan.scene.resolve import Scene, Standing, resolve
from siteplan.scene.setting import Setting

__all__ = ["Feed", "Near", "Scene", "Setting", "Standing", "resolve"]
