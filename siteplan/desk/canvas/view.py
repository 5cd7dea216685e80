"""The canvas: the lot in metres, seen through a frame, worked on with one tool at a time."""

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, QSizeF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QGraphicsView, QVBoxLayout, QWidget

from siteplan.desk import text, things
from siteplan.desk.canvas.cord_marks import live_machine_marks
from siteplan.desk.canvas.frame import Frame, Point
from siteplan.desk.canvas.furniture import Furniture
from siteplan.desk.canvas.layers import Ground, Hand, Moving
from siteplan.desk.canvas.number import NumberField
from siteplan.desk.canvas.picking import TOLERANCE_PX, Picker
from siteplan.desk.canvas.shapes import extent, shape
from siteplan.desk.canvas.showing import outcome_brush, selection_brush
from siteplan.desk.canvas.ways import Under, Ways, told_label
from siteplan.desk.palette import LIGHT, Palette
from siteplan.desk.session import Session
from siteplan.desk.tools.base import Tool
from siteplan.desk.tools.outline import Measure
from siteplan.desk.tools.scale import ScalePicture
from siteplan.desk.tools.select import Select
from siteplan.drawing import Marks, ground_marks, review_marks
from siteplan.drawing.governing import governing_marks
from siteplan.plan import Plan
from siteplan.plan.document import Backdrop
from siteplan.rules.findings import Finding, Met, Unjudged

if TYPE_CHECKING:
    from siteplan.desk.plots.sound_layer import SoundLayer

_STILL_PARTS = ("lot", "buildings", "openings", "surroundings", "fixtures", "north_deg", "backdrop")
_WHEEL_STEP = 1.0015
# At each of these scales [px/m] one more distance line is drawn.
_LINE_SCALES = (0.0, 8.0, 12.0, 16.0, 24.0, 32.0)


class Canvas(QWidget):
    """The drawing surface.

    Signals
    -------
    tool_changed(tool), pointer_moved(point in metres or None), zoomed(px per metre),
    numbers_wanted(): the form of the selected thing is asked for.
    """

    tool_changed = Signal(object)
    pointer_moved = Signal(object)
    zoomed = Signal(float)
    numbers_wanted = Signal()

    def __init__(self, session: Session, palette: Palette = LIGHT) -> None:
        super().__init__()
        self.session = session
        self.palette_in_use = palette
        self.frame = Frame()
        self._picker: Picker | None = None
        self._fitted = False
        self._pan_from: QPointF | None = None
        self._backdrop: Backdrop | None = None
        self._outcome: Finding | Met | Unjudged | None = None
        self._sound: SoundLayer | None = None
        self._build()
        self.furniture = Furniture(self)
        self.ways = Ways(session, self.under, self.hand, told_label(self._viewport))
        self.ways.restyle(palette)
        self.pointer_moved.connect(self._point)
        self.number = NumberField(self)
        self.tool: Tool = Select(self)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.rename()
        self.setMouseTracking(True)
        self._connect()
        self.show_all()

    def _build(self) -> None:
        # The library's own mouse handling, menus and exporters stay out: every event goes to
        # the tool through the filter below.
        self._view: Any = pg.GraphicsView(self)
        self._box: Any = pg.ViewBox(lockAspect=1.0, enableMenu=False, enableMouse=False)
        self._box.disableAutoRange()
        self._view.setCentralItem(self._box)
        self._view.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
        self._view.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._view.setFrameStyle(0)
        self.ground, self.under, self.hand = Ground(), Under(), Hand()
        self.moving = Moving(self.ground)
        for layer in (self.ground, self.under, self.moving, self.hand):
            self._box.addItem(layer, ignoreBounds=True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._view)
        self._viewport: QWidget = self._view.viewport()
        self._viewport.setMouseTracking(True)
        self._viewport.installEventFilter(self)

    def rename(self) -> None:
        """Take the reader's language."""
        self.setAccessibleName(text.tr("Drawing of the lot"))
        self.number.rename()

    def _connect(self) -> None:
        session = self.session
        session.plan_changed.connect(self._on_plan)
        session.selection_changed.connect(self._on_selection)
        session.manner_changed.connect(self.show_all)
        session.review_changed.connect(self._on_review)
        session.shown.connect(self.bring_into_view)
        session.pointed.connect(self.point_out)

    def sound_layer(self) -> "SoundLayer":
        """Return the layer of equal levels, made when first asked for."""
        # The formulas of sound load only for someone who looks at them.
        from siteplan.desk.plots.sound_layer import SoundLayer

        if self._sound is None:
            self._sound = SoundLayer(self.session, self.under, self)
        return self._sound

    @property
    def viewport(self) -> QWidget:
        """The widget that gets the mouse."""
        return self._viewport

    @property
    def picker(self) -> Picker:
        """What finds things by place, for the plan as it stands."""
        if self._picker is None or self._picker.plan is not self.session.plan:
            self._picker = Picker(self.session.plan)
        return self._picker

    @property
    def tolerance_m(self) -> float:
        """How near the pointer must come to a thin thing [m]."""
        return TOLERANCE_PX / self.frame.px_per_m

    # -- what is shown ---------------------------------------------------------

    def show_all(self) -> None:
        """Draw everything anew."""
        self._show_ground()
        self._show_moving()
        self._show_selection()
        self.furniture.refresh()

    def _show_ground(self) -> None:
        plan = self.session.plan
        if plan.backdrop is not self._backdrop:
            self._backdrop = plan.backdrop
            self.ground.lay_under(self._backdrop)
        self.ground.draw(ground_marks(plan, self.session.manner))

    def _on_plan(self, before: Plan, after: Plan) -> None:
        if any(getattr(before, name) is not getattr(after, name) for name in _STILL_PARTS):
            self._show_ground()
            self.furniture.refresh()
        if not self._fitted and after.lot is not None:
            self.fit()
        if self.session.selection:
            self.hand.update()
        self.tool.plan_changed()

    def _on_review(self) -> None:
        self._show_moving()

    def _show_moving(self) -> None:
        plan, manner = self.session.plan, self.session.manner
        review, scene = self.session.review, self.session.scene
        # Seen from afar the lines are shorter than their figures: fewer can be read.
        most = self._most_lines()
        live: Marks = () if scene is None else governing_marks(scene, review, manner, most)
        lines = review_marks(review, manner, most)
        self.moving.draw((*live, *lines, *live_machine_marks(plan, scene, manner)))

    def _most_lines(self) -> int:
        return sum(self.frame.px_per_m > scale for scale in _LINE_SCALES)

    def _point(self, at: Point | None) -> None:
        self.ways.pointer(at)
        if at is not None:
            spot = self.frame.to_px(at).toPoint()
            room, told = self._viewport.rect(), self.ways.told
            x = min(spot.x() + 18, room.width() - told.width() - 8)
            y = min(spot.y() + 18, room.height() - told.height() - 8)
            told.move(max(0, x), max(0, y))

    def _on_selection(self) -> None:
        self._show_selection()
        self.tool.selection_changed()

    def _show_selection(self) -> None:
        self.hand.set_brush("selection", selection_brush(self.session))

    def point_out(self, outcome: Finding | Met | Unjudged | None) -> None:
        """Show the evidence of one outcome."""
        self._outcome = outcome
        self.hand.set_brush("outcome", None if outcome is None else outcome_brush(outcome))

    def restyle(self, palette: Palette) -> None:
        """Take other colours."""
        self.palette_in_use = palette
        self.ways.restyle(palette)
        self._look(self.frame)
        self.furniture.refresh()

    # -- where the view is -----------------------------------------------------

    def _look(self, frame: Frame) -> None:
        lines = self._most_lines()
        self.frame = frame
        if self._most_lines() != lines:
            self._show_moving()
        (left, low), (right, high) = frame.low, frame.high
        self._box.setRange(xRange=(left, right), yRange=(low, high), padding=0, update=True)
        for layer in (self.ground, self.under, self.moving, self.hand):
            layer.see(frame, self.palette_in_use)
        self._viewport.update()
        self.furniture.refresh()
        self.zoomed.emit(frame.px_per_m)

    def fit(self, *, whole: bool = False) -> None:
        """Show the lot; the whole plan with its surroundings if asked or if there is no lot."""
        lot = self.session.plan.lot
        points = lot.outline if lot is not None and not whole else extent(self.session.plan)
        points = points or self.ground.picture_corners()
        if points and self.isVisible():
            self._fitted = True
            self._look(self.frame.fitted(points))

    def bring_into_view(self, points: tuple[Point, ...]) -> None:
        """Zoom to these points, but not nearer than makes sense of them."""
        if not points:
            return
        near = self.frame.fitted(points, margin_px=140.0)
        self._look(replace(near, px_per_m=min(near.px_per_m, 60.0)))

    def fit_selection(self) -> None:
        """Show what is selected."""
        plan = self.session.plan
        parts = [things.get(plan, key) for key in self.session.selection]
        shapes = [shape(plan, part) for part in parts if part is not None]
        bounds = [one.bounds for one in shapes if one is not None]
        self.bring_into_view(tuple(point for a, b, c, d in bounds for point in ((a, b), (c, d))))

    def show_if_hidden(self, points: tuple[Point, ...]) -> None:
        """Show the whole plan if one of these points is out of view."""
        (left, low), (right, high) = self.frame.low, self.frame.high
        if any(not (left <= x <= right and low <= y <= high) for x, y in points):
            self.fit()

    def zoom(self, factor: float, about: QPointF | None = None) -> None:
        """Zoom about a pixel, or about the middle."""
        size = self.frame.size
        self._look(self.frame.zoomed(factor, about or QPointF(size.width() / 2, size.height() / 2)))

    def pan(self, dx_px: float, dy_px: float) -> None:
        """Push the picture by so many pixels."""
        self._look(self.frame.panned(dx_px, dy_px))

    def _resized(self) -> None:
        size = QSizeF(self._viewport.size())
        self._look(replace(self.frame, size=size))
        if not self._fitted:
            self.fit()
        self.furniture.arrange(QRectF(QPointF(0, 0), size))

    # -- tools and events ------------------------------------------------------

    def take_tool(self, tool: Tool | None = None) -> None:
        """Put a tool in the hand; none means the selecting one."""
        self.tool.put_down()
        self.hand.set_brush("tool", None)
        self.tool = tool or Select(self)
        self.hand.set_brush("tool", self.tool.paint)
        self._viewport.setCursor(self.tool.cursor)
        self.tool_changed.emit(self.tool)

    def take_measure(self) -> None:
        """Take the measuring tool."""
        self.take_tool(Measure(self))

    def take_scale(self) -> None:
        """Take the tool that gives the picture its scale."""
        self.take_tool(ScalePicture(self))

    def ask_number(self, first: str) -> None:
        """Open the field for a typed length, begun with the first key."""
        self.number.open(first, self.tool)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Pass the viewport's mouse events to the tool."""
        if watched is not self._viewport:
            return False
        if isinstance(event, QMouseEvent):
            return self._mouse(event)
        if isinstance(event, QWheelEvent):
            return self._wheel(event)
        if isinstance(event, QNativeGestureEvent):
            if event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture:
                self.zoom(1.0 + event.value(), event.position())
            return True
        if event.type() == QEvent.Type.Resize:
            # Later than this event, so that the library has taken the size first.
            QTimer.singleShot(0, self, self._resized)
        if event.type() == QEvent.Type.Leave:
            self.pointer_moved.emit(None)
        return event.type() in (QEvent.Type.ContextMenu, QEvent.Type.Gesture)

    def _mouse(self, event: QMouseEvent) -> bool:
        place = self.frame.to_m(event.position())
        kind = event.type()
        if kind == QEvent.Type.MouseMove:
            self.pointer_moved.emit(place)
            if self._pan_from is not None:
                step = event.position() - self._pan_from
                self._pan_from = event.position()
                self.pan(step.x(), step.y())
            else:
                self.tool.move(place, event)
        elif kind == QEvent.Type.MouseButtonPress:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            if event.button() == Qt.MouseButton.MiddleButton:
                self.begin_pan(event.position())
            elif event.button() == Qt.MouseButton.LeftButton:
                self.tool.press(place, event)
            else:
                self.tool.finish()
        elif kind == QEvent.Type.MouseButtonRelease:
            if self._pan_from is not None:
                self.end_pan()
            elif event.button() == Qt.MouseButton.LeftButton:
                self.tool.release(place, event)
        elif kind == QEvent.Type.MouseButtonDblClick:
            self.tool.double(place, event)
        return True

    def begin_pan(self, pixel: QPointF) -> None:
        """Start pushing the picture."""
        self._pan_from = pixel
        self._viewport.setCursor(Qt.CursorShape.ClosedHandCursor)

    def end_pan(self) -> None:
        """Stop pushing the picture."""
        self._pan_from = None
        self._viewport.setCursor(self.tool.cursor)

    def _wheel(self, event: QWheelEvent) -> bool:
        self.zoom(_WHEEL_STEP ** event.angleDelta().y(), event.position())
        return True

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Give the key to the tool first."""
        if not self.tool.key(event):
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        """Take Tab for going from thing to thing."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and event.key() in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab)
            and self._step_on(event)
        ):
            return True
        return super().event(event)

    def _step_on(self, event: QKeyEvent) -> bool:
        keys = list(things.ids(self.session.plan))
        chosen = self.session.selection[-1] if self.session.selection else None
        step = -1 if event.key() == Qt.Key.Key_Backtab else 1
        place = keys.index(chosen) + step if chosen in keys else (0 if step > 0 else len(keys) - 1)
        if not 0 <= place < len(keys):
            # Past the last thing the focus goes on to the next panel: no keyboard trap.
            self.session.select()
            return False
        self.session.select(keys[place])
        return True
