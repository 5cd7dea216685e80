"""Which noise limits hold on a plan: typed by the user, or of a published preset."""

from dataclasses import dataclass
from typing import Literal

from siteplan.plan.document import Plan
from siteplan.rules.common import minute
from siteplan.sound.limits import Preset, Quiet, presets

Where = Literal["boundary", "window", "at-distance"]


@dataclass(frozen=True, slots=True)
class Pair:
    """A day and a night limit [dB(A)], None where there is none, and the works they come from."""

    day_dba: float | None = None
    night_dba: float | None = None
    sources: tuple[str, ...] = ()

    @property
    def none(self) -> bool:
        """Whether there is neither."""
        return self.day_dba is None and self.night_dba is None


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits of a plan.

    Attributes
    ----------
    boundary, window : Pair
        At the boundary, and before a neighbour's window.
    at_distance : Pair
        A limit on the machine itself, `distance_m` from it.
    distance_m : float or None
        That distance [m].
    quiet : Quiet
        When the night limit holds.
    by_day, at_night : bool
        Whether the outage planned has hours in which the day or the night limit holds.
    preset : Preset or None
        The preset named in the plan, if it is on the list.
    """

    boundary: Pair
    window: Pair
    at_distance: Pair
    distance_m: float | None
    quiet: Quiet
    by_day: bool
    at_night: bool
    preset: Preset | None

    def at(self, where: Where) -> Pair:
        """Return the limits that hold at a kind of place."""
        pairs = {"boundary": self.boundary, "window": self.window, "at-distance": self.at_distance}
        return pairs[where]


def limits(plan: Plan) -> Limits:
    """Return the limits of a plan; a typed figure goes before the preset's."""
    outage = plan.outage
    preset = presets().get(outage.limit_preset or "")
    quiet = Quiet(minute(outage.quiet_from), minute(outage.quiet_to))
    by_day, at_night = _hours(plan, quiet)
    return Limits(
        boundary=_pair(plan, preset, "boundary"),
        window=_pair(plan, preset, "window"),
        at_distance=_of_preset(preset, "at-distance"),
        distance_m=None if preset is None else preset.distance_m,
        quiet=quiet,
        by_day=by_day,
        at_night=at_night,
        preset=preset,
    )


def _of_preset(preset: Preset | None, where: Where) -> Pair:
    if preset is None or preset.place != where:
        return Pair()
    return Pair(preset.day_dba, preset.night_dba, (preset.source,))


def _pair(plan: Plan, preset: Preset | None, where: Where) -> Pair:
    """Return the typed limits, filled up by the preset where it speaks of such a place."""
    typed, found = plan.outage, _of_preset(preset, where)
    day = found.day_dba if typed.day_limit_dba is None else typed.day_limit_dba
    night = found.night_dba if typed.night_limit_dba is None else typed.night_limit_dba
    used = day is not typed.day_limit_dba or night is not typed.night_limit_dba
    return Pair(day, night, found.sources if used else ())


def _hours(plan: Plan, quiet: Quiet) -> tuple[bool, bool]:
    """Return whether the outage has day hours and quiet hours; both if its length is unknown."""
    if plan.outage.hours is None:
        return True, True
    whole = plan.outage.hours * 60.0
    still = quiet.overlap_min(minute(plan.outage.start), whole)
    return still < whole, still > 0.0
