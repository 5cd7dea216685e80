"""Exit codes of the command line."""

from siteplan.errors import OwnFilesError, SiteplanError

DONE = 0
FINDINGS = 1
USAGE = 2
NOT_A_PLAN = 3
NO_ACCESS = 4
INTERNAL = 5
INTERRUPTED = 130


def of(error: SiteplanError) -> int:
    """Return the exit code that an error ends the program with."""
    from siteplan.plan.errors import FileAccessError, PlanFileError

    ends: tuple[tuple[type[SiteplanError], int], ...] = (
        (FileAccessError, NO_ACCESS),
        (PlanFileError, NOT_A_PLAN),
        (OwnFilesError, INTERNAL),
    )
    return next((code for kind, code in ends if isinstance(error, kind)), USAGE)
