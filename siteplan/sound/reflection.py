"""First reflections in walls: image sources, and a simple upper bound."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from siteplan.sound.checks import Array
from siteplan.sound.levels import OCTAVES_HZ
from siteplan.sound.screening import SPEED_M_PER_S
from siteplan.sound.screens import Rows, Screens

BESIDE_M: Final = 3.0
"""A wall within this distance of the set lifts the level (a proposal of this project)."""

LEAST_WALL_M: Final = 1.0
"""Lower walls are left out of the simple bound (a proposal of this project)."""

PER_WALL_DB: Final = 3.0
"""A wall at most doubles the energy (derived: image source at the same distance)."""

_MOST_WALLS = 3
_ONE_DIRECTION = float(np.cos(np.radians(30.0)))


@dataclass(frozen=True)
class Images:
    """One row for each pair of a receiver and a face that mirrors the source to it; p rows.

    Attributes
    ----------
    receiver : ndarray of int, shape (p,)
        Which receiver.
    plan_m : ndarray, shape (p,)
        Distance in plan from the image to the receiver [m].
    counts : ndarray of bool, shape (p, 8)
        In which octave bands the face is large enough to mirror.
    """

    receiver: Rows
    plan_m: Array
    counts: Array


def _normals(edges: Array) -> tuple[Array, Array]:
    """Return lengths [m] and unit normals of faces."""
    along = edges[:, 1] - edges[:, 0]
    length = np.maximum(np.hypot(*along.T), 1e-9)
    return length, np.stack([-along[:, 1], along[:, 0]], axis=1) / length[:, np.newaxis]


def images(source: Array, receivers: Array, screens: Screens) -> Images:
    """Return the mirror images of a source that receivers see in walls and buildings.

    Parameters
    ----------
    source : ndarray, shape (3,)
        Place in plan and height [m].
    receivers : ndarray, shape (n, 3)
        Receivers [m].
    screens : Screens
        Faces that mirror.

    Notes
    -----
    ISO 9613-2:1996 clause 7.5, from memory: a face counts in a band if the mirror point lies on
    it and ``1/λ > [2/(l_min cos β)²] · ds dr/(ds + dr)``.
    """
    edges, tall = screens.edges, screens.edge_heights_m
    length, normal = _normals(edges)
    off_s = np.einsum("mk,mk->m", source[:2] - edges[:, 0], normal)
    from_start = receivers[:, np.newaxis, :2] - edges[:, 0]
    off_r = np.einsum("nmk,mk->nm", from_start, normal)
    # The inner side of a building's face mirrors nothing that is outside.
    faces = (np.abs(off_s) > 1e-6) & (off_s * screens.edge_outward >= 0.0)
    receiver, face = np.nonzero((off_s * off_r > 0.0) & faces)
    image = source[:2] - 2.0 * off_s[face, np.newaxis] * normal[face]
    leg = receivers[receiver, :2] - image
    plan = np.hypot(*leg.T)
    share = np.abs(off_s[face]) / (np.abs(off_s[face]) + np.abs(off_r[receiver, face]))
    hit = image + share[:, np.newaxis] * leg
    along = np.einsum("pk,pk->p", hit - edges[face, 0], edges[face, 1] - edges[face, 0])
    height = source[2] + share * (receivers[receiver, 2] - source[2])
    on_it = (along >= 0.0) & (along <= length[face] ** 2) & (height <= tall[face])
    slant = np.hypot(plan, receivers[receiver, 2] - source[2])
    cosine = (np.abs(off_s[face]) + np.abs(off_r[receiver, face])) / np.maximum(slant, 1e-9)
    least = np.minimum(length, tall)[face]
    counts = _large_enough(least * cosine, share * slant, (1.0 - share) * slant)
    return Images(receiver[on_it], plan[on_it], counts[on_it])


def _large_enough(facing_m: Array, to_source_m: Array, to_receiver_m: Array) -> Array:
    """Return in which bands a face mirrors, shape (p, 8)."""
    mean = to_source_m * to_receiver_m / np.maximum(to_source_m + to_receiver_m, 1e-9)
    bound = 2.0 / np.maximum(facing_m, 1e-9) ** 2 * mean
    return np.asarray(bound[:, np.newaxis] < OCTAVES_HZ / SPEED_M_PER_S)


def beside_walls_db(source: Array, receivers: Array, screens: Screens) -> Array:
    """Return a bound of what walls beside the set add at each receiver [dB], shape (n,).

    3 dB for each direction in which a face taller than 1 m stands within 3 m of the set, 6 dB
    in an inside corner, at most 9 dB. A face between the set and the receiver mirrors to the
    other side and does not count.

    Parameters
    ----------
    source : ndarray, shape (3,)
        Place in plan and height [m].
    receivers : ndarray, shape (n, 3)
        Receivers [m].
    screens : Screens
        Faces that mirror.

    Notes
    -----
    Rule of this project (proposal): an upper bound of one image source per wall.
    """
    edges = screens.edges
    _, normal = _normals(edges)
    off_s = np.einsum("mk,mk->m", source[:2] - edges[:, 0], normal)
    counts = (_distances_m(source[:2], edges) <= BESIDE_M) & (off_s * screens.edge_outward >= 0.0)
    counts &= screens.edge_heights_m > LEAST_WALL_M
    edges, normal, off_s = edges[counts], normal[counts], off_s[counts]
    off_r = np.einsum("nmk,mk->nm", receivers[:, np.newaxis, :2] - edges[:, 0], normal)
    towards = normal * np.where(off_s >= 0.0, 1.0, -1.0)[:, np.newaxis]
    mirrors = off_s * off_r >= 0.0
    groups = _directions(towards)
    count = np.zeros(len(receivers))
    for group in range(groups.max(initial=-1) + 1):
        count += mirrors[:, groups == group].any(axis=1)
    return PER_WALL_DB * np.minimum(count, _MOST_WALLS)


def _distances_m(point: Array, edges: Array) -> Array:
    """Return the distances in plan from a point to faces [m], shape (m,)."""
    along = edges[:, 1] - edges[:, 0]
    squared = np.maximum(np.einsum("mk,mk->m", along, along), 1e-12)
    share = np.clip(np.einsum("mk,mk->m", point - edges[:, 0], along) / squared, 0.0, 1.0)
    return np.asarray(np.hypot(*(edges[:, 0] + share[:, np.newaxis] * along - point).T))


def _directions(towards: Array) -> Rows:
    """Return a number for each face; faces that look the same way share it."""
    groups = np.full(len(towards), -1)
    leaders: list[int] = []
    for face, normal in enumerate(towards):
        like = [g for g, lead in enumerate(leaders) if normal @ towards[lead] >= _ONE_DIRECTION]
        if not like:
            leaders.append(face)
        groups[face] = like[0] if like else len(leaders) - 1
    return groups
