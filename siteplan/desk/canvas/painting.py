"""Paints marks in pixels: places on the lot through a transform, sheet sizes as pixels."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPen,
    QPixmap,
    QPolygonF,
    QTransform,
)

from siteplan.drawing.marks import Fill, Label, Mark, Stroke, Symbol
from siteplan.drawing.style import Hatch, Look, Theme, colour, look
from siteplan.drawing.symbols import SYMBOLS, Part
from siteplan.words import plain

# One millimetre of the sheet on the screen [px]: makes 2.5 mm letters about 12 px tall.
PX_PER_MM = 3.4
# Cap height of the program's font over its size (OS/2 table of the font).
_CAP_HEIGHT_SHARE = 0.714


@dataclass(frozen=True, slots=True)
class Sheet:
    """How marks come to the screen: the transform from metres, the theme, pixels per mm."""

    transform: QTransform
    theme: Theme
    px_per_mm: float = PX_PER_MM

    def px(self, point: tuple[float, float]) -> QPointF:
        """Return where a point of the lot [m] is on the screen."""
        return self.transform.map(QPointF(*point))


def paint(painter: QPainter, marks: Iterable[Mark], sheet: Sheet) -> None:
    """Paint arranged marks, lowest first."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrushOrigin(sheet.px((0.0, 0.0)))
    for mark in marks:
        style = look(mark.role, sheet.theme)
        if isinstance(mark, Fill):
            _paint_fill(painter, mark, style, sheet)
        elif isinstance(mark, Stroke):
            _paint_stroke(painter, mark, style, sheet)
        elif isinstance(mark, Label):
            _paint_label(painter, mark, style, sheet)
        elif isinstance(mark, Symbol):
            _paint_symbol(painter, mark, style, sheet)
    painter.restore()


def _polygon(points: Iterable[tuple[float, float]], sheet: Sheet) -> QPolygonF:
    return sheet.transform.map(QPolygonF([QPointF(x, y) for x, y in points]))


@lru_cache(maxsize=512)
def _pen(ink: str, width_px: float, dash_px: tuple[float, ...] = ()) -> QPen:
    pen = QPen(QColor(ink), max(1.0, width_px))
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dash_px:
        # Qt counts dashes in widths of the pen.
        pen.setDashPattern([one / pen.widthF() for one in dash_px])
    return pen


def _line_pen(style: Look, sheet: Sheet) -> QPen | None:
    if style.line is None:
        return None
    k = sheet.px_per_mm
    return _pen(style.line, style.width_mm * k, tuple(one * k for one in style.dash_mm))


def _paint_stroke(painter: QPainter, mark: Stroke, style: Look, sheet: Sheet) -> None:
    polygon = _polygon(mark.points, sheet)
    draw = painter.drawPolygon if mark.closed else painter.drawPolyline
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if style.casing is not None:
        painter.setPen(_pen(style.casing, style.casing_mm * sheet.px_per_mm))
        draw(polygon)
    if (pen := _line_pen(style, sheet)) is not None:
        painter.setPen(pen)
        draw(polygon)


def _paint_fill(painter: QPainter, mark: Fill, style: Look, sheet: Sheet) -> None:
    path = QPainterPath()
    for ring in mark.rings:
        path.addPolygon(_polygon(ring, sheet))
        path.closeSubpath()
    if style.fill is not None:
        painter.fillPath(path, QColor(style.fill))
    if style.hatch is not None and style.line is not None:
        for brush in _hatch_brushes(style.hatch, style.line, sheet.px_per_mm):
            painter.fillPath(path, brush)
    if (pen := _line_pen(style, sheet)) is not None:
        painter.strokePath(path, pen)


@lru_cache(maxsize=128)
def _hatch_brushes(hatch: Hatch, ink: str, px_per_mm: float) -> tuple[QBrush, ...]:
    return tuple(
        QBrush(_tile(angle, hatch.spacing_mm * px_per_mm, hatch.width_mm * px_per_mm, ink))
        for angle in hatch.angles_deg
    )


def _tile(angle_deg: float, spacing_px: float, width_px: float, ink: str) -> QPixmap:
    slanted = angle_deg % 90.0 != 0.0
    side = max(3, round(spacing_px * (math.sqrt(2) if slanted else 1.0)))
    tile = QPixmap(side, side)
    tile.fill(Qt.GlobalColor.transparent)
    painter = QPainter(tile)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(ink), max(0.7, width_px)))
    for start, end in _tile_lines(angle_deg, side):
        painter.drawLine(start, end)
    painter.end()
    return tile


def _tile_lines(angle_deg: float, side: int) -> list[tuple[QPointF, QPointF]]:
    if angle_deg % 180.0 == 0.0:
        return [(QPointF(0, 0.5), QPointF(side, 0.5))]
    if angle_deg % 90.0 == 0.0:
        return [(QPointF(0.5, 0), QPointF(0.5, side))]
    rises = angle_deg % 180.0 < 90.0
    lines = []
    for shift in (-side, 0, side):
        left, right = (side + shift, shift) if rises else (shift, side + shift)
        lines.append((QPointF(-0.5, left + 0.5), QPointF(side + 0.5, right - 0.5)))
    return lines


@lru_cache(maxsize=64)
def _font(height_px: float, *, bold: bool) -> QFont:
    font = QFont()
    font.setPixelSize(max(8, round(height_px / _CAP_HEIGHT_SHARE)))
    font.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    return font


def _paint_label(painter: QPainter, mark: Label, style: Look, sheet: Sheet) -> None:
    text = plain(mark.text)
    if not text:
        return
    font = _font(mark.height_mm * sheet.px_per_mm, bold=style.bold)
    metrics = QFontMetricsF(font)
    width = metrics.horizontalAdvance(text)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[mark.anchor]
    right, up = mark.shift_mm
    painter.save()
    painter.translate(sheet.px(mark.at) + QPointF(right, -up) * sheet.px_per_mm)
    painter.rotate(-mark.turn_deg)
    if mark.boxed:
        box = QRectF(left - 3, -metrics.capHeight() / 2 - 3, width + 6, metrics.capHeight() + 6)
        paper = QColor(colour("paper", sheet.theme))
        paper.setAlphaF(0.92)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(paper)
        painter.drawRoundedRect(box, 3, 3)
    foot = QPointF(left, metrics.capHeight() / 2)
    if not mark.boxed:
        _paint_halo(painter, foot, font, text, colour("paper", sheet.theme))
    painter.setFont(font)
    painter.setPen(QColor(style.text))
    painter.drawText(foot, text)
    painter.restore()


def _paint_halo(painter: QPainter, foot: QPointF, font: QFont, text: str, paper: str) -> None:
    # Keeps letters legible where lines run under them.
    path = QPainterPath()
    path.addText(foot, font, text)
    halo = QColor(paper)
    halo.setAlphaF(0.85)
    painter.strokePath(path, QPen(halo, 4.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))


def _paint_symbol(painter: QPainter, mark: Symbol, style: Look, sheet: Sheet) -> None:
    size = mark.size_mm * sheet.px_per_mm
    painter.save()
    painter.translate(sheet.px(mark.at))
    painter.rotate(mark.turn_deg)
    for part in SYMBOLS[mark.name]:
        _paint_part(painter, part, size, style, sheet)
    if mark.text:
        painter.rotate(-mark.turn_deg)
        painter.setFont(_font(size * 0.42, bold=True))
        painter.setPen(QColor(style.line or style.text))
        painter.drawText(
            QRectF(-size, -size, 2 * size, 2 * size), Qt.AlignmentFlag.AlignCenter, mark.text
        )
    painter.restore()


def _paint_part(painter: QPainter, part: Part, size: float, style: Look, sheet: Sheet) -> None:
    ink = style.line or style.text
    paper = style.casing or style.fill or colour("paper", sheet.theme)
    painter.setPen(_pen(ink, max(0.25, style.width_mm * 0.7) * sheet.px_per_mm))
    if part.paint == "none":
        painter.setBrush(Qt.BrushStyle.NoBrush)
    else:
        painter.setBrush(QColor(ink if part.paint == "line" else paper))
    polygon = QPolygonF([QPointF(x * size, -y * size) for x, y in part.points])
    if part.closed:
        painter.drawPolygon(polygon)
    else:
        painter.drawPolyline(polygon)
