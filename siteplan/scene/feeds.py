"""What each cord feeds: from which outlet of the machine, to what, with which loads."""

from collections.abc import Sequence
from typing import NamedTuple

from siteplan.plan.around import Fixture, Panel, PowerInlet, ThroughWallOutlet, WallReceptacle
from siteplan.plan.document import Plan
from siteplan.plan.machine import Cord
from siteplan.plan.machine import Receptacle as Outlet
from siteplan.plan.needs import Load
from siteplan.scene.cords import CordRun

# Whatever is plugged in there or switched on behind it draws by the cord.
_SHARED_ENDS = (PowerInlet, ThroughWallOutlet, WallReceptacle)
_BOXES = frozenset({"outlet-box", "outlet-box-with-breakers"})


class Feed(NamedTuple):
    """One cord with what it hangs on and what hangs on it.

    Attributes
    ----------
    run : CordRun
        The cord as it lies.
    outlet : Outlet or None
        The machine's receptacle as entered.
    end : fixture, Load or None
        Where the cord ends, unless at a bare place.
    loads : tuple of Load
        What draws by the cord, directly or behind its end.
    """

    run: CordRun
    outlet: Outlet | None
    end: Fixture | Load | None
    loads: tuple[Load, ...]

    @property
    def cord(self) -> Cord:
        """The cord as entered."""
        return self.run.cord

    @property
    def inlet(self) -> PowerInlet | None:
        """The power inlet at its end, if it ends at one."""
        return self.end if isinstance(self.end, PowerInlet) else None

    @property
    def shared(self) -> bool:
        """Whether its end takes whatever is plugged in or switched on behind it."""
        return isinstance(self.end, _SHARED_ENDS) or self.cord.end_fitting in _BOXES

    @property
    def pieces_m(self) -> float | None:
        """Length of all pieces together [m], if any is entered."""
        return sum(self.cord.pieces_m) if self.cord.pieces_m else None


def feeds(plan: Plan, runs: Sequence[CordRun]) -> tuple[Feed, ...]:
    """Return what each of these cords feeds, in their order.

    Parameters
    ----------
    plan : Plan
        Whose machine and loads.
    runs : sequence of CordRun
        The cords of the placement under review.

    Notes
    -----
    A load hangs on the cord it names, on the first cord to the fixture it names, or on the
    cord that ends at it. A load that names a panel hangs behind the first cord to an inlet.
    """
    ends: dict[str, Fixture | Load] = {one.id: one for one in (*plan.fixtures, *plan.loads)}
    outlets = {one.id: one for one in plan.machine.receptacles} if plan.machine else {}
    hanging: dict[str, list[Load]] = {run.cord.id: [] for run in runs}
    for load in plan.loads:
        cord_id = _cord_of(load, runs, ends)
        if cord_id is not None:
            hanging[cord_id].append(load)
    return tuple(
        _feed(run, outlets, ends.get(run.cord.to or ""), tuple(hanging[run.cord.id]))
        for run in runs
    )


def _feed(
    run: CordRun, outlets: dict[str, Outlet], end: Fixture | Load | None, loads: tuple[Load, ...]
) -> Feed:
    return Feed(run, outlets.get(run.cord.receptacle or ""), end, loads)


def _cord_of(load: Load, runs: Sequence[CordRun], ends: dict[str, Fixture | Load]) -> str | None:
    for run in runs:
        if run.cord.id == load.via or (load.via is None and run.cord.to == load.id):
            return run.cord.id
    named = ends.get(load.via or "")
    for run in runs:
        behind_panel = isinstance(named, Panel) and isinstance(
            ends.get(run.cord.to or ""), PowerInlet
        )
        if named is not None and (run.cord.to == named.id or behind_panel):
            return run.cord.id
    return None
