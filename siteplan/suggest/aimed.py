"""Where the exhaust of a machine that is turned one way would point at something.

Seen from the exhaust outlet, a thing bars the ground round it out to a radius that depends
only on the direction in which the outlet lies from the thing's nearest point: the full
reach where the exhaust points back at it, a strip as wide as the drawing's accuracy beside
it, nothing behind it. So every feature of a thing (a corner, a wall) gives one shape.

Exact for openings and for outlines without inside corners; in the notch of an outline each
wall bars its own ground, what another wing hides too: there the shapes err outward.
"""

import math
from dataclasses import dataclass

import numpy as np
import shapely

from siteplan.geometry.arrays import FloatArray, ShapeArray
from siteplan.geometry.clearance import unit_vector
from siteplan.geometry.shapes import counter_clockwise
from siteplan.geometry.zones import OUTWARD, QUAD_SEGS

_STRAIGHT = 1e-9
_FULL = 2.0 * math.pi
# Adds room for rounding, so that a strip never has no width at all.
_ROOM_M = 1e-4


@dataclass(frozen=True, slots=True, eq=False)
class Fan:
    """How far a place is barred, by direction from the axis of the exhaust.

    Attributes
    ----------
    angle : FloatArray
        Directions counter-clockwise from the axis, -π to π [rad], shape (n,).
    radius_m : FloatArray
        Reach in each [m], shape (n,).
    axis : float
        Direction of the axis, counter-clockwise from +x [rad].
    """

    angle: FloatArray
    radius_m: FloatArray
    axis: float

    def reach_m(self, direction: FloatArray) -> FloatArray:
        """Return the reach in absolute directions [rad], on the chords of the fan [m]."""
        turn = np.mod(direction - self.axis + math.pi, _FULL) - math.pi
        place = np.clip(np.searchsorted(self.angle, turn), 1, len(self.angle) - 1)
        a0, a1 = self.angle[place - 1], self.angle[place]
        r0, r1 = self.radius_m[place - 1], self.radius_m[place]
        chord = r0 * np.sin(turn - a0) + r1 * np.sin(a1 - turn)
        across = np.where(chord > 0.0, r0 * r1 * np.sin(a1 - a0), r0)
        return np.asarray(across / np.where(chord > 0.0, chord, 1.0), dtype=np.float64)


def fan(exhaust_deg: float, limit_deg: float, reach_m: float, slack_m: float) -> Fan:
    """Return how far ground is barred round a thing that must lie off the exhaust's axis.

    Parameters
    ----------
    exhaust_deg : float
        Which way the exhaust leaves, clockwise from +y [°].
    limit_deg : float
        A thing must lie this far off the axis, over 0 to 90 [°].
    reach_m : float
        Only things nearer than this, less the slack, are judged [m].
    slack_m : float
        Accuracy of the drawing [m]: a thing may lie this much nearer and nearer the axis.
    """
    far, slack = (reach_m + slack_m) * OUTWARD, slack_m * OUTWARD + _ROOM_M
    edge = math.pi - math.radians(limit_deg)
    # Where the strip beside the thing is as wide as the reach: a bend of the outline.
    bend = edge - math.asin(min(1.0, slack / far))
    steps = np.linspace(-math.pi, math.pi, 4 * QUAD_SEGS + 1)
    # Between the bends the outline of the strip is straight, unless it turns round the thing.
    square = max(0.0, edge - math.pi / 2.0)
    arcs = steps[(np.abs(steps) >= bend) | (edge - np.abs(steps) > math.pi / 2.0)]
    angle = np.unique(np.concatenate([arcs, [bend, -bend, edge, -edge, square, -square]]))
    off = edge - np.abs(angle)
    beside = slack / np.sin(np.clip(off, _STRAIGHT, math.pi / 2.0))
    radius = np.where(off <= 0.0, far, np.minimum(far, beside))
    east, north = unit_vector(exhaust_deg).tolist()
    return Fan(angle, radius, math.atan2(north, east))


def barred_by_segments(segments: FloatArray, spread: Fan) -> ShapeArray:
    """Return the ground each of some segments bars for the outlet; segments (n, 2, 2) [m]."""
    if not len(segments):
        return np.empty(0, dtype=np.object_)
    along = segments[:, 1] - segments[:, 0]
    side = np.arctan2(along[:, 0], -along[:, 1])[:, None]
    # Both sides' directions come twice, once from either end.
    extra = np.concatenate([side - _STRAIGHT, side + _STRAIGHT, side + math.pi - _STRAIGHT,
                            side + math.pi + _STRAIGHT], axis=1)  # fmt: skip
    fixed = np.broadcast_to(spread.angle[:-1] + spread.axis, (len(segments), len(spread.angle) - 1))
    direction = np.sort(np.mod(np.concatenate([fixed, extra], axis=1), _FULL), axis=1)
    unit = np.stack([np.cos(direction), np.sin(direction)], axis=2)
    at_end = np.einsum("nkc,nc->nk", unit, along) > 0.0
    start = np.where(at_end[:, :, None], segments[:, None, 1], segments[:, None, 0])
    ring = start + unit * spread.reach_m(direction)[:, :, None]
    return np.asarray(shapely.polygons(ring), dtype=np.object_)


def barred_by_outline(outline: FloatArray, spread: Fan) -> ShapeArray:
    """Return the ground that walls and corners of an outline (n, 2) [m] bar for the outlet.

    One shape for each run of walls between inside corners, for an outline without any the
    whole of it; the inside of the outline may be left out.
    """
    ring = counter_clockwise(outline)
    along = np.roll(ring, -1, axis=0) - ring
    out = np.arctan2(-along[:, 0], along[:, 1])
    turn = np.mod(out - np.roll(out, 1) + math.pi, _FULL) - math.pi
    inside = np.flatnonzero(turn < -_STRAIGHT)
    if not len(inside):
        return _valid(
            [np.concatenate([_rim(ring, out, turn, k, spread) for k in range(len(ring))])]
        )
    runs = []
    for first, last in zip(inside, [*inside[1:], inside[0] + len(ring)], strict=True):
        between = [place % len(ring) for place in range(first + 1, last)]
        ends = [first, *between, last % len(ring)]
        rims = [_edge(ring[first], out[first], spread)]
        rims += [_rim(ring, out, turn, place, spread) for place in between]
        rims.append(_edge(ring[ends[-1]], out[ends[-2]], spread))
        runs.append(np.concatenate([*rims, ring[ends[::-1]]]))
    return _valid(runs)


def _edge(at: FloatArray, direction: float, spread: Fan) -> FloatArray:
    """Return where the strip before a wall ends beside one of its corners, shape (1, 2)."""
    unit = np.array([[math.cos(direction), math.sin(direction)]])
    ends: FloatArray = at + unit * spread.reach_m(np.array([direction]))[:, None]
    return ends


def _rim(
    ring: FloatArray, out: FloatArray, turn: FloatArray, place: int, spread: Fan
) -> FloatArray:
    """Return the edge of the ground that an outward corner bars, shape (k, 2)."""
    first, wide = float(out[place - 1]), max(0.0, float(turn[place]))
    own = np.mod(spread.angle[:-1] + spread.axis - first, _FULL)
    steps = np.concatenate([[0.0], np.sort(own[own < wide]), [wide]]) + first
    unit = np.stack([np.cos(steps), np.sin(steps)], axis=1)
    rim: FloatArray = ring[place] + unit * spread.reach_m(steps)[:, None]
    return rim


def _valid(rings: list[FloatArray]) -> ShapeArray:
    shapes = np.array([shapely.Polygon(ring) for ring in rings], dtype=np.object_)
    return np.asarray(shapely.make_valid(shapes, method="structure"), dtype=np.object_)
