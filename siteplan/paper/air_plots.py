"""The plots of the carbon monoxide estimate: over time, by distance, and the wind."""

from collections.abc import Iterator

import numpy as np

from siteplan.air.thresholds import CAUTION_PERCENT, DANGER_PERCENT, SEVERE_PERCENT, SHOWN_PPM
from siteplan.drawing.marks import Label, Mark, Role, Stroke, Symbol
from siteplan.drawing.wind import rose_marks
from siteplan.paper.axes import Axes, Axis, decades, key
from siteplan.paper.subject import Subject
from siteplan.paper.svg import Layer, View, write
from siteplan.rules.carbon_monoxide import COEstimate, OpeningEstimate
from siteplan.rules.carbon_monoxide_words import METHOD_WORDS
from siteplan.units import M_PER_FT
from siteplan.words import Quantity, length

TIME_MM, DISTANCE_MM = 68.0, 66.0
_LEFT_MM, _LOW_MM, _TOP_MM = 12.0, 22.0, 6.0
_PPM_RANGE = (1.0, 100_000.0)
_NEAREST_M = 1.0
_LEVEL_TEXTS = {
    CAUTION_PERCENT: "2 %",
    DANGER_PERCENT: "4 %: heart patients",
    SEVERE_PERCENT: "10 %: headache",
    20.0: "20 %: nausea, confusion",
    40.0: "40 %: collapse, coma",
}
_ADVISED_FT = (15.0, 20.0, 25.0)


def over_time(subject: Subject, one: OpeningEstimate, wide_mm: float) -> str:
    """Return the room's air and the blood over the run behind one opening, as SVG."""
    return _svg(subject, _time_marks(subject, one, wide_mm), (wide_mm, TIME_MM))


def by_distance(subject: Subject, found: COEstimate, wide_mm: float) -> str:
    """Return carbon monoxide outdoors by distance with every method, as SVG."""
    return _svg(subject, _distance_marks(subject, found, wide_mm), (wide_mm, DISTANCE_MM))


def _svg(subject: Subject, marks: Iterator[Mark], size_mm: tuple[float, float]) -> str:
    view = View(1.0, at_mm=(0.0, size_mm[1]))
    return write(
        [Layer("plot", tuple(marks), view)], size_mm, title=subject.say("Carbon monoxide estimate")
    )


def _ppm_axis() -> Axis:
    def show(value: float) -> str:
        return f"{value:,.0f}".replace(",", " ")

    return Axis(*_PPM_RANGE, decades(*_PPM_RANGE), show, log=True)


def _time_marks(subject: Subject, one: OpeningEstimate, wide_mm: float) -> Iterator[Mark]:
    usual, worst = one.indicative, one.worst
    hours = usual.minutes / 60.0
    end = float(hours[-1])
    ticks = tuple(float(hour) for hour in range(0, round(end) + 1, 4 if end > 12 else 2))
    across = Axis(0.0, end, ticks, lambda value: f"{value:g}")
    half = wide_mm / 2.0
    height = TIME_MM - _LOW_MM - _TOP_MM
    air = Axes(_LEFT_MM, _LOW_MM, half - _LEFT_MM - 3.0, height, across, _ppm_axis())
    tens = tuple(float(value) for value in range(0, 101, 20))
    percent = Axis(0.0, 100.0, tens, lambda value: f"{value:g}")
    blood = Axes(half + _LEFT_MM, _LOW_MM, air.width, height, across, percent)
    yield air.band(hours, usual.room_ppm, worst.room_ppm)
    for level in SHOWN_PPM:
        yield from air.level(level, subject.show(Quantity(level, "concentration", "up")))
    yield air.line(hours, usual.room_ppm, "curve-usual")
    yield air.line(hours, worst.room_ppm, "curve-worst")
    yield from air.frame(subject.say("Air in the room, ppm"), subject.say("Hours of running"))
    people = usual.cohb_percent
    yield blood.band(hours, people["public"], worst.cohb_percent["public"])
    for level, text in _LEVEL_TEXTS.items():
        if level >= SEVERE_PERCENT:
            yield from blood.level(level, subject.say(text))
    yield blood.line(hours, people["heavy"], "curve-heavy")
    yield blood.line(hours, people["child"], "curve-child")
    yield blood.line(hours, people["public"], "curve-usual")
    yield blood.line(hours, worst.cohb_percent["public"], "curve-worst")
    yield from blood.frame(
        subject.say("Carbon monoxide in the blood, % COHb"), subject.say("Hours of running")
    )
    yield from key(_time_key(subject), (_LEFT_MM, 11.6), wide_mm)


def _time_key(subject: Subject) -> list[tuple[Role, str]]:
    return [
        ("curve-usual", subject.say("light wind, usual methods; people awake")),
        ("curve-worst", subject.say("the worst: nearly still air, every method")),
        ("curve-heavy", subject.say("light wind; someone at hard work")),
        ("curve-child", subject.say("light wind; a small child")),
        ("curve-band", subject.say("between both")),
        ("curve-limit", subject.say("alarm points (UL 2034) and signs")),
    ]


def _distance_marks(subject: Subject, found: COEstimate, wide_mm: float) -> Iterator[Mark]:
    rose_mm = DISTANCE_MM - 8.0 if found.rose is not None else 0.0
    away = np.geomspace(_NEAREST_M, found.reach_m, 60)
    bands = found.by_distance(away)
    usual, worst = bands.indicative, bands.worst
    plot = Axes(
        _LEFT_MM,
        _LOW_MM,
        wide_mm - _LEFT_MM - 3.0 - rose_mm,
        DISTANCE_MM - _LOW_MM - _TOP_MM,
        _distance_axis(subject, found.reach_m),
        _ppm_axis(),
    )
    yield plot.band(away, usual.ppm, worst.ppm)
    for band in (usual, worst):
        for values in band.by_method_ppm.values():
            yield plot.line(away, values, "curve-method")
    yield plot.line(away, usual.ppm, "curve-usual")
    yield plot.line(away, worst.ppm, "curve-worst")
    for row, feet in enumerate(_ADVISED_FT):
        text = subject.show(length(feet * M_PER_FT, "near"))
        yield from plot.upright(feet * M_PER_FT, text, row)
    for level in SHOWN_PPM[:1]:
        yield from plot.level(level, subject.show(Quantity(level, "concentration", "up")))
    yield from _openings(plot, found)
    yield from plot.frame(
        subject.say("Outdoors by way of the exhaust, ppm"), subject.say("Way of the exhaust")
    )
    wide = wide_mm - rose_mm
    yield from key(_distance_key(subject), (_LEFT_MM, 11.6), wide)
    if found.rose is not None:
        middle = (wide_mm - rose_mm / 2, DISTANCE_MM / 2 + 4.0)
        yield from _rose(subject, found, middle, rose_mm / 2 - 12.0)


def _distance_axis(subject: Subject, reach_m: float) -> Axis:
    feet = subject.manner.system == "feet"
    ticks = (5.0, 10.0, 20.0, 50.0) if feet else (1.0, 2.0, 5.0, 10.0, 20.0, 30.0)
    scale = M_PER_FT if feet else 1.0
    return Axis(
        _NEAREST_M,
        reach_m,
        tuple(one * scale for one in ticks),
        lambda value: subject.show(length(value, "near")) if feet else f"{value:g} m",
        log=True,
    )


def _openings(plot: Axes, found: COEstimate) -> Iterator[Mark]:
    for one in found.openings:
        if one.path_m >= _NEAREST_M:
            x = plot.left + float(plot.across.share(one.path_m)) * plot.width
            yield Stroke(((x, plot.low + plot.height), (x, plot.low + plot.height - 2.0)),
                         "sheet-line")  # fmt: skip


def _distance_key(subject: Subject) -> list[tuple[Role, str]]:
    return [
        ("curve-usual", subject.say("light wind, usual methods")),
        ("curve-worst", subject.say("the worst")),
        ("curve-method", subject.say("each method by itself")),
        ("curve-band", subject.say("between both")),
        ("sheet-line", subject.say("openings, at the upper edge")),
        ("curve-limit", subject.say("distances of the rules; first alarm point")),
    ]


def _rose(
    subject: Subject, found: COEstimate, middle: tuple[float, float], radius: float
) -> Iterator[Mark]:
    if found.rose is None:
        return
    marks = rose_marks(found.rose, middle, radius, 0.0, subject.manner)
    yield from marks[:-1]
    yield Label((middle[0], middle[1] + radius + 3.0), "N", "sheet-title", height_mm=2.1)
    for one in found.openings[:6]:
        turn = np.radians(one.bearing_deg)
        at = (middle[0] + float(np.sin(turn)) * radius, middle[1] + float(np.cos(turn)) * radius)
        yield Symbol("corner", at, "sheet-dark", size_mm=1.8)
    first = subject.say("Where the wind blows to,")
    second = subject.say("still air {calm}", calm=Quantity(found.rose.calm_share, "share", "up"))
    third = subject.say("dots: openings")
    for row, text in enumerate((first, second, third)):
        at = (middle[0], middle[1] - radius - 4.0 - 3.2 * row)
        yield Label(at, text, "sheet-text", height_mm=1.8)


def method_names(subject: Subject, found: COEstimate) -> str:
    """Return the names of the methods drawn."""
    names = dict.fromkeys(
        name for one in found.openings for name in one.worst.by_method_ppm
    ) or dict.fromkeys(METHOD_WORDS)
    return ", ".join(subject.say(METHOD_WORDS[name]) for name in names)
