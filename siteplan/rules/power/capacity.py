"""What the machine still gives at the altitude, in the heat and on the fuel of the plan."""

import math
from collections.abc import Mapping

from siteplan.plan.document import Plan
from siteplan.power.derating import FUEL_FACTORS, FUEL_START_FACTORS, Fuel, derating_factor
from siteplan.rules.power.span import Span, exact, grows, unknown
from siteplan.words import Text

_HIGHEST_M, _COLDEST_C = 5000.0, -50.0
# A label's rating is taken as the one on gasoline, whatever the machine burns.
_FUEL_OF: dict[str, Fuel] = {
    "propane": "propane",
    "natural-gas": "natural-gas",
    "dual-fuel": "propane",
}
_NO_RATED = Text("the running watts on the generator's label")
_NO_STARTING = Text("the starting watts on the generator's label")
_NO_ALTITUDE = Text("the altitude")
_NO_TEMPERATURE = Text("the air temperature")


def factor(plan: Plan, by_fuel: Mapping[Fuel, float] = FUEL_FACTORS) -> Span:
    """Return the share of its rating that the machine still gives."""
    fuel = 1.0 if plan.machine is None else by_fuel[_FUEL_OF.get(plan.machine.fuel, "gasoline")]
    altitude_m, ambient_c = plan.outage.altitude_m, plan.outage.temperature_c
    missing = []
    if altitude_m is None or altitude_m > _HIGHEST_M:
        missing.append(_NO_ALTITUDE)
        altitude_m = 0.0 if altitude_m is None else _HIGHEST_M
    if ambient_c is None:
        missing.append(_NO_TEMPERATURE)
    best = fuel * derating_factor(altitude_m, max(_COLDEST_C, ambient_c or 0.0))
    return Span(0.0, best, tuple(missing)) if missing else exact(best)


def rated_w(plan: Plan) -> Span:
    """Return the power that the machine gives for hours [W]."""
    return _derated(plan, None if plan.machine is None else plan.machine.rated_w, _NO_RATED)


def starting_w(plan: Plan) -> Span:
    """Return the power that the machine gives for a start [W]; at least its running power."""
    running = rated_w(plan)
    if plan.machine is None or not plan.machine.starting_w:
        return Span(running.least, math.inf, (_NO_STARTING,))
    start = grows(
        lambda one, two: one * two,
        factor(plan, FUEL_START_FACTORS),
        exact(plan.machine.starting_w),
    )
    if not plan.machine.rated_w:
        return start
    # What it gives for hours it gives for a start too.
    return Span(max(start.least, running.least), max(start.most, running.most), start.missing)


def _derated(plan: Plan, label_w: float | None, missing: Text) -> Span:
    # A label of 0 W says nothing.
    if not label_w:
        return unknown(0.0, math.inf, missing)
    return grows(lambda one, two: one * two, factor(plan), exact(label_w))
