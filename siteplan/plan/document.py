"""The plan: one frozen document that holds the lot, the machine's placements and the needs."""

from collections.abc import Iterator
from datetime import date
from typing import Annotated, Literal

from pydantic import Field, StringConstraints, model_validator

from siteplan.errors import Said
from siteplan.plan import rings
from siteplan.plan.around import Fixture, Ground, ServiceDrop, Shelter, Surrounding
from siteplan.plan.base import Coordinate, Depth, Id, Model, Name, Note, Point, Share, Turn
from siteplan.plan.lot import Accuracy, Building, Lot, Opening, Override
from siteplan.plan.machine import Machine, Placement
from siteplan.plan.needs import Household, Load, Outage, Transfer, Wind

FORMAT = "siteplan"
VERSION = 1
MOST_CORNERS = 20_000
_WALL_SLACK_M = 1e-6

Pixel = tuple[
    Annotated[float, Field(ge=-1e6, le=1e6)],
    Annotated[float, Field(ge=-1e6, le=1e6)],
]


class Calibration(Model):
    """A picture point [px] and where it lies on the lot [m]."""

    pixel: Pixel
    point: tuple[Coordinate, Coordinate]


class Backdrop(Model):
    """A picture under the plan, embedded, with the points that place it."""

    media_type: Literal["image/png", "image/jpeg"]
    data_base64: Annotated[str, StringConstraints(max_length=28_000_000)]
    calibration: Annotated[tuple[Calibration, ...], Field(max_length=20)] = ()
    check_error_m: Annotated[Depth | None, Field(title="Error of the check length")] = None
    opacity: Share = 0.6


class Plan(Model):
    """The whole document, as it is saved."""

    format: Literal["siteplan"] = "siteplan"
    version: Literal[1] = 1
    title: Name = ""
    prepared_by: Name = ""
    date: Annotated[str, StringConstraints(pattern=r"^([0-9]{4}-[0-9]{2}-[0-9]{2})?$")] = ""
    note: Note = ""
    north_deg: Annotated[Turn, Field(title="North, clockwise from the top of the drawing")] = 0.0
    accuracy: Accuracy | None = None
    overrides: Annotated[tuple[Override, ...], Field(max_length=50)] = ()
    none_here: Annotated[
        tuple[Id, ...],
        Field(max_length=100, title="Stated to be absent, by the rule that asks"),
    ] = ()
    lot: Lot | None = None
    buildings: Annotated[tuple[Building, ...], Field(max_length=2000)] = ()
    openings: Annotated[tuple[Opening, ...], Field(max_length=20_000)] = ()
    surroundings: Annotated[tuple[Surrounding, ...], Field(max_length=5000)] = ()
    fixtures: Annotated[tuple[Fixture, ...], Field(max_length=500)] = ()
    machine: Machine | None = None
    placements: Annotated[tuple[Placement, ...], Field(max_length=20)] = ()
    chosen: Id | None = None
    loads: Annotated[tuple[Load, ...], Field(max_length=100)] = ()
    transfer: Transfer | None = None
    outage: Outage = Field(default_factory=Outage)
    household: Household = Field(default_factory=Household)
    wind: Wind | None = None
    backdrop: Backdrop | None = None

    @property
    def placement(self) -> Placement | None:
        """The placement under review: the chosen one, else the first."""
        for placement in self.placements:
            if placement.id == self.chosen:
                return placement
        return self.placements[0] if self.placements else None

    @property
    def has_home(self) -> bool:
        """Whether a dwelling of those who run the generator is drawn."""
        return any(one.is_home for one in self.buildings)

    def building(self, building_id: str) -> Building | None:
        """Return the building with this id, or None."""
        return next((one for one in self.buildings if one.id == building_id), None)

    @model_validator(mode="after")
    def _hangs_together(self) -> "Plan":
        for problem in problems(self):
            raise ValueError(problem)
        return self


def named_things(plan: Plan) -> Iterator[tuple[str, str]]:
    """Yield (place in the document, id) of everything that has an id."""
    for index, building in enumerate(plan.buildings):
        yield f"buildings.{index}", building.id
    for index, opening in enumerate(plan.openings):
        yield f"openings.{index}", opening.id
    for index, surrounding in enumerate(plan.surroundings):
        yield f"surroundings.{index}", surrounding.id
    for index, fixture in enumerate(plan.fixtures):
        yield f"fixtures.{index}", fixture.id
    for index, placement in enumerate(plan.placements):
        yield f"placements.{index}", placement.id
        for place, cord in enumerate(placement.cords):
            # Placements may run the same cords, so a cord's id is its own only within one.
            yield f"placements.{index}.cords.{place}", f"{placement.id}/{cord.id}"
    for index, outlet in enumerate(plan.machine.receptacles if plan.machine else ()):
        yield f"machine.receptacles.{index}", f"machine/{outlet.id}"
    for index, load in enumerate(plan.loads):
        yield f"loads.{index}", load.id
    for index, spot in enumerate(plan.household.alarm_spots):
        yield f"household.alarm_spots.{index}", spot.id


_TWICE_TEXT = "'{id}' is also the id at {place}; each id must be its own"
_NO_LENGTH_TEXT = "the service drop has no length"
_NO_BUILDING_TEXT = "there is no building '{id}'"


def _wrong(field: str, template: str, **values: str) -> Said:
    return Said("{field}: {problem}", {"field": field, "problem": Said(template, values)})


def problems(plan: Plan) -> Iterator[Said]:
    """Yield what does not hang together, one message each, the field's place first."""
    yield from _bad_date(plan)
    yield from _repeated_ids(plan)
    yield from _bad_rings(plan)
    yield from _openings_off_wall(plan)
    yield from _fixtures_off_wall(plan)
    yield from _lost_references(plan)


def _bad_date(plan: Plan) -> Iterator[Said]:
    try:
        date.fromisoformat(plan.date or "2000-01-01")
    except ValueError:
        yield _wrong(
            "date",
            "'{date}' is not in the calendar; wanted is year-month-day, or nothing",
            date=plan.date,
        )


def _repeated_ids(plan: Plan) -> Iterator[Said]:
    seen: dict[str, str] = {}
    for place, name in named_things(plan):
        if name in seen:
            yield _wrong(f"{place}.id", _TWICE_TEXT, id=name, place=seen[name])
        seen[name] = place
    for index, placement in enumerate(plan.placements):
        for place_in, cord in enumerate(placement.cords):
            # A load says by one id which cord or inlet feeds it.
            if cord.id in seen:
                where = f"placements.{index}.cords.{place_in}.id"
                yield _wrong(where, _TWICE_TEXT, id=cord.id, place=seen[cord.id])


def _outlines(plan: Plan) -> Iterator[tuple[str, tuple[Point, ...]]]:
    if plan.lot is not None:
        yield "lot.outline", plan.lot.outline
    for index, building in enumerate(plan.buildings):
        yield f"buildings.{index}.outline", building.outline
    for index, surrounding in enumerate(plan.surroundings):
        if isinstance(surrounding, Ground | Shelter):
            yield f"surroundings.{index}.outline", surrounding.outline


def _bad_rings(plan: Plan) -> Iterator[Said]:
    # The check for crossings costs the square of an outline's corners, so they are bounded.
    corners = sum(len(ring) for _, ring in _outlines(plan))
    if corners > MOST_CORNERS:
        yield _wrong(
            "buildings",
            "all outlines together have {corners} corners; at most {most}",
            corners=str(corners),
            most=str(MOST_CORNERS),
        )
        return
    for place, ring in _outlines(plan):
        yield from _bad_ring(place, ring)


def _bad_ring(place: str, ring: tuple[Point, ...]) -> Iterator[Said]:
    if (crossing := rings.crossing(ring)) is not None:
        x, y = crossing
        yield _wrong(
            place,
            "the outline crosses or touches itself near ({x}, {y}) m",
            x=f"{x:.2f}",
            y=f"{y:.2f}",
        )
    elif abs(rings.signed_area_m2(ring)) < rings.SMALLEST_AREA_M2:
        yield _wrong(
            place,
            "the outline encloses {area} m²; at least {least} m² is needed",
            area=f"{abs(rings.signed_area_m2(ring)):.4f}",
            least=str(rings.SMALLEST_AREA_M2),
        )


def _wall_length(building: Building | None, wall: int) -> float | None:
    if building is None or wall >= len(building.outline):
        return None
    return rings.wall_length_m(building.outline, wall)


def _openings_off_wall(plan: Plan) -> Iterator[Said]:
    by_id = {building.id: building for building in plan.buildings}
    for index, opening in enumerate(plan.openings):
        building = by_id.get(opening.building)
        if building is None:
            yield _wrong(f"openings.{index}.building", _NO_BUILDING_TEXT, id=opening.building)
            continue
        long = _wall_length(building, opening.wall)
        if long is None:
            yield _wrong(
                f"openings.{index}.wall",
                "{wall} is not a wall of '{building}'; its walls are 0 to {last}",
                wall=str(opening.wall),
                building=building.id,
                last=str(len(building.outline) - 1),
            )
        elif opening.offset_m + opening.width_m > long + _WALL_SLACK_M:
            reach = opening.offset_m + opening.width_m
            yield _wrong(
                f"openings.{index}",
                "'{opening}' reaches {reach} m along a wall that is {long} m long",
                opening=opening.id,
                reach=f"{reach:.3f}",
                long=f"{long:.3f}",
            )
        if (
            opening.sill_m is not None
            and opening.head_m is not None
            and opening.sill_m >= opening.head_m
        ):
            yield _wrong(
                f"openings.{index}.sill_m",
                "{sill} m is not below the head at {head} m",
                sill=f"{opening.sill_m:g}",
                head=f"{opening.head_m:g}",
            )


def _fixtures_off_wall(plan: Plan) -> Iterator[Said]:
    by_id = {building.id: building for building in plan.buildings}
    for index, fixture in enumerate(plan.fixtures):
        if isinstance(fixture, ServiceDrop) and fixture.at == fixture.to:
            yield _wrong(f"fixtures.{index}.to", _NO_LENGTH_TEXT)
        if fixture.on is None:
            continue
        if fixture.on.building not in by_id:
            yield _wrong(f"fixtures.{index}.on.building", _NO_BUILDING_TEXT, id=fixture.on.building)
            continue
        long = _wall_length(by_id[fixture.on.building], fixture.on.wall)
        if long is None:
            yield _wrong(
                f"fixtures.{index}.on.wall",
                "{wall} is not a wall of that building",
                wall=str(fixture.on.wall),
            )
        elif fixture.on.offset_m > long + _WALL_SLACK_M:
            yield _wrong(
                f"fixtures.{index}.on.offset_m",
                "{offset} m is beyond the end of a wall that is {long} m long",
                offset=f"{fixture.on.offset_m:.3f}",
                long=f"{long:.3f}",
            )


def _lost_references(plan: Plan) -> Iterator[Said]:
    if plan.chosen is not None and all(one.id != plan.chosen for one in plan.placements):
        yield _wrong("chosen", "there is no placement '{id}'", id=plan.chosen)
    openings = {opening.id for opening in plan.openings}
    ends = {fixture.id for fixture in plan.fixtures} | {load.id for load in plan.loads}
    outlets = {one.id for one in plan.machine.receptacles} if plan.machine else set()
    for index, placement in enumerate(plan.placements):
        for place, cord in enumerate(placement.cords):
            where = f"placements.{index}.cords.{place}"
            if cord.to is not None and cord.to not in ends:
                yield _wrong(f"{where}.to", "there is no fixture or load '{id}'", id=cord.to)
            if cord.receptacle is not None and cord.receptacle not in outlets:
                yield _wrong(
                    f"{where}.receptacle",
                    "the machine has no receptacle '{id}'",
                    id=cord.receptacle,
                )
            for step in cord.passes:
                if step.opening not in openings:
                    yield _wrong(f"{where}.passes", "there is no opening '{id}'", id=step.opening)
    feeds = {cord.id for one in plan.placements for cord in one.cords} | {
        fixture.id for fixture in plan.fixtures
    }
    for index, load in enumerate(plan.loads):
        if load.via is not None and load.via not in feeds:
            yield _wrong(f"loads.{index}.via", "there is no cord or inlet '{id}'", id=load.via)
