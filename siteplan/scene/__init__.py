"""A plan resolved once into shapes."""

from siteplan.scene.resolve import Scene, Standing, resolve
from siteplan.scene.setting import Setting

__all__ = ["Scene", "Setting", "Standing", "resolve"]
