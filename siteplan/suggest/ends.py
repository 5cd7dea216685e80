"""Where the cords of a machine must end, and how long they are from a place."""

from dataclasses import dataclass

import numpy as np

from siteplan.geometry.arrays import XY, FloatArray
from siteplan.geometry.routes import NoWayRoundError, RouteTree
from siteplan.plan.around import PowerInlet, ThroughWallOutlet
from siteplan.plan.machine import Cord
from siteplan.scene import Scene
from siteplan.scene.cords import MACHINE_RISE_M, CordRun, lay
from siteplan.suggest.inlets import InletPlace, inlet_candidates


@dataclass(frozen=True, slots=True)
class End:
    """A place where a cord ends outdoors, and what it goes on for from there.

    Attributes
    ----------
    at : tuple of float
        Where its way over the ground ends [m].
    beyond_m : float
        What it climbs and runs indoors [m].
    subject : str or None
        The fixture or cord it belongs to; None for a place where an inlet could hang.
    inlet : InletPlace or None
        That place.
    """

    at: XY
    beyond_m: float
    subject: str | None = None
    inlet: InletPlace | None = None

    @property
    def weight_m(self) -> float:
        """Cable counted beside the cord when ends are compared [m]."""
        return 0.0 if self.inlet is None else (self.inlet.feeder_m or 0.0)


@dataclass(frozen=True, slots=True)
class Ends:
    """The ends of a plan: all are needed, or one of them will do."""

    choice: tuple[End, ...]
    all_needed: bool


@dataclass(frozen=True, slots=True)
class Reach:
    """The cords from one place.

    Attributes
    ----------
    cord_m : float
        All together, with what they climb, without slack [m]; nan without a way.
    weighed_m : float
        The same with the cable from the inlet to the panel [m].
    ways : tuple of points
        Their ways over the ground [m].
    end : End or None
        The one chosen.
    """

    cord_m: float
    weighed_m: float
    ways: tuple[tuple[XY, ...], ...]
    end: End | None


NO_END = Reach(float("nan"), 0.0, (), None)


def ends_of(scene: Scene) -> Ends:
    """Return where the cords of the placement end; without cords, at the inlets there are.

    Without either, at the places where an inlet could hang.
    """
    standing = scene.standing
    cords = () if standing is None else standing.placement.cords
    runs = [lay(afresh(one), _start(scene), scene.plan, scene.yard) for one in cords]
    laid = [_of_run(run) for run in runs if run.outdoors]
    if laid:
        return Ends(tuple(laid), all_needed=True)
    inlets = [
        run
        for one in scene.plan.fixtures
        if isinstance(one, PowerInlet | ThroughWallOutlet)
        and (run := lay(Cord(id="new", to=one.id), _start(scene), scene.plan, scene.yard)).outdoors
    ]
    if inlets:
        return Ends(tuple(_of_run(run) for run in inlets), all_needed=False)
    places = inlet_candidates(scene)
    hung = [End(one.at, MACHINE_RISE_M + one.height_m, None, one) for one in places]
    return Ends(tuple(hung), all_needed=False)


def afresh(cord: Cord) -> Cord:
    """Return a cord laid by the shortest way, as from another place it must be."""
    return cord.model_copy(update={"routing": "routed", "waypoints": ()})


def _start(scene: Scene) -> XY:
    assert scene.standing is not None  # noqa: S101 - the caller placed it
    return scene.standing.placement.at


def _of_run(run: CordRun) -> End:
    outdoors = float(np.hypot(*np.diff(np.asarray(run.outdoors), axis=0).T).sum())
    return End(run.outdoors[-1], run.laid_m - outdoors, run.cord.to or run.cord.id)


def reach(scene: Scene, ends: Ends, at: XY) -> Reach:
    """Return the cords from a place, by the shortest ways."""
    if not ends.choice:
        return NO_END
    try:
        tree = scene.yard.graph.tree(at)
    except NoWayRoundError:
        return NO_END
    over = tree.lengths_m([end.at for end in ends.choice])
    beyond = np.array([end.beyond_m for end in ends.choice])
    return _all(tree, ends, over + beyond) if ends.all_needed else _one(tree, ends, over + beyond)


def _all(tree: RouteTree, ends: Ends, length_m: FloatArray) -> Reach:
    total = float(length_m.sum())
    if not np.isfinite(total):
        return NO_END
    ways = tuple(tree.to(end.at).points for end in ends.choice)
    return Reach(total, total, ways, ends.choice[0])


def _one(tree: RouteTree, ends: Ends, length_m: FloatArray) -> Reach:
    weighed = length_m + np.array([end.weight_m for end in ends.choice])
    best = int(np.argmin(weighed))
    if not np.isfinite(weighed[best]):
        return NO_END
    end = ends.choice[best]
    return Reach(float(length_m[best]), float(weighed[best]), (tree.to(end.at).points,), end)
