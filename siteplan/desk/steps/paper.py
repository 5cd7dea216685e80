"""Paper: three sets for three readers, the drawing to scale, and the figures as files."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices

from siteplan.desk import things
from siteplan.desk.forms.form import PartForm
from siteplan.desk.session import Session
from siteplan.desk.steps.base import StepPanel, button
from siteplan.desk.text import tr, why
from siteplan.desk.widgets import plain_label
from siteplan.errors import SiteplanError
from siteplan.plan.store import write_whole

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas
    from siteplan.desk.window import Window
    from siteplan.paper.documents import Kind


class PaperPanel(StepPanel):
    """Put the plan on paper."""

    def __init__(self, session: Session, canvas: "Canvas", window: "Window") -> None:
        self._window = window
        super().__init__(session, canvas)

    def build(self) -> None:
        """Make the panel's contents."""
        self._set(
            "household",
            tr("For the household"),
            tr("Two pages for the refrigerator door."),
        )
        self._set(
            "records",
            tr("For records"),
            tr("The answers in plain words, and what was checked and measured, with sources."),
        )
        self._set("installer", tr("For the installer"), tr("Power path, inlet and loads."))
        self.heading(tr("The drawing and the figures"))
        self.buttons(
            [
                (tr("Picture (PNG)"), lambda: self.save("png")),
                (tr("Drawing (SVG)"), lambda: self.save("svg")),
                (tr("Figures (CSV)"), lambda: self.save("csv")),
                (tr("Shapes (GeoJSON)"), lambda: self.save("geojson")),
            ]
        )
        self.heading(tr("In the title block"))
        self.form = PartForm(self.session, things.PLAN, ("title", "prepared_by", "date", "note"))
        self.column.addWidget(self.form)

    def _set(self, kind: str, title: str, about: str) -> None:
        made = button(title, lambda: self.save_papers(kind), main=True)
        made.setAccessibleDescription(about)
        self.column.addWidget(made)
        self.column.addWidget(plain_label(about, muted=True, wrap=True))
        self.column.addSpacing(2)

    def refresh(self) -> None:
        """Show the plan as it is now."""
        self.form.refresh()

    def save_papers(self, kind: str) -> Path | None:
        """Ask for a file, write one set of papers to it, and show it."""

        def content() -> bytes:
            # Setting type is slow to load and not wanted before someone asks for paper.
            from siteplan.paper import documents

            return documents.make(self.session.plan, cast("Kind", kind), self.session.manner)

        path = self._write(f"{self._stem()}-{kind}", "pdf", content)
        if path is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))
        return path

    def save(self, ending: str) -> Path | None:
        """Ask for a file and write the drawing or the figures to it."""
        return self._write(self._stem(), ending, lambda: self._content(ending))

    def _stem(self) -> str:
        return self.session.path.stem if self.session.path else tr("site plan")

    def _write(self, stem: str, ending: str, content: Callable[[], bytes]) -> Path | None:
        files = self._window.files
        proposal = files.folder() / f"{stem}.{ending}"
        path = files.dialogs.save_path(self._window, proposal, f"*.{ending}")
        if path is None:
            return None
        path = path if path.suffix else path.with_suffix(f".{ending}")
        try:
            write_whole(path, content())
        except SiteplanError as error:
            files.dialogs.tell(self._window, why(error))
            return None
        self._window.say(tr("Written: {name}", name=path.name))
        return path

    def _content(self, ending: str) -> bytes:
        from siteplan.paper import columns, documents, geojson, sheet, typeset

        plan, review, manner = self.session.plan, self.session.review, self.session.manner
        if ending in ("csv", "geojson"):
            subject = documents.about(plan, manner, None)
            text = columns.findings(subject) if ending == "csv" else geojson.write(subject)
            return text.encode("utf-8")
        letter = manner.system == "feet"
        size = sheet.LETTER_LANDSCAPE_MM if letter else sheet.A4_LANDSCAPE_MM
        drawn = sheet.plan_sheet(plan, review, manner, sheet.Wish(size, turnable=True))
        return drawn.svg.encode("utf-8") if ending == "svg" else typeset.png(drawn)
