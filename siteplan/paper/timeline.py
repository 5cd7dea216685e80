"""The first day of an outage as a bar: running, resting to refuel, quiet hours."""

from collections.abc import Iterator

from siteplan.drawing.layout import text_width_mm
from siteplan.drawing.marks import Fill, Label, Mark, Role, Stroke
from siteplan.paper.night import SHOWN_H, Night
from siteplan.paper.subject import Subject
from siteplan.paper.svg import Layer, View, write

HEIGHT_MM = 21.0
_RIGHT_MM = 3.0
_NAME_MM = 2.0
_ROW_MM = 5.0
_EVERY_H = 3


def timeline(subject: Subject, found: Night, width_mm: float) -> str:
    """Return the bar as SVG, so wide and 21 mm high."""
    marks = tuple(_marks(subject, found, width_mm))
    return write([Layer("timeline", marks, View(1.0))], (width_mm, HEIGHT_MM))


def _marks(subject: Subject, found: Night, width_mm: float) -> Iterator[Mark]:
    names = (subject.say("Generator"), subject.say("Quiet hours"))
    start = max(text_width_mm(name, _NAME_MM) for name in names) + 3.0
    shown = min(SHOWN_H, max(one.end_h for one in found.outage.stretches))
    per_h = (width_mm - start - _RIGHT_MM) / shown

    def box(begin: float, end: float, row: int, role: Role) -> Fill:
        left, right = (start + per_h * min(one, shown) for one in (begin, end))
        top = -1.0 - row * (_ROW_MM + 1.0)
        return Fill(
            (((left, top), (right, top), (right, top - _ROW_MM), (left, top - _ROW_MM)),), role
        )

    for row, name in enumerate(names):
        middle = -1.0 - row * (_ROW_MM + 1.0) - _ROW_MM / 2
        yield Label((start - 2.0, middle), name, "sheet-text", anchor="end", height_mm=_NAME_MM)
        yield box(0.0, shown, row, "sheet-light")
    for one in found.outage.stretches:
        if one.start_h < shown:
            yield box(one.start_h, one.end_h, 0, "time-run" if one.kind == "run" else "time-rest")
    for begin, end in found.quiet:
        if begin < shown:
            yield box(begin, end, 1, "time-quiet")
    yield from _hours(found, shown, per_h, start)


def _hours(found: Night, shown: float, per_h: float, start: float) -> Iterator[Mark]:
    low = -1.0 - 2 * (_ROW_MM + 1.0)
    first = -found.start_h % _EVERY_H
    hour = first
    while hour <= shown + 1e-9:
        x = start + per_h * hour
        yield Stroke(((x, -1.0), (x, low - 0.6)), "sheet-fine")
        text = f"{round(found.start_h + hour) % 24:02d}"
        yield Label((x, low - 2.6), text, "sheet-text", height_mm=1.9)
        hour += _EVERY_H
