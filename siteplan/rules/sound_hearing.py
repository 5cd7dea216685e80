"""One machine heard at many places of a scene, cautiously; the work behind `rules.sound`."""

from dataclasses import dataclass, fields
from functools import cached_property, lru_cache

import numpy as np

from siteplan.errors import OutOfRangeError
from siteplan.geometry.arrays import BoolArray, FloatArray, IntArray, as_segments
from siteplan.plan.machine import Machine, SoundRating
from siteplan.rules.common import accuracy_m
from siteplan.scene import Scene
from siteplan.scene.acoustics import Acoustics, Faces
from siteplan.sound import Screens, assess, power_dba
from siteplan.sound.assess import SOURCE_HEIGHT_M, TOO_NEAR_M
from siteplan.sound.propagation import LEAST_DISTANCE_M
from siteplan.sound.rating import UNSTATED_ALLOWANCE_DB
from siteplan.sound.reflection import BESIDE_M, beside_walls_db
from siteplan.sound.screens import Outline

# What the formulas take; no portable machine is quieter or louder.
LEAST_POWER_DBA, MOST_POWER_DBA = 40.0, 160.0
_FIRST_CHUNK = 16
# Farther places are heard from here, where more is heard; no formula goes to 10 km.
_FARTHEST_M = 9000.0
_TINY_M = 1e-9


@dataclass(frozen=True, eq=False)
class Prepared:
    """Screens of a place with the box around each, to leave out what is elsewhere."""

    screens: Screens

    @cached_property
    def _boxes(self) -> tuple[FloatArray, FloatArray]:
        return _boxes(self.screens.rows), _boxes(self.screens.buildings)

    def between(self, source: FloatArray, ears: FloatArray) -> Screens:
        """Return the screens whose box a straight path from the source to a place runs through."""
        legs = ears[:, :2] - source
        legs = np.where(np.abs(legs) < _TINY_M, _TINY_M, legs)
        rows, buildings = (_crossed(boxes, source, legs) for boxes in self._boxes)
        return self._only(rows, buildings)

    def beside(self, source: FloatArray, reach_m: float) -> Screens:
        """Return the screens whose box comes so near to the source."""
        low, high = source - reach_m, source + reach_m
        rows, buildings = (
            ((boxes[:, 0] <= high) & (boxes[:, 1] >= low)).all(axis=1) for boxes in self._boxes
        )
        return self._only(rows, buildings)

    def _only(self, rows: BoolArray, buildings: BoolArray) -> Screens:
        whole = self.screens
        return Screens(
            tuple(whole.rows[index] for index in np.flatnonzero(rows)),
            tuple(whole.buildings[index] for index in np.flatnonzero(buildings)),
            whole.wall_count,
        )


def _boxes(outlines: tuple[Outline, ...]) -> FloatArray:
    boxes = [(one.points.min(axis=0), one.points.max(axis=0)) for one in outlines]
    return as_segments(boxes)


def _crossed(boxes: FloatArray, source: FloatArray, legs: FloatArray) -> BoolArray:
    """Tell which boxes one of the paths runs through, by the share of it at each box's sides."""
    # Most of a town lies wholly aside of all paths and needs no closer look.
    low = source + np.minimum(legs.min(axis=0), 0.0)
    high = source + np.maximum(legs.max(axis=0), 0.0)
    crossed: BoolArray = ((boxes[:, 0] <= high) & (boxes[:, 1] >= low)).all(axis=1)
    to_sides = (boxes[crossed][:, np.newaxis] - source) / legs[:, np.newaxis]
    enters = to_sides.min(axis=2).max(axis=2)
    leaves = to_sides.max(axis=2).min(axis=2)
    crossed[crossed] = ((enters <= leaves) & (leaves >= 0.0) & (enters <= 1.0)).any(axis=1)
    return crossed


# A drag works on one place; undo and the papers on a few.
@lru_cache(maxsize=8)
def prepared(acoustics: Acoustics) -> tuple[Prepared, Prepared]:
    """Return screens and mirrors of a place, built once for as long as nothing still changes."""
    return _built(acoustics.screens), _built(acoustics.mirrors)


def _built(faces: Faces) -> Prepared:
    return Prepared(
        Screens.build(faces.wall_ends, faces.wall_heights_m, faces.rings, faces.ring_heights_m)
    )


def machine_power_dba(machine: Machine) -> tuple[float, bool]:
    """Return the sound power to reckon with [dB(A)], and whether it is only assumed.

    A figure that no machine can have is as good as none.
    """
    try:
        power, assumed = _rated_power_dba(machine.sound)
    except OutOfRangeError:
        return power_dba()
    if not LEAST_POWER_DBA <= power <= MOST_POWER_DBA:
        return power_dba()
    return power, assumed


def _rated_power_dba(rating: SoundRating | None) -> tuple[float, bool]:
    if rating is None:
        return power_dba()
    if rating.how == "guaranteed-sound-power":
        return power_dba(rating.level_dba)
    whole = bool(rating.full_load_all_sides)
    if rating.how == "sound-power":
        # The allowance for an unstated load holds for a power figure as for a level.
        power, assumed = power_dba(rating.level_dba)
        return power if whole else power + UNSTATED_ALLOWANCE_DB, assumed
    return power_dba(
        rated_dba=rating.level_dba,
        distance_m=rating.distance_m,
        full_load=whole,
        mean_of_sides=whole,
    )


@dataclass(frozen=True, eq=False)
class Levels:
    """What is heard at n places.

    Attributes
    ----------
    level_dba : FloatArray
        Level [dB(A)], at least this where too near.
    added_db, credit_db : FloatArray
        Added for walls beside the machine, taken off for a screen [dB].
    screen : IntArray
        Number of the screen credited at each place, -1 where none is; see `Faces.owners`.
    distance_m : FloatArray
        Distance in plan, the drawing's accuracy taken off [m].
    too_near, indoors : BoolArray
        Where nothing is modelled: nearer than 3 m, or inside a building that screens.
    """

    level_dba: FloatArray
    added_db: FloatArray
    credit_db: FloatArray
    screen: IntArray
    distance_m: FloatArray
    too_near: BoolArray
    indoors: BoolArray

    def only(self, place: int) -> "Levels":
        """Return what is heard at one of the places."""
        return Levels(*(getattr(self, one.name)[place : place + 1] for one in fields(self)))


@dataclass(frozen=True, eq=False)
class Hearing:
    """A machine of some sound power among its surroundings.

    Attributes
    ----------
    source : FloatArray
        Where it stands [m], shape (2,).
    power_dba : float
        Sound power [dB(A)].
    short_m : float
        Taken off every distance: the drawing's accuracy [m].
    acoustics : Acoustics
        What the sound meets.
    """

    source: FloatArray
    power_dba: float
    short_m: float
    acoustics: Acoustics

    def distances_m(self, ears: FloatArray) -> FloatArray:
        """Return distances in plan with the accuracy taken off [m], never under 0."""
        away = np.hypot(*(ears[:, :2] - self.source).T)
        return np.asarray(np.maximum(away - self.short_m, 0.0))

    def added_db(self, ears: FloatArray) -> FloatArray:
        """Return what walls beside the machine add [dB]."""
        around = prepared(self.acoustics)[1].beside(self.source, BESIDE_M)
        place = np.array([*self.source, SOURCE_HEIGHT_M])
        return np.asarray(beside_walls_db(place, ears, around))

    def bound_dba(self, ears: FloatArray) -> FloatArray:
        """Return at least what is heard over open hard ground without air absorption [dB(A)].

        ISO 9613-2 with G = 0: spreading, 3 dB from the ground at both ends, and up to 3 dB more
        from the middle. Told in one line so that far places can be passed over at once.
        """
        away, slant = self._shortened(ears)
        middle = 1.0 - 30.0 * (SOURCE_HEIGHT_M + ears[:, 2]) / np.maximum(away, 1.0)
        ground = 3.0 + 3.0 * np.maximum(middle, 0.0)
        return np.asarray(self.power_dba - 20.0 * np.log10(slant) - 11.0 + ground)

    def _shortened(self, ears: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return distances in plan and straight, the accuracy taken off, the latter 3 m or more."""
        away = self.distances_m(ears)
        return away, np.maximum(np.hypot(away, ears[:, 2] - SOURCE_HEIGHT_M), TOO_NEAR_M)

    def levels(self, ears: FloatArray) -> Levels:
        """Return what is heard at places, shape (n, 3) [m]."""
        ears = self._drawn_near(ears)
        return self._screened(ears, self.added_db(ears))

    def _drawn_near(self, ears: FloatArray) -> FloatArray:
        away = ears[:, :2] - self.source
        share = _FARTHEST_M / np.maximum(np.hypot(*away.T), _FARTHEST_M)
        return np.column_stack([self.source + away * share[:, None], ears[:, 2]])

    def _screened(self, ears: FloatArray, added: FloatArray) -> Levels:
        screens = prepared(self.acoustics)[0].between(self.source, ears)
        found = assess(self.source, ears, self.power_dba, screens)
        away, slant = self._shortened(ears)
        rise = ears[:, 2] - SOURCE_HEIGHT_M
        drawn = np.hypot(np.hypot(*(ears[:, :2] - self.source).T), rise)
        # Spreading alone: the air over the accuracy of a drawing is under 0.01 dB.
        nearer = 20.0 * np.log10(np.maximum(drawn, LEAST_DISTANCE_M) / slant)
        too_near = np.hypot(away, rise) < TOO_NEAR_M
        # A fence is not credited where walls beside the machine throw the sound over it.
        fence = (found.governing >= 0) & (found.governing < screens.wall_count)
        lost = too_near | (fence & (added > 0.0))
        credit = np.where(lost, 0.0, found.credit_db)
        return Levels(
            level_dba=found.open_dba + nearer + added - credit,
            added_db=added,
            credit_db=credit,
            screen=np.where(credit > 0.0, found.governing, -1),
            distance_m=away,
            too_near=too_near,
            indoors=found.indoors,
        )

    def loudest(self, ears: FloatArray) -> tuple[int, Levels] | None:
        """Return the place where most is heard, and what is heard there; None without places.

        Places are gone through by what they would hear without screens, and none is looked at
        that could not be the loudest: those far away cost nothing.
        """
        if not len(ears):
            return None
        ears = self._drawn_near(ears)
        added = self.added_db(ears)
        upper = self.bound_dba(ears) + added
        order = np.argsort(-upper, kind="stable")
        best, found, tried = -1, None, order[:_FIRST_CHUNK]
        rest = order[_FIRST_CHUNK:]
        while len(tried):
            here = self._screened(ears[tried], added[tried])
            top = int(np.argmax(here.level_dba))
            if found is None or here.level_dba[top] > found.level_dba[0]:
                best, found = int(tried[top]), here.only(top)
            hopeful = rest[upper[rest] > found.level_dba[0]]
            tried, rest = hopeful[: 8 * len(tried)], hopeful[8 * len(tried) :]
        return None if found is None else (best, found)


def hearing(scene: Scene) -> tuple[Hearing, bool] | None:
    """Return the machine as it is heard, and whether its sound power is only assumed."""
    standing = scene.standing
    if standing is None:
        return None
    power, assumed = machine_power_dba(standing.machine)
    place = np.asarray(standing.placement.at, dtype=np.float64)
    return Hearing(place, power, accuracy_m(scene.plan), scene.setting.acoustics), assumed
