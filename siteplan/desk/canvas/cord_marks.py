"""Cords on the canvas: as they lie, with the voltage they lose beside them."""

import math

from shapely import LineString

from siteplan.drawing import Marks
from siteplan.drawing.machine import machine_marks
from siteplan.drawing.marks import Label
from siteplan.plan import Plan
from siteplan.rules.power.currents import cord_drop, running
from siteplan.scene import Scene
from siteplan.scene.feeds import Feed
from siteplan.words import Manner, Quantity, Text


def live_machine_marks(plan: Plan, scene: Scene | None, manner: Manner) -> Marks:
    """Return the machine with its cords as they lie, and what each loses with all running."""
    if scene is None:
        return machine_marks(plan, manner)
    told = (_loss(feed, manner) for feed in scene.feeds)
    return (*machine_marks(plan, manner, scene.cord_runs), *(one for one in told if one))


def _loss(feed: Feed, manner: Manner) -> Label | None:
    """Return the loss of a cord, written at its middle; None while anything is missing for it."""
    lost = cord_drop(feed, running(feed).loop_a)
    way = (*feed.run.outdoors, *feed.run.indoors)
    if feed.run.trouble is not None or math.isinf(lost.most) or len(way) < 2:
        return None
    middle = LineString(way).interpolate(0.5, normalized=True)
    drop = Quantity(100.0 * lost.most, "percent", "up")
    text = Text("{drop} lost", {"drop": drop}).say(manner)
    at = (float(middle.x), float(middle.y))
    return Label(at, text, "cord-label", height_mm=2.0, shift_mm=(0.0, 2.5), boxed=True)
