"""The four ANSI Z535 signal words: word, colour and symbol always together."""

from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from siteplan.desk.text import tr
from siteplan.rules.findings import Signal

State = Literal["DANGER", "WARNING", "CAUTION", "NOTICE", "MET", "UNJUDGED"]


@dataclass(frozen=True, slots=True)
class Panel:
    """How a signal word is printed: its panel's colour and the colour of its letters."""

    colour: str
    letters: str
    symbol: Literal["alert", "info", "tick", "question"]


# sRGB approximations of the ANSI Z535.1 colours, from memory; the standard's tables give
# Munsell notations. Letters: white on red and blue, black on orange and yellow.
PANELS: dict[State, Panel] = {
    "DANGER": Panel("#c8102e", "#ffffff", "alert"),
    "WARNING": Panel("#ff8200", "#000000", "alert"),
    "CAUTION": Panel("#ffd100", "#000000", "alert"),
    "NOTICE": Panel("#0072ce", "#ffffff", "info"),
    "MET": Panel("#007b5f", "#ffffff", "tick"),
    "UNJUDGED": Panel("#5f6b73", "#ffffff", "question"),
}


def word(state: State) -> str:
    """Return the signal word, or what is said in its stead, from a fixed table."""
    words: dict[State, str] = {
        "DANGER": tr("DANGER"),
        "WARNING": tr("WARNING"),
        "CAUTION": tr("CAUTION"),
        "NOTICE": tr("NOTICE"),
        "MET": tr("Met"),
        "UNJUDGED": tr("Not judged"),
    }
    return words[state]


def of(signal: Signal | None) -> State:
    """Return the state that stands for a signal word, or for none."""
    return "MET" if signal is None else signal


def paint_symbol(painter: QPainter, state: State, box: QRectF) -> None:
    """Paint the symbol of a state in the box, in the letters' colour of its panel."""
    panel = PANELS[state]
    ink, ground = QColor(panel.letters), QColor(panel.colour)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _SYMBOLS[panel.symbol](painter, box, ink, ground)
    painter.restore()


def _alert(painter: QPainter, box: QRectF, ink: QColor, ground: QColor) -> None:
    # The safety alert symbol: an exclamation mark in a triangle.
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ink)
    w, h = box.width(), box.height()
    triangle = QPolygonF(
        [
            QPointF(box.left() + w / 2, box.top() + h * 0.06),
            QPointF(box.right(), box.bottom() - h * 0.06),
            QPointF(box.left(), box.bottom() - h * 0.06),
        ]
    )
    painter.drawPolygon(triangle)
    painter.setBrush(ground)
    middle = box.left() + w / 2
    painter.drawRoundedRect(
        QRectF(middle - w * 0.055, box.top() + h * 0.36, w * 0.11, h * 0.28), 1, 1
    )
    painter.drawEllipse(QPointF(middle, box.top() + h * 0.77), w * 0.07, w * 0.07)


def _info(painter: QPainter, box: QRectF, ink: QColor, ground: QColor) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ink)
    painter.drawEllipse(box.adjusted(1, 1, -1, -1))
    painter.setBrush(ground)
    middle, w, h = box.center().x(), box.width(), box.height()
    painter.drawEllipse(QPointF(middle, box.top() + h * 0.28), w * 0.075, w * 0.075)
    painter.drawRect(QRectF(middle - w * 0.06, box.top() + h * 0.42, w * 0.12, h * 0.34))


def _tick(painter: QPainter, box: QRectF, ink: QColor, _ground: QColor) -> None:
    pen = QPen(ink, box.width() * 0.14)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    painter.setPen(pen)
    path = QPainterPath(QPointF(box.left() + box.width() * 0.18, box.center().y()))
    path.lineTo(box.left() + box.width() * 0.42, box.top() + box.height() * 0.74)
    path.lineTo(box.left() + box.width() * 0.84, box.top() + box.height() * 0.26)
    painter.drawPath(path)


def _question(painter: QPainter, box: QRectF, ink: QColor, ground: QColor) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ink)
    centre, half = box.center(), box.width() / 2
    painter.drawPolygon(
        QPolygonF(
            [
                centre + QPointF(0, -half),
                centre + QPointF(half, 0),
                centre + QPointF(0, half),
                centre + QPointF(-half, 0),
            ]
        )
    )
    font = painter.font()
    font.setPixelSize(max(6, round(box.height() * 0.62)))
    font.setBold(True)
    painter.setFont(font)
    painter.setPen(ground)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, "?")


_SYMBOLS = {"alert": _alert, "info": _info, "tick": _tick, "question": _question}
