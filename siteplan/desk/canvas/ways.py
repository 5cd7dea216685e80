"""The ground where the machine can stand, the places found, and the tapes to one of them."""

from typing import TypeGuard

from PySide6.QtCore import QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QLabel
from shapely import get_coordinates, get_parts
from shapely.geometry.base import BaseGeometry

from siteplan.desk.canvas.frame import Frame
from siteplan.desk.canvas.layers import Brush, Hand
from siteplan.desk.canvas.zoning import Zoning, same_but_place, same_ground
from siteplan.desk.palette import Palette, scaled
from siteplan.desk.session import Session
from siteplan.desk.text import say, tr
from siteplan.desk.widgets import plain_label
from siteplan.plan.machine import Placement
from siteplan.suggest.say import HOUSE_FIRST
from siteplan.suggest.spot import Spot
from siteplan.suggest.tapes import SetOut, set_out
from siteplan.suggest.zone import StandingZone
from siteplan.words import Quantity

_HOVER_MS = 90
_LATER_MS = 160
_MOST_TOLD = 3


class Under(Hand):
    """A layer between the ground and the machine."""

    def __init__(self) -> None:
        super().__init__()
        self.setZValue(0.5)


class Ways:
    """Keeps the zone of the plan under the drawing, and shows the places that were found.

    Parameters
    ----------
    under, over : Hand
        Layers below and above the machine.
    told : QLabel
        Says what bars the place under the pointer.
    """

    def __init__(self, session: Session, under: Hand, over: Hand, told: QLabel) -> None:
        self._session, self._under, self._over, self.told = session, under, over, told
        self._zone: StandingZone | None = None
        self._tint: Brush | None = None
        self._wanted = False
        self.spots: tuple[Spot, ...] = ()
        self.chosen: int | None = None
        self._found_for = session.plan
        self._at: tuple[float, float] | None = None
        self._zoning = Zoning(told)
        self._zoning.found.connect(self._take_zone)
        self._later = _timer(_LATER_MS, self._ask_zone)
        self._hover = _timer(_HOVER_MS, self._tell)
        session.plan_changed.connect(self._on_plan)
        session.gesture_ended.connect(self._on_plan)
        told.hide()

    @property
    def wanted(self) -> bool:
        """Whether the zone is shown even while nothing is dragged."""
        return self._wanted

    def want(self, wanted: bool) -> None:
        """Show the zone all the time, or only under a dragging hand."""
        self._wanted = wanted
        self._on_plan()

    def show_spots(self, spots: tuple[Spot, ...], chosen: int | None = None) -> None:
        """Show places by number, and the way to the chosen one."""
        if spots != self.spots:
            self._found_for = self._session.plan
        self.spots, self.chosen = spots, chosen
        self._over.set_brush("spots", self._spots_brush() if spots else None)
        if self._zone is not None and self._zone.turn_deg != self._turn_deg():
            # The zone is that of the direction of exhaust one looks at.
            self._later.start(0)

    def restyle(self, palette: Palette) -> None:
        """Take other colours."""
        self.told.setStyleSheet(
            f"QLabel {{ background: {palette.raised}; color: {palette.text}; "
            f"border: {palette.width}px solid {palette.strong_border}; border-radius: 6px; }}"
        )

    def _turn_deg(self) -> float | None:
        if self.chosen is not None and not self._session.in_gesture:
            return self.spots[self.chosen].turn_deg
        placement = self._session.plan.placement
        return None if placement is None else placement.turn_deg

    def pointer(self, at: tuple[float, float] | None) -> None:
        """Take note of where the pointer is [m]."""
        self._at = at
        if self._wanted and at is not None and not self._session.in_gesture:
            self._hover.start()
        else:
            self.told.hide()

    def _on_plan(self) -> None:
        if self.spots and not same_but_place(self._found_for, self._session.plan):
            self.show_spots(())
        if not self._shown():
            self._under.set_brush("zone", None)
            return
        if self._fits(self._zone):
            self._under.set_brush("zone", self._tint)
            return
        # Better none than that of another plan.
        self._under.set_brush("zone", None)
        if not self._zoning.expects(self._session.plan, self._turn_deg()):
            # At once when a drag begins; else when the hand that changes the ground rests.
            self._later.start(0 if self._zone is None or self._holds_machine() else _LATER_MS)

    def _shown(self) -> bool:
        plan = self._session.plan
        if plan.machine is None:
            return False
        return self._wanted or (self._session.in_gesture and self._holds_machine())

    def _holds_machine(self) -> bool:
        placement = self._session.plan.placement
        return isinstance(placement, Placement) and placement.id in self._session.selection

    def _fits(self, zone: StandingZone | None) -> TypeGuard[StandingZone]:
        """Tell whether a zone is that of the plan as it is now."""
        if zone is None or not same_ground(zone.scene.plan, self._session.plan):
            return False
        return self._turn_deg() in {None, zone.turn_deg}

    def _ask_zone(self) -> None:
        if self._shown() and not self._fits(self._zone):
            self._zoning.ask(self._session.plan, self._turn_deg())

    def _take_zone(self, zone: StandingZone) -> None:
        self._zone, self._tint = zone, zone_brush(zone)
        self._on_plan()

    def wait(self) -> None:
        """Wait until no zone is being computed."""
        self._zoning.wait()

    def stop(self) -> None:
        """Ask for nothing more, and wait until nothing is being computed."""
        self._later.stop()
        self._hover.stop()
        self._zoning.stop()

    def _tell(self) -> None:
        if self._zone is None or self._at is None or not self._wanted:
            return
        found = self._zone.barring(self._at)
        lines = [] if self._zone.known else [say(HOUSE_FIRST)]
        if found:
            lines += [tr("If the generator stood here:")]
            lines += [f"{say_signal(one.signal)}: {say(one.what)}" for one in found[:_MOST_TOLD]]
            if len(found) > _MOST_TOLD:
                lines.append(tr("and {count} more", count=len(found) - _MOST_TOLD))
        elif self._zone.known and self._zone.ground.contains(_point(self._at)):
            lines = [tr("No rule on where it stands finds anything here.")]
        self.told.setText("\n".join(lines))
        self.told.adjustSize()
        self.told.setVisible(bool(lines))

    def _spots_brush(self) -> Brush:
        spots, chosen, session = self.spots, self.chosen, self._session

        def brush(painter: QPainter, frame: Frame, palette: Palette) -> None:
            # Under a dragging hand the ways to another place would lie over the live distances.
            if chosen is not None and session.scene is not None and not session.in_gesture:
                _paint_ways(painter, spots[chosen], frame, palette)
                if spots[chosen].stands:
                    tapes = set_out(session.scene, spots[chosen].at)
                    _paint_tapes(painter, tapes, frame, palette)
            for number, spot in enumerate(spots):
                _paint_spot(painter, (number, number == chosen), spot, frame, palette)

        return brush


def _timer(wait_ms: int, run: object) -> QTimer:
    timer = QTimer()
    timer.setSingleShot(True)
    timer.setInterval(wait_ms)
    timer.timeout.connect(run)
    return timer


def say_signal(signal: str) -> str:
    """Return a signal word in the reader's language."""
    return tr(signal)


def _point(at: tuple[float, float]) -> BaseGeometry:
    from shapely import Point

    return Point(at)


def told_label(parent: object) -> QLabel:
    """Return the label that says what bars the place under the pointer."""
    label = plain_label(wrap=True)
    label.setParent(parent)  # type: ignore[call-overload] # a widget, whose stubs differ
    label.setObjectName("told")
    label.setFixedWidth(340)
    label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
    label.setAutoFillBackground(True)
    label.setContentsMargins(10, 8, 10, 8)
    return label


def zone_brush(zone: StandingZone) -> Brush:
    """Return what paints the ground where the machine can stand, the better ground stronger."""
    regions = (_path(zone.tint), _path(zone.strong_tint))
    # Painted once for a view: this is laid down anew at every step of a dragging hand.
    kept: list[tuple[Frame, Palette, float, QRectF, QPixmap]] = []

    def brush(painter: QPainter, frame: Frame, palette: Palette) -> None:
        ratio = painter.device().devicePixelRatio()
        if not kept or kept[0][:3] != (frame, palette, ratio):
            kept[:] = [(frame, palette, ratio, *_picture(regions, frame, palette, ratio))]
        *_, place, picture = kept[0]
        painter.drawPixmap(place.topLeft(), picture)

    return brush


def _picture(
    regions: tuple[QPainterPath, QPainterPath], frame: Frame, palette: Palette, ratio: float
) -> tuple[QRectF, QPixmap]:
    """Return where the tinted ground lies in the view, and its picture."""
    allowed, preferred = (frame.transform.map(one) for one in regions)
    view = QRectF(QPointF(0, 0), frame.size)
    place = QRectF(allowed.boundingRect().adjusted(-2, -2, 2, 2).intersected(view).toAlignedRect())
    picture = QPixmap((place.size() * ratio).toSize())
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    if picture.isNull():
        return place, picture
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(-place.topLeft())
    for region, share in ((allowed, 0.20), (preferred, 0.30)):
        fill = QColor(palette.accent)
        fill.setAlphaF(share if palette.name != "contrast" else share + 0.15)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(fill)
        painter.drawPath(region)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(palette.accent), 1.4, Qt.PenStyle.DashLine))
    painter.drawPath(allowed)
    painter.end()
    return place, picture


def _path(region: BaseGeometry) -> QPainterPath:
    """Return a region as a path in metres."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for part in get_parts(region):
        if part.geom_type == "Polygon":
            for ring in (part.exterior, *part.interiors):
                corners = [QPointF(x, y) for x, y in get_coordinates(ring).tolist()]
                path.addPolygon(QPolygonF(corners))
    return path


def _polygon(points: list[list[float]], frame: Frame) -> QPolygonF:
    return QPolygonF([frame.to_px((x, y)) for x, y in points])


def _paint_ways(painter: QPainter, spot: Spot, frame: Frame, palette: Palette) -> None:
    painter.setPen(QPen(QColor(palette.accent), 2.4, Qt.PenStyle.DashLine))
    for way in spot.ways:
        painter.drawPolyline(_polygon([list(point) for point in way], frame))


def _paint_tapes(painter: QPainter, found: SetOut | None, frame: Frame, palette: Palette) -> None:
    if found is None:
        return
    place = frame.to_px(found.place_xy)
    for tape in found.tapes:
        corner = frame.to_px(tape.corner_xy)
        style = Qt.PenStyle.DotLine if tape.check else Qt.PenStyle.SolidLine
        painter.setPen(QPen(QColor(palette.text), 1.2, style))
        painter.drawLine(corner, place)
        away = tr("{letter} {length}", letter=tape.letter,
                  length=Quantity(tape.length_m, "length", "near"))  # fmt: skip
        # The plate of the check lies nearer to the place, clear of those of the two others.
        share = 0.34 if tape.check else 0.62
        _paint_plate(painter, corner * share + place * (1.0 - share), away, palette)


def _paint_plate(painter: QPainter, middle: QPointF, words: str, palette: Palette) -> None:
    painter.setFont(scaled(painter.font(), 1.0, bold=True))
    letters = painter.fontMetrics()
    wide, tall = letters.horizontalAdvance(words) + 12.0, letters.height() + 2.0
    plate = QRectF(middle.x() - wide / 2.0, middle.y() - tall / 2.0, wide, tall)
    painter.setPen(QPen(QColor(palette.strong_border), 1.0))
    painter.setBrush(QColor(palette.raised))
    painter.drawRoundedRect(plate, 4.0, 4.0)
    painter.setPen(QColor(palette.text))
    painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, words)


def _paint_spot(
    painter: QPainter, which: tuple[int, bool], spot: Spot, frame: Frame, palette: Palette
) -> None:
    number, chosen = which
    at = frame.to_px(spot.at)
    _paint_exhaust(painter, spot, at, palette)
    painter.setPen(QPen(QColor(palette.accent), 2.0))
    painter.setBrush(QColor(palette.accent if chosen else palette.raised))
    painter.drawEllipse(at, 12.0, 12.0)
    painter.setPen(QColor(palette.on_accent if chosen else palette.accent))
    painter.setFont(scaled(painter.font(), 1.0, bold=True))
    box = QRectF(at.x() - 12.0, at.y() - 12.0, 24.0, 24.0)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(number + 1))


def _paint_exhaust(painter: QPainter, spot: Spot, at: QPointF, palette: Palette) -> None:
    painter.save()
    painter.translate(at)
    painter.rotate(spot.exhaust_deg)
    painter.setPen(QPen(QColor(palette.accent), 2.0))
    painter.setBrush(QColor(palette.accent))
    painter.drawLine(QPointF(0.0, -12.0), QPointF(0.0, -24.0))
    painter.drawPolygon(QPolygonF([QPointF(0, -31), QPointF(-5, -22), QPointF(5, -22)]))
    painter.restore()
