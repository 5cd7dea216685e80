"""What bars each of a sample of places: for telling why nothing passes, and what is least bad."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from siteplan.geometry.arrays import BoolArray, FloatArray, ShapeArray
from siteplan.geometry.zones import room_within
from siteplan.rules.findings import severity
from siteplan.scene import Scene
from siteplan.suggest.bars import TOUCH_M, bars
from siteplan.suggest.bearings import Bearings, bearings
from siteplan.suggest.search import radius_m, round_shape, sampled, walled_at

_SAMPLES = 260


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """How one thing bars the places by one rule.

    Attributes
    ----------
    rule, subject : str
        The rule's id and the thing's.
    weight : int
        4 for DANGER, 3 for WARNING.
    short_m : FloatArray
        By how much each place falls short of the distance [m]; 0 or less where it does not.
    """

    rule: str
    subject: str
    weight: int
    short_m: FloatArray


@dataclass(frozen=True)
class Survey:
    """A sample of the ground on which the whole machine finds room, and what bars it."""

    scene: Scene

    @cached_property
    def places(self) -> FloatArray:
        """The sample, shape (n, 2) [m]."""
        lot = self.scene.setting.lot
        if lot is None:
            return np.empty((0, 2))
        room = room_within(lot, round_shape(self.scene).frame, TOUCH_M)
        return sampled(room if not room.is_empty else lot, _SAMPLES)

    @cached_property
    def columns(self) -> tuple[Column, ...]:
        """Every thing that bars any place at WARNING or worse, by rule."""
        measured: dict[int, FloatArray] = {}
        points = np.asarray(shapely.points(self.places), dtype=np.object_)
        reach, found = radius_m(self.scene), []
        for bar in bars(self.scene):
            if severity(bar.signal) < severity("WARNING"):
                continue
            for name, shape, keep in zip(bar.subjects, bar.shapes, bar.distance_m, strict=True):
                away = _distance_m(measured, shape, points)
                short = float(keep) + reach - away
                if (short > 0.0).any():
                    found.append(Column(bar.rule, name, severity(bar.signal), short))
        return tuple(found)

    @cached_property
    def ways(self) -> Bearings:
        """How the exhaust may point at the places."""
        return bearings(self.scene, self.places, radius_m(self.scene))

    @cached_property
    def walled(self) -> BoolArray:
        """Where walls stand round the machine."""
        return walled_at(self.scene, self.places)

    @cached_property
    def barred_by(self) -> dict[str, BoolArray]:
        """Which places each rule bars."""
        found: dict[str, BoolArray] = {}
        for one in self.columns:
            held = found.setdefault(one.rule, np.zeros(len(self.places), dtype=np.bool_))
            held |= one.short_m > 0.0
        found["walled-in"] = self.walled
        found["exhaust-direction"] = self.ways.barred.all(axis=1)
        return found


def _distance_m(
    measured: dict[int, FloatArray], shape: BaseGeometry, points: ShapeArray
) -> FloatArray:
    if id(shape) not in measured:
        measured[id(shape)] = np.asarray(shapely.distance(points, shape), dtype=np.float64)
    return measured[id(shape)]
