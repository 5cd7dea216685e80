"""Which way the exhaust may point at many places at once: a quick look before the real one."""

import math
from dataclasses import dataclass

import numpy as np
import shapely

from siteplan.geometry.arrays import BoolArray, FloatArray
from siteplan.rules.book import rule
from siteplan.rules.common import accuracy_m
from siteplan.scene import Scene
from siteplan.suggest.zone import aimed_at

TURNS = 24
"""Directions tried: every 15°."""


@dataclass(frozen=True, slots=True, eq=False)
class Bearings:
    """How the exhaust may point, by place and direction.

    Attributes
    ----------
    exhaust_deg : FloatArray
        The directions tried, clockwise from the drawing's top [°], shape (t,).
    barred, cautioned : BoolArray
        Where a WARNING, or a CAUTION, may be found, shape (places, t).
    off_deg : FloatArray
        Least angle between the axis and anything near, shape (places, t).
    """

    exhaust_deg: FloatArray
    barred: BoolArray
    cautioned: BoolArray
    off_deg: FloatArray

    def best(self, allowed: BoolArray) -> FloatArray:
        """Return the allowed direction that points farthest from everything [°], nan if none."""
        off = np.where(allowed, self.off_deg, -1.0)
        found = self.exhaust_deg[off.argmax(axis=1)]
        return np.where(allowed.any(axis=1), found, np.nan)


def bearings(scene: Scene, places: FloatArray, outlet_m: float) -> Bearings:
    """Return which way the exhaust may point at places (n, 2) [m].

    Judged from the machine's middle with `outlet_m` [m], how far the outlet may lie from it,
    added to the drawing's accuracy; so what is not barred here is not barred there.
    """
    figure = rule("exhaust-direction").figure
    exhaust = np.arange(TURNS) * (360.0 / TURNS)
    barred = np.zeros((len(places), TURNS), dtype=np.bool_)
    cautioned, off_deg = barred.copy(), np.full(barred.shape, 180.0)
    slack = accuracy_m(scene.plan) + outlet_m
    for own in (True, False):
        away, angle = _angles(scene, places, exhaust, own=own)
        doubt = np.degrees(np.arcsin(np.clip(slack / np.maximum(away, 1e-9), 0.0, 1.0)))
        angle -= np.where(away <= slack, 180.0, doubt)[..., None]
        near = (away - slack < figure("far_m" if own else "near_m"))[..., None]
        far = (away - slack < figure("far_m"))[..., None]
        barred |= (near & (angle < figure("away_deg"))).any(axis=1)
        cautioned |= (far & (angle < figure("aimed_deg"))).any(axis=1)
        off_deg = np.minimum(off_deg, np.where(far, angle, 180.0).min(axis=1, initial=180.0))
    return Bearings(exhaust, barred, cautioned | barred, off_deg)


def _angles(
    scene: Scene, places: FloatArray, exhaust_deg: FloatArray, *, own: bool
) -> tuple[FloatArray, FloatArray]:
    """Return distance to each thing [m], (n, k), and angle off each axis [°], (n, k, t)."""
    outlines, openings = aimed_at(scene, own=own)
    things = np.concatenate([scene.setting.walls[outlines], scene.setting.openings[openings]])
    points = np.asarray(shapely.points(places), dtype=np.object_)
    lines = shapely.shortest_line(points[:, None], things[None])
    ends = shapely.get_coordinates(lines.ravel()).reshape(len(places), len(things), 2, 2)
    toward = ends[:, :, 1] - ends[:, :, 0]
    away = np.hypot(toward[..., 0], toward[..., 1])
    bearing = np.arctan2(toward[..., 0], toward[..., 1])
    turn = np.radians(exhaust_deg) - bearing[..., None]
    angle = np.degrees(np.abs(np.mod(turn + math.pi, 2.0 * math.pi) - math.pi))
    return away, angle
