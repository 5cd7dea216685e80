"""What lies on the glass over the drawing: scale bar, north, and a word when it is empty."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from siteplan.desk.palette import scaled
from siteplan.units import M_PER_FT

if TYPE_CHECKING:
    from siteplan.desk.canvas.view import Canvas

_FEET_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
_METRE_STEPS = (0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500)
_WIDEST_PX = 170.0
_SIZE = (300, 52)


class Furniture(QWidget):
    """Scale bar and north arrow; the mouse goes through it."""

    def __init__(self, canvas: "Canvas") -> None:
        super().__init__(canvas.viewport)
        self._canvas = canvas
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFixedSize(*_SIZE)

    def refresh(self) -> None:
        """Paint anew after a change of scale, units, north or colours."""
        self.update()

    def arrange(self, room: QRectF) -> None:
        """Take its place in the lower left corner."""
        self.move(14, round(room.height()) - self.height() - 12)

    def bar(self) -> tuple[float, str]:
        """Return the scale bar's length [m] and text."""
        scale = self._canvas.frame.px_per_m
        if self._canvas.session.manner.system == "metres":
            fits = [one for one in _METRE_STEPS if one * scale <= _WIDEST_PX]
            step = fits[-1] if fits else _METRE_STEPS[0]
            return float(step), f"{step:g} m"
        fits_ft = [one for one in _FEET_STEPS if one * M_PER_FT * scale <= _WIDEST_PX]
        feet = fits_ft[-1] if fits_ft else _FEET_STEPS[0]
        return feet * M_PER_FT, f"{feet}'"

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint north and the scale bar."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        palette = self._canvas.palette_in_use
        plate = QColor(palette.canvas)
        plate.setAlphaF(0.88)
        painter.setPen(QPen(QColor(palette.border), 1.0))
        painter.setBrush(plate)
        wide = 58.0 + self.bar()[0] * self._canvas.frame.px_per_m + 30.0
        painter.drawRoundedRect(QRectF(0.5, 0.5, wide, self.height() - 1.0), 6, 6)
        ink = QColor(palette.text)
        self._paint_north(painter, ink)
        self._paint_bar(painter, ink)

    def _paint_north(self, painter: QPainter, ink: QColor) -> None:
        painter.save()
        painter.translate(26, 26)
        painter.rotate(self._canvas.session.plan.north_deg)
        painter.setPen(QPen(ink, 1.4))
        painter.setBrush(ink)
        painter.drawPolygon(QPolygonF([QPointF(0, -9), QPointF(-6, 14), QPointF(0, 9)]))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolygon(QPolygonF([QPointF(0, -9), QPointF(6, 14), QPointF(0, 9)]))
        letter = QFont(scaled(self.font(), 0.85, bold=True))
        letter.setPixelSize(min(12, round(letter.pointSizeF() * 1.35)))
        painter.setFont(letter)
        painter.drawText(
            QRectF(-10, -25, 20, 15),
            Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignBottom,
            "N",
        )
        painter.restore()

    def _paint_bar(self, painter: QPainter, ink: QColor) -> None:
        metres, words = self.bar()
        wide = metres * self._canvas.frame.px_per_m
        left, low = 58.0, 38.0
        painter.setPen(QPen(ink, 1.2))
        for part in range(4):
            painter.setBrush(ink if part % 2 == 0 else QColor(self._canvas.palette_in_use.canvas))
            painter.drawRect(QRectF(left + part * wide / 4, low - 4, wide / 4, 5))
        painter.setFont(scaled(self.font(), 0.9))
        painter.drawText(QPointF(left, low - 9), "0")
        metrics = painter.fontMetrics()
        painter.drawText(QPointF(left + wide - metrics.horizontalAdvance(words), low - 9), words)
