"""The program's own symbols, drawn as SVG with `currentColor` and tinted for the palette."""

from functools import lru_cache

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from siteplan.assets import resource


@lru_cache(maxsize=128)
def _source(name: str) -> str:
    return resource(f"symbols/{name}.svg").read_text(encoding="utf-8")


@lru_cache(maxsize=512)
def pixmap(name: str, colour: str, side_px: int, ratio: float = 1.0) -> QPixmap:
    """Return a symbol as a picture of this size [px] in this colour."""
    picture = QPixmap(round(side_px * ratio), round(side_px * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    source = _source(name).replace("currentColor", colour)
    renderer = QSvgRenderer(QByteArray(source.encode()))
    painter = QPainter(picture)
    renderer.render(painter, QRectF(0, 0, side_px, side_px))
    painter.end()
    return picture


def icon(name: str, colour: str, faint: str) -> QIcon:
    """Return a symbol as an icon, faint where its action cannot be taken."""
    made = QIcon(pixmap(name, colour, 20, 2.0))
    made.addPixmap(pixmap(name, faint, 20, 2.0), QIcon.Mode.Disabled)
    return made
