"""What must run, for how long, and who is in the house."""

from typing import Annotated, Literal

from pydantic import Field

from siteplan.plan.base import (
    Amperes,
    Clock,
    Decibels,
    Gauge,
    Id,
    Model,
    Name,
    Offset,
    Point,
    Share,
    Turn,
    Watts,
)


class Load(Model):
    """One appliance. Starting watts are the total while it starts."""

    id: Id
    name: Name = ""
    appliance: Annotated[str, Field(max_length=60)] = "other"
    running_w: Watts
    starting_w: Watts | None = None
    volts: Literal[120, 240] = 120
    leg: Literal["a", "b"] | None = None
    via: Annotated[Id | None, Field(title="Fed by cord or inlet")] = None
    continuous: Annotated[bool | None, Field(title="Runs three hours or more")] = None
    medical: bool = False
    duty: Annotated[Share, Field(title="Share of the time it runs")] = 1.0
    when: Literal["always", "day", "night"] = "always"
    at: Point | None = None


class Transfer(Model):
    """How the house wiring is kept apart from the utility while it is fed."""

    kind: Literal["none", "interlock", "manual-switch", "automatic-switch"] | None = None
    switches_neutral: bool | None = None
    rating_a: Amperes | None = None
    feeder_awg: Gauge | None = None
    feeder_length_m: Offset | None = None
    branch_awg: Gauge | None = None
    branch_length_m: Offset | None = None
    by_licensed_electrician: bool | None = None
    permit: bool | None = None


class Outage(Model):
    """The outage planned for, and the local limits on sound."""

    hours: Annotated[float, Field(gt=0, le=2000)] | None = None
    start: Clock = "18:00"
    temperature_c: Annotated[
        float | None, Field(ge=-60, le=60, json_schema_extra={"quantity": "temperature"})
    ] = None
    altitude_m: Annotated[
        float | None, Field(ge=-430, le=6000, json_schema_extra={"quantity": "length"})
    ] = None
    quiet_from: Clock = "22:00"
    quiet_to: Clock = "07:00"
    day_limit_dba: Decibels | None = None
    night_limit_dba: Decibels | None = None
    limit_preset: Annotated[str | None, Field(max_length=60)] = None
    cooling_min: Annotated[float, Field(ge=20, le=240, title="Cooling before refuelling")] = 30.0


class AlarmSpot(Model):
    """A storey or sleeping area, and whether a working CO alarm is there."""

    id: Id
    name: Name = ""
    place: Literal["storey", "sleeping-area"]
    alarm: Annotated[bool | None, Field(title="Working CO alarm")] = None
    battery: Annotated[bool | None, Field(title="Battery or battery back-up")] = None


class Household(Model):
    """Who is at home and which alarms they have."""

    alarm_spots: Annotated[tuple[AlarmSpot, ...], Field(max_length=40)] = ()
    children_or_pregnancy: bool | None = None
    extinguisher: bool | None = None


class WindSector(Model):
    """Share of hours with wind from this direction (clockwise from north) at this mean speed."""

    from_deg: Turn
    share: Share
    speed_m_s: Annotated[float, Field(ge=0, le=60)]


class Wind(Model):
    """A wind rose; it informs and never shortens a distance."""

    sectors: Annotated[tuple[WindSector, ...], Field(min_length=1, max_length=36)]
    calm_share: Share = 0.0
    origin: Name = ""
