"""The plan as a list of marks, described once for screen and paper."""

from siteplan.drawing.governing import governing_marks
from siteplan.drawing.ground import ground_marks
from siteplan.drawing.machine import machine_marks, review_marks
from siteplan.drawing.marks import Dimension, Fill, Label, Mark, Marks, Stroke, Symbol
from siteplan.drawing.style import Look, Theme, look
from siteplan.drawing.symbols import SYMBOLS
from siteplan.drawing.zones import zone_marks

__all__ = [
    "SYMBOLS",
    "Dimension",
    "Fill",
    "Label",
    "Look",
    "Mark",
    "Marks",
    "Stroke",
    "Symbol",
    "Theme",
    "governing_marks",
    "ground_marks",
    "look",
    "machine_marks",
    "review_marks",
    "zone_marks",
]
