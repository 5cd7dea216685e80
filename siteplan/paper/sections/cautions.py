"""What every page says, whatever the plan: alarms, authorities, and what an estimate is."""

from siteplan.paper.subject import Subject


def foot(subject: Subject) -> str:
    """Return the caution at the foot of every page."""
    return subject.say(
        "CAUTION: Local code, the maker's manual and a licensed electrician govern. Wherever the "
        "generator stands, working CO alarms are needed on every level and outside each sleeping "
        "area. No distance makes exhaust harmless."
    )
