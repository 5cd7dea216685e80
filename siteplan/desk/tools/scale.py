"""Give a picture its scale: click two places on it and type how far apart they are."""

from typing import TYPE_CHECKING

from PySide6.QtGui import QMouseEvent, QPainter

from siteplan.desk.backdrop import rescaled
from siteplan.desk.canvas.frame import Frame, Point
from siteplan.desk.palette import Palette
from siteplan.desk.text import tr, why
from siteplan.desk.tools.base import Tool, draw_line
from siteplan.errors import SiteplanError
from siteplan.plan import edits
from siteplan.units import parse_length

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas


class ScalePicture(Tool):
    """Two clicks and a typed length."""

    name = "scale-picture"

    def __init__(self, canvas: "Canvas") -> None:
        super().__init__(canvas)
        self.points: tuple[Point, ...] = ()
        self._at: Point | None = None

    def hint(self) -> str:
        """Return one line that says what to do next."""
        if len(self.points) < 2:
            return tr("Picture: click two places on it whose distance you know.")
        return tr("Picture: type how far apart the two places are, then press Enter.")

    def press(self, at: Point, event: QMouseEvent) -> None:
        """Take a place; after the second, ask for the length."""
        self.points = (*self.points[:1], at) if self.points else (at,)
        if len(self.points) == 2:
            self.canvas.ask_number("")
        self.refresh()

    def move(self, at: Point, event: QMouseEvent) -> None:
        """Show the line so far."""
        self._at = at
        self.canvas.hand.update()

    def takes_typing(self) -> bool:
        """Say yes once both places are known."""
        return len(self.points) == 2

    def typed(self, words: str) -> bool:
        """Place the picture by the typed length."""
        backdrop = self.session.plan.backdrop
        try:
            length_m = parse_length(words, self.session.manner.system)
            if backdrop is None or length_m <= 0.0:
                return False
            new = rescaled(backdrop, self.points[0], self.points[1], length_m)
        except SiteplanError as error:
            self.session.refused.emit(why(error))
            return False
        self.session.edit(
            tr("Scale the picture"), lambda plan: edits.with_fields(plan, backdrop=new)
        )
        self.canvas.take_tool()
        return True

    def paint(self, painter: QPainter, frame: Frame, palette: Palette) -> None:
        """Paint the line between the places."""
        points = (
            self.points if len(self.points) == 2 or self._at is None else (*self.points, self._at)
        )
        if points:
            draw_line(painter, [frame.to_px(one) for one in points], palette)
