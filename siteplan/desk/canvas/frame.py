"""Where the lot lies on the screen: metres to pixels and back."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from PySide6.QtCore import QPointF, QSizeF
from PySide6.QtGui import QTransform

Point = tuple[float, float]
SMALLEST_PX_PER_M = 0.4
LARGEST_PX_PER_M = 900.0


@dataclass(frozen=True, slots=True)
class Frame:
    """The part of the lot in view.

    Attributes
    ----------
    centre : tuple of float
        What is in the middle of the view [m].
    px_per_m : float
        Scale [px/m].
    size : QSizeF
        Size of the view [px].
    """

    centre: Point = (0.0, 0.0)
    px_per_m: float = 20.0
    size: QSizeF = field(default_factory=lambda: QSizeF(800.0, 600.0))

    @property
    def transform(self) -> QTransform:
        """Metres, y up, to pixels, y down."""
        scale = self.px_per_m
        return QTransform(
            scale,
            0.0,
            0.0,
            -scale,
            self.size.width() / 2 - self.centre[0] * scale,
            self.size.height() / 2 + self.centre[1] * scale,
        )

    @property
    def low(self) -> Point:
        """Lower left corner of the view [m]."""
        return self.to_m(QPointF(0.0, self.size.height()))

    @property
    def high(self) -> Point:
        """Upper right corner of the view [m]."""
        return self.to_m(QPointF(self.size.width(), 0.0))

    def to_px(self, point: Point) -> QPointF:
        """Return where a point of the lot [m] is in the view."""
        return QPointF(
            self.size.width() / 2 + (point[0] - self.centre[0]) * self.px_per_m,
            self.size.height() / 2 - (point[1] - self.centre[1]) * self.px_per_m,
        )

    def to_m(self, pixel: QPointF) -> Point:
        """Return which point of the lot [m] is at a pixel of the view."""
        return (
            self.centre[0] + (pixel.x() - self.size.width() / 2) / self.px_per_m,
            self.centre[1] - (pixel.y() - self.size.height() / 2) / self.px_per_m,
        )

    def panned(self, dx_px: float, dy_px: float) -> "Frame":
        """Return the frame after the picture was pushed by so many pixels."""
        x, y = self.centre
        return replace(self, centre=(x - dx_px / self.px_per_m, y + dy_px / self.px_per_m))

    def zoomed(self, factor: float, about: QPointF) -> "Frame":
        """Return the frame zoomed about a pixel, which keeps its place."""
        scale = min(LARGEST_PX_PER_M, max(SMALLEST_PX_PER_M, self.px_per_m * factor))
        x, y = self.to_m(about)
        ratio = self.px_per_m / scale
        centre = (x + (self.centre[0] - x) * ratio, y + (self.centre[1] - y) * ratio)
        return replace(self, centre=centre, px_per_m=scale)

    def fitted(self, points: Sequence[Point], margin_px: float = 56.0) -> "Frame":
        """Return the frame that shows these points with a margin around them."""
        xs, ys = [x for x, _ in points], [y for _, y in points]
        width, height = max(xs) - min(xs), max(ys) - min(ys)
        room_x = max(40.0, self.size.width() - 2 * margin_px)
        room_y = max(40.0, self.size.height() - 2 * margin_px)
        scale = min(room_x / width if width else math.inf, room_y / height if height else math.inf)
        if math.isinf(scale):
            scale = self.px_per_m
        scale = min(LARGEST_PX_PER_M, max(SMALLEST_PX_PER_M, scale))
        centre = ((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2)
        return replace(self, centre=centre, px_per_m=scale)
