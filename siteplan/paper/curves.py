"""Carbon monoxide in the room and in the blood over the run, as two charts side by side."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from siteplan.drawing.marks import Fill, Label, Mark, Point, Stroke
from siteplan.geometry.arrays import FloatArray
from siteplan.paper.subject import Subject
from siteplan.paper.svg import Layer, View, write
from siteplan.rules.carbon_monoxide import OpeningEstimate

HEIGHT_MM = 58.0
_GAP_MM, _LEFT_MM, _RIGHT_MM, _TOP_MM, _LOW_MM = 5.0, 11.0, 4.0, 8.0, 9.0
_LEAST_PPM, _MOST_PPM = 1.0, 10_000.0
_MOST_PERCENT = 60.0
_ALARM_PPM = (70.0, 150.0, 400.0)
_SEVERE_PERCENT = 10.0
_PPM_TICKS = (1.0, 10.0, 100.0, 1000.0, 10_000.0)
_PERCENT_TICKS = (0.0, 20.0, 40.0, 60.0)


@dataclass(frozen=True, slots=True)
class _Chart:
    """A chart's frame on the sheet [mm] and the hours it spans [h]."""

    left: float
    width: float
    hours: float

    @property
    def height(self) -> float:
        return HEIGHT_MM - _TOP_MM - _LOW_MM

    def at(self, hour: float, share: float) -> Point:
        """Return a place by its time and its share of the height."""
        up = min(1.0, max(0.0, share)) * self.height
        return (self.left + self.width * hour / self.hours, -HEIGHT_MM + _LOW_MM + up)


def curves(subject: Subject, one: OpeningEstimate, width_mm: float) -> str:
    """Return both charts of one opening as SVG, so wide and 58 mm high."""
    marks = tuple(_marks(subject, one, width_mm))
    return write([Layer("curves", marks, View(1.0))], (width_mm, HEIGHT_MM))


def ppm_share(ppm: float) -> float:
    """Return where a concentration stands on the logarithmic axis, 0 to 1 from 1 to 10 000 ppm."""
    span = math.log10(_MOST_PPM / _LEAST_PPM)
    return math.log10(max(ppm, _LEAST_PPM) / _LEAST_PPM) / span


def percent_share(percent: float) -> float:
    """Return where carboxyhaemoglobin stands on its axis, 0 to 1 from 0 to 60 %."""
    return percent / _MOST_PERCENT


def _marks(subject: Subject, one: OpeningEstimate, width_mm: float) -> Iterator[Mark]:
    hours = float(one.worst.minutes[-1]) / 60.0
    wide = (width_mm - _GAP_MM) / 2 - _LEFT_MM - _RIGHT_MM
    yield from _room(subject, one, _Chart(_LEFT_MM, wide, hours))
    yield from _blood(subject, one, _Chart(2 * _LEFT_MM + wide + _RIGHT_MM + _GAP_MM, wide, hours))


def _room(subject: Subject, one: OpeningEstimate, chart: _Chart) -> Iterator[Mark]:
    title = subject.say("Room behind {subject} [ppm]", subject=one.label)
    yield from _axes(subject, chart, title, [(ppm, ppm_share(ppm)) for ppm in _PPM_TICKS])
    usual, worst = (
        _points(chart, band.minutes, [ppm_share(ppm) for ppm in band.room_ppm.tolist()])
        for band in (one.indicative, one.worst)
    )
    yield from _band(usual, worst)
    for ppm in _ALARM_PPM:
        text = subject.say("alarm point {ppm} ppm", ppm=round(ppm))
        yield from _limit(chart, ppm_share(ppm), text)


def _blood(subject: Subject, one: OpeningEstimate, chart: _Chart) -> Iterator[Mark]:
    title = subject.say("Blood of people at home [% COHb]")
    ticks = [(percent, percent_share(percent)) for percent in _PERCENT_TICKS]
    yield from _axes(subject, chart, title, ticks)
    usual, worst = (
        _points(chart, band.minutes, [percent_share(one) for one in band.cohb_percent["public"]])
        for band in (one.indicative, one.worst)
    )
    yield from _band(usual, worst)
    text = subject.say("10 %: headache begins")
    yield from _limit(chart, percent_share(_SEVERE_PERCENT), text)


def _axes(
    subject: Subject, chart: _Chart, title: str, ticks: Sequence[tuple[float, float]]
) -> Iterator[Mark]:
    corners = tuple(chart.at(*one) for one in ((0, 0), (chart.hours, 0), (chart.hours, 1), (0, 1)))
    yield Fill((corners,), "sheet-light")
    yield Label((chart.left, -_TOP_MM / 2), title, "sheet-title", anchor="start", height_mm=2.0)
    for value, share in ticks:
        x, y = chart.at(0.0, share)
        yield Stroke(((x, y), chart.at(chart.hours, share)), "sheet-grid")
        yield Label((x - 1.2, y), f"{value:g}", "sheet-fine", anchor="end", height_mm=1.7)
    step = next(one for one in (1, 2, 4, 6, 12, 24, 48, 96, 500) if chart.hours / one <= 8)
    for hour in np.arange(0, chart.hours + 1e-9, step).tolist():
        x, y = chart.at(hour, 0.0)
        text = subject.say("{hours} h", hours=round(hour))
        yield Label((x, y - 2.6), text, "sheet-fine", height_mm=1.7)


def _band(usual: tuple[Point, ...], worst: tuple[Point, ...]) -> Iterator[Mark]:
    yield Fill(((*usual, *reversed(worst)),), "curve-band")
    yield Stroke(worst, "curve-worst")
    yield Stroke(usual, "curve-usual")


def _points(chart: _Chart, minutes: FloatArray, shares: Sequence[float]) -> tuple[Point, ...]:
    pairs = zip(minutes.tolist(), shares, strict=True)
    return tuple(chart.at(minute / 60.0, float(share)) for minute, share in pairs)


def _limit(chart: _Chart, share: float, text: str) -> Iterator[Mark]:
    yield Stroke((chart.at(0.0, share), chart.at(chart.hours, share)), "curve-limit")
    x, y = chart.at(chart.hours, share)
    yield Label((x - 1.0, y + 1.7), text, "curve-limit", anchor="end", height_mm=1.6, boxed=True)
