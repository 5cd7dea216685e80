"""How far power must go on the plan, for comparing ways to bring it in."""

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Point

from siteplan.plan.around import Panel, PowerInlet, ThroughWallOutlet
from siteplan.plan.lot import Building
from siteplan.plan.machine import Cord
from siteplan.plan.needs import Transfer
from siteplan.power.ways import Lengths
from siteplan.rules.power.cord import needed_m
from siteplan.scene import Scene, Standing
from siteplan.scene.around import fixture_xy
from siteplan.scene.cords import UNKNOWN_INLET_HEIGHT_M, CordRun, lay
from siteplan.scene.feeds import Feed
from siteplan.words import Text, length

XY = tuple[float, float]
_LONGEST_M = 500.0
_OFF_WALL_M = 0.02
_ENDS = (PowerInlet, ThroughWallOutlet)


@dataclass(frozen=True, slots=True)
class Distances:
    """The lengths of cords and wires, and what was assumed for want of data.

    Attributes
    ----------
    lengths : Lengths or None
        None where no way leads from the machine to the house.
    assumed : tuple of Text
        One sentence for each length that the plan does not give.
    """

    lengths: Lengths | None
    assumed: tuple[Text, ...]


def distances(scene: Scene) -> Distances:
    """Return how far power must go from the machine to the loads."""
    standing, house = scene.standing, _own_dwelling(scene)
    if standing is None:
        return Distances(None, (Text("No generator stands on the plan yet."),))
    feed = _to_the_wall(scene, standing, house)
    if feed is None:
        return Distances(None, (Text("No way leads from the generator to the house."),))
    entry, across_m = feed.run.outdoors[-1], _across_m(house)
    assumed: list[Text] = []
    if not isinstance(feed.end, _ENDS):
        assumed.append(Text("The cord is taken to the nearest wall of the house."))
    fixed = scene.plan.transfer or Transfer()
    inside = _farthest_load_m(scene, entry)
    if inside is None:
        assumed.append(_taken(Text("Cords inside are taken as {length} long."), across_m))
    feeder = fixed.feeder_length_m
    if feeder is None:
        feeder = _to_panel_m(scene, entry)
    if feeder is None:
        assumed.append(_taken(Text("The feeder to the panel is taken as {length} long."), across_m))
    if fixed.branch_length_m is None:
        assumed.append(_taken(Text("Branch circuits are taken as {length} long."), across_m))
    lengths = Lengths(
        cord_m=min(_LONGEST_M, needed_m(scene, feed)),
        inside_m=_bounded(inside, across_m),
        feeder_m=_bounded(feeder, across_m),
        branch_m=_bounded(fixed.branch_length_m, across_m),
    )
    return Distances(lengths, tuple(assumed))


def _bounded(value_m: float | None, otherwise_m: float) -> float:
    return min(_LONGEST_M, otherwise_m if value_m is None else value_m)


def _taken(text: Text, across_m: float) -> Text:
    return Text(text.template, {"length": length(across_m, "up")})


def _own_dwelling(scene: Scene) -> Building | None:
    mine = [one for one in scene.plan.buildings if one.owner == "own"]
    return next((one for one in mine if one.kind == "dwelling"), None)


def _across_m(house: Building | None) -> float:
    """Return width and depth of the house together [m]: wires follow walls."""
    if house is None:
        return 0.0
    ring = np.asarray(house.outline)
    return float(np.ptp(ring, axis=0).sum())


def _to_the_wall(scene: Scene, standing: Standing, house: Building | None) -> Feed | None:
    """Return the cord to the inlet or wall outlet, else one to the nearest wall of the house."""
    laid = [feed for feed in scene.feeds if isinstance(feed.end, _ENDS) and not feed.run.trouble]
    if laid:
        return laid[0]
    ends = [one for one in scene.plan.fixtures if isinstance(one, _ENDS)]
    for end in ends:
        run = _lay(scene, standing, Cord(id="way", to=end.id))
        if run is not None:
            return Feed(run, None, end, ())
    if house is None:
        return None
    run = _lay(scene, standing, Cord(id="way", end=_nearest_wall(standing, house)))
    if run is None:
        return None
    climbed = CordRun(
        run.cord, run.outdoors, (), run.plan_m, run.rise_m + UNKNOWN_INLET_HEIGHT_M, run.crossings
    )
    return Feed(climbed, None, None, ())


def _lay(scene: Scene, standing: Standing, cord: Cord) -> CordRun | None:
    run = lay(cord, standing.placement.at, scene.plan, scene.yard)
    return None if run.trouble else run


def _nearest_wall(standing: Standing, house: Building) -> XY:
    """Return a place just outside the wall that is nearest to the machine."""
    walls = shapely.Polygon(house.outline)
    at = Point(standing.placement.at)
    line = shapely.shortest_line(walls.exterior, at)
    (wx, wy), (mx, my) = shapely.get_coordinates(line).tolist()
    away = math.hypot(mx - wx, my - wy)
    share = 0.0 if away == 0.0 else min(1.0, _OFF_WALL_M / away)
    return (wx + share * (mx - wx), wy + share * (my - wy))


def _farthest_load_m(scene: Scene, entry: XY) -> float | None:
    places = [one.at for one in scene.plan.loads if one.at is not None]
    if not places or len(places) < len(scene.plan.loads):
        return None
    return max(_along_walls_m(entry, place) for place in places)


def _to_panel_m(scene: Scene, entry: XY) -> float | None:
    panels = [one for one in scene.plan.fixtures if isinstance(one, Panel)]
    if not panels:
        return None
    return min(_along_walls_m(entry, fixture_xy(one, scene.plan)) for one in panels)


def _along_walls_m(one: XY, other: XY) -> float:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])
