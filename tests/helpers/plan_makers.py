"""Plans for tests: a small one by hand, and strategies that build any that hang together."""

import math
from typing import Any

from hypothesis import strategies as st

from siteplan.plan import around, lot, machine, needs
from siteplan.plan.document import Backdrop, Calibration, Plan


def small_plan(**fields: Any) -> Plan:
    """A 10 m by 8 m house with a door, an inlet, a machine with one cord, and a load."""
    house = lot.Building(
        id="house", outline=((0.0, 0.0), (10.0, 0.0), (10.0, 8.0), (0.0, 8.0)), kind="dwelling"
    )
    parts: dict[str, Any] = {
        "title": "Small",
        "lot": lot.Lot(outline=((-20.0, -20.0), (30.0, -20.0), (30.0, 30.0), (-20.0, 30.0))),
        "buildings": (house,),
        "openings": (
            lot.Opening(
                id="door", kind="door", building="house", wall=0, offset_m=1.0, width_m=0.9
            ),
        ),
        "surroundings": (around.Tree(id="oak", at=(20.0, 20.0)),),
        "fixtures": (
            around.PowerInlet(
                id="inlet",
                at=(5.0, 0.0),
                on=around.OnWall(building="house", wall=0, offset_m=5.0),
            ),
            around.Meter(id="meter", at=(-1.0, 4.0)),
        ),
        "machine": machine.Machine(
            exhaust_side="back", receptacles=(machine.Receptacle(id="r1", configuration="L14-30"),)
        ),
        "placements": (
            machine.Placement(
                id="yard",
                at=(5.0, -10.0),
                cords=(
                    machine.Cord(
                        id="cord",
                        receptacle="r1",
                        to="inlet",
                        passes=(machine.Pass(opening="door", how="held-ajar"),),
                    ),
                ),
            ),
            machine.Placement(id="drive", at=(20.0, 0.0)),
        ),
        "chosen": "yard",
        "loads": (needs.Load(id="fridge", running_w=180.0, via="cord"),),
        "household": needs.Household(
            alarm_spots=(needs.AlarmSpot(id="ground-floor", place="storey", alarm=True),)
        ),
    }
    return Plan(**(parts | fields))


NAMES = st.text(st.characters(exclude_categories=("Cs",)), max_size=30)
POINTS = st.tuples(st.floats(-20_000, 20_000), st.floats(-20_000, 20_000))
NEAR = st.tuples(st.floats(-200, 200), st.floats(-200, 200))
SOME_BOOL = st.sampled_from([None, True, False])


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


@st.composite
def rectangles(draw: st.DrawFn) -> tuple[tuple[float, float], ...]:
    x, y = draw(NEAR)
    width, depth = draw(st.floats(0.5, 60.0)), draw(st.floats(0.5, 60.0))
    turn = draw(st.floats(0.0, 2 * math.pi))
    along = (math.cos(turn), math.sin(turn))
    ring = [
        (x + u * along[0] - v * along[1], y + u * along[1] + v * along[0])
        for u, v in ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))
    ]
    return tuple(ring if draw(st.booleans()) else reversed(ring))


@st.composite
def openings(draw: st.DrawFn, number: int, building: lot.Building) -> lot.Opening:
    wall = draw(st.integers(0, len(building.outline) - 1))
    ends = (building.outline[wall], building.outline[(wall + 1) % len(building.outline)])
    long = math.dist(*ends)
    offset = draw(st.floats(0.0, long * 0.9))
    return lot.Opening(
        id=f"opening-{number}",
        name=draw(NAMES),
        kind=draw(st.sampled_from(["door", "window", "soffit-vent", "air-intake"])),
        building=building.id,
        wall=wall,
        offset_m=offset,
        width_m=draw(st.floats(0.0, long - offset, exclude_min=True)),
        sill_m=draw(maybe(st.floats(0.0, 1.0))),
        head_m=draw(maybe(st.floats(1.1, 3.0))),
        state=draw(st.sampled_from(["shut", "ajar-for-cord", "open"])),
    )


@st.composite
def surroundings(draw: st.DrawFn, number: int) -> Any:
    name, thing_id = draw(NAMES), f"around-{number}"
    which = draw(st.integers(0, 3))
    if which == 0:
        path = tuple(draw(st.lists(NEAR, min_size=2, max_size=5)))
        return around.Barrier(kind="fence", id=thing_id, name=name, path=path, solidity=0.5)
    if which == 1:
        return around.Ground(kind="deck", id=thing_id, name=name, outline=draw(rectangles()))
    if which == 2:
        return around.Shelter(kind="canopy", id=thing_id, name=name, outline=draw(rectangles()))
    return around.Tree(id=thing_id, name=name, at=draw(POINTS))


FIXTURES = (around.Meter, around.Panel, around.PowerInlet, around.FuelStore, around.OutdoorUnit)


@st.composite
def fixtures(draw: st.DrawFn, number: int) -> Any:
    kind = draw(st.sampled_from(FIXTURES))
    return kind(id=f"fixture-{number}", name=draw(NAMES), at=draw(POINTS))


@st.composite
def placements(draw: st.DrawFn, number: int, ends: list[str]) -> machine.Placement:
    cords = tuple(
        machine.Cord(
            id=f"cord-{place}",
            to=draw(st.sampled_from([None, *ends])),
            waypoints=tuple(draw(st.lists(NEAR, max_size=3))),
            gauge_awg=draw(maybe(st.integers(-3, 20))),
            pieces_m=tuple(draw(st.lists(st.floats(0.1, 50.0), max_size=2))),
        )
        for place in range(draw(st.integers(0, 2)))
    )
    return machine.Placement(
        id=f"place-{number}",
        name=draw(NAMES),
        at=draw(NEAR),
        turn_deg=draw(st.floats(0.0, 360.0, exclude_max=True)),
        cords=cords,
        level_and_dry=draw(SOME_BOOL),
    )


MACHINES = st.builds(
    machine.Machine,
    name=NAMES,
    width_m=st.floats(0.1, 3.0),
    length_m=st.floats(0.1, 3.0),
    exhaust_side=st.sampled_from(["front", "right", "back", "left", None]),
    exhaust_offset_m=st.floats(-1.0, 1.0),
    rated_w=maybe(st.floats(0.0, 20_000.0)),
    neutral=st.sampled_from([None, "bonded", "floating"]),
    sound=maybe(st.builds(machine.SoundRating, level_dba=st.floats(0.0, 140.0))),
)
BACKDROPS = st.builds(
    Backdrop,
    media_type=st.just("image/png"),
    data_base64=st.just("aGVsbG8="),
    calibration=st.lists(
        st.builds(Calibration, pixel=st.tuples(st.floats(0, 1e6), st.floats(0, 1e6)), point=NEAR),
        max_size=3,
    ).map(tuple),
)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Any plan that hangs together."""
    buildings = tuple(
        lot.Building(
            id=f"building-{number}",
            name=draw(NAMES),
            kind=draw(st.sampled_from(["dwelling", "shed", "attached-garage", "carport"])),
            outline=draw(rectangles()),
            overhang_m=draw(maybe(st.floats(0.0, 2.0))),
            openings_complete=draw(st.booleans()),
        )
        for number in range(draw(st.integers(0, 3)))
    )
    opened = tuple(
        draw(openings(number, draw(st.sampled_from(buildings))))
        for number in range(draw(st.integers(0, 4)) if buildings else 0)
    )
    fixed = tuple(draw(fixtures(number)) for number in range(draw(st.integers(0, 3))))
    stood = tuple(
        draw(placements(number, [one.id for one in fixed]))
        for number in range(draw(st.integers(0, 2)))
    )
    feeds = [one.id for one in fixed] + [cord.id for one in stood for cord in one.cords]
    loads = tuple(
        needs.Load(
            id=f"load-{number}",
            name=draw(NAMES),
            running_w=draw(st.floats(0.0, 1e6)),
            via=draw(st.sampled_from([None, *feeds])),
        )
        for number in range(draw(st.integers(0, 2)))
    )
    return Plan(
        title=draw(NAMES),
        note=draw(NAMES),
        date=draw(st.sampled_from(["", "2026-02-28"])),
        north_deg=draw(st.floats(0.0, 360.0, exclude_max=True)),
        accuracy=draw(st.sampled_from([None, lot.Accuracy(method="taped")])),
        buildings=buildings,
        openings=opened,
        surroundings=tuple(draw(surroundings(number)) for number in range(draw(st.integers(0, 3)))),
        fixtures=fixed,
        machine=draw(maybe(MACHINES)),
        placements=stood,
        chosen=draw(st.sampled_from([None, *(one.id for one in stood)])),
        loads=loads,
        backdrop=draw(maybe(BACKDROPS)),
    )
