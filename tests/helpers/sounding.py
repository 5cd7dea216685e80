"""A square lot with a rated machine in its middle, and a neighbour's house: for checks of noise."""

from siteplan.plan.machine import SoundRating
from siteplan.plan.needs import Outage
from tests.helpers.builders import box, building, lot, machine, make_plan, opening, standing

POWER = 90.0
QUIET = SoundRating(level_dba=POWER, how="guaranteed-sound-power")


def outage(**fields):
    return Outage(**({"hours": 24.0} | fields))


def lone(half_m, *parts, rating=QUIET, **limits_typed):
    """A square lot with the machine in the middle, its boundary so far away."""
    return make_plan(
        lot(-half_m, -half_m, half_m, half_m),
        machine(sound=rating),
        standing(0.0, 0.0),
        *parts,
        outage=outage(**limits_typed),
    )


def neighbour(**fields):
    outline = box(-6.0, 14.0, 6.0, 22.0)
    return building(outline, "next-door", owner="neighbour", storeys=2, **fields)


def facing(id="theirs", **fields):  # noqa: A002
    return opening(id, building="next-door", wall=0, offset_m=5.5, **fields)
