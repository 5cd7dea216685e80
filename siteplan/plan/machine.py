"""The generator, where it stands, its cover and its cords."""

from typing import Annotated, Literal

from pydantic import Field

from siteplan.plan.base import (
    Amperes,
    Decibels,
    Gauge,
    Height,
    Id,
    Litres,
    Model,
    Name,
    Note,
    Point,
    SignedOffset,
    Size,
    Turn,
    Watts,
)

Side = Literal["front", "right", "back", "left"]
Fuel = Literal["gasoline", "diesel", "propane", "natural-gas", "dual-fuel"]


class Receptacle(Model):
    """An outlet on the generator, by its NEMA WD 6 configuration."""

    id: Id
    configuration: Annotated[str, Field(max_length=20)]
    breaker_a: Amperes | None = None
    gfci: bool | None = None


class SoundRating(Model):
    """A sound figure as the maker prints it."""

    level_dba: Decibels
    how: Literal["at-distance", "sound-power", "guaranteed-sound-power"] = "at-distance"
    distance_m: Size = 7.0
    full_load_all_sides: Annotated[
        bool | None, Field(title="Measured at full load on all sides")
    ] = None


class Machine(Model):
    """A portable generator. Its front faces north of the drawing at turn 0."""

    name: Name = ""
    width_m: Size = 0.6
    length_m: Size = 0.7
    height_m: Height = 0.6
    exhaust_side: Side | None = None
    exhaust_offset_m: Annotated[SignedOffset, Field(title="Exhaust from the middle")] = 0.0
    exhaust_height_m: Height | None = None
    fuel: Fuel = "gasoline"
    rated_w: Watts | None = None
    starting_w: Watts | None = None
    voltage: Annotated[Literal["120", "120/240"], Field(title="Volts")] = "120/240"
    inverter: bool | None = None
    neutral: Literal["bonded", "floating"] | None = None
    receptacles: Annotated[tuple[Receptacle, ...], Field(max_length=20)] = ()
    receptacles_interlocked: Annotated[
        bool | None, Field(title="120 V outlets off while the 240 V outlet is in use")
    ] = None
    sound: SoundRating | None = None
    engine_cc: Annotated[float, Field(gt=0, le=5000)] | None = None
    co_label_g_per_h: Annotated[float, Field(gt=0, le=20_000)] | None = None
    co_shutoff: bool | None = None
    tank_l: Litres | None = None

    @property
    def drawn_side(self) -> Side:
        """The side that the exhaust is reckoned on: the back where nobody has said which."""
        return self.exhaust_side or "back"


class Cover(Model):
    """Something over the running machine."""

    kind: Literal["canopy", "tarp", "box", "tent"]
    open_sides: Annotated[int, Field(ge=0, le=4)] | None = None
    gap_above_m: Height | None = None


class Pass(Model):
    """A cord going through an opening, and how."""

    opening: Annotated[Id, Field(json_schema_extra={"refers": "opening"})]
    how: Literal["held-ajar", "pinched", "sealed-fitting"]


class Cord(Model):
    """A cord from one of the machine's receptacles to an inlet, outlet or appliance."""

    id: Id
    name: Name = ""
    receptacle: Annotated[Id | None, Field(title="From receptacle")] = None
    to: Annotated[Id | None, Field(title="To inlet, outlet or appliance")] = None
    end: Point | None = None
    routing: Literal["routed", "drawn"] = "routed"
    waypoints: Annotated[tuple[Point, ...], Field(max_length=100)] = ()
    gauge_awg: Gauge | None = None
    wires: Annotated[int, Field(ge=2, le=5)] = 3
    pieces_m: Annotated[tuple[Size, ...], Field(max_length=10, title="Lengths of the pieces")] = ()
    outdoor_jacket: Annotated[bool | None, Field(title="Marked for outdoor use")] = None
    end_fitting: Literal["connector", "outlet-box", "outlet-box-with-breakers"] = "connector"
    passes: Annotated[tuple[Pass, ...], Field(max_length=20)] = ()
    coiled: Annotated[bool | None, Field(title="Left coiled or on a reel")] = None
    ramp_at_driveway: bool | None = None


class Placement(Model):
    """One way of standing the machine and running its cords."""

    id: Id
    name: Name = ""
    at: Point
    turn_deg: Turn = 0.0
    ground: Literal["concrete", "gravel", "soil", "grass", "deck"] | None = None
    level_and_dry: bool | None = None
    cover: Cover | None = None
    cords: Annotated[tuple[Cord, ...], Field(max_length=50)] = ()
    note: Note = ""
