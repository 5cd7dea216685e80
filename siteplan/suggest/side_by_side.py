"""The placements of a plan side by side, for window, command line and paper."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from siteplan.geometry.arrays import FloatArray
from siteplan.plan.document import Plan
from siteplan.plan.labels import label
from siteplan.plan.machine import Placement
from siteplan.rules import missing, review_scene
from siteplan.rules.common import certain_m
from siteplan.rules.findings import SIGNALS, Signal
from siteplan.rules.sound import loudest
from siteplan.scene import Scene, resolve
from siteplan.suggest.compass import compass_text
from siteplan.words import Quantity, Text, Value, length

COMPARE_TITLES = (
    "Place",
    "Worst",
    "DANGER",
    "WARNING",
    "CAUTION",
    "NOTICE",
    "Not judged",
    "Nearest opening",
    "Nearest dwelling",
    "Cords",
    "Loudest at boundary",
    "Exhaust blows",
)
_NOTHING = Text("–")
_NONE = Text("none found")


@dataclass(frozen=True, slots=True)
class Compared:
    """One placement beside the others.

    Attributes
    ----------
    placement : Placement
        Which.
    worst : str or None
        Its worst signal word.
    counts : mapping
        Findings by signal word.
    unjudged : int
        What could not be judged.
    opening_m, dwelling_m : float or None
        To the nearest opening that counts, and the nearest wall of a dwelling or of what is
        attached to one, the drawing's accuracy taken off [m].
    cord_m : float or None
        All its cords as they lie, with what they climb [m]; None without a cord or a way.
    boundary_dba : float or None
        Cautious level at the loudest place of the boundary [dB(A)].
    exhaust_deg : float or None
        Which way its exhaust leaves [°]; None while nobody has said on which side it is.
    """

    placement: Placement
    worst: Signal | None
    counts: Mapping[Signal, int]
    unjudged: int
    opening_m: float | None
    dwelling_m: float | None
    cord_m: float | None
    boundary_dba: float | None
    exhaust_deg: float | None


def compare(plan: Plan, scene: Scene | None = None) -> tuple[Compared, ...]:
    """Return every placement judged, in the order of the plan; none without a machine.

    Parameters
    ----------
    plan : Plan
        With a machine and placements.
    scene : Scene, optional
        The plan already resolved; its shapes are used again.
    """
    if plan.machine is None:
        return ()
    return tuple(_compared(plan, one, scene) for one in plan.placements)


def _compared(plan: Plan, placement: Placement, previous: Scene | None) -> Compared:
    scene = resolve(plan.model_copy(update={"chosen": placement.id}), previous)
    standing = scene.standing
    assert standing is not None  # noqa: S101 - machine and placement are there
    found = review_scene(scene)
    heard = loudest(scene, "boundary")
    return Compared(
        placement=placement,
        worst=found.worst,
        counts={one: sum(f.signal == one for f in found.findings) for one in SIGNALS},
        unjudged=missing.open_count(found),
        opening_m=_nearest_m(plan, scene.opening_m[scene.setting.counts]),
        dwelling_m=_nearest_m(plan, scene.wall_m[scene.setting.occupied]),
        cord_m=_cords_m(scene),
        boundary_dba=None if heard is None else heard.level_dba,
        exhaust_deg=None if standing.machine.exhaust_side is None else standing.exhaust_deg,
    )


def _nearest_m(plan: Plan, distance_m: FloatArray) -> float | None:
    return certain_m(plan, float(distance_m.min())) if len(distance_m) else None


def _cords_m(scene: Scene) -> float | None:
    total = float(np.sum([run.laid_m for run in scene.cord_runs]))
    return total if scene.cord_runs and np.isfinite(total) else None


def cells(plan: Plan, row: Compared) -> tuple[Value, ...]:
    """Return a row of the table under `COMPARE_TITLES`."""
    level = row.boundary_dba
    return (
        label(row.placement),
        _NONE if row.worst is None else Text(row.worst),
        *(row.counts[one] for one in SIGNALS),
        row.unjudged,
        _length(row.opening_m),
        _length(row.dwelling_m),
        _NOTHING if row.cord_m is None else length(row.cord_m, "up"),
        _NOTHING if level is None else Quantity(level, "level", "up"),
        _NOTHING if row.exhaust_deg is None else compass_text(plan, row.exhaust_deg),
    )


def _length(value_m: float | None) -> Value:
    return _NOTHING if value_m is None else length(value_m)
