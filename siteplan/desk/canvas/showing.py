"""How the canvas shows what is selected and what a finding rests on."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF
from shapely import Polygon, get_coordinates
from shapely.geometry.base import BaseGeometry

from siteplan.desk import signals, things
from siteplan.desk.canvas.frame import Frame
from siteplan.desk.canvas.handles import handles
from siteplan.desk.canvas.layers import Brush
from siteplan.desk.canvas.shapes import shape
from siteplan.desk.palette import Palette
from siteplan.desk.session import Session
from siteplan.rules.findings import Finding, Met, Unjudged

HANDLE_PX = 10.0


def selection_brush(session: Session) -> Brush | None:
    """Return what paints the outline and handles of what is selected."""
    if not session.selection:
        return None

    def brush(painter: QPainter, frame: Frame, palette: Palette) -> None:
        plan = session.plan
        for key in session.selection:
            part = things.get(plan, key)
            found = None if part is None else shape(plan, part)
            if found is not None:
                _outline(painter, found, frame, palette)
        if len(session.selection) == 1:
            for handle in handles(plan, session.selection[0], frame.px_per_m):
                _handle(painter, frame.to_px(handle.at), palette, round_=handle.kind == "turn")

    return brush


def path_of(found: BaseGeometry, frame: Frame) -> QPainterPath:
    """Return a shape as a path in pixels."""
    path = QPainterPath()
    ring = found.exterior if isinstance(found, Polygon) else found
    polygon = QPolygonF([frame.to_px((float(x), float(y))) for x, y in get_coordinates(ring)])
    path.addPolygon(polygon)
    return path


def _outline(painter: QPainter, found: BaseGeometry, frame: Frame, palette: Palette) -> None:
    path = path_of(found, frame)
    glow = QColor(palette.accent)
    glow.setAlphaF(0.28)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(glow, 9.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    painter.drawPath(path)
    painter.setPen(QPen(QColor(palette.accent), 2.0))
    painter.drawPath(path)


def _handle(painter: QPainter, at: QPointF, palette: Palette, *, round_: bool) -> None:
    half = HANDLE_PX / 2
    painter.setPen(QPen(QColor(palette.accent), 2.0))
    painter.setBrush(QColor(palette.raised))
    if round_:
        painter.drawEllipse(at, half + 1, half + 1)
    else:
        painter.drawRect(QRectF(at.x() - half, at.y() - half, HANDLE_PX, HANDLE_PX))


def outcome_brush(outcome: Finding | Met | Unjudged) -> Brush | None:
    """Return what paints the evidence of a finding, strongly."""
    if isinstance(outcome, Unjudged) or not outcome.evidence:
        return None
    state = outcome.signal if isinstance(outcome, Finding) else "MET"
    colour = QColor(signals.PANELS[state].colour)
    evidence = outcome.evidence

    def brush(painter: QPainter, frame: Frame, _palette: Palette) -> None:
        band = QColor(colour)
        band.setAlphaF(0.45)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(band, 12.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        for one in evidence:
            pixels = [frame.to_px(point) for point in one.points]
            if one.shape == "point":
                painter.drawEllipse(pixels[0], 16.0, 16.0)
            elif one.shape == "area":
                painter.drawPolygon(QPolygonF(pixels))
            else:
                painter.drawPolyline(QPolygonF(pixels))

    return brush
