"""What can be done to the selected things: delete, duplicate, mirror, select all."""

from siteplan.desk import rearrange, things
from siteplan.desk.session import Session
from siteplan.desk.text import tr
from siteplan.plan import Plan


class Editing:
    """Edits of the selection, each one step of undo."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def delete(self) -> None:
        """Remove what is selected, with what cannot be without it."""
        keys = self._session.selection
        if keys:
            self._session.edit(tr("Delete"), lambda plan: things.without(plan, keys))

    def duplicate(self) -> None:
        """Put copies beside what is selected, and select them."""
        keys = tuple(key for key in self._session.selection if not key.startswith("@"))
        made: list[str] = []

        def change(plan: Plan) -> Plan:
            after, new = rearrange.duplicate(plan, keys)
            made.extend(new)
            return after

        if keys and self._session.edit(tr("Duplicate"), change) and made:
            self._session.select(*made)

    def mirror(self) -> None:
        """Mirror what is selected, left to right."""
        keys = self._session.selection
        if keys:
            self._session.edit(tr("Mirror"), lambda plan: rearrange.mirrored(plan, keys))

    def select_all(self) -> None:
        """Select everything that can be moved."""
        self._session.select(*things.ids(self._session.plan))
