"""Axes of a plot as marks in millimetres: ticks, lines, bands, limits."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from siteplan.drawing.marks import Fill, Label, Mark, Point, Role, Stroke
from siteplan.geometry.arrays import FloatArray

_LETTER_MM = 1.9
_TICK_MM = 1.0
# Points nearer than this draw nothing that could be seen.
_FINEST_MM = 0.2


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis: its range, whether it is logarithmic, and the values with a tick.

    `show` says a tick's value.
    """

    low: float
    high: float
    ticks: tuple[float, ...]
    show: Callable[[float], str]
    log: bool = False

    def share(self, values: FloatArray | float) -> FloatArray:
        """Return how far along the axis values lie, kept within 0 to 1."""
        ends = np.array([self.low, self.high], dtype=np.float64)
        at = np.asarray(values, dtype=np.float64)
        if self.log:
            ends, at = np.log10(ends), np.log10(np.maximum(at, self.low))
        return np.asarray(np.clip((at - ends[0]) / (ends[1] - ends[0]), 0.0, 1.0))


@dataclass(frozen=True, slots=True)
class Axes:
    """A plot's frame on the sheet [mm], y up, and its two axes."""

    left: float
    low: float
    width: float
    height: float
    across: Axis
    up: Axis

    def points(self, xs: FloatArray, ys: FloatArray) -> tuple[Point, ...]:
        """Return where values lie on the sheet, without what is too fine to see."""
        x = self.left + self.across.share(xs) * self.width
        y = self.low + self.up.share(ys) * self.height
        kept: list[Point] = []
        for point in zip(x.tolist(), y.tolist(), strict=True):
            if not kept or math.dist(point, kept[-1]) >= _FINEST_MM:
                kept.append(point)
        return tuple(kept) if len(kept) > 1 else (kept[0], (kept[0][0] + _FINEST_MM, kept[0][1]))

    def frame(self, title: str, across: str) -> Iterator[Mark]:
        """Yield the frame, the ticks and what stands on both axes."""
        right, top = self.left + self.width, self.low + self.height
        ring = ((self.left, self.low), (right, self.low), (right, top), (self.left, top))
        yield Stroke(ring, "sheet-line", closed=True)
        yield Label((self.left, top + 2.6), title, "sheet-title", "start", height_mm=2.1)
        yield Label(
            (self.left + self.width / 2, self.low - 6.2), across, "sheet-text", height_mm=_LETTER_MM
        )
        for value in self.across.ticks:
            x = self.left + float(self.across.share(value)) * self.width
            yield Stroke(((x, self.low), (x, self.low - _TICK_MM)), "sheet-line")
            text = self.across.show(value)
            yield Label((x, self.low - 2.9), text, "sheet-text", height_mm=_LETTER_MM)
        for value in self.up.ticks:
            y = self.low + float(self.up.share(value)) * self.height
            yield Stroke(((self.left - _TICK_MM, y), (self.left, y)), "sheet-line")
            text = self.up.show(value)
            yield Label((self.left - 1.6, y), text, "sheet-text", "end", height_mm=_LETTER_MM)

    def line(self, xs: FloatArray, ys: FloatArray, role: Role) -> Stroke:
        """Return a curve."""
        return Stroke(self.points(xs, ys), role)

    def band(self, xs: FloatArray, lower: FloatArray, upper: FloatArray) -> Fill:
        """Return the area between two curves."""
        there, back = self.points(xs, lower), self.points(xs, upper)
        return Fill(((*there, *reversed(back)),), "curve-band")

    def level(self, value: float, text: str) -> Iterator[Mark]:
        """Yield a level across the plot with its name at the right; none if it is off the axis."""
        if not self.up.low <= value <= self.up.high:
            return
        y = self.low + float(self.up.share(value)) * self.height
        right = self.left + self.width
        yield Stroke(((self.left, y), (right, y)), "curve-limit")
        yield Label((right - 0.8, y + 1.4), text, "curve-limit", "end", height_mm=1.7, boxed=False)

    def upright(self, value: float, text: str, row: int = 0) -> Iterator[Mark]:
        """Yield a line up the plot with its name at its foot, some rows up."""
        x = self.left + float(self.across.share(value)) * self.width
        yield Stroke(((x, self.low), (x, self.low + self.height)), "curve-limit")
        yield Label(
            (x + 0.6, self.low + 1.8 + 2.6 * row), text, "curve-limit", "start", height_mm=1.7
        )


def decades(low: float, high: float) -> tuple[float, ...]:
    """Return the powers of ten within a range."""
    first, last = math.ceil(math.log10(low)), math.floor(math.log10(high))
    return tuple(10.0**power for power in range(first, last + 1))


def key(
    entries: Sequence[tuple[Role, str]], at: Point, wide_mm: float, row_mm: float = 3.6
) -> Iterator[Mark]:
    """Yield a key: a piece of each line, and what it is; the band as a small area."""
    x, y = at
    for index, (role, text) in enumerate(entries):
        left = x + (index % 2) * wide_mm / 2
        row = y - (index // 2) * row_mm
        if role == "curve-band":
            ring = ((left, row - 1), (left + 7, row - 1), (left + 7, row + 1), (left, row + 1))
            yield Fill((ring,), role)
        else:
            yield Stroke(((left, row), (left + 7.0, row)), role)
        yield Label((left + 8.2, row), text, "sheet-text", "start", height_mm=1.8)
