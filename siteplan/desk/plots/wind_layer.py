"""The wind rose over the drawing, if it is asked for."""

from PySide6.QtGui import QPainter

from siteplan.air.wind import WindRose
from siteplan.desk.canvas.frame import Frame
from siteplan.desk.canvas.layers import Brush, theme_of
from siteplan.desk.canvas.painting import PX_PER_MM, Sheet, paint
from siteplan.desk.palette import Palette
from siteplan.drawing.layout import arrange
from siteplan.drawing.wind import rose_marks
from siteplan.rules.carbon_monoxide_wind import rose_of
from siteplan.scene import Scene
from siteplan.words import Manner

NAME = "wind"
_RADIUS_PX = 120.0
_OPACITY = 0.55


def wind_brush(scene: Scene | None, manner: Manner) -> Brush | None:
    """Return what paints the plan's wind around the exhaust, or None if there is none."""
    if scene is None or scene.standing is None or scene.plan.wind is None:
        return None
    rose = rose_of(scene.plan.wind)
    if rose is None:
        return None
    return _brush(rose, scene.standing.outlet_xy, scene.plan.north_deg, manner)


def _brush(rose: WindRose, at: tuple[float, float], north_deg: float, manner: Manner) -> Brush:
    def brush(painter: QPainter, frame: Frame, palette: Palette) -> None:
        # The rose keeps its size on the screen, so that it can be read at any zoom.
        radius_m = _RADIUS_PX / frame.px_per_m
        marks = rose_marks(rose, at, radius_m, north_deg, manner)
        painter.setOpacity(_OPACITY)
        paint(
            painter,
            arrange(marks, frame.px_per_m / PX_PER_MM),
            Sheet(frame.transform, theme_of(palette)),
        )

    return brush
