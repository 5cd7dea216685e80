"""Field types and the base model shared by the whole document.

Lengths are metres, angles degrees, powers watts; the unit stands in each field's name. The
`quantity` entry in a field's schema tells a form how to show and read it.
"""

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

FARTHEST_M = 20_000.0


class Model(BaseModel):
    """A frozen part of the document: unknown fields, wrong types, NaN and infinity are errors."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", strict=True, allow_inf_nan=False, defer_build=True
    )


def _of(quantity: str) -> dict[str, object]:
    return {"quantity": quantity}


Coordinate = Annotated[float, Field(ge=-FARTHEST_M, le=FARTHEST_M)]
Point = tuple[Coordinate, Coordinate]
"""East and north of the drawing's origin [m]."""

Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9-]{0,39}$")]
Name = Annotated[str, StringConstraints(max_length=120)]
Note = Annotated[
    str, StringConstraints(max_length=4000), Field(json_schema_extra={"quantity": "note"})
]

Offset = Annotated[float, Field(ge=0.0, le=FARTHEST_M, json_schema_extra=_of("length"))]
SignedOffset = Annotated[float, Field(ge=-100.0, le=100.0, json_schema_extra=_of("length"))]
Size = Annotated[float, Field(gt=0.0, le=1000.0, json_schema_extra=_of("length"))]
Height = Annotated[float, Field(ge=0.0, le=100.0, json_schema_extra=_of("length"))]
Depth = Annotated[float, Field(ge=0.0, le=10.0, json_schema_extra=_of("length"))]
Turn = Annotated[float, Field(ge=0.0, lt=360.0, json_schema_extra=_of("angle"))]
Watts = Annotated[float, Field(ge=0.0, le=1_000_000.0, json_schema_extra=_of("power"))]
Amperes = Annotated[float, Field(gt=0.0, le=1000.0, json_schema_extra=_of("current"))]
Litres = Annotated[float, Field(ge=0.0, le=10_000.0, json_schema_extra=_of("volume"))]
Share = Annotated[float, Field(ge=0.0, le=1.0, json_schema_extra=_of("share"))]
Decibels = Annotated[float, Field(ge=0.0, le=140.0, json_schema_extra=_of("level"))]
Gauge = Annotated[int, Field(ge=-3, le=20, json_schema_extra=_of("gauge"))]
"""American wire gauge; 0 is 1/0, -3 is 4/0."""
Clock = Annotated[
    str,
    StringConstraints(pattern=r"^([01][0-9]|2[0-3]):[0-5][0-9]$"),
    Field(json_schema_extra={"quantity": "clock"}),
]
