"""What can go wrong with a plan file or an edit; texts are for the person at the screen."""

from siteplan.errors import Said, SiteplanError
from siteplan.words import plain

_LONGEST = 300


class PlanFileError(SiteplanError):
    """A file that cannot be read as a plan. `path` names it; "-" is the standard input."""

    def __init__(self, path: str, why: str | Said) -> None:
        self.path = path
        self.why = why if isinstance(why, Said) else Said(plain(why, _LONGEST))
        where = Said("standard input") if path == "-" else plain(path, _LONGEST)
        super().__init__("{path}: {why}", path=where, why=self.why)


class BrokenFileError(PlanFileError):
    """Not a valid plan: the text names the field, the value and what is allowed."""


class NewerFormatError(PlanFileError):
    """Written by a newer version than this program knows; it may be read, never overwritten."""


class FileAccessError(PlanFileError):
    """The file cannot be read or written."""


class EditError(SiteplanError):
    """An edit that cannot be made; the plan stays as it was."""
