"""One plot in the window's colours: curves, bands between them, limits with their names."""

from collections.abc import Mapping, Sequence
from typing import Any, Literal

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor

from siteplan.desk.palette import Palette
from siteplan.geometry.arrays import FloatArray

Style = Qt.PenStyle
Ticks = Mapping[Literal["bottom", "left"], Sequence[float]]
_BAND_SHARE = 0.16
_LEAST_PPM = 1.0


class Graph(pg.PlotWidget):  # type: ignore[misc]  # the library carries no types
    """A plot that the mouse cannot push about and that has no menu of its own.

    A logarithmic axis is drawn of logarithms, so what lies under 1 stands at its foot.
    """

    def __init__(self, palette: Palette, *, log_x: bool = False, log_y: bool = False) -> None:
        super().__init__(enableMenu=False)
        self._log_x, self._log_y = log_x, log_y
        self.palette_in_use = palette
        self._levels = 0
        self.plotItem: Any = self.getPlotItem()
        self.plotItem.hideButtons()
        self.plotItem.setMouseEnabled(x=False, y=False)
        self.plotItem.setLogMode(x=log_x, y=log_y)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._key: Any = self.plotItem.addLegend(offset=(-8, 6), colCount=2)

    def begin(self, palette: Palette, across: str, up: str) -> None:
        """Clear, and take colours and the names of both axes."""
        self.palette_in_use = palette
        self._levels = 0
        self.plotItem.clear()
        self.setBackground(palette.panel)
        ink = QColor(palette.text)
        for side, name in (("bottom", across), ("left", up)):
            axis = self.plotItem.getAxis(side)
            axis.setPen(pg.mkPen(palette.strong_border))
            axis.setTextPen(pg.mkPen(ink))
            axis.enableAutoSIPrefix(False)
            axis.setLabel(name, color=palette.text)
        self.plotItem.showGrid(x=True, y=True, alpha=0.12)
        self._key.clear()
        self._key.setBrush(pg.mkBrush(palette.raised))
        self._key.setPen(pg.mkPen(palette.border))
        self._key.setLabelTextColor(ink)

    def curve(
        self, xs: FloatArray, ys: FloatArray, name: str | None, style: Style, width: float = 2.0
    ) -> Any:  # noqa: ANN401 - an item of the library
        """Draw a curve; with a name it stands in the key."""
        pen = pg.mkPen(self.palette_in_use.text, width=width, style=style)
        return self.plotItem.plot(
            np.asarray(xs), self._shown(ys), pen=pen, name=name, antialias=True
        )

    def band(self, lower: Any, upper: Any) -> None:  # noqa: ANN401 - two curves of this plot
        """Tint the area between two curves."""
        tint = QColor(self.palette_in_use.accent)
        tint.setAlphaF(_BAND_SHARE)
        self.plotItem.addItem(pg.FillBetweenItem(lower, upper, brush=pg.mkBrush(tint)))

    def level(self, value: float, name: str) -> None:
        """Draw a level across the plot, with its name."""
        at = float(np.log10(value)) if self._log_y else value
        # Names of neighbouring levels stand apart, or large letters would cover one another.
        place = 0.985 if self._levels % 2 == 0 else 0.6
        self._levels += 1
        self.plotItem.addItem(self._line(at, name, 0, place), ignoreBounds=True)

    def upright(self, value: float, name: str) -> None:
        """Draw a line up the plot, with its name."""
        at = float(np.log10(value)) if self._log_x else value
        self.plotItem.addItem(self._line(at, name, 90, 0.04), ignoreBounds=True)

    def _line(self, at: float, name: str, angle: int, place: float) -> Any:  # noqa: ANN401
        pen = pg.mkPen(QColor(self.palette_in_use.accent), width=1.4, style=Style.DotLine)
        options = {
            "position": place,
            "color": self.palette_in_use.text,
            "fill": pg.mkBrush(self.palette_in_use.panel),
            "anchors": [(0, 1), (0, 1)] if angle else [(1, 1), (1, 1)],
        }
        return pg.InfiniteLine(at, angle, pen, label=name, labelOpts=options)

    def look(
        self, across: tuple[float, float], up: tuple[float, float], ticks: Ticks | None = None
    ) -> None:
        """Show this part, with these ticks on the axes named [units of the axes]."""
        for side, values in (ticks or {}).items():
            log = self._log_x if side == "bottom" else self._log_y
            marks = [(float(np.log10(one)) if log else one, f"{one:,g}") for one in values]
            self.plotItem.getAxis(side).setTicks([marks, []])
        xs = tuple(np.log10(across)) if self._log_x else across
        ys = tuple(np.log10(up)) if self._log_y else up
        self.plotItem.setRange(xRange=xs, yRange=ys, padding=0.0)

    def _shown(self, values: FloatArray) -> FloatArray:
        shown = np.asarray(values, dtype=np.float64)
        return np.maximum(shown, _LEAST_PPM) if self._log_y else shown
