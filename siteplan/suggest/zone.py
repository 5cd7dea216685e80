"""Where the machine can stand: the ground of the lot less what each rule bars."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, partial

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from siteplan.errors import SiteplanError
from siteplan.geometry.arrays import XY, BoolArray, IntArray, ShapeArray
from siteplan.geometry.shapes import segments
from siteplan.geometry.zones import keep_out_of_centre, room_within
from siteplan.plan.document import Plan
from siteplan.plan.machine import Machine, Placement
from siteplan.rules.book import rule
from siteplan.rules.common import accuracy_m
from siteplan.rules.findings import Finding, Signal, serious, severity
from siteplan.rules.ladder import rungs
from siteplan.rules.review import OF_THE_PLACE, OF_THE_WHOLE
from siteplan.rules.walled import counting_walls
from siteplan.scene import Scene, resolve
from siteplan.scene.resolve import SIDE_TURN, stand
from siteplan.suggest.aimed import Fan, barred_by_outline, barred_by_segments, fan
from siteplan.suggest.bars import BY_DISTANCE, TOUCH_M, Bar, bars
from siteplan.suggest.enclosed import Seen, Test, Walls, barred_cells
from siteplan.suggest.layers import Keep, Layer, Shape, keeps

OF_THE_SPOT = (*BY_DISTANCE, "exhaust-direction", "walled-in", "horizon-blocked", "on-the-lot",
               "lot-set-back", "neighbours-drawn")  # fmt: skip
"""The rules whose answer depends on where the machine stands and how it is turned."""
# Ground looked at round the buildings when no lot is drawn [m].
_ROUND_M = 30.0
# Walled-in ground is shown by coarser cells than it is reckoned by [m].
_SHOWN_CELL_M = 0.5


class NoMachineError(SiteplanError):
    """There is no machine on the plan whose place could be looked for."""


def against_spot(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return what is of WARNING or worse against where the machine stands or how it is turned."""
    return tuple(one for one in serious(findings) if one.rule in OF_THE_SPOT)


@dataclass(frozen=True)
class StandingZone:
    """The ground where the middle of the machine can stand, turned one way.

    Attributes
    ----------
    scene : Scene
        The plan as shapes.
    turn_deg : float
        How the machine is turned, clockwise from the drawing's top [°].
    ground : Polygon
        The lot; without one, the ground round the buildings.
    layers : tuple of Layer
        What each rule bars, drawn when first asked for.
    """

    scene: Scene
    turn_deg: float
    ground: BaseGeometry
    layers: tuple[Layer, ...]
    _hard: tuple[Keep, ...] = field(repr=False)
    _soft: tuple[Keep, ...] = field(repr=False)
    _machine: Shape = field(repr=False)
    _within: BaseGeometry | None = field(default=None, repr=False)

    @cached_property
    def allowed(self) -> BaseGeometry:
        """Where no rule about the place finds anything of WARNING or worse; errs inward."""
        return self._less_aimed_and_walled(self.spaced, "WARNING")

    @property
    def known(self) -> bool:
        """Whether a dwelling of one's own is drawn, that the machine must keep away from."""
        return self.scene.plan.has_home

    @property
    def tint(self) -> BaseGeometry:
        """The ground allowed, to be shown; none until it is known."""
        return self.allowed if self.known else Polygon()

    @property
    def strong_tint(self) -> BaseGeometry:
        """The ground preferred, to be shown; none until it is known."""
        return self.preferred if self.known else Polygon()

    @cached_property
    def spaced(self) -> BaseGeometry:
        """Where the machine keeps every distance of WARNING or worse, exhaust and walls aside."""
        lot = self.scene.setting.lot
        room = self.ground if lot is None else on_the_lot(lot, self._machine)
        if self._within is not None:
            room = room.intersection(self._within)
        return self._less(room, self._hard)

    def part(self, within: BaseGeometry) -> "StandingZone":
        """Return the same zone of a part of the ground only, which is quicker to draw."""
        return replace(self, _within=within)

    def _less(self, room: BaseGeometry, keeps: tuple[Keep, ...]) -> BaseGeometry:
        for keep in keeps:
            if len((near := keep.near(room, self._machine)).shapes):
                room = room.difference(near.ground(self._machine))
        return room

    @cached_property
    def preferred(self) -> BaseGeometry:
        """Where none finds a CAUTION either, nor lacks what it needs to judge; errs inward."""
        return self._less_aimed_and_walled(self.well_spaced(self.allowed), "CAUTION")

    def well_spaced(self, ground: BaseGeometry) -> BaseGeometry:
        """Return the part of some ground where the machine keeps the advised distances too."""
        left = self._less(ground, self._soft)
        for layer in self.layers:
            if layer.rule == "lot-set-back":
                left = left.difference(layer.shape)
        return left

    def barring(self, xy: XY) -> tuple[Finding, ...]:
        """Return what the rules about the place find of a machine standing there, worst first.

        Judged by the rules themselves, not by the zone drawn.
        """
        return found_at(self.scene, xy, self.turn_deg)

    def _less_aimed_and_walled(self, left: BaseGeometry, signal: Signal) -> BaseGeometry:
        aimed = [
            layer.shape
            for layer in self.layers
            if layer.rule == "exhaust-direction" and layer.signal == signal
        ]
        return self.less_walled(left.difference(shapely.union_all(aimed)), signal)

    def less_walled(self, left: BaseGeometry, signal: Signal) -> BaseGeometry:
        """Return the part of some ground where walls do not stand round the machine."""
        for name, barred in _WALLED[signal].items():
            walls = walls_about(self.scene, name, self.turn_deg)
            left = left.difference(barred_cells(left, walls, barred))
        return left


def _cornered(seen: Seen) -> BoolArray:
    return seen.cornered


def _flanked(seen: Seen) -> BoolArray:
    return seen.flanked


def _mostly_walled(seen: Seen) -> BoolArray:
    return seen.share > rule("horizon-blocked").figure("warning_share")


_WALLED: Mapping[Signal, Mapping[str, Test]] = {
    "WARNING": {"walled-in": _cornered, "horizon-blocked": _mostly_walled},
    "CAUTION": {"walled-in": _flanked},
}


def standing_zone(
    plan: Plan,
    turn_deg: float | None = None,
    scene: Scene | None = None,
    shape: Shape | None = None,
) -> StandingZone:
    """Return the ground where the plan's machine can stand.

    Parameters
    ----------
    plan : Plan
        With a machine; its placement under review gives turn, cords and cover.
    turn_deg : float, optional
        How the machine is turned, clockwise from the drawing's top [°]; as placed if not given.
    scene : Scene, optional
        The plan already resolved.
    shape : Shape, optional
        What stands there; the plan's machine if not given.

    Returns
    -------
    StandingZone
        Its shapes err on the side of caution by up to 0.07 % of each distance, and by cells of
        0.13 m where walls surround a place.

    Raises
    ------
    NoMachineError
        If the plan has no machine.
    """
    scene = placed(scene or resolve(plan))
    assert scene.standing is not None  # noqa: S101 - placed saw to it
    turn = scene.standing.placement.turn_deg if turn_deg is None else turn_deg
    machine = shape or _shape(scene, turn)
    found = bars(scene)
    setting = scene.setting
    ground = _around(setting.walls) if setting.lot is None else setting.lot
    owner = {
        id(shape): setting.walls[building]
        for shape, building in zip(setting.openings, setting.opening_building, strict=True)
        if shape.distance(setting.walls[building]) == 0.0
    }
    return StandingZone(
        scene,
        turn,
        ground,
        tuple(_layers(scene, found, machine, ground, turn)),
        keeps([bar for bar in found if severity(bar.signal) >= severity("WARNING")], owner),
        keeps([bar for bar in found if bar.signal in {None, "CAUTION"}], owner),
        machine,
    )


def placed(scene: Scene) -> Scene:
    """Return the scene with a machine standing somewhere, at the origin if nowhere.

    Raises
    ------
    NoMachineError
        If the plan has no machine.
    """
    if scene.standing is not None:
        return scene
    if scene.plan.machine is None:
        raise NoMachineError("no generator is entered: its size is needed to find it a place")
    somewhere = stand(scene.plan.machine, Placement(id="spot", at=(0.0, 0.0)))
    return Scene(scene.plan, scene.setting, somewhere, scene.yard)


def stood(scene: Scene, xy: XY, turn_deg: float) -> Scene:
    """Return the scene with the machine standing elsewhere."""
    standing = scene.standing
    assert standing is not None  # noqa: S101 - the callers placed it
    moved = standing.placement.model_copy(update={"at": xy, "turn_deg": turn_deg % 360.0})
    return Scene(scene.plan, scene.setting, stand(standing.machine, moved), scene.yard)


def found_at(scene: Scene, xy: XY, turn_deg: float) -> tuple[Finding, ...]:
    """Return what the rules about the place find of the machine standing there, worst first."""
    there = stood(scene, xy, turn_deg)
    standing = there.standing
    assert standing is not None  # noqa: S101 - stood saw to it
    said = [
        one
        for name in OF_THE_SPOT
        if name in OF_THE_PLACE
        for one in OF_THE_PLACE[name](there, standing)
    ]
    last = [one for judge in OF_THE_WHOLE.values() for one in judge(there, standing, said)]
    found = [one for one in (*said, *last) if isinstance(one, Finding)]
    return tuple(sorted(found, key=lambda one: -severity(one.signal)))


def _shape(scene: Scene, turn_deg: float) -> Shape:
    there = stood(scene, (0.0, 0.0), turn_deg).standing
    assert there is not None  # noqa: S101 - stood saw to it
    return Shape(there.frame, there.outlet_xy)


def _around(walls: ShapeArray) -> BaseGeometry:
    low_x, low_y, high_x, high_y = (
        shapely.total_bounds(walls).tolist() if len(walls) else (0.0, 0.0, 0.0, 0.0)
    )
    ground: Polygon = shapely.box(
        low_x - _ROUND_M, low_y - _ROUND_M, high_x + _ROUND_M, high_y + _ROUND_M
    )
    return ground


def _layers(
    scene: Scene, found: tuple[Bar, ...], machine: Shape, ground: BaseGeometry, turn_deg: float
) -> Iterator[Layer]:
    for bar in found:
        keep = Keep(bar.shapes, bar.distance_m, bar.from_outlet)
        yield Layer(bar.rule, bar.signal, bar.subjects, partial(keep.ground, machine))
    yield from _aimed_layers(scene, machine, turn_deg)
    yield from _walled_layers(scene, ground, turn_deg)
    yield from _lot_layers(scene, machine)


def _lot_layers(scene: Scene, machine: Shape) -> Iterator[Layer]:
    lot = scene.setting.lot
    if lot is None:
        return
    off = partial(_off_the_lot, lot, machine)
    yield Layer("on-the-lot", "WARNING", (), off)
    for signal, limit in rungs(scene.plan, rule("lot-set-back")):
        keep = limit + accuracy_m(scene.plan)
        draw = partial(keep_out_of_centre, [lot.boundary], keep, machine.frame)
        yield Layer("lot-set-back", signal, (), draw)


def _off_the_lot(lot: BaseGeometry, machine: Shape) -> BaseGeometry:
    return lot.difference(on_the_lot(lot, machine))


def on_the_lot(lot: BaseGeometry, machine: Shape) -> BaseGeometry:
    """Return where the middle of a machine can be with all of it a hair inside the lot."""
    return shapely.buffer(room_within(lot, machine.frame), -TOUCH_M, join_style="mitre")


def _walled_layers(scene: Scene, ground: BaseGeometry, turn_deg: float) -> Iterator[Layer]:
    names = tuple(one.id for one in scene.setting.uprights.things)
    for signal, tests in _WALLED.items():
        for name, barred in tests.items():
            draw = partial(_walled_ground, scene, name, turn_deg, ground, barred)
            yield Layer(name, signal, names, draw)


def _walled_ground(
    scene: Scene, name: str, turn_deg: float, ground: BaseGeometry, barred: Test
) -> BaseGeometry:
    free = ground.difference(shapely.union_all(scene.setting.walls))
    return barred_cells(free, walls_about(scene, name, turn_deg), barred, _SHOWN_CELL_M)


def walls_about(scene: Scene, rule_id: str, turn_deg: float) -> Walls:
    """Return the walls that a rule counts round the machine."""
    standing = scene.standing
    assert standing is not None  # noqa: S101 - placed saw to it
    counts, reach = counting_walls(scene, standing, rule(rule_id))
    machine, uprights = standing.machine, scene.setting.uprights
    size = max(machine.width_m, machine.length_m)
    return Walls(
        uprights.segments[counts],
        reach[counts],
        size,
        turn_deg,
        uprights.built[counts],
        size / 2.0 if rule_id == "walled-in" else 0.0,
    )


def _aimed_layers(scene: Scene, machine: Shape, turn_deg: float) -> Iterator[Layer]:
    figure, slack = rule("exhaust-direction").figure, accuracy_m(scene.plan)
    exhaust = turn_deg + SIDE_TURN[_machine(scene).drawn_side]
    steps: tuple[tuple[Signal, bool, str, str], ...] = (
        ("WARNING", True, "away_deg", "far_m"),
        ("WARNING", False, "away_deg", "near_m"),
        ("CAUTION", False, "aimed_deg", "far_m"),
    )
    for signal, own, limit, reach in steps:
        spread = fan(exhaust, figure(limit), figure(reach), slack)
        outlines, openings = aimed_at(scene, own=own)
        names = (
            *(scene.plan.buildings[place].id for place in outlines.tolist()),
            *(scene.plan.openings[place].id for place in openings.tolist()),
        )
        draw = partial(_aimed_ground, scene, (outlines, openings), spread, machine.outlet_xy)
        yield Layer("exhaust-direction", signal, names, draw)


def aimed_at(scene: Scene, *, own: bool) -> tuple[IntArray, IntArray]:
    """Return the buildings and openings that the exhaust must not point at, own or others'."""
    setting = scene.setting
    mine = np.array([one.owner == "own" for one in scene.plan.buildings], dtype=bool)
    mine &= setting.occupied
    wanted = mine if own else ~mine
    openings = setting.counts & wanted[setting.opening_building]
    return np.flatnonzero(wanted & setting.walled_for_openings), np.flatnonzero(openings)


def _aimed_ground(
    scene: Scene, things: tuple[IntArray, IntArray], spread: Fan, outlet_xy: XY
) -> BaseGeometry:
    outlines, openings = things
    shapes = [barred_by_segments(segments(scene.setting.openings[openings]), spread)]
    shapes += [
        barred_by_outline(np.asarray(scene.plan.buildings[place].outline), spread)
        for place in outlines.tolist()
    ]
    for_outlet = shapely.union_all(np.concatenate(shapes))
    return shapely.transform(for_outlet, lambda at: at - np.asarray(outlet_xy))


def _machine(scene: Scene) -> Machine:
    machine = scene.plan.machine
    assert machine is not None  # noqa: S101 - placed saw to it
    return machine
