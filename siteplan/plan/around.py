"""What stands around the house (surroundings) and what is fixed to it (fixtures)."""

from typing import Annotated, Literal

from pydantic import Field

from siteplan.plan.base import (
    Amperes,
    Height,
    Id,
    Litres,
    Model,
    Name,
    Offset,
    Point,
    Share,
    Size,
)

LinePoints = Annotated[tuple[Point, ...], Field(min_length=2, max_length=500)]
AreaPoints = Annotated[tuple[Point, ...], Field(min_length=3, max_length=500)]


class Barrier(Model):
    """A free-standing line: fence, garden wall or hedge. Solidity 1 is without any gap."""

    kind: Literal["fence", "wall", "hedge"]
    id: Id
    name: Name = ""
    path: LinePoints
    height_m: Height | None = None
    solidity: Share | None = None
    combustible: bool | None = None


class Ground(Model):
    """A flat area: deck, driveway, walk, pool, standing water or brush."""

    kind: Literal["deck", "driveway", "walk", "pool", "standing-water", "brush"]
    id: Id
    name: Name = ""
    outline: AreaPoints
    combustible: bool | None = None


class Shelter(Model):
    """A roof without a house: overhang, awning, canopy or tent. Open sides are counted 0 to 4."""

    kind: Literal["overhang", "canopy", "tent"]
    id: Id
    name: Name = ""
    outline: AreaPoints
    clear_height_m: Annotated[Height | None, Field(title="Clear height below")] = None
    open_sides: Annotated[int, Field(ge=0, le=4)] | None = None


class Tree(Model):
    """A tree, by its trunk and crown."""

    kind: Literal["tree"] = "tree"
    id: Id
    name: Name = ""
    at: Point
    crown_m: Annotated[Size, Field(title="Crown width")] = 4.0
    height_m: Height | None = None


Surrounding = Annotated[Barrier | Ground | Shelter | Tree, Field(discriminator="kind")]


class OnWall(Model):
    """A place on a wall: the middle of the thing, from the wall's first corner."""

    building: Annotated[Id, Field(json_schema_extra={"refers": "building"})]
    wall: Annotated[int, Field(ge=0, le=499)]
    offset_m: Offset


class _Fixture(Model):
    id: Id
    name: Name = ""
    at: Point
    on: OnWall | None = None
    height_m: Annotated[Height | None, Field(title="Height above ground")] = None


class Panel(_Fixture):
    """The service or sub panel."""

    kind: Literal["panel"] = "panel"
    rating_a: Amperes | None = None
    working_space_clear: Annotated[
        bool | None, Field(title="Working space in front kept clear")
    ] = None


class Meter(_Fixture):
    """The electric meter."""

    kind: Literal["electric-meter"] = "electric-meter"


class GasPoint(_Fixture):
    """A gas meter or regulator."""

    kind: Literal["gas-regulator", "gas-meter"]


class OutdoorUnit(_Fixture):
    """The outdoor part of an air conditioner or heat pump."""

    kind: Literal["outdoor-unit"] = "outdoor-unit"
    width_m: Size = 0.9


class FuelStore(_Fixture):
    """Liquid fuel in containers."""

    kind: Literal["fuel-store"] = "fuel-store"
    fuel: Literal["gasoline", "diesel"] = "gasoline"
    stored_l: Litres | None = None
    largest_container_l: Litres | None = None
    in_cabinet: Annotated[bool | None, Field(title="In a listed cabinet")] = None


class GasCylinder(_Fixture):
    """A liquefied-gas cylinder in use."""

    kind: Literal["gas-cylinder"] = "gas-cylinder"
    filled_on_site: bool | None = None


class PowerInlet(_Fixture):
    """A power inlet on the wall: male pins, fed by a cord."""

    kind: Literal["power-inlet"] = "power-inlet"
    receptacle: Annotated[str, Field(max_length=20, title="Configuration")] = "L14-30"
    rating_a: Amperes = 30.0
    outdoor_enclosure: Annotated[bool | None, Field(title="Enclosure rated for rain")] = None
    interlocked_disconnect: bool | None = None
    neutral_sign: Annotated[bool | None, Field(title="Sign tells bonded or floating neutral")] = (
        None
    )


class ThroughWallOutlet(_Fixture):
    """An inlet outside wired to outlets inside that are not part of the house wiring."""

    kind: Literal["through-wall-outlet"] = "through-wall-outlet"
    receptacle: Annotated[str, Field(max_length=20, title="Configuration")] = "5-15"
    rating_a: Amperes = 15.0
    gfci: bool | None = None


class WallReceptacle(_Fixture):
    """An ordinary outlet of the house wiring. Feeding it from a generator is backfeed."""

    kind: Literal["house-receptacle"] = "house-receptacle"


class ServiceDrop(_Fixture):
    """Overhead service conductors, from the pole side (`at`) to the house (`to`)."""

    kind: Literal["service-drop"] = "service-drop"
    to: Point


Fixture = Annotated[
    Panel
    | Meter
    | GasPoint
    | OutdoorUnit
    | FuelStore
    | GasCylinder
    | PowerInlet
    | ThroughWallOutlet
    | WallReceptacle
    | ServiceDrop,
    Field(discriminator="kind"),
]
