"""The lot, the buildings on and around it, and the openings in their walls."""

from typing import Annotated, Literal

from pydantic import Field

from siteplan.plan.base import (
    Depth,
    Height,
    Id,
    Model,
    Name,
    Note,
    Offset,
    Point,
    Size,
    Turn,
)


class Leg(Model):
    """One leg of a boundary description: azimuth clockwise from north [deg] and length [m]."""

    azimuth_deg: Turn
    length_m: Size


class Origin(Model):
    """Where the drawing's origin lies on the earth (WGS 84, RFC 7946 order)."""

    longitude_deg: Annotated[float, Field(ge=-180.0, le=180.0)]
    latitude_deg: Annotated[float, Field(ge=-85.0, le=85.0)]


class Lot(Model):
    """The lot's boundary ring (not repeated at the end), and the deed's legs if it came so."""

    outline: Annotated[tuple[Point, ...], Field(min_length=3, max_length=1000)]
    legs: Annotated[tuple[Leg, ...], Field(max_length=1000)] = ()
    origin: Origin | None = None


BuildingKind = Literal[
    "dwelling", "attached-garage", "detached-garage", "carport", "covered-porch", "shed", "other"
]


class Building(Model):
    """A roofed structure. Wall i runs from corner i to corner i + 1 of its outline."""

    id: Id
    name: Name = ""
    kind: BuildingKind = "dwelling"
    owner: Literal["own", "neighbour"] = "own"
    outline: Annotated[tuple[Point, ...], Field(min_length=3, max_length=500)]
    wall_material: Literal["combustible", "noncombustible"] | None = None
    eave_height_m: Annotated[Height | None, Field(title="Eave height")] = None
    overhang_m: Annotated[Depth | None, Field(title="Roof overhang beyond the walls")] = None
    storeys: Annotated[int, Field(ge=1, le=10)] | None = None
    openings_complete: Annotated[bool, Field(title="Every opening of this building is drawn")] = (
        False
    )

    @property
    def combustible(self) -> bool | None:
        """Whether its walls can burn; None if that is not stated."""
        return None if self.wall_material is None else self.wall_material == "combustible"

    @property
    def is_home(self) -> bool:
        """Whether it is a dwelling of those who run the generator."""
        return self.kind == "dwelling" and self.owner == "own"


OpeningKind = Literal[
    "door",
    "window",
    "fixed-window",
    "garage-door",
    "pet-door",
    "exhaust-hood",
    "soffit-vent",
    "gable-vent",
    "foundation-vent",
    "air-intake",
    "combustion-intake",
    "room-air-conditioner",
    "evaporative-cooler",
    "window-well",
]


class Opening(Model):
    """An opening in a wall: its near edge lies `offset_m` from the wall's first corner."""

    id: Id
    name: Name = ""
    kind: OpeningKind = "window"
    building: Annotated[Id, Field(json_schema_extra={"refers": "building"})]
    wall: Annotated[int, Field(ge=0, le=499)]
    offset_m: Annotated[Offset, Field(title="From the wall's corner")]
    width_m: Size
    sill_m: Annotated[Height | None, Field(title="Sill above ground")] = None
    head_m: Annotated[Height | None, Field(title="Head above ground")] = None
    state: Annotated[Literal["shut", "ajar-for-cord", "open"], Field(title="During the outage")] = (
        "shut"
    )


class Override(Model):
    """A local figure that lengthens a rule's distance, and why it holds here."""

    rule: Id
    distance_m: Size
    reason: Annotated[Note, Field(min_length=1)]


class Accuracy(Model):
    """How the drawing was measured; its figure is subtracted from every distance."""

    method: Literal["paced", "taped", "surveyed", "figure"]
    figure_m: Annotated[Depth | None, Field(title="Stated accuracy")] = None
