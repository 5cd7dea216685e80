"""What every mouse tool does, and helpers to paint what it is about to do."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPen, QPolygonF

from siteplan.desk import text
from siteplan.desk.canvas.frame import Frame, Point
from siteplan.desk.palette import Palette

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas


class Tool:
    """One way of using the mouse. Coordinates are metres on the lot."""

    name = "select"
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self, canvas: "Canvas") -> None:
        self.canvas = canvas
        self.session = canvas.session

    def hint(self) -> str:
        """Return one line that says what to do next."""
        return ""

    def press(self, at: Point, event: QMouseEvent) -> None:
        """Take the left button going down."""

    def move(self, at: Point, event: QMouseEvent) -> None:
        """Take the pointer moving."""

    def release(self, at: Point, event: QMouseEvent) -> None:
        """Take the left button going up."""

    def double(self, at: Point, event: QMouseEvent) -> None:
        """Take a second press of the left button; the first came before."""
        self.press(at, event)

    def finish(self) -> None:
        """End what was begun: the right button or Enter."""
        self.canvas.take_tool()

    def cancel(self) -> None:
        """Leave what was begun: Escape."""
        self.canvas.take_tool()

    def put_down(self) -> None:
        """Make room for another tool."""

    def typed(self, words: str) -> bool:
        """Take typed numbers, and say whether they were of use."""
        del words
        return False

    def takes_typing(self) -> bool:
        """Whether typing a number now makes sense."""
        return False

    def plan_changed(self) -> None:
        """Follow a change of the plan, by this tool or otherwise."""

    def selection_changed(self) -> None:
        """Follow a change of the selection."""

    def key(self, event: QKeyEvent) -> bool:
        """Take a key, and say whether it was taken."""
        if event.key() == Qt.Key.Key_Escape:
            self.cancel()
            return True
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.finish()
            return True
        if self.takes_typing() and event.text() and event.text() in "0123456789.'":
            self.canvas.ask_number(event.text())
            return True
        return False

    def paint(self, painter: QPainter, frame: Frame, palette: Palette) -> None:
        """Paint what the tool is about to do."""

    def refresh(self) -> None:
        """Ask for the preview to be painted anew."""
        self.canvas.hand.update()
        self.canvas.tool_changed.emit(self)


def draw_line(
    painter: QPainter, pixels: Sequence[QPointF], palette: Palette, *, closed: bool = False
) -> None:
    """Paint a line in the making, with a dot at each point."""
    painter.setPen(QPen(QColor(palette.accent), 2.0))
    fill = QColor(palette.accent)
    fill.setAlphaF(0.10)
    if closed:
        painter.setBrush(fill)
        painter.drawPolygon(QPolygonF(pixels))
    else:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(QPolygonF(pixels))
    painter.setBrush(QColor(palette.raised))
    for pixel in pixels:
        painter.drawEllipse(pixel, 4.0, 4.0)


def draw_guides(
    painter: QPainter, guides: Sequence[tuple[Point, Point]], frame: Frame, palette: Palette
) -> None:
    """Paint guide lines, thin and dashed."""
    painter.setPen(QPen(QColor(palette.muted), 1.0, Qt.PenStyle.DashLine))
    for start, end in guides:
        painter.drawLine(frame.to_px(start), frame.to_px(end))


def draw_tag(painter: QPainter, pixel: QPointF, words: str, palette: Palette) -> None:
    """Paint a small plate with text beside a pixel."""
    metrics = QFontMetricsF(painter.font())
    box = QRectF(
        pixel.x() + 14, pixel.y() - 30, metrics.horizontalAdvance(words) + 16, metrics.height() + 8
    )
    painter.setPen(QPen(QColor(palette.accent), 1.0))
    painter.setBrush(QColor(palette.raised))
    painter.drawRoundedRect(box, 4, 4)
    painter.setPen(QColor(palette.text))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)


def span(start: Point, end: Point) -> str:
    """Return the length between two points as text."""
    return text.length(((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5)
