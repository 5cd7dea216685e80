"""Dimension lines to the nearest openings and buildings that keep their distance.

The review names the ones that do not; these show a reader what the placement rests on.
"""

import math
from collections.abc import Iterator

import numpy as np

from siteplan.drawing.machine import DISTANCE, spread
from siteplan.drawing.marks import Dimension, Marks
from siteplan.geometry.arrays import BoolArray, FloatArray, ShapeArray
from siteplan.geometry.clearance import witness_lines
from siteplan.rules.common import certain_m
from siteplan.rules.findings import Review
from siteplan.scene import Scene
from siteplan.words import Manner, length

_MOST = 3


def governing_marks(
    scene: Scene, review: Review, manner: Manner | None = None, most: int = _MOST
) -> Marks:
    """Return lines to the nearest openings and walls that no distance finding names.

    Parameters
    ----------
    scene : Scene
        The resolved plan the review is of.
    review : Review
        What it names is drawn by `review_marks`, and not again here.
    manner : Manner
        Language and units of the figures, which have the drawing's accuracy taken off.
    most : int
        How many lines at most; lines that run along one another count once.
    """
    manner = manner or Manner()
    named = {
        subject
        for finding in review.findings
        if finding.measured is not None and finding.measured.kind == "length"
        for subject in finding.subjects
    }
    setting, plan = scene.setting, scene.plan
    fresh_openings = np.array([one.id not in named for one in plan.openings], dtype=bool)
    fresh_buildings = np.array([one.id not in named for one in plan.buildings], dtype=bool)
    by_walls = setting.walled_for_openings
    lines = [
        *_nearest(scene, setting.openings, scene.opening_m, setting.counts & fresh_openings, most),
        *_nearest(scene, setting.walls, scene.wall_m, by_walls & fresh_buildings, 1),
    ]
    lines.sort(key=lambda line: line[0])
    marks = (
        Dimension(start, end, manner.show(length(certain_m(plan, away))), "distance-met")
        for away, start, end in lines
    )
    taken = [
        Dimension(one.points[0], one.points[1], "", DISTANCE[finding.signal])
        for finding in review.findings
        for one in finding.evidence
        if one.shape == "line" and len(one.points) == 2
    ]
    # Where faults are drawn already, what is well is of less use than room to read them.
    return tuple(spread(marks, max(0, most - len(taken)), taken))


def _nearest(
    scene: Scene, shapes: ShapeArray, distance_m: FloatArray, counts: BoolArray, most: int
) -> Iterator[tuple[float, tuple[float, float], tuple[float, float]]]:
    if scene.standing is None or not len(shapes):
        return
    away = np.where(counts & np.isfinite(distance_m), distance_m, np.inf)
    order = [int(index) for index in np.argsort(away, kind="stable")[: 3 * most]]
    order = [index for index in order if math.isfinite(away[index])]
    for index, line in zip(order, witness_lines(scene.standing.reach, shapes[order]), strict=True):
        (ax, ay), (bx, by) = line.tolist()
        yield float(away[index]), (ax, ay), (bx, by)
