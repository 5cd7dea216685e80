"""A plan resolved once into shapes and the distances that the rules ask for."""

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from siteplan.geometry import clearance
from siteplan.geometry.arrays import FloatArray, ShapeArray
from siteplan.geometry.openness import wall_distances
from siteplan.plan.document import Plan
from siteplan.plan.machine import Machine, Placement
from siteplan.scene.around import Near
from siteplan.scene.cords import CordRun, Yard, lay
from siteplan.scene.feeds import Feed, feeds
from siteplan.scene.setting import Setting, resolve_setting

# Quarter turns clockwise from the machine's front to each side.
SIDE_TURN = {"front": 0.0, "right": 90.0, "back": 180.0, "left": 270.0}


class Standing(NamedTuple):
    """The machine where it stands.

    Attributes
    ----------
    machine, placement : Machine, Placement
        What stands, and where.
    frame : Polygon
        Its footprint [m].
    outlet_xy : tuple of float
        Where the exhaust leaves [m].
    exhaust_deg : float
        Which way it leaves, clockwise from the drawing's top [°].
    reach : geometry
        Frame and outlet together: distances run from its nearest point.
    """

    machine: Machine
    placement: Placement
    frame: Polygon
    outlet_xy: tuple[float, float]
    exhaust_deg: float
    reach: BaseGeometry


@dataclass(frozen=True)
class Scene:
    """A plan with everything in place; distances are measured once, when first asked for."""

    plan: Plan
    setting: Setting
    standing: Standing | None
    yard: Yard

    @cached_property
    def cord_runs(self) -> tuple[CordRun, ...]:
        """The cords of the placement under review as they lie, in their order."""
        if self.standing is None:
            return ()
        placement = self.standing.placement
        return tuple(lay(one, placement.at, self.plan, self.yard) for one in placement.cords)

    @cached_property
    def feeds(self) -> tuple[Feed, ...]:
        """What each of these cords feeds, in the same order."""
        return feeds(self.plan, self.cord_runs)

    @cached_property
    def opening_m(self) -> FloatArray:
        """Distance from the machine to each opening [m], shape (openings,)."""
        return self._from_machine(self.setting.openings)

    @cached_property
    def wall_m(self) -> FloatArray:
        """Distance from the machine to each building's walls [m], shape (buildings,)."""
        return self._from_machine(self.setting.walls)

    @cached_property
    def roof_m(self) -> FloatArray:
        """Distance from the machine to each building's drip line [m], shape (buildings,)."""
        return self._from_machine(self.setting.roofs)

    @cached_property
    def upright_m(self) -> FloatArray:
        """Distance from the machine's middle to each piece of wall [m]; nan without a machine."""
        segments = self.setting.uprights.segments
        if self.standing is None:
            return np.full(len(segments), np.nan)
        return wall_distances(self.standing.placement.at, segments)

    @cached_property
    def shelter_m(self) -> FloatArray:
        """Distance from the machine to each roof without a house [m], shape (shelters,)."""
        return self._from_machine(self.setting.shelter_roofs)

    @cached_property
    def around_m(self) -> FloatArray:
        """Distance from the machine to each surrounding and fixture [m]."""
        around = self.setting.around
        return np.maximum(self._from_machine(around.shapes) - around.beyond_m, 0.0)

    def near(self, *kinds: str) -> Near:
        """Return the surroundings and fixtures of these kinds with the machine's distances."""
        around = self.setting.around
        places = around.places(*kinds)
        things = [around.things[place] for place in places.tolist()]
        return Near(things, around.shapes[places], self.around_m[places])

    @cached_property
    def near_buildings(self) -> Near:
        """Every building by its walls, with the machine's distances."""
        return Near(self.plan.buildings, self.setting.walls, self.wall_m)

    @cached_property
    def near_openings(self) -> Near:
        """Every opening with the machine's distances."""
        return Near(self.plan.openings, self.setting.openings, self.opening_m)

    def _from_machine(self, targets: ShapeArray) -> FloatArray:
        if self.standing is None:
            return np.full(len(targets), np.nan)
        return clearance.distances(self.standing.reach, targets)


def stand(machine: Machine, placement: Placement) -> Standing:
    """Return the machine's shapes at a placement."""
    frame = clearance.footprint(placement.at, machine.width_m, machine.length_m, placement.turn_deg)
    side_turn = SIDE_TURN[machine.drawn_side]
    exhaust_deg = (placement.turn_deg + side_turn) % 360.0
    depth = machine.length_m if side_turn % 180.0 == 0.0 else machine.width_m
    out = clearance.unit_vector(exhaust_deg)
    aside = clearance.unit_vector(exhaust_deg + 90.0)
    outlet = np.asarray(placement.at) + out * depth / 2.0 + aside * machine.exhaust_offset_m
    outlet_xy = (float(outlet[0]), float(outlet[1]))
    return Standing(
        machine, placement, frame, outlet_xy, exhaust_deg, clearance.with_outlet(frame, outlet_xy)
    )


def resolve(plan: Plan, previous: Scene | None = None) -> Scene:
    """Return the scene of a plan; shapes that cannot have changed come from the previous one."""
    setting = resolve_setting(plan, None if previous is None else previous.setting)
    placement = plan.placement
    standing = None
    if plan.machine is not None and placement is not None:
        standing = stand(plan.machine, placement)
    still = previous is not None and setting is previous.setting
    yard = previous.yard if previous is not None and still else Yard(setting)
    return Scene(plan, setting, standing, yard)
