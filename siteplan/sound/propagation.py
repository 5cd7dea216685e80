"""Levels at receivers in the open, ISO 9613-2: spreading, air, ground, screens, reflections."""

from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from siteplan.sound.air_absorption import absorption_db_per_m
from siteplan.sound.checks import Array, Numbers, numbers, shaped
from siteplan.sound.cuts import Cuts, find_cuts
from siteplan.sound.ground import Edition, alternative_ground_dba, ground_db, solid_angle_db
from siteplan.sound.levels import OCTAVES_HZ, a_weighted_dba
from siteplan.sound.reflection import images
from siteplan.sound.screening import (
    SPEED_M_PER_S,
    capped_db,
    combined_db,
    joined_db,
    screen_db,
    side_db,
)
from siteplan.sound.screens import NO_SCREENS, Rows, Screens

LEAST_DISTANCE_M: Final = 1.0
"""Nearer than this the spreading formula is not used (common practice)."""

# Pairs of a receiver and a face held in memory at once.
_PAIRS_AT_ONCE = 200_000


@dataclass(frozen=True)
class Conditions:
    """Ground, air and edition of a calculation; downwind weather is built into the method.

    Attributes
    ----------
    ground : tuple of three array_like
        Ground factors of the source, middle and receiver region, each 0 (hard) to 1 (soft), or
        one per receiver. Hard by default: snow-free, dry, untrodden lawn cannot be counted on.
    ground_method : {"general", "alternative"}
        The alternative is for mostly porous ground and only A-weighted totals.
    temperature_c, humidity_percent, pressure_kpa : float
        Air [°C, %, kPa].
    edition : {"1996", "2024"}
        Edition of ISO 9613-2.
    """

    ground: tuple[Numbers, Numbers, Numbers] = (0.0, 0.0, 0.0)
    ground_method: Literal["general", "alternative"] = "general"
    temperature_c: float = 10.0
    humidity_percent: float = 70.0
    pressure_kpa: float = 101.325
    edition: Edition = "1996"


DEFAULT_CONDITIONS = Conditions()


@dataclass(frozen=True)
class Propagation:
    """Levels at n receivers.

    Attributes
    ----------
    bands_db : ndarray, shape (n, 8)
        Octave band levels [dB], 63 Hz to 8 kHz.
    level_dba : ndarray, shape (n,)
        A-weighted levels [dB(A)].
    open_dba : ndarray, shape (n,)
        The same without any screen [dB(A)].
    governing : ndarray of int, shape (n,)
        Number of the screen credited, -1 where none is; walls first, then buildings.
    """

    bands_db: Array
    level_dba: Array
    open_dba: Array
    governing: Rows


@dataclass(frozen=True)
class Trace:
    """Levels without screens, and behind each screen by itself.

    Attributes
    ----------
    open_db : ndarray, shape (n, 8)
        Octave band levels without screens [dB].
    cuts : Cuts
        The p pairs of receiver and screen.
    behind_db : ndarray, shape (p, 8)
        Octave band levels behind that screen alone [dB].
    """

    open_db: Array
    cuts: Cuts
    behind_db: Array


def spreading_db(distance_m: Numbers) -> Array:
    """Return Adiv [dB], the loss by spreading over a sphere.

    Parameters
    ----------
    distance_m : array_like
        Straight distance [m]; under 1 m it counts as 1 m.

    Notes
    -----
    ISO 9613-2:1996 eq. 7, read second-hand.
    """
    d = np.maximum(np.asarray(distance_m, dtype=np.float64), LEAST_DISTANCE_M)
    return np.asarray(20.0 * np.log10(d) + 11.0)


def _path_loss_db(plan_m: Array, hs: Array, hr: Array, how: Conditions) -> tuple[Array, Array]:
    """Return Adiv + Aatm and the ground term of paths over open ground, each (n, 8)."""
    slant = np.hypot(plan_m, hr - hs)
    air = absorption_db_per_m(how.temperature_c, how.humidity_percent, how.pressure_kpa)
    loss = spreading_db(slant)[:, np.newaxis] + slant[:, np.newaxis] * air
    if how.ground_method == "general":
        return loss, ground_db(plan_m, hs, hr, how.ground, how.edition)
    reach = np.maximum(slant, LEAST_DISTANCE_M)
    ground = alternative_ground_dba(reach, (hs + hr) / 2.0) - solid_angle_db(plan_m, hs, hr)
    return loss, np.repeat(ground[:, np.newaxis], 8, axis=1)


def _screened_db(cuts: Cuts, ground: Array, edition: Edition) -> Array:
    """Return ground and screen attenuation behind each screen by itself [dB], (p, 8)."""
    over = screen_db(
        cuts.detour_m, cuts.to_source_m, cuts.to_receiver_m, cuts.depth_m, edition=edition
    )
    paths = [joined_db(capped_db(over, cuts.depth_m), ground)]
    for way in (0, 1):
        round_it = side_db(cuts.side_detours_m[:, way], cuts.side_depths_m[:, way])
        paths.append(round_it + ground)
    total = combined_db(paths, ground)
    # A screen narrower than the wavelength lets that band pass.
    width = cuts.side_reaches_m.sum(axis=1)[:, np.newaxis]
    return np.where(width > SPEED_M_PER_S / OCTAVES_HZ, total, ground)


@dataclass(frozen=True)
class Task:
    """One source among its surroundings.

    Attributes
    ----------
    source : ndarray, shape (3,)
        Place in plan and height [m].
    power_db : ndarray, shape (8,)
        Octave band sound power levels [dB].
    screens : Screens
        Walls and buildings.
    conditions : Conditions
        Ground, air and edition.
    top_m : float
        Height that a screen must hide [m].
    """

    source: Array
    power_db: Array
    screens: Screens
    conditions: Conditions
    top_m: float

    @classmethod
    def checked(
        cls, source: Numbers, power_db: Numbers, screens: Screens, how: Conditions, top_m: float
    ) -> "Task":
        """Return a task after checking its numbers."""
        place = numbers("source [m]", source, -1e6, 1e6)
        power = numbers("sound power [dB]", power_db, -1000.0, 200.0)
        if place.shape != (3,) or power.shape != (8,):
            msg = "the source has three numbers and the sound power eight bands"
            raise ValueError(msg)
        top = float(numbers("height of the set [m]", top_m, 0.0, 200.0))
        return cls(place, power, screens, how, top)

    def parts(self, receivers: Array) -> "list[tuple[Array, Task]]":
        """Return the receivers in parts small enough for the memory, each with its task."""
        step = max(1, _PAIRS_AT_ONCE // max(1, len(self.screens.edges)))
        count = len(receivers)
        cuts = [slice(start, start + step) for start in range(0, max(count, 1), step)]
        return [(receivers[cut], self.at(count, cut)) for cut in cuts]

    def at(self, count: int, some: slice | Rows) -> "Task":
        """Return the task for some of its receivers, each with its own ground."""
        source, middle, receiver = (
            np.broadcast_to(numbers("ground factor", g, 0.0, 1.0), (count,))[some]
            for g in self.conditions.ground
        )
        return replace(self, conditions=replace(self.conditions, ground=(source, middle, receiver)))


def trace(task: Task, receivers: Array) -> Trace:
    """Return the levels at receivers, shape (n, 3), without screens and behind each by itself."""
    source, how = task.source, task.conditions
    plan = np.hypot(*(receivers[:, :2] - source[:2]).T)
    loss, ground = _path_loss_db(plan, np.full(len(plan), source[2]), receivers[:, 2], how)
    before_ground = task.power_db - loss
    cuts = find_cuts(source, receivers, task.screens, task.top_m)
    behind = before_ground[cuts.receiver] - _screened_db(cuts, ground[cuts.receiver], how.edition)
    return Trace(before_ground - ground, cuts, behind)


def least_of(values: Array, receiver: Rows) -> Rows:
    """Return, for each receiver that has rows, the row with its least value."""
    order = np.lexsort((values, receiver))
    _, first = np.unique(receiver[order], return_index=True)
    return np.asarray(order[first])


def _governed(found: Trace) -> tuple[Array, Rows]:
    """Return levels behind the one screen that weakens most, and its number."""
    bands, governing = found.open_db.copy(), np.full(len(found.open_db), -1)
    behind = a_weighted_dba(found.behind_db)
    best = least_of(behind, found.cuts.receiver)
    at = found.cuts.receiver[best]
    helps = behind[best] < a_weighted_dba(found.open_db)[at]
    bands[at[helps]] = found.behind_db[best[helps]]
    governing[at[helps]] = found.cuts.obstacle[best[helps]]
    return bands, governing


def _with_images(bands: Array, task: Task, receivers: Array, factor: float) -> Array:
    """Return the levels with the mirror images of the source in all faces added."""
    found = images(task.source, receivers, task.screens)
    hs, hr = np.full(len(found.receiver), task.source[2]), receivers[found.receiver, 2]
    how = task.at(len(receivers), found.receiver).conditions
    loss, ground = _path_loss_db(found.plan_m, hs, hr, how)
    mirrored = task.power_db + 10.0 * np.log10(factor) - loss - ground
    energy = np.where(found.counts, 10.0 ** (mirrored / 10.0), 0.0)
    total = 10.0 ** (bands / 10.0)
    np.add.at(total, found.receiver, energy)
    return np.asarray(10.0 * np.log10(total))


def propagation(
    source: Numbers,
    receivers: Numbers,
    power_db: Numbers,
    screens: Screens = NO_SCREENS,
    *,
    conditions: Conditions = DEFAULT_CONDITIONS,
    top_height_m: float | None = None,
    reflection_factor: float = 0.0,
) -> Propagation:
    """Return the levels of one source at many receivers, by ISO 9613-2 in octave bands.

    Each receiver is credited with one screen only: the one that, by itself and with the ways
    round both its ends, weakens the A-weighted level most. Others on the same path could only
    weaken it further, so the level is not understated by leaving them out.

    Parameters
    ----------
    source : array_like, shape (3,)
        Place in plan and height over the ground [m].
    receivers : array_like, shape (n, 3)
        The same of the receivers; at windows stand them 0.5 m off the wall, for a path that ends
        on or inside a building is not screened by it.
    power_db : array_like, shape (8,)
        Octave band sound power levels, 63 Hz to 8 kHz [dB], not A-weighted.
    screens : Screens
        Walls and buildings, from `Screens.build`.
    conditions : Conditions
        Ground, air and edition.
    top_height_m : float, optional
        Height that a screen must hide [m], if other than the height of the source.
    reflection_factor : float
        Energy share thrown back by walls and buildings: 1 flat and hard, 0.8 with windows. First
        reflections are added as image sources, themselves unscreened. 0 leaves them out.

    Returns
    -------
    Propagation

    Raises
    ------
    OutOfRangeError
        If a number is outside its range: heights 0 to 200 m, distances up to 10 km, ground
        factors 0 to 1, reflection factor 0 to 1.
    ValueError
        If shapes do not match.

    Notes
    -----
    ISO 9613-2:1996 eq. 3 to 18 with the joining rules of ISO/TR 17534-3:2015, both read
    second-hand; the cases T01 to T09 and T13 of the latter are met within 0.05 dB. The standard
    claims ±3 dB for low sources up to 1 km (table 5, from memory) and was not tested under 7 m.
    """
    ears = shaped("receiver [m]", receivers, (3,))
    factor = float(numbers("reflection factor", reflection_factor, 0.0, 1.0))
    top = float(np.asarray(source)[2]) if top_height_m is None else top_height_m
    whole = Task.checked(source, power_db, screens, conditions, top)
    done = []
    for part, task in whole.parts(ears):
        found = trace(task, part)
        bands, governing = _governed(found)
        if factor > 0.0:
            bands = _with_images(bands, task, part, factor)
        done.append((bands, a_weighted_dba(bands), a_weighted_dba(found.open_db), governing))
    return Propagation(*(np.concatenate(column) for column in zip(*done, strict=True)))
