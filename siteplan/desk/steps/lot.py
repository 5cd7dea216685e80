"""The lot: typed width and depth, clicked corners, north and the drawing's accuracy."""

from typing import TYPE_CHECKING

from siteplan.desk import making, things
from siteplan.desk.forms.form import PartForm
from siteplan.desk.forms.outline import resized, size_of
from siteplan.desk.forms.quantities import exact_length
from siteplan.desk.session import Session
from siteplan.desk.steps.base import LengthField, StepPanel, labelled, side_by_side
from siteplan.desk.steps.measured import BearingsDialog, TapesDialog
from siteplan.desk.text import length, tr
from siteplan.desk.tools.outline import Corners
from siteplan.plan import Plan, edits
from siteplan.plan.rings import signed_area_m2
from siteplan.units import M_PER_FT

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas
    from siteplan.desk.window import Window


class LotPanel(StepPanel):
    """Draw the lot."""

    def __init__(self, session: Session, canvas: "Canvas", window: "Window") -> None:
        self._window = window
        super().__init__(session, canvas)

    def build(self) -> None:
        """Make the panel's contents."""
        self.intro = self.words("")
        self.width_field = LengthField(self.session, tr("Width"), ("80'", "24 m"))
        self.depth_field = LengthField(self.session, tr("Depth"), ("120'", "36 m"))
        self.column.addLayout(
            side_by_side(
                labelled(tr("Width"), self.width_field), labelled(tr("Depth"), self.depth_field)
            )
        )
        self.make = self.button(tr("Draw this lot"), self.draw_rectangle, main=True)
        self.width_field.returnPressed.connect(self.depth_field.setFocus)
        self.depth_field.returnPressed.connect(self.draw_rectangle)
        self.button(tr("Click its corners"), self.draw_corners)
        self.button(tr("Type bearings and distances"), self.type_bearings)
        self.button(tr("Place by tape"), self.type_tapes)
        self.edit = self.button(tr("Exact corners"), lambda: self.session.select(things.LOT))
        self.picture = self.button(tr("Trace a picture"), self._window.files.open_picture)
        self.picture_scale = self.button(tr("Scale the picture"), self._window.scale_picture)
        self.picture_gone = self.button(tr("Take the picture away"), self._drop_picture)
        self.heading(tr("The drawing"))
        self.form = PartForm(
            self.session, things.PLAN, ("title", "prepared_by", "date", "north_deg", "accuracy")
        )
        self.column.addWidget(self.form)

    def refresh(self) -> None:
        """Show the plan as it is now."""
        lot = self.session.plan.lot
        traced = self.session.plan.backdrop is not None
        self.picture.setVisible(not traced)
        self.picture_scale.setVisible(traced)
        self.picture_gone.setVisible(traced)
        self.edit.setVisible(lot is not None)
        self.make.setText(tr("Draw this lot") if lot is None else tr("Make it this size"))
        if lot is None:
            self.intro.setText(tr("Type the lot's width and depth, or click its corners."))
        else:
            xs, ys = [x for x, _ in lot.outline], [y for _, y in lot.outline]
            self.intro.setText(
                tr(
                    "{width} × {depth}, {corners} corners, {area}",
                    width=length(max(xs) - min(xs)),
                    depth=length(max(ys) - min(ys)),
                    corners=len(lot.outline),
                    area=_area(abs(signed_area_m2(lot.outline)), self.session.manner.system),
                )
            )
        self._show_size()
        self.form.refresh()

    def _show_size(self) -> None:
        lot = self.session.plan.lot
        size = (None, None) if lot is None else size_of(lot)
        for field, value in zip((self.width_field, self.depth_field), size, strict=True):
            if not (field.hasFocus() and field.text()):
                system = self.session.manner.system
                field.setText("" if value is None else exact_length(value, system))

    def draw_rectangle(self) -> None:
        """Make a rectangular lot of the typed size, or bring the lot to this size."""
        width = self.width_field.length_m()
        depth = self.depth_field.length_m() if width is not None else None
        if width is None or depth is None:
            return

        def change(plan: Plan) -> making.Made:
            outline = making.shape_outline("rectangle", width, depth)
            if plan.lot is not None:
                sized = resized(resized(plan.lot, 0, width), 1, depth)
                outline = getattr(sized, "outline", outline)
            return making.set_lot(plan, outline)

        self.add(tr("Draw the lot"), change)
        self.canvas.fit()

    def type_bearings(self) -> None:
        """Ask for the lot's bearings and distances."""
        if self._window.files.dialogs.show(BearingsDialog(self._window, self.session)):
            self.canvas.fit()

    def type_tapes(self) -> None:
        """Ask for tape distances to a corner or to the generator."""
        self._window.files.dialogs.show(TapesDialog(self._window, self.session))

    def _drop_picture(self) -> None:
        self.session.edit(
            tr("Take the picture away"), lambda plan: edits.with_fields(plan, backdrop=None)
        )

    def begin(self) -> None:
        """Start with the corners."""
        self.draw_corners()

    def draw_corners(self) -> None:
        """Take the tool for clicking corners."""

        def made(points: tuple[tuple[float, float], ...]) -> None:
            self.add(tr("Draw the lot"), lambda plan: making.set_lot(plan, points))

        self.canvas.take_tool(Corners(self.canvas, tr("Lot"), made))


def _area(area_m2: float, system: str) -> str:
    if system == "metres":
        return f"{area_m2:.0f} m²"
    return f"{area_m2 / M_PER_FT**2:,.0f} ft²"
