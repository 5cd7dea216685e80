"""The still part of a scene: everything on the plan but the machine."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely import Polygon

from siteplan.geometry.arrays import BoolArray, FloatArray, IntArray, ShapeArray
from siteplan.plan.around import Shelter, Surrounding, Tree
from siteplan.plan.document import Plan
from siteplan.plan.lot import Building, Opening
from siteplan.scene.acoustics import Acoustics, resolve_acoustics
from siteplan.scene.around import Around, resolve_around, shapes
from siteplan.scene.plumes import Airways, resolve_airways
from siteplan.scene.uprights import Uprights, resolve_uprights
from siteplan.scene.walls import outward_normal
from siteplan.units import LENGTH_TOLERANCE_M

# A chord of a rounded roof corner would fall short of the drip line; mitred corners do not.
_LONGEST_MITRE = 5.0
UNCOUNTED_KINDS = frozenset({"fixed-window"})
# A fan or a burner draws outdoor air in through these.
INTAKE_KINDS = frozenset(
    {"air-intake", "combustion-intake", "room-air-conditioner", "evaporative-cooler"}
)
EXIT_KINDS = frozenset({"door", "garage-door"})
OCCUPIED_KINDS = frozenset({"dwelling", "attached-garage"})
# A garage said to be detached is attached all the same if it touches.
ATTACHABLE_KINDS = frozenset({"detached-garage", "carport", "covered-porch", "shed", "other"})
# Buildings that may stand apart and that people may be in all the same: a workshop, a cabin.
ENTERED_KINDS = frozenset({"detached-garage", "other"})
# Two buildings nearer than this share a wall: a gap of less than a foot is one of the drawing.
ATTACHED_WITHIN_M = 0.3
_ALL_SIDES = 4
# A boundary that strays less than this from a straight line is one side of the lot [m].
_STRAIGHT_M = 0.5


@dataclass(frozen=True)
class Setting:
    """Lot, buildings, openings and surroundings as shapes in metres.

    Attributes
    ----------
    plan : Plan
        The plan it was resolved from; only its still parts are used here.
    walls : ShapeArray
        Building outlines as polygons, one per building.
    roofs : ShapeArray
        The same out to the drip line, where an overhang is given.
    openings : ShapeArray
        Opening segments on their walls, one per opening; a soffit vent lies at the drip line.
    opening_building : IntArray
        Index of each opening's building.
    counts : BoolArray
        Whether exhaust can enter by the opening; a fixed window that is shut does not count.
    """

    plan: Plan
    walls: ShapeArray
    roofs: ShapeArray
    openings: ShapeArray
    opening_building: IntArray
    counts: BoolArray
    lot: Polygon | None = None

    @cached_property
    def by_id(self) -> Mapping[str, Surrounding | Opening]:
        """Every surrounding and opening by its id."""
        return {one.id: one for one in (*self.plan.surroundings, *self.plan.openings)}

    @cached_property
    def opening_place(self) -> Mapping[str, int]:
        """Place of each opening in the plan, by its id."""
        return {one.id: place for place, one in enumerate(self.plan.openings)}

    @cached_property
    def not_shut(self) -> BoolArray:
        """Whether each opening is to stand open or ajar."""
        return np.array([one.state != "shut" for one in self.plan.openings], dtype=bool)

    @cached_property
    def exits(self) -> BoolArray:
        """Whether each opening is a door of a dwelling or of what is attached to one."""
        owners = self.occupied[self.opening_building]
        doors = np.array([one.kind in EXIT_KINDS for one in self.plan.openings], dtype=bool)
        exits: BoolArray = owners & doors
        return exits

    @cached_property
    def wells(self) -> BoolArray:
        """Whether each opening is a window well."""
        return np.array([one.kind == "window-well" for one in self.plan.openings], dtype=bool)

    @cached_property
    def intakes(self) -> BoolArray:
        """Whether air is drawn in through each opening."""
        return np.array([one.kind in INTAKE_KINDS for one in self.plan.openings], dtype=bool)

    @cached_property
    def drip_line_unknown(self) -> BoolArray:
        """Whether an opening is a soffit vent under a roof whose overhang is not stated."""
        roofs = self.plan.buildings
        return np.array(
            [
                one.kind == "soffit-vent" and roofs[owner].overhang_m is None
                for one, owner in zip(
                    self.plan.openings, self.opening_building.tolist(), strict=True
                )
            ],
            dtype=bool,
        )

    @cached_property
    def around(self) -> Around:
        """Surroundings and fixtures as shapes."""
        return resolve_around(self.plan)

    @cached_property
    def crowns_m(self) -> FloatArray:
        """How far the crown of each tree reaches [m], in their order."""
        crowns = [one.crown_m / 2.0 for one in self.plan.surroundings if isinstance(one, Tree)]
        return np.array(crowns, dtype=np.float64)

    @cached_property
    def airways(self) -> Airways:
        """The buildings that exhaust goes round on its way."""
        return resolve_airways(self.plan.buildings, self.walls, self.lot)

    @cached_property
    def uprights(self) -> Uprights:
        """Every piece of wall: of buildings, fences, garden walls and hedges."""
        return resolve_uprights(self.plan)

    @cached_property
    def acoustics(self) -> Acoustics:
        """What sound meets: screens, mirrors, neighbours' windows and walls."""
        return resolve_acoustics(self.plan)

    @cached_property
    def shelters(self) -> tuple[Shelter, ...]:
        """The roofs that stand without a house."""
        return tuple(one for one in self.plan.surroundings if isinstance(one, Shelter))

    @cached_property
    def shelter_roofs(self) -> ShapeArray:
        """Their outlines as polygons, in the same order."""
        return shapes([Polygon(one.outline) for one in self.shelters])

    @cached_property
    def free_canopy(self) -> BoolArray:
        """Whether each shelter is a canopy open on all four sides that touches no roof."""
        may = np.array(
            [one.kind == "canopy" and one.open_sides == _ALL_SIDES for one in self.shelters],
            dtype=bool,
        )
        if may.any() and len(self.walls):
            tree = shapely.STRtree(self.roofs)
            touching = tree.query(
                self.shelter_roofs, predicate="dwithin", distance=ATTACHED_WITHIN_M
            )[0]
            may[touching] = False
        return may

    @cached_property
    def opening_tree(self) -> shapely.STRtree:
        """Search tree over the openings."""
        return shapely.STRtree(self.openings)

    @cached_property
    def occupied(self) -> BoolArray:
        """Dwellings, attached garages, and whatever stands against one of these, and so on."""
        kinds = np.array([one.kind in OCCUPIED_KINDS for one in self.plan.buildings], dtype=bool)
        may = np.array([one.kind in ATTACHABLE_KINDS for one in self.plan.buildings], dtype=bool)
        new = np.flatnonzero(kinds)
        while len(new) and may.any():
            rest = np.flatnonzero(may)
            tree = shapely.STRtree(self.walls[new])
            touching = tree.query(
                self.walls[rest], predicate="dwithin", distance=ATTACHED_WITHIN_M
            )[0]
            new = rest[np.unique(touching)]
            kinds[new] = True
            may[new] = False
        return kinds

    @cached_property
    def bare_sides(self) -> ShapeArray:
        """The sides of the lot beyond which no neighbour's building is drawn; none without a lot.

        A building lies beyond the side it is nearest to, and at a corner beyond both.
        """
        if self.lot is None:
            return shapes([])
        ring = shapely.get_coordinates(self.lot.exterior.simplify(_STRAIGHT_M))
        sides = shapely.linestrings(np.stack([ring[:-1], ring[1:]], axis=1))
        theirs = np.array([one.owner == "neighbour" for one in self.plan.buildings], dtype=bool)
        away = shapely.distance(sides[:, None], self.walls[theirs])
        beyond = (away <= away.min(axis=0) + LENGTH_TOLERANCE_M).any(axis=1)
        bare: ShapeArray = sides[~beyond]
        return bare

    @cached_property
    def walled_for_openings(self) -> BoolArray:
        """Buildings judged by their walls.

        The occupied ones, and those apart that people may be in until all openings are drawn.
        """
        unsure = np.array(
            [
                one.kind in ENTERED_KINDS and not one.openings_complete
                for one in self.plan.buildings
            ],
            dtype=bool,
        )
        counts: BoolArray = self.occupied | unsure
        return counts


def still_parts(plan: Plan) -> tuple[object, ...]:
    """Return the parts a setting is made from; unchanged parts are the same objects."""
    return (plan.lot, plan.buildings, plan.openings, plan.surroundings, plan.fixtures)


def resolve_setting(plan: Plan, previous: Setting | None = None) -> Setting:
    """Return the setting of a plan, reusing the previous one if nothing still has changed."""
    if previous is not None and all(
        one is other
        for one, other in zip(still_parts(plan), still_parts(previous.plan), strict=True)
    ):
        return previous
    walls = shapes([Polygon(one.outline) for one in plan.buildings])
    index_of = {one.id: index for index, one in enumerate(plan.buildings)}
    building_of = np.array([index_of[one.building] for one in plan.openings], dtype=np.intp)
    return Setting(
        plan=plan,
        walls=walls,
        roofs=_roofs(plan.buildings, walls),
        openings=_opening_segments(plan),
        opening_building=building_of,
        counts=np.array([lets_in(one) for one in plan.openings], dtype=bool),
        lot=None if plan.lot is None else Polygon(plan.lot.outline),
    )


def lets_in(opening: Opening) -> bool:
    """Whether exhaust can enter by an opening; a window that stands open is not fixed."""
    return opening.kind not in UNCOUNTED_KINDS or opening.state != "shut"


def _roofs(buildings: tuple[Building, ...], walls: ShapeArray) -> ShapeArray:
    overhangs = np.array([one.overhang_m or 0.0 for one in buildings], dtype=np.float64)
    roofs = walls.copy()
    out = overhangs > 0
    if out.any():
        roofs[out] = shapely.buffer(
            walls[out], overhangs[out], join_style="mitre", mitre_limit=_LONGEST_MITRE
        )
    return roofs


def opening_ends(opening: Opening, building: Building) -> tuple[tuple[float, float], ...]:
    """Return both ends of an opening [m]: on its wall, or at the drip line for a soffit vent."""
    a = np.asarray(building.outline[opening.wall])
    b = np.asarray(building.outline[(opening.wall + 1) % len(building.outline)])
    along = (b - a) / np.hypot(*(b - a))
    start = a + along * opening.offset_m
    end = start + along * opening.width_m
    if opening.kind == "soffit-vent" and building.overhang_m:
        shift = np.asarray(outward_normal(building, opening.wall)) * building.overhang_m
        start, end = start + shift, end + shift
    return (float(start[0]), float(start[1])), (float(end[0]), float(end[1]))


def _opening_segments(plan: Plan) -> ShapeArray:
    if not plan.openings:
        return shapes([])
    by_id = {one.id: one for one in plan.buildings}
    ends = [opening_ends(one, by_id[one.building]) for one in plan.openings]
    return np.asarray(shapely.linestrings(np.asarray(ends)), dtype=np.object_)
