"""The first day of an outage as a bar: running, resting to refuel, quiet hours."""

from collections.abc import Iterator, Mapping

from siteplan.drawing.layout import text_width_mm
from siteplan.drawing.marks import Fill, Label, Mark, Role, Stroke
from siteplan.paper.subject import Subject
from siteplan.paper.svg import Layer, View, write
from siteplan.power.outage import StretchKind
from siteplan.rules.night import NightPlan

HEIGHT_MM = 18.0
SHOWN_H = 24.0
_RIGHT_MM = 3.0
_NAME_MM = 2.0
_ROW_MM = 5.0
_EVERY_H = 3
_ROLES: Mapping[StretchKind, Role] = {
    "run": "time-run",
    "cool": "time-rest",
    "off": "sheet-light",
}


def timeline(subject: Subject, night: NightPlan, width_mm: float) -> str:
    """Return the bar as SVG, so wide and 18 mm high."""
    marks = tuple(_marks(subject, night, width_mm))
    return write([Layer("timeline", marks, View(1.0))], (width_mm, HEIGHT_MM))


def _marks(subject: Subject, night: NightPlan, width_mm: float) -> Iterator[Mark]:
    names = (subject.say("Generator"), subject.say("Quiet hours"))
    start = max(text_width_mm(name, _NAME_MM) for name in names) + 3.0
    shown = min(SHOWN_H, night.hours)
    per_h = (width_mm - start - _RIGHT_MM) / shown

    def box(begin: float, end: float, row: int, role: Role) -> Fill:
        left, right = (start + per_h * min(one, shown) for one in (begin, end))
        top = -1.0 - row * (_ROW_MM + 1.0)
        low = top - _ROW_MM
        return Fill((((left, top), (right, top), (right, low), (left, low)),), role)

    for row, name in enumerate(names):
        middle = -1.0 - row * (_ROW_MM + 1.0) - _ROW_MM / 2
        yield Label((start - 2.0, middle), name, "sheet-text", anchor="end", height_mm=_NAME_MM)
        yield box(0.0, shown, row, "sheet-light")
    for one in night.stretches:
        if one.start_h < shown:
            yield box(one.start_h, one.end_h, 0, _ROLES[one.kind])
    for begin, end in night.quiet:
        if begin < shown:
            yield box(begin, end, 1, "time-quiet")
    yield from _hours(night, shown, per_h, start)


def _hours(night: NightPlan, shown: float, per_h: float, start: float) -> Iterator[Mark]:
    low = -1.0 - 2 * (_ROW_MM + 1.0)
    hour = -night.start_min / 60.0 % _EVERY_H
    while hour <= shown + 1e-9:
        x = start + per_h * hour
        yield Stroke(((x, -1.0), (x, low - 0.6)), "sheet-fine")
        text = night.clock(hour)[:2]
        yield Label((x, low - 2.6), text, "sheet-text", height_mm=1.9)
        hour += _EVERY_H
