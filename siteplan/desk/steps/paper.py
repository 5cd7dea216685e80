"""Paper: the drawing to scale, as a picture or a vector file."""

from pathlib import Path
from typing import TYPE_CHECKING

from siteplan.desk import things
from siteplan.desk.forms.editors import Choice
from siteplan.desk.forms.form import PartForm
from siteplan.desk.session import Session
from siteplan.desk.steps.base import StepPanel, labelled
from siteplan.desk.text import tr
from siteplan.errors import SiteplanError
from siteplan.plan.store import write_whole

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas
    from siteplan.desk.window import Window


class PaperPanel(StepPanel):
    """Put the plan on paper."""

    def __init__(self, session: Session, canvas: "Canvas", window: "Window") -> None:
        self._window = window
        self.sheet = "letter"
        super().__init__(session, canvas)

    def build(self) -> None:
        """Make the panel's contents."""
        self.words(tr("The drawing to scale, with its findings, to print or to send."))
        self.sizes = Choice(
            [("letter", tr("Letter, 8½ × 11 in")), ("a4", tr("A4, 210 × 297 mm"))], self._set_size
        )
        self.sizes.show_value("letter")
        self.column.addLayout(labelled(tr("Sheet"), self.sizes))
        self.button(tr("Save as a picture (PNG)"), lambda: self.save("png"), main=True)
        self.button(tr("Save as a drawing (SVG)"), lambda: self.save("svg"))
        self.heading(tr("In the title block"))
        self.form = PartForm(self.session, things.PLAN, ("title", "prepared_by", "date", "note"))
        self.column.addWidget(self.form)

    def _set_size(self, value: object) -> None:
        self.sheet = str(value)

    def refresh(self) -> None:
        """Show the plan as it is now."""
        self.form.refresh()

    def save(self, ending: str) -> None:
        """Ask for a file and write the sheet to it."""
        files = self._window.files
        stem = self.session.path.stem if self.session.path else tr("site plan")
        proposal = Path.home() / f"{stem}.{ending}"
        path = files.dialogs.save_path(self._window, proposal, f"*.{ending}")
        if path is None:
            return
        try:
            write_whole(path, self._content(ending))
        except SiteplanError as error:
            files.dialogs.tell(self._window, str(error))
            return
        self._window.say(tr("Written: {name}", name=path.name))

    def _content(self, ending: str) -> bytes:
        # Setting type is slow to load and not wanted before someone asks for paper.
        from siteplan.paper.sheet import LETTER_LANDSCAPE_MM, Wish, plan_sheet

        size = LETTER_LANDSCAPE_MM if self.sheet == "letter" else (297.0, 210.0)
        sheet = plan_sheet(
            self.session.plan, self.session.review, self.session.manner, Wish(size, turnable=True)
        )
        if ending == "svg":
            return sheet.svg.encode("utf-8")
        from siteplan.paper.typeset import png

        return png(sheet)
