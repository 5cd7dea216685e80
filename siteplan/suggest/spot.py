"""One place for the machine, and what it is worth."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import shapely

from siteplan.geometry.arrays import XY, ShapeArray
from siteplan.rules.common import certain_m
from siteplan.rules.findings import Finding, Signal, Unjudged, severity
from siteplan.rules.power.buy import CordToBuy, cord_to_house, cords_to_buy
from siteplan.rules.power.cord import with_slack_m
from siteplan.rules.sound import loudest
from siteplan.scene import Scene
from siteplan.suggest.ends import Reach
from siteplan.suggest.inlets import InletPlace
from siteplan.suggest.judged import judged
from siteplan.suggest.zone import against_spot, stood

# What a metre, or a decibel, of each is worth in metres of cord: this project's proposals.
_OPENING_WORTH, _NEIGHBOUR_WORTH, _ROOM_WORTH, _DB_WORTH = 0.3, 0.4, 2.0, 0.3
# What is not drawn near one place and does not matter at another.
_ASKED = frozenset({"separation-opening", "under-roof", "neighbours-drawn", "exhaust-direction"})
_FAR_ENOUGH_M, _ROOM_ENOUGH_M = 20.0, 2.0


@dataclass(frozen=True, slots=True)
class Spot:
    """One place for the machine.

    Attributes
    ----------
    at : tuple of float
        The machine's middle [m].
    turn_deg, exhaust_deg : float
        How the machine is turned, and which way its exhaust leaves [°].
    cord_m : float or None
        All its cords by the shortest way, with what they climb, without slack [m].
    ways : tuple of points
        Their ways over the ground [m].
    inlet : InletPlace or None
        Where an inlet would hang best, if the plan has neither inlet nor cord.
    buys : tuple of CordToBuy
        The cords to buy for this place, once it is reviewed.
    opening_m, neighbour_m, boundary_m : float or None
        To the nearest opening, neighbour's building and boundary, the drawing's accuracy
        taken off [m].
    room_m : float or None
        Free ground round the machine, to the nearest solid thing [m].
    boundary_dba : float or None
        Cautious level at the loudest place of the boundary [dB(A)].
    findings : tuple of Finding
        What the review finds there that another place could change, worst first.
    anywhere : tuple of Finding
        What it finds there as at any other place, worst first.
    missing : tuple of Unjudged
        What could not be judged there of roofs, openings, neighbours and the exhaust.
    """

    at: XY
    turn_deg: float
    exhaust_deg: float
    cord_m: float | None
    ways: tuple[tuple[XY, ...], ...]
    inlet: InletPlace | None
    opening_m: float | None
    neighbour_m: float | None
    boundary_m: float | None
    room_m: float | None
    boundary_dba: float | None
    findings: tuple[Finding, ...] = ()
    anywhere: tuple[Finding, ...] = ()
    buys: tuple[CordToBuy, ...] = ()
    missing: tuple[Unjudged, ...] = ()

    @property
    def worst(self) -> Signal | None:
        """The worst signal word of its findings."""
        return self.findings[0].signal if self.findings else None

    @property
    def passes(self) -> bool:
        """Whether nothing of WARNING or worse is found."""
        return severity(self.worst) < severity("WARNING")

    @property
    def stands(self) -> bool:
        """Whether the machine may stand there, if not with the cords as they are entered."""
        return not against_spot(self.findings)


def spot_at(scene: Scene, at: XY, turn_deg: float, cords: Reach) -> Spot:
    """Return a place with its measures, neither judged nor heard."""
    there = stood(scene, at, turn_deg)
    standing = there.standing
    assert standing is not None  # noqa: S101 - stood saw to it
    setting, plan = scene.setting, scene.plan
    theirs = [one.owner == "neighbour" for one in plan.buildings]
    solids = np.concatenate(
        [setting.walls, there.near("fence", "wall", "hedge", "tree").shapes], dtype=np.object_
    )
    edge = None if setting.lot is None else np.array([setting.lot.boundary], dtype=np.object_)
    cord_m = None if math.isnan(cords.cord_m) else cords.cord_m
    return Spot(
        at=at,
        turn_deg=turn_deg % 360.0,
        exhaust_deg=standing.exhaust_deg,
        cord_m=cord_m,
        ways=cords.ways,
        inlet=None if cords.end is None else cords.end.inlet,
        opening_m=_nearest_m(there, setting.openings[setting.counts]),
        neighbour_m=_nearest_m(there, setting.walls[np.array(theirs, dtype=bool)]),
        boundary_m=None if edge is None else _nearest_m(there, edge),
        room_m=_nearest_m(there, solids),
        boundary_dba=None,
    )


def reviewed(scene: Scene, spot: Spot) -> Spot:
    """Return the spot with what the whole review finds there."""
    there = stood(scene, spot.at, spot.turn_deg)
    found = judged(there)
    return replace(
        spot,
        findings=found.here,
        anywhere=found.anywhere,
        buys=tuple(_buys(there, spot.cord_m)),
        missing=tuple(one for one in found.missing if one.rule in _ASKED),
    )


def _buys(there: Scene, cord_m: float | None) -> Iterator[CordToBuy]:
    """Yield the cords to buy at a place; where none is entered, the one to the house."""
    yield from cords_to_buy(there)
    if not there.feeds and cord_m is not None:
        found = cord_to_house(there, with_slack_m(there, cord_m))
        if found is not None:
            yield found


def heard(scene: Scene, spot: Spot) -> Spot:
    """Return the spot with the level at the boundary."""
    found = loudest(stood(scene, spot.at, spot.turn_deg), "boundary")
    return replace(spot, boundary_dba=None if found is None else found.level_dba)


def _nearest_m(scene: Scene, shapes: ShapeArray) -> float | None:
    """Return what is left of the distance to the nearest shape [m]; None without any."""
    if not len(shapes) or scene.standing is None:
        return None
    return certain_m(scene.plan, float(shapely.distance(scene.standing.reach, shapes).min()))


def cost(spot: Spot) -> tuple[int, float]:
    """Return what to rank places by, lowest first: the worst finding, then metres of cord.

    The cable from inlet to panel counts as cord; distance from openings and neighbours, room
    to refuel and quiet at the boundary are taken off at what they are worth.
    """
    feeder = 0.0 if spot.inlet is None else (spot.inlet.feeder_m or 0.0)
    cord = 0.0 if spot.cord_m is None else spot.cord_m + feeder
    level = 0.0 if spot.boundary_dba is None else spot.boundary_dba
    worth = _OPENING_WORTH * _up_to(spot.opening_m, _FAR_ENOUGH_M)
    worth += _NEIGHBOUR_WORTH * _up_to(spot.neighbour_m, _FAR_ENOUGH_M)
    worth += _ROOM_WORTH * _up_to(spot.room_m, _ROOM_ENOUGH_M)
    return severity(spot.worst), cord - worth + _DB_WORTH * level


def _up_to(distance_m: float | None, enough_m: float) -> float:
    return enough_m if distance_m is None else min(distance_m, enough_m)
