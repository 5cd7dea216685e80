"""The layers of the canvas: the still ground, the moving machine, and what the hand does.

Each is one graphics item. The ground is painted once per view into a picture, so that a
drag repaints only the part of it that the moving layer uncovers.
"""

from collections.abc import Callable, Iterable

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QImage, QPainter, QPixmap, QTransform
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from siteplan.desk.backdrop import image_of, transform_of
from siteplan.desk.canvas.frame import Frame
from siteplan.desk.canvas.painting import PX_PER_MM, Sheet, paint
from siteplan.desk.palette import Palette
from siteplan.drawing.crossing import Box
from siteplan.drawing.layout import arrange, label_box
from siteplan.drawing.marks import Dimension, Fill, Label, Marks, Stroke, Symbol
from siteplan.drawing.style import Theme
from siteplan.plan.document import Backdrop

# Room for letters and signs around the points of a mark [px].
_LABEL_ROOM_PX = 150.0


def theme_of(palette: Palette) -> Theme:
    """Return the drawing's theme that goes with a palette of the window."""
    if palette.name == "contrast":
        return "high-contrast"
    return palette.name


class _Layer(QGraphicsItem):
    """A layer: marks, the frame they are seen through, and the palette."""

    def __init__(self) -> None:
        super().__init__()
        self.frame = Frame()
        self.palette: Palette | None = None
        self._bounds = QRectF()

    def boundingRect(self) -> QRectF:
        """Return the area painted [m]."""
        return self._bounds

    def sheet(self) -> Sheet:
        """Return how marks come to the screen now."""
        theme: Theme = "light" if self.palette is None else theme_of(self.palette)
        return Sheet(self.frame.transform, theme)

    def _all_of_view(self) -> QRectF:
        (left, low), (right, high) = self.frame.low, self.frame.high
        return QRectF(left, low, right - left, high - low)

    def _arranged(self, marks: Marks, beneath: Iterable[Box] = ()) -> Marks:
        return arrange(marks, self.frame.px_per_m / PX_PER_MM, beneath)


class Ground(_Layer):
    """Lot, buildings, openings, surroundings and fixtures, over the grid."""

    def __init__(self) -> None:
        super().__init__()
        self._marks: Marks = ()
        self._picture: QPixmap | None = None
        # What the names cover, once they are painted: figures above keep clear of them.
        self.names: tuple[Box, ...] = ()
        self._under: tuple[QImage, QTransform, float] | None = None
        self.setZValue(0)

    def draw(self, marks: Marks) -> None:
        """Take other marks."""
        self._marks = marks
        self.renew()

    def lay_under(self, backdrop: Backdrop | None) -> None:
        """Take a picture to lie under everything."""
        image = None if backdrop is None else image_of(backdrop)
        place = None if backdrop is None else transform_of(backdrop)
        if backdrop is None or image is None or place is None:
            self._under = None
        else:
            self._under = (image, place, backdrop.opacity)

    def picture_corners(self) -> tuple[tuple[float, float], ...]:
        """Return the corners of the picture that lies under everything [m], if there is one."""
        if self._under is None:
            return ()
        image, place, _ = self._under
        area = place.mapRect(QRectF(image.rect()))
        return ((area.left(), area.top()), (area.right(), area.bottom()))

    def see(self, frame: Frame, palette: Palette) -> None:
        """Take another view."""
        self.prepareGeometryChange()
        self.frame, self.palette = frame, palette
        self._bounds = self._all_of_view()
        self.renew()

    def renew(self) -> None:
        """Throw the picture away; it is painted again when next shown."""
        self._picture = None
        self.update()

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        """Lay the picture down."""
        ratio = widget.devicePixelRatioF() if widget is not None else 1.0
        if self._picture is None:
            self._picture = self._painted(ratio)
        exposed = option.exposedRect
        area = self.frame.transform.mapRect(exposed).adjusted(-2, -2, 2, 2)
        area = area.intersected(QRectF(QPointF(0, 0), self.frame.size))
        source = QRectF(area.topLeft() * ratio, area.size() * ratio)
        painter.save()
        painter.resetTransform()
        painter.drawPixmap(area, self._picture, source)
        painter.restore()

    def _painted(self, ratio: float) -> QPixmap:
        size = self.frame.size
        picture = QPixmap(round(size.width() * ratio), round(size.height() * ratio))
        picture.setDevicePixelRatio(ratio)
        if self.palette is not None:
            picture.fill(QColor(self.palette.canvas))
            painter = QPainter(picture)
            _paint_grid(painter, self.frame, self.palette)
            self._paint_under(painter)
            marks = self._arranged(self._marks)
            self.names = _boxes_of(marks, self.frame)
            paint(painter, marks, self.sheet())
            painter.end()
        return picture

    def _paint_under(self, painter: QPainter) -> None:
        if self._under is None:
            return
        image, place, opacity = self._under
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.setOpacity(opacity)
        painter.setTransform(place * self.frame.transform)
        painter.drawImage(0, 0, image)
        painter.restore()


def _boxes_of(marks: Marks, frame: Frame) -> tuple[Box, ...]:
    mm_per_m = frame.px_per_m / PX_PER_MM
    return tuple(label_box(one, mm_per_m) for one in marks if isinstance(one, Label))


def _paint_grid(painter: QPainter, frame: Frame, palette: Palette) -> None:
    # Lines a hand's breadth apart or more, so that the grid stays quiet at any zoom.
    step = next(
        (one for one in (1.0, 5.0, 10.0, 50.0, 100.0) if one * frame.px_per_m >= 18.0), 500.0
    )
    (left, low), (right, high) = frame.low, frame.high
    for index in range(int(left // step), int(right // step) + 2):
        painter.setPen(QColor(palette.grid_strong if index % 5 == 0 else palette.grid))
        x = round(frame.to_px((index * step, 0.0)).x())
        painter.drawLine(x, 0, x, round(frame.size.height()))
    for index in range(int(low // step), int(high // step) + 2):
        painter.setPen(QColor(palette.grid_strong if index % 5 == 0 else palette.grid))
        y = round(frame.to_px((0.0, index * step)).y())
        painter.drawLine(0, y, round(frame.size.width()), y)


class Moving(_Layer):
    """The machine, its cords and the live distance lines, over the ground."""

    def __init__(self, ground: Ground) -> None:
        super().__init__()
        self._ground = ground
        self._marks: Marks = ()
        self._ready: Marks | None = None
        self.setZValue(1)

    def draw(self, marks: Marks) -> None:
        """Take other marks."""
        self.prepareGeometryChange()
        self._marks, self._ready = marks, None
        self._bounds = self._room()
        self.update()

    def see(self, frame: Frame, palette: Palette) -> None:
        """Take another view."""
        self.prepareGeometryChange()
        self.frame, self.palette = frame, palette
        self._ready = None
        self._bounds = self._room()

    def _room(self) -> QRectF:
        points = [point for mark in self._marks for point in points_of(mark)]
        if not points:
            return QRectF()
        xs, ys = [x for x, _ in points], [y for _, y in points]
        room = _LABEL_ROOM_PX / self.frame.px_per_m
        return QRectF(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)).adjusted(
            -room, -room, room, room
        )

    def paint(
        self,
        painter: QPainter,
        _option: QStyleOptionGraphicsItem,
        _widget: QWidget | None = None,
    ) -> None:
        """Paint the marks."""
        if self._ready is None:
            self._ready = self._arranged(self._marks, self._ground.names)
        painter.save()
        painter.resetTransform()
        paint(painter, self._ready, self.sheet())
        painter.restore()


def points_of(mark: Stroke | Fill | Label | Symbol | Dimension) -> Iterable[tuple[float, float]]:
    """Return the points of a mark [m]."""
    if isinstance(mark, Stroke):
        return mark.points
    if isinstance(mark, Fill):
        return mark.rings[0]
    if isinstance(mark, Dimension):
        return (mark.start, mark.end)
    return (mark.at,)


Brush = Callable[[QPainter, Frame, Palette], None]


class Hand(_Layer):
    """What is selected, pointed at, and what the tool in hand is about to do."""

    def __init__(self) -> None:
        super().__init__()
        self._brushes: dict[str, Brush] = {}
        self.setZValue(2)

    def set_brush(self, name: str, brush: Brush | None) -> None:
        """Say what is painted under this name; None takes it away."""
        if brush is None:
            self._brushes.pop(name, None)
        else:
            self._brushes[name] = brush
        self.update()

    def see(self, frame: Frame, palette: Palette) -> None:
        """Take another view."""
        self.prepareGeometryChange()
        self.frame, self.palette = frame, palette
        self._bounds = self._all_of_view()

    def paint(
        self,
        painter: QPainter,
        _option: QStyleOptionGraphicsItem,
        _widget: QWidget | None = None,
    ) -> None:
        """Paint what the hand does, in pixels."""
        if self.palette is None:
            return
        painter.save()
        painter.resetTransform()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for brush in self._brushes.values():
            painter.save()
            brush(painter, self.frame, self.palette)
            painter.restore()
        painter.restore()
