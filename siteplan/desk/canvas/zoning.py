"""The ground where the machine can stand, computed off the drawing's thread."""

import contextlib

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal

from siteplan.errors import SiteplanError
from siteplan.plan.document import Plan
from siteplan.plan.machine import Placement
from siteplan.suggest.zone import StandingZone, standing_zone

_STILL_PARTS = ("lot", "buildings", "openings", "surroundings", "fixtures", "machine",
                "accuracy", "overrides", "backdrop", "outage")  # fmt: skip

_TURNS_DEG = (0.0, 45.0, 90.0, 135.0, 180.0, 225.0, 270.0, 315.0)


def same_ground(one: Plan, other: Plan) -> bool:
    """Tell whether two states of a plan leave the machine the same ground."""
    same = all(getattr(one, name) is getattr(other, name) for name in _STILL_PARTS)
    # A cord that keeps a door ajar bars ground too.
    return same and _cords(one) == _cords(other)


def same_but_place(one: Plan, other: Plan) -> bool:
    """Tell whether two states of a plan differ at most in where the machine stands, and turned."""
    for name in Plan.model_fields:
        if name == "placements":
            continue
        mine, its = getattr(one, name), getattr(other, name)
        if mine is not its and mine != its:
            return False
    here, there = one.placement, other.placement
    return here is None or there is None or _unplaced(here) == _unplaced(there)


def _unplaced(placement: Placement) -> Placement:
    return placement.model_copy(update={"at": (0.0, 0.0), "turn_deg": 0.0})


def _cords(plan: Plan) -> object:
    return None if plan.placement is None else plan.placement.cords


def zone_of(plan: Plan, turn_deg: float | None) -> StandingZone:
    """Return the zone of a machine turned so; of one that stands nowhere, the widest of all turns.

    Raises
    ------
    NoMachineError
        If the plan has no machine.
    """
    if turn_deg is not None or plan.placement is not None:
        return standing_zone(plan, turn_deg)
    zones = (standing_zone(plan, turn) for turn in _TURNS_DEG)
    return max(zones, key=lambda zone: zone.allowed.area)


class _Done(QObject):
    """Brings a result back to the drawing's thread."""

    found = Signal(int, object)


class _Work(QRunnable):
    """Computes one zone, from a plan that nobody changes and shapes that nobody shares."""

    def __init__(self, number: int, asked: "Asked", done: _Done) -> None:
        super().__init__()
        self._number, self._asked, self._done = number, asked, done

    def run(self) -> None:
        """Compute, and hand over."""
        zone: StandingZone | None = None
        with contextlib.suppress(SiteplanError):
            zone = zone_of(*self._asked)
            # What is painted is computed here, not when it is first painted.
            _ = zone.tint, zone.strong_tint
        # The window may have been closed meanwhile.
        with contextlib.suppress(RuntimeError):
            self._done.found.emit(self._number, zone)


Asked = tuple[Plan, float | None]


class Zoning(QObject):
    """Computes one zone at a time; what is asked last counts, what comes too late is dropped."""

    found = Signal(object)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._number = 0
        self._asked: Asked | None = None
        self._done = _Done(self)
        self._done.found.connect(self._take)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)

    def ask(self, plan: Plan, turn_deg: float | None) -> None:
        """Ask for the zone of a plan with the machine turned so, unless it is under way."""
        if self.expects(plan, turn_deg):
            return
        self._number += 1
        self._asked = (plan, turn_deg)
        self._pool.clear()
        self._pool.start(_Work(self._number, self._asked, self._done))

    def expects(self, plan: Plan, turn_deg: float | None) -> bool:
        """Tell whether that zone is under way."""
        if self._asked is None:
            return False
        asked, turn = self._asked
        return turn == turn_deg and same_ground(asked, plan)

    def wait(self) -> None:
        """Wait until nothing is being computed."""
        self._pool.waitForDone()

    def stop(self) -> None:
        """Compute nothing more; a thread that outlives the window it reports to ends in a crash."""
        self._number += 1
        self._asked = None
        self._pool.clear()
        self.wait()

    def _take(self, number: int, zone: object) -> None:
        if number != self._number:
            return
        self._asked = None
        if zone is not None:
            self.found.emit(zone)
