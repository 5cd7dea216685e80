"""What a field that names another thing can be set to."""

from siteplan.desk import things
from siteplan.desk.text import tr
from siteplan.plan import Plan


def options(plan: Plan, refers: str, *, optional: bool) -> list[tuple[object, str]]:
    """Return the ids a reference may hold, each with its label."""
    found: list[tuple[object, str]] = [(None, tr("None"))] if optional else []
    if refers == "building":
        return found + [(one.id, things.label(one)) for one in plan.buildings]
    if refers == "opening":
        return found + [(one.id, things.label(one)) for one in plan.openings]
    if refers == "receptacle":
        outlets = plan.machine.receptacles if plan.machine else ()
        return found + [(one.id, f"{one.configuration} ({one.id})") for one in outlets]
    cords = plan.placement.cords if plan.placement and refers == "feed" else ()
    found += [(one.id, things.label(one)) for one in cords]
    found += [(one.id, things.label(one)) for one in plan.fixtures]
    if refers == "cord-end":
        found += [(one.id, things.label(one)) for one in plan.loads]
    return found
