"""A wind rose on the plan: petals reach where the wind carries the exhaust."""

import math
from collections.abc import Iterator

from siteplan.air.wind import WindRose
from siteplan.drawing.marks import Fill, Label, Mark, Marks, Point, Stroke
from siteplan.words import Manner, Quantity, Text

_ARC_STEPS = 6
_RING_STEPS = 72
_PETAL_SHARE = 0.8
_LEAST_SHARE = 1e-6
CAPTION_TEXT = "Share of hours the wind blows this way; still air {calm}"


def rose_marks(
    rose: WindRose,
    at: Point,
    radius_m: float,
    north_deg: float = 0.0,
    manner: Manner | None = None,
) -> Marks:
    """Return a wind rose around a place.

    Parameters
    ----------
    rose : WindRose
        Shares by where the wind comes from.
    at : tuple of float
        Its middle, the exhaust outlet [m].
    radius_m : float
        How far the largest petal reaches [m].
    north_deg : float
        Where north lies on the drawing, clockwise from its top [°].
    manner : Manner
        Language of the caption.

    Notes
    -----
    A petal lies downwind of the place, opposite to where its wind comes from, so that it points
    at what the exhaust is carried to.
    """
    return tuple(_marks(rose, at, radius_m, north_deg, manner or Manner()))


def _marks(
    rose: WindRose, at: Point, radius_m: float, north_deg: float, manner: Manner
) -> Iterator[Mark]:
    largest = max(*rose.shares, _LEAST_SHARE)
    yield Stroke(tuple(_arc(at, radius_m, 0.0, 360.0, _RING_STEPS)[:-1]), "wind-ring", closed=True)
    half = rose.sector_deg * _PETAL_SHARE / 2.0
    for index, share in enumerate(rose.shares):
        if share <= _LEAST_SHARE:
            continue
        toward = index * rose.sector_deg + 180.0 + north_deg
        reach = radius_m * share / largest
        ring = (at, *_arc(at, reach, toward - half, toward + half, _ARC_STEPS))
        yield Fill((ring,), "wind-petal")
    shown = Quantity(largest, "share", "up")
    rim = _arc(at, radius_m, 45.0, 45.0, 1)[0]
    yield Label(rim, manner.show(shown), "wind-ring", "start", height_mm=1.9, boxed=True)
    calm = Quantity(rose.calm_share, "share", "up")
    caption = Text(CAPTION_TEXT, {"calm": calm}).say(manner)
    foot = (at[0], at[1] - radius_m)
    yield Label(foot, caption, "wind-ring", height_mm=1.9, boxed=True, shift_mm=(0.0, -3.0))


def _arc(at: Point, radius_m: float, low_deg: float, high_deg: float, steps: int) -> list[Point]:
    turns = [math.radians(low_deg + (high_deg - low_deg) * k / steps) for k in range(steps + 1)]
    return [(at[0] + radius_m * math.sin(one), at[1] + radius_m * math.cos(one)) for one in turns]
